"""Draws how far the work is, on standard error, and only where a person looks at it."""

import sys
from contextlib import contextmanager


@contextmanager
def drawn(quiet):
    """Gives a function `progress(done, total, hours)`: cases done, cases in all, simulated hours so far.

    Draws nothing when quiet or when standard error is no terminal.
    """
    if quiet or not sys.stderr.isatty():
        yield lambda done, total, hours=0.0: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (
        TextColumn("cases"),
        BarColumn(),
        MofNCompleteColumn(),
        TextColumn("{task.fields[hours]:.1f} h of sea"),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("cases", total=None, hours=0.0)

        def progress(done, total, hours=0.0):
            bar.update(task, completed=done, total=total, hours=hours)

        yield progress

"""The options that several commands share."""

import logging
from pathlib import Path
from typing import Annotated

import typer


def heed_quiet(quiet: bool):
    """Let this package's warnings through to standard error, or not; gives the option back."""
    logging.getLogger("seaload").setLevel(logging.ERROR if quiet else logging.WARNING)
    return quiet


StudyFile = Annotated[Path, typer.Argument(help="Study file (TOML).", show_default=False)]
Out = Annotated[Path, typer.Option("--out", help="Parent folder of the results.")]
Seed = Annotated[
    int | None, typer.Option("--seed", help="Seed of the random streams, in place of the study's.")
]
Workers = Annotated[
    int | None, typer.Option("--workers", min=1, max=4096, help="Cases at a time; default: all cores.")
]
Scheduler = Annotated[str | None, typer.Option("--scheduler", help="Address of a Dask cluster to work on.")]
Json = Annotated[bool, typer.Option("--json", help="Print exactly one JSON object on standard output.")]
Quiet = Annotated[bool, typer.Option("--quiet", callback=heed_quiet, help="No progress and no remarks.")]
Verbose = Annotated[bool, typer.Option("--verbose", help="Show where in the program a page failed.")]
Yes = Annotated[bool, typer.Option("--yes", help="Go on with a study that may take very long.")]

"""What the commands do once their options are parsed: call the studies floor, print what came out."""

import sys
import time
import traceback
from dataclasses import asdict
from pathlib import Path
from typing import NamedTuple

from seaload.basis.cautions import CAUTIONS
from seaload.basis.errors import CannotRun
from seaload.command_line.home import some_home
from seaload.command_line.progress import drawn
from seaload.command_line.summary import as_json, summary


class How(NamedTuple):
    """How a study is sailed and told: the options that every such command has."""

    out: Path
    seed: int | None
    workers: int | None
    scheduler: str | None
    json: bool
    quiet: bool

    @property
    def sailing(self):
        """Arguments of a sailing function."""
        return {"out": self.out, "workers": self.workers, "scheduler": self.scheduler}


def run_one(path, how, *, yes):
    """`seaload run`: one setting in every sea of the study. Gives the exit code."""
    began = time.perf_counter()
    from seaload.report.shared.figure_style import fetch_drawing
    from seaload.studies.load_study import load_study
    from seaload.studies.single_run import run_study

    study = load_study(path, seed=how.seed, one_setting=True, allow_large=yes)
    ready(study, how)
    outcome = watched(run_study, study, how, meanwhile=lambda: unless_broken(fetch_drawing))
    return finish("run", outcome, how, began=began)


def sweep_all(path, how, *, yes, clean):
    """`seaload sweep`: every setting of the grid in every sea. Gives the exit code."""
    began = time.perf_counter()
    from seaload.studies.load_study import load_study
    from seaload.studies.sweep import sweep_study

    study = load_study(path, seed=how.seed, allow_large=yes)
    ready(study, how)
    outcome = watched(sweep_study, study, how, clean=clean)
    return finish("sweep", outcome, how, began=began)


def ready(study, how):
    """Everything that can be refused is refused before the work begins; then what was assumed is said."""
    from seaload.sailing.executor import refuse_both

    refuse_both(how.workers, how.scheduler)
    prepare_folder(how.out, study.name)
    remark(study, quiet=how.quiet)


def watched(sail, study, how, **options):
    """A sailing function at work on a study, its progress drawn and its remarks said."""
    from seaload.sailing.sail_cases import Account

    with drawn(how.quiet) as progress:
        return sail(study, account=Account(progress, sayer(how.quiet)), **how.sailing, **options)


def sayer(quiet):
    """Function that says one line on standard error, or nothing when quiet."""
    return (lambda line: None) if quiet else (lambda line: print(printable(line), file=sys.stderr))


def tables_of(command, dataset):
    """The text tables of a result, as a person reads them."""
    from seaload.report.read_answer import read_answer

    if dataset.attrs["kind"] == "library":
        from seaload.report.library.table import library_table

        return library_table(dataset)
    if command == "run":
        from seaload.report.run.table import run_table

        return run_table(dataset, read_answer(dataset))
    from seaload.report.sweep.table import sweep_table

    return sweep_table(dataset, read_answer(dataset))


def answers_of(outcome):
    """{"settings": [...], "seas": [...]}: the answer of a finished study as plain trees; none of a library."""
    if outcome.dataset.attrs["kind"] == "library":
        return {"settings": [], "seas": [], "library": library_tree(outcome.dataset)}
    from seaload.report.read_answer import read_answer

    answer = read_answer(outcome.dataset)
    told = [asdict(answer.settings[row["setting"], row["sea_number"]]) for row in outcome.settings]
    rows = [{**row, "answer": found} for row, found in zip(outcome.settings, told, strict=True)]
    return {"settings": rows, "seas": [asdict(found) for found in answer.seas]}


def library_tree(dataset):
    """Points of a library by status, and how well seas left out are told, as a plain tree."""
    meanings = dataset["status"].attrs["flag_meanings"].split()
    codes = dataset["status"].values.tolist()
    told = {name: dataset[name].values.tolist() for name in sorted(dataset.variables) if name.startswith("held_out_")}
    return {"points": {word: codes.count(code) for code, word in enumerate(meanings)}, **told}


def finish(command, outcome, how, *, began):
    """Prints the answer and gives the exit code: 1 when cases failed, and they are named."""
    code = 1 if outcome.failed else 0
    for failed in outcome.failed:
        print(f"failed: {failed}", file=sys.stderr)
    pictures, broken = unless_broken(lambda: figures_of(command, outcome))
    missing = [*outcome.missing, *([f"the figures beside the result ({broken})"] if broken else [])]
    for what in missing:
        print(f"missing: {printable(what)}", file=sys.stderr)
    if how.json:
        answers, wall = answers_of(outcome), time.perf_counter() - began
        print(as_json(summary(command, outcome, answers, missing=missing, exit_code=code, wall_s=wall)))
        return code
    print(tables_of(command, outcome.dataset))
    print()
    print(*CAUTIONS)
    print(f"result: {outcome.result_path}")
    if pictures:
        print(f"figures beside it: {', '.join(path.name for path in pictures)}")
    return code


def unless_broken(draw):
    """(what `draw()` gives, ""), or (None, why not): the result is written and stands without its pictures."""
    try:
        return draw(), ""
    except Exception as error:
        return None, " ".join(f"{type(error).__name__}: {error}".split())


def figures_of(command, outcome):
    """Saves the figures of a run beside its result; gives their paths."""
    if command != "run":
        return []
    from seaload.report.run.drawings import save_run_figures

    return save_run_figures(outcome.dataset, outcome.result_path.parent, kinds=("png",))


def write_report(path, *, json, quiet, verbose):
    """`seaload report`: pages from a saved result; `verbose` shows where a page failed. Gives the exit code."""
    from seaload.basis.errors import InputError
    from seaload.files.result_file import RESULT_NAME
    from seaload.scenario.read_toml import shown

    path = path / RESULT_NAME if path.is_dir() else path
    if not path.is_file():
        raise InputError(shown(path), "RESULT", shown(path.name), "no such file; give a saved result.nc or its folder")
    from seaload.report.write_pages import report_result

    try:
        with some_home():
            pages = [str(page) for page in report_result(path)]
    except InputError as error:
        if verbose and error.__cause__:
            traceback.print_exception(error.__cause__)
        raise
    if json:
        from seaload import __version__

        tree = {"command": "report", "version": __version__, "result": str(path), "exit": 0, "pages": pages}
        print(as_json({**tree, "cautions": list(CAUTIONS)}))
    else:
        print("\n".join(pages))
    return 0


def prepare_folder(out, name):
    """Makes the result folder; CannotRun when the place refuses."""
    folder = out / name
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / ".writable"
        probe.touch()
        probe.unlink()
    except OSError as error:
        raise CannotRun(f"{folder}: cannot be written to: {error.strerror}") from None


def remark(study, *, quiet):
    """Says on standard error what was assumed and which defaults were used."""
    if quiet:
        return
    several = len(study.seas) > 1
    lines = [f"{sea.name}: {note}" if several else note for sea in study.seas for note in sea.notes]
    for line in dict.fromkeys([*lines, *study.notes]):
        print(f"note: {printable(line)}", file=sys.stderr)
    if study.defaults_used:
        print(f"defaults: {', '.join(study.defaults_used)}", file=sys.stderr)


def printable(text):
    """Text from a file without anything that could steer a terminal."""
    return "".join(c if c.isprintable() else "?" for c in text)

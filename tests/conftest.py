"""Shared by all tests: the validation logbook, one row for each check against an outside source; a small study."""

import csv
import json
import math
import pickle
import time
from pathlib import Path

import numpy as np
import pytest

from tests.road import road_of, road_of_test

ORIGINS = ("read", "derived", "memory")  # how the outside number was obtained
ROWS = []


def pytest_addoption(parser):
    parser.addoption(
        "--validation-folder",
        default=None,
        metavar="DIR",
        help="write DIR/validation.json with one row for each published check that ran",
    )


@pytest.hookimpl(trylast=True)
def pytest_configure(config):
    """Before other processes start to run tests, machine code is made once for all of them."""
    if not getattr(config.option, "numprocesses", None) or hasattr(config, "workerinput"):
        return
    if config.getoption("--validation-folder"):
        raise pytest.UsageError("--validation-folder: the rows are gathered in one process, without -n")
    from seaload.basis.machine_code import MARK, kernel_folder

    folder = kernel_folder()
    if folder is not None and not (folder / MARK).exists():
        from tests.small_study import compile_kernels

        compile_kernels()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Files stay whole, each in one process, and so do those of the browser: what their tests share is made once."""
    from xdist.scheduler import LoadFileScheduling

    class Whole(LoadFileScheduling):
        def _split_scope(self, nodeid):
            file = super()._split_scope(nodeid)
            return "tests/browser" if file.startswith("tests/browser/") else file

    return Whole(config, log)


def _plain(value):
    """A number with seven significant digits, so that the file is the same on every run."""
    value = float(f"{float(value):.7g}")
    if not math.isfinite(value):
        raise ValueError("a validation row needs finite numbers")
    return value


RUNNING = []  # the test that runs now


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_call(item):
    RUNNING[:] = [item]
    yield
    RUNNING.clear()


def _reason_of_the_running_test():
    """The reason of the expected-failure mark of the test that runs now, or nothing."""
    marks = [mark for item in RUNNING for mark in item.iter_markers("xfail")]
    return " ".join(mark.kwargs.get("reason", "") for mark in marks)


def _road_of_the_running_test(formula):
    """Whether the test that runs now checks what a run passes through, or an oracle (tests/road.py)."""
    return road_of(formula) if formula else road_of_test(RUNNING[0].path, RUNNING[0].originalname)


@pytest.fixture(scope="session")
def logbook():
    """Function that notes one check: what was compared with what, and whether the tolerance was met.

    `of`, the function that is checked, is needed only where the test's names lead to a marched formula and an oracle.
    """

    def note(*, stage, quantity, source, origin, published, ours, tolerance, met, reason="", of=None):
        if origin not in ORIGINS:
            raise ValueError(f"origin must be one of {ORIGINS}, got {origin!r}")
        row = {
            "stage": str(stage),
            "quantity": str(quantity),
            "source": str(source),
            "origin": origin,
            "road": _road_of_the_running_test(of),
            "published": _plain(published),
            "ours": _plain(ours),
            "tolerance": str(tolerance),
            "met": bool(met),
        }
        reason = reason or ("" if met else _reason_of_the_running_test())
        if reason:  # why a missed row is missed, and what that does to an answer
            row["reason"] = str(reason)
        ROWS.append(row)

    return note


CURVES = []


@pytest.fixture(scope="session")
def draw_curve():
    """Function that notes one curve of a figure of the validation page; `published` curves are drawn as points."""

    def note(figure, x_name, y_name, label, x, y, *, published=False, caption="", log_x=False, log_y=False):
        CURVES.append({
            "figure": figure, "x_name": x_name, "y_name": y_name, "label": label, "published": published,
            "caption": caption, "log_x": log_x, "log_y": log_y,
            "x": [_plain(value) for value in x], "y": [_plain(value) for value in y],
        })  # fmt: skip

    return note


def pytest_sessionfinish(session):
    folder = session.config.getoption("--validation-folder")
    if folder is None:
        return
    target = Path(folder)
    target.mkdir(parents=True, exist_ok=True)
    ordered = sorted(ROWS, key=lambda row: json.dumps(row, sort_keys=True))
    text = json.dumps(ordered, indent=1, sort_keys=True, allow_nan=False) + "\n"
    (target / "validation.json").write_text(text, encoding="utf-8")
    curves = json.dumps(CURVES, sort_keys=True, allow_nan=False).replace("}, {", "},\n{") + "\n"
    (target / "curves.json").write_text(curves, encoding="utf-8")


DATA = Path(__file__).parent / "published" / "data"


@pytest.fixture(scope="session")
def reference_table():
    """Function: rows (dicts, numbers as float, empty as nan) of a CSV table in tests/published/data."""

    def read(name):
        text = (DATA / name).read_text(encoding="utf-8").splitlines()
        return [
            {key: _number_or_text(value) for key, value in row.items()}
            for row in csv.DictReader(line for line in text if not line.startswith("#"))
        ]

    return read


def _number_or_text(value):
    if value == "":
        return math.nan
    try:
        return float(value)
    except ValueError:
        return value


@pytest.fixture(scope="session")
def check_against(logbook):
    """Function: compare arrays with a source, note the worst value in the logbook, then assert."""

    def check(stage, quantity, source, origin, published, ours, *, relative=0.0, absolute=0.0, of=None):
        published, ours = (np.atleast_1d(np.asarray(value, dtype=float)) for value in (published, ours))
        assert published.shape == ours.shape and np.all(np.isfinite(published))
        allowed = absolute + relative * np.abs(published)
        away = np.abs(ours - published)
        met = bool(np.all(away <= allowed))  # false for nan too
        share = np.where(np.isfinite(away), away / np.maximum(allowed, 1e-300), np.inf)
        worst = int(np.argmax(share))  # nearest to its own tolerance, or furthest past it
        said = [f"{relative:g} of the value"] if relative else []
        said += [f"{absolute:g} absolute"] if absolute else []
        logbook(
            stage=stage,
            quantity=f"{quantity} (worst of {published.size})" if published.size > 1 else quantity,
            source=source,
            origin=origin,
            published=published.flat[worst],
            ours=ours.flat[worst],
            tolerance=" + ".join(said) or "exact",
            met=met,
            of=of,
        )
        assert met, f"{quantity}: {ours.flat[worst]!r} against {published.flat[worst]!r} ({source})"

    return check


@pytest.fixture(scope="session")
def small_study():
    """The first study with seconds of sea in it."""
    from seaload.studies.load_study import load_study
    from tests.small_study import STUDIES, shortened

    return shortened(load_study(STUDIES / "bow-quarter-swell.toml"))


@pytest.fixture(scope="session")
def made_once(tmp_path_factory, request):
    """Function: what `make(folder)` gives, made by the first process that asks and read by the others, which find the
    same files: a test may add to them or write them anew whole, no more.
    """
    beside = hasattr(request.config, "workerinput")
    base = tmp_path_factory.getbasetemp().parent if beside else tmp_path_factory.getbasetemp()

    def made(name, make):
        folder, kept, lock = (base / f"{name}{end}" for end in ("", ".pickle", ".lock"))
        while not kept.exists():
            try:
                lock.touch(exist_ok=False)
            except FileExistsError:  # another process is at it
                time.sleep(0.1)
                continue
            try:
                folder.mkdir(exist_ok=True)
                begun = base / f"{name}.begun"
                begun.write_bytes(pickle.dumps(make(folder)))
                begun.rename(kept)
            finally:
                lock.unlink()
        return pickle.loads(kept.read_bytes())

    return made


@pytest.fixture(scope="session")
def small_run(small_study, made_once):
    """Outcome of one small run."""
    from seaload.studies.single_run import run_study

    return made_once("small", lambda folder: run_study(small_study, out=folder, workers=1))


@pytest.fixture(scope="session")
def small_sizing(made_once):
    """Outcome of one small sizing."""
    from seaload.studies.size.size import size_study
    from tests import sized

    return made_once("sizing", lambda folder: size_study(sized.small(folder), out=folder / "results"))


@pytest.fixture(scope="session")
def demo_check(tmp_path_factory):
    """The demonstration boat looked at by the README's command."""
    from tests.boat_page import checked_demo

    return checked_demo(tmp_path_factory.mktemp("boat"))


@pytest.fixture(scope="session")
def made_case():
    """Function: a finished case with quiet numbers, and what is said otherwise."""
    from tests.small_study import made_case

    return made_case

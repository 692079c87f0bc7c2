"""Shared by all tests: the validation logbook, one row for each check against an outside source."""

import json
import math
from pathlib import Path

import pytest

ORIGINS = ("read", "derived", "memory")  # how the outside number was obtained
ROWS = []


def pytest_addoption(parser):
    parser.addoption(
        "--validation-folder",
        default=None,
        metavar="DIR",
        help="write DIR/validation.json with one row for each published check that ran",
    )


def _plain(value):
    """A number with seven significant digits, so that the file is the same on every run."""
    value = float(f"{float(value):.7g}")
    if not math.isfinite(value):
        raise ValueError("a validation row needs finite numbers")
    return value


@pytest.fixture(scope="session")
def logbook():
    """Function that notes one check: what was compared with what, and whether the tolerance was met."""

    def note(*, stage, quantity, source, origin, published, ours, tolerance, met):
        if origin not in ORIGINS:
            raise ValueError(f"origin must be one of {ORIGINS}, got {origin!r}")
        ROWS.append(
            {
                "stage": str(stage),
                "quantity": str(quantity),
                "source": str(source),
                "origin": origin,
                "published": _plain(published),
                "ours": _plain(ours),
                "tolerance": str(tolerance),
                "met": bool(met),
            }
        )

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

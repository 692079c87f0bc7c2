"""Invented results shared by the tests of tables, figures and pages."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent))

from invented_result import invented_run  # noqa: E402


@pytest.fixture(scope="session")
def run_result():
    """An invented run of the first study."""
    return invented_run()

"""Invented results shared by the tests of tables, figures and pages."""

from pathlib import Path

import pytest

from tests.report.invented_result import invented_run, invented_sweep


@pytest.fixture(scope="session")
def run_result():
    """An invented run of the first study."""
    return invented_run()


MARCHED = Path(__file__).parent / "data" / "run-with-reverse-events.nc"


@pytest.fixture(scope="session")
def real():
    """A run of the first study: marched, with nothing made up, kept from a time when the model's waves loaded that foil
    the wrong way past 40 % of the limit.
    """
    from seaload.report.shared.result_reading import open_result

    return open_result(MARCHED)


@pytest.fixture(scope="session")
def real_page(real):
    """Its report, drawn once for all tests that look into it."""
    from seaload.report.read_answer import read_answer
    from seaload.report.run.page import run_page

    return run_page(real, read_answer(real))


ENDED = (4, 2)  # a setting and sea of the invented sweep in which a case left the validity


@pytest.fixture(scope="session")
def sweep_result():
    """An invented sweep: 18 settings in 6 seas."""
    return invented_sweep(ended={ENDED})

"""Invented results shared by the tests of tables, figures and pages."""

import pytest

from tests.report.invented_result import invented_run, invented_sweep


@pytest.fixture(scope="session")
def run_result():
    """An invented run of the first study."""
    return invented_run()


ENDED = (4, 2)  # a setting and sea of the invented sweep in which a case left the validity


@pytest.fixture(scope="session")
def sweep_result():
    """An invented sweep: 18 settings in 6 seas."""
    return invented_sweep(ended={ENDED})

"""Every case is counted once, however often and for however many purposes it is asked for."""

from concurrent.futures import Future
from types import SimpleNamespace

import pytest

from seaload.sailing import sail_cases
from seaload.sailing.case_store import CaseStore
from seaload.sailing.sail_cases import Account, CaseSailer, Earlier
from seaload.studies.load_study import load_study
from tests.small_study import STUDIES, made_case, shortened

TIMES = SimpleNamespace(march=1.0, count=0.0, simulated=20.0)


class MadeUp:
    """A crew that makes up what a block gives."""

    def submit(self, task):
        future = Future()
        future.set_result(([made_case() for _ in task.cases], TIMES))
        return future


@pytest.fixture
def sailing(tmp_path, monkeypatch):
    """Function that gives a sailer with an account of its own, at work on one store, and the store's last remark."""
    monkeypatch.setattr(sail_cases, "load_kernels", lambda task, say: 0.0)
    study = shortened(load_study(STUDIES / "quick-look.toml"))
    settings = {(i, 0): study.settings[i] for i in range(2)}

    def begin(store):
        sailer = CaseSailer(study, settings, store, MadeUp(), Account())
        return sailer, Earlier(store, sailer)

    with CaseStore(tmp_path) as store:
        yield lambda: begin(store)


CASES = [(i, 0, r) for i in range(2) for r in range(3)]


def test_a_resumed_study_counts_each_earlier_case_once_for_however_many_purposes(sailing):
    first, _ = sailing()
    first.sail(CASES)
    first.variant(hs_factor=1.1).sail(CASES[:2])
    assert (first.account.done, first.account.reused, first.account.total) == (8, 0, 8)
    again, earlier = sailing()
    again.sail(CASES)
    for _ in range(4):
        again.variant().sail(CASES)
    account = again.account
    assert (account.done, account.reused, account.total) == (0, 6, 6)
    assert earlier.line(account).startswith("earlier cases: 6 reused, 2 not needed")
    assert account.sea_s == 6 * 20.0


def test_cases_made_for_one_purpose_and_found_for_another_are_not_called_earlier(sailing):
    sailer, earlier = sailing()
    sailer.sail(CASES)
    sailer.variant().sail(CASES)
    account = sailer.account
    assert (account.done, account.reused, account.total) == (6, 0, 6)
    assert earlier.line(account) == ""

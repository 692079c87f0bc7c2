"""Every case is counted once, however often and for however many purposes it is asked for."""

from concurrent.futures import Future
from types import SimpleNamespace

import pytest

from seaload.sailing import sail_cases
from seaload.sailing.case_store import CaseStore
from seaload.sailing.sail_cases import Account, CaseSailer, Earlier, blocks_of, finish, sail_together, under_way
from seaload.simulation.sea_table import GROUP
from seaload.studies.load_study import load_study
from tests.small_study import STUDIES, made_case, shortened

TIMES = SimpleNamespace(march=1.0, count=0.0, simulated=20.0)


class MadeUp:
    """A crew that makes up what a block gives."""

    def __init__(self):
        self.marched, self.sizes = [], []  # cases handed to it, by what their tasks say; how many a block

    def submit(self, task):
        self.marched += [(setting, realisation, task.model.get("hs_factor")) for setting, realisation in task.cases]
        self.sizes.append(len(task.cases))
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


def test_a_case_asked_for_more_than_once_at_a_time_is_marched_once(sailing):
    """By two numbers of one setting, by two sailers of one model, and while it is under way."""
    sailer, _ = sailing()
    sailer.settings[2, 0] = sailer.settings[0, 0]
    twice = [(0, 0, 0), (2, 0, 0), (1, 0, 0)]
    same, higher = sailer.variant(), sailer.variant(hs_factor=1.1)
    first = under_way([(sailer, twice), (same, twice), (higher, twice[:2])])
    second = under_way([(sailer.variant(), [*twice, (1, 0, 1)])])
    finish(first)
    finish(second)
    marched = sailer.crew.marched
    assert len(marched) == len(set(marched)) == 4
    account = sailer.account
    assert (account.done, account.reused, account.total, account.sea_s) == (4, 0, 4, 4 * 20.0)
    for asked in (sailer, same, second[0][0]):
        assert asked.records[0, 0, 0] is asked.records[2, 0, 0] is sailer.records[0, 0, 0]
    assert higher.records[0, 0, 0] is not sailer.records[0, 0, 0]
    sail_together([(sailer.variant(), twice)])
    assert len(sailer.crew.marched) == 4 and (account.done, account.reused, account.total) == (4, 0, 4)


def test_sailers_of_one_model_share_blocks_and_each_has_its_own_cases(sailing):
    """A block costs the same half full: two sailers of two cases fill one of four lanes."""
    sailer, _ = sailing()
    one, higher = sailer.variant(), sailer.variant(hs_factor=1.1)
    other = sailer.variant({(7, 0): sailer.settings[1, 0]})
    wanted = [(0, 0, r) for r in range(2)]
    sail_together([(one, wanted), (other, [(7, 0, r) for r in range(2)]), (higher, wanted)])
    assert sailer.crew.sizes == [4, 2]
    assert set(one.records) == set(wanted) == set(higher.records) and set(other.records) == {(7, 0, 0), (7, 0, 1)}
    assert sailer.account.busy_s == 2.0 and sailer.account.done == 6


def test_shorter_realisations_are_other_cases_in_blocks_of_their_own(sailing):
    """A block has one length: the same numbers in half the time are marched beside, and counted with their own sea."""
    sailer, _ = sailing()
    half = 0.5 * sailer.study.sampling.realisation_time
    wanted, short = [(0, 0, r) for r in range(2)], sailer.of_length(half)
    sail_together([(sailer, wanted), (short, wanted)])
    assert sailer.crew.sizes == [2, 2] and sailer.key_of(wanted[0]) != short.key_of(wanted[0])
    assert sailer.records.keys() == short.records.keys() and sailer.records is not short.records
    assert sailer.account.sea_s == pytest.approx(2 * 3.0 * half)
    assert short.task(wanted).sampling.realisation_time == half


def test_a_case_that_nobody_marches_is_not_waited_for(sailing):
    sailer, _ = sailing()
    with pytest.raises(RuntimeError, match="nobody marches"):
        finish([(sailer, (0, 0, 0))])


def test_a_block_holds_one_sea_and_one_set_of_wave_components():
    cases = [(i, j, r) for i in range(3) for j in range(2) for r in (0, 5, 15, 16, 17, 40, 100_000)]
    blocks = list(blocks_of(cases))
    assert sorted(case for block in blocks for case in block) == sorted(cases)
    assert all(len({(j, r // GROUP) for _, j, r in block}) == 1 for block in blocks)

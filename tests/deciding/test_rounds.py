"""Sea goes where it can still change the answer."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from seaload.deciding import rounds
from seaload.deciding.rounds import FIRST, HOPELESS, RIVALS, sail_rounds
from seaload.deciding.uncertainty import no_doubt
from seaload.evidence.verdict import OUTSIDE, WITHIN
from tests.deciding.fake_sailer import FakeSailer, location_for

LIMIT = 1.87e-6  # [1/s] 2 % in 3 h


@pytest.fixture
def sailed(small_study, made_case, monkeypatch):
    """Function: the state after all rounds of settings with these true rates, and the sailer."""
    monkeypatch.setattr(
        rounds, "sail_ensembles", lambda sailer, pivots: {sea: no_doubt(sailer.study) for sea in pivots}
    )

    def go(rates, ranks=None, base=9, most=60, precision=0.1):
        sampling = replace(
            small_study.sampling, realisations=base, most_realisations=most, precision=precision,
            realisation_time=1200.0,
        )  # fmt: skip
        settings = tuple(replace(small_study.settings[0], rake=0.01 * k) for k in range(len(rates)))
        study = replace(small_study, sampling=sampling, settings=settings)
        pairs = {(k, 0): setting for k, setting in enumerate(settings)}
        where = {setting: location_for(rate) for setting, rate in zip(settings, rates, strict=True)}
        sailer = FakeSailer(study, pairs, made_case, lambda setting, model: where[setting])
        rank = {(k, 0): (10.0, 0.0 if ranks is None else ranks[k]) for k in range(len(rates))}
        return sail_rounds(sailer, sorted(pairs), rank), sailer

    return go


def test_clearly_out_needs_few(sailed):
    state, _ = sailed([1e-2])
    assert state.verdicts[0, 0].decision == OUTSIDE
    assert state.counts[0, 0] <= 9


def test_near_the_limit_gets_more_than_clear_ones(sailed):
    state, _ = sailed([LIMIT / 5.0, 1e-2], most=100)
    assert state.counts[0, 0] > 2 * state.counts[1, 0]


def test_a_slower_setting_is_decided_too(sailed):
    """The map answers for every setting, whatever is suggested."""
    state, _ = sailed([*[1e-12] * RIVALS, LIMIT / 10.0], ranks=[2.0] * RIVALS + [1.0], most=200)
    assert all(verdict.decision == WITHIN for verdict in state.verdicts.values())
    assert state.counts[RIVALS, 0] > FIRST and state.stopped[RIVALS, 0] == "decided"


def test_what_is_within_and_not_needed_is_left_at_that(sailed):
    """The usual hours go to as many of the fastest within as a suggestion is looked for among."""
    state, _ = sailed([1e-12] * (RIVALS + 2), ranks=[2.0] * (RIVALS + 1) + [1.0])
    assert state.counts[RIVALS + 1, 0] == FIRST


def test_a_setting_on_its_limit_ends_before_the_budget_once_the_rest_will_hardly_decide_it(sailed):
    state, _ = sailed([LIMIT], most=400, precision=1e-3)
    chance = state.verdicts[0, 0].chance(400 * 1200.0)
    assert state.counts[0, 0] < 400 and chance < HOPELESS
    assert state.stopped[0, 0] == "too close for the budget"


def test_where_what_is_uncertain_is_not_known_only_what_may_be_outside_gets_more_sea(sailed, monkeypatch):
    """No sea can bring down an upper end that stands at certain: a setting under its level keeps its usual hours, one
    eight times over goes on until it is shown to be outside.
    """
    blind = lambda sailer, pivots: {sea: replace(no_doubt(sailer.study), blind=True) for sea in pivots}  # noqa: E731
    monkeypatch.setattr(rounds, "sail_ensembles", blind)
    state, _ = sailed([LIMIT / 5.0, 8.0 * LIMIT], most=200)
    assert state.counts[0, 0] == 9 and state.stopped[0, 0] == "what is uncertain is not known"
    assert state.counts[1, 0] > 9 and state.verdicts[1, 0].decision == OUTSIDE


def test_budget_is_kept(sailed):
    state, sailer = sailed([LIMIT], most=20)
    assert state.counts[0, 0] <= 20
    assert max(r for _, _, r in sailer.asked) < 20


def test_fixed_number_without_precision(sailed):
    state, _ = sailed([LIMIT, 1e-2], precision=0.0, base=7, most=0)
    assert set(state.counts.values()) == {7}


def test_without_precision_all_get_their_hours_and_the_undecided_more(sailed):
    """A board needs numbers everywhere: a setting far out gets its seven realisations, one near its level goes on."""
    state, _ = sailed([LIMIT / 5.0, 1e-2], precision=0.0, base=7, most=60)
    assert state.counts[1, 0] == 7 and state.verdicts[1, 0].decision == OUTSIDE
    assert 7 < state.counts[0, 0] <= 60


def test_same_decisions_on_repeat(sailed):
    one, _ = sailed([LIMIT / 3.0, LIMIT, 1e-3])
    two, _ = sailed([LIMIT / 3.0, LIMIT, 1e-3])
    assert one.counts == two.counts and one.stopped == two.stopped


def test_what_is_uncertain_is_sailed_at_the_extensions_that_may_decide():
    """Of each extension the setting nearest to the level, either way; the ends of the nearest three, of one sea alone.
    """
    excess = {(0, 0): 1e-6, (1, 0): 1e-3, (2, 0): 5.0, (3, 0): 0.5, (4, 0): 40.0, (5, 0): 0.9, (6, 1): 1.0}
    extensions = dict(zip(excess, (0.6, 0.7, 0.8, 0.8, 0.9, 1.0, 0.5), strict=True))
    verdicts = {pair: SimpleNamespace(excess=lambda value=value: value) for pair, value in excess.items()}
    assert rounds.pivots_of(verdicts, extensions, 0) == [(3, 0), (5, 0)]
    assert rounds.pivots_of(verdicts, extensions, 1) == [(6, 1)]

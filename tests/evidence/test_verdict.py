"""In, out or undecided: from the upper and lower ends of the odds all told."""

import math
from statistics import NormalDist

import numpy as np
import pytest

from seaload.basis.records import STATUS_PITCH_BEYOND
from seaload.evidence.verdict import (
    DEVIATE,
    NOT_SHOWN,
    OUTSIDE,
    UNDECIDED,
    WITHIN,
    accepted_rates,
    chance_to_decide,
    chance_to_exceed,
    judge,
    rates_of_odds,
    sampled_rates,
    verdict_of,
)
from seaload.risk.poisson import CONFIDENCE, odds_in_exposure
from seaload.scenario.records import RiskLevels

LIMIT = 1e-5
LIMITS = {"reverse": LIMIT, "normal": LIMIT}
QUIET = (1e-9, 1e-10, 1e-8)
RISK = RiskLevels(3600.0, 0.02, 0.02)


def verdict(reverse, total=3600.0, told=None):
    sampling = {"reverse": reverse, "normal": QUIET}
    return verdict_of(sampling, {"reverse": told or reverse, "normal": QUIET}, LIMITS, total)


def as_sampled(sampled, wear=0.0):
    """What is told where nothing is uncertain."""
    return {side: sampled.rates[side] for side in ("reverse", "normal")} | {"wear": wear}


@pytest.mark.parametrize(
    "rates, code",
    [
        ((1e-7, 1e-8, 9e-6), WITHIN),
        ((1e-7, 1e-8, 1.1e-5), UNDECIDED),
        ((1e-4, 1.1e-5, 1e-3), OUTSIDE),
        ((1e-4, 0.9e-5, 1e-3), UNDECIDED),
    ],
)
def test_decision_by_the_ends(rates, code):
    assert verdict(rates).decision == code


def test_odds_all_told_decide_and_the_others_stand_beside():
    found = verdict((3e-6, 1e-6, 9e-6), told=(9e-6, 6e-6, 2e-5))
    assert found.decision_sampling == WITHIN and found.decision == UNDECIDED
    assert found.rates["reverse"] == (9e-6, 6e-6, 2e-5) and found.sampling_rates["reverse"] == (3e-6, 1e-6, 9e-6)


def test_rates_of_odds_have_those_odds_and_certainty_has_an_end():
    rates = rates_of_odds((0.02, 0.3, 1.0), 3600.0)
    assert [odds_in_exposure(rate, 3600.0) for rate in rates[:2]] == pytest.approx([0.02, 0.3])
    assert 1e-3 < rates[2] < math.inf


def test_accepted_rate_gives_the_accepted_odds():
    limits = accepted_rates(RiskLevels(10800.0, 0.02, 0.05))
    assert 1.0 - math.exp(-limits["reverse"] * 10800.0) == pytest.approx(0.02)
    assert 1.0 - math.exp(-limits["normal"] * 10800.0) == pytest.approx(0.05)


def test_sea_needed_when_nothing_was_seen_is_the_exact_bound():
    """None in T: -ln(0.05)/T below the limit (Garwood 1936)."""
    total = 3600.0
    bound = -math.log(0.05) / total
    assert verdict((0.0, 0.0, bound)).sea_to_decide == pytest.approx(-math.log(0.05) / LIMIT)


@pytest.mark.parametrize("off", [-2.0, -0.3, 0.0, 0.8])
@pytest.mark.parametrize("more", [1.5, 4.0])
def test_the_chance_of_a_decision_is_that_of_repeated_trials(off, more):
    """A mean of n normal numbers, n so many times more of them, decided by its own interval: 4,000 trials."""
    generator, deviation = np.random.default_rng(3), 0.5
    now = math.log(LIMIT) + off * deviation
    true = now + deviation * generator.standard_normal(4000)  # as far as is known now
    new = true + deviation / math.sqrt(more - 1.0) * generator.standard_normal(4000)  # what the further sea says
    then = now / more + new * (1.0 - 1.0 / more)
    decided = np.abs(then - math.log(LIMIT)) > DEVIATE * deviation / math.sqrt(more)
    rates = tuple(math.exp(now + k * DEVIATE * deviation) for k in (0.0, -1.0, 1.0))
    assert chance_to_decide(rates, LIMIT, more) == pytest.approx(decided.mean(), abs=0.025)
    exceeds = then - math.log(LIMIT) > DEVIATE * deviation / math.sqrt(more)
    assert chance_to_exceed((*rates[:2], math.inf), LIMIT, more) == pytest.approx(exceeds.mean(), abs=0.025)


def test_no_sea_left_decides_nothing_and_the_worse_side_rules():
    rates = (LIMIT, LIMIT / 3.0, 3.0 * LIMIT)
    assert chance_to_decide(rates, LIMIT, 1.0) == 0.0
    close, far = (verdict((x * LIMIT, x * LIMIT / 3.0, x * LIMIT * 3.0)).chance(10.0 * 3600.0) for x in (0.9, 0.4))
    assert close < far < 1.0


def test_a_side_known_to_be_past_its_level_is_enough_to_be_outside():
    """The other side may be as far within as can be; with no sea left nothing is shown."""
    told = [verdict((x * LIMIT, x * LIMIT / 3.0, x * LIMIT * 3.0)) for x in (0.2, 1.5, 2.5)]
    found = [each.chance_outside(10.0 * 3600.0) for each in told]
    assert 0.0 <= found[0] < 0.05 < found[1] < found[2] < 1.0
    assert verdict((2.0 * LIMIT, LIMIT / 2.0, 9.0 * LIMIT)).chance_outside(3600.0) == 0.0


def test_sea_needed_of_a_tail_falls_with_the_square_of_the_distance():
    near = verdict((5e-6, 1e-6, 2e-5))
    far = verdict((2.5e-6, 0.6e-6, 1e-5))  # twice as far away, same half-width
    assert near.sea_to_decide == pytest.approx(4.0 * far.sea_to_decide, rel=1e-6)


def test_an_estimate_on_the_limit_is_never_decided():
    assert verdict((LIMIT, 1e-6, 2e-5)).sea_to_decide == math.inf


def test_cases_that_left_the_validity_are_never_within(made_case):
    good = made_case(duration=1e9, block_time=1e9 / 6)
    bad = made_case(status=STATUS_PITCH_BEYOND, duration=1e9, block_time=1e9 / 6)
    sampled = sampled_rates([good] * 20, RISK)
    assert judge(sampled, as_sampled(sampled), RISK).decision == WITHIN
    sampled = sampled_rates([good] * 19 + [bad], RISK)
    found = judge(sampled, as_sampled(sampled), RISK)
    assert found.decision == NOT_SHOWN and found.excess() == math.inf


def test_enough_events_put_a_setting_outside_even_when_cases_ended(made_case):
    bad = made_case(status=STATUS_PITCH_BEYOND, duration=60.0, events_full=9)
    sampled = sampled_rates([bad] * 5, RISK)
    assert judge(sampled, as_sampled(sampled), RISK).decision == OUTSIDE


def test_deviate_is_that_of_the_confidence():
    assert NormalDist().inv_cdf(0.5 + 0.5 * CONFIDENCE) == pytest.approx(DEVIATE)


def test_a_named_level_of_wear_is_a_third_thing_to_stay_within(made_case):
    """The same cases, with no level of wear, a loose one, a tight one: within, within, outside."""
    grid = np.zeros(51)
    grid[20] = 1e-6  # one full-load swing in each case of a minute
    cases = [made_case(grid_damage=grid) for _ in range(400)]
    for wear, decision in ((math.inf, WITHIN), (100.0, WITHIN), (20.0, OUTSIDE)):
        risk = RiskLevels(3600.0, 0.5, 0.5, wear * 1e-6 / 3600.0)
        sampled = sampled_rates(cases, risk)
        found = judge(sampled, as_sampled(sampled, 0.1), risk)
        assert found.decision == decision and ("wear" in found.limits) == math.isfinite(wear)
    assert found.excess() > 3.0

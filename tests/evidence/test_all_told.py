"""Odds all told against closed forms: a log-normal rate, a normal strength, the law of total expectation."""

import numpy as np
import pytest
from scipy import integrate, stats

from seaload.evidence.all_told import (
    Lean,
    known_range,
    odds_all_told,
    odds_bound,
    odds_of,
    odds_once_known,
    worst_share,
)
from seaload.evidence.bend import NODES, Bend, bent
from seaload.evidence.rate_curve import RateCurve

HOURS3 = 10800.0


def straight(slope, at_limit):
    """A curve whose ln(rate) falls by `slope` a limit, with `at_limit` [1/s] there."""
    levels = np.linspace(0.0, 2.0, 9)
    rate = np.log(at_limit) - slope * (levels - 1.0)
    return RateCurve(levels, rate, rate - 0.5, rate + 0.5)


@pytest.mark.parametrize("sigma, rate", [(0.5, 1e-6), (1.5, 1e-6), (3.0, 1e-8), (1.0, 1e-4)])
def test_a_lognormal_rate_is_integrated(sigma, rate):
    """P = E[1 - exp(-lambda T)] for ln(lambda) ~ N(ln rate, sigma^2), by adaptive quadrature (scipy)."""
    curve = straight(20.0, rate)
    lean = Lean(0.3, np.array([sigma / 20.0]), np.zeros(1))
    integrand = lambda z: stats.norm.pdf(z) * -np.expm1(-rate * HOURS3 * np.exp(sigma * z))  # noqa: E731
    expected = integrate.quad(integrand, -9.0, 9.0, limit=400, epsabs=1e-14)[0]
    assert odds_all_told(curve, lean, HOURS3)[0] == pytest.approx(expected, rel=1e-4)


def test_small_odds_of_a_lognormal_rate_are_its_mean():
    """While lambda T is small P = T rate exp(sigma^2 / 2), the mean of a log-normal (any text on probability)."""
    lean = Lean(0.0, np.array([0.03, 0.04]), np.zeros(2))  # together 0.05: sigma = 1
    found = odds_all_told(straight(20.0, 1e-10), lean, HOURS3)
    assert found[0] == pytest.approx(HOURS3 * 1e-10 * np.exp(0.5), rel=1e-4)
    assert found[1:] == pytest.approx([found[0] * np.exp(-0.5), found[0] * np.exp(0.5)], rel=1e-3)


def test_a_rate_that_jumps_gives_the_normal_law():
    """Certain above a level, impossible under it: P = Phi(-margin / spread), the classical reliability index."""
    levels = np.array([0.0, 0.7499, 0.7501, 2.0])
    curve = RateCurve(levels, *[np.array([5.0, 5.0, -200.0, -300.0])] * 3)
    lean = Lean(0.0, np.array([0.06, 0.08]), np.zeros(2))
    assert odds_all_told(curve, lean, HOURS3)[0] == pytest.approx(stats.norm.cdf(-2.5), rel=0.25)


def test_growth_counts_the_more_the_lower_the_mean():
    """One input that lets the fluctuation grow by g x: the limit moves to mean + (1 - mean) exp(-g x)."""
    curve, mean, g = straight(15.0, 1e-8), -1.0, 0.08
    integrand = lambda z: stats.norm.pdf(z) * -np.expm1(  # noqa: E731
        -HOURS3 * np.exp(curve.ln_rate(mean + (1.0 - mean) * np.exp(-g * z)))
    )
    expected = integrate.quad(integrand, -6.0, 6.0, limit=400, epsabs=1e-14)[0]
    found = odds_all_told(curve, Lean(mean, np.zeros(1), np.array([g])), HOURS3)[0]
    assert found == pytest.approx(expected, rel=1e-3)


def test_two_inputs_of_either_kind_are_integrated_together():
    """A shift and a growth apart: the double sum over both, each on its own fine grid."""
    curve, lean = straight(12.0, 1e-7), Lean(-0.4, np.array([0.07, 0.0]), np.array([0.0, 0.09]))
    z = np.linspace(-6.0, 6.0, 241)
    w = np.exp(-0.5 * z**2)
    w /= w.sum()
    levels = -0.4 + (1.4 - 0.07 * z[:, None]) * np.exp(-0.09 * z)
    expected = w @ odds_of(curve, "middle", levels, HOURS3) @ w
    assert odds_all_told(curve, lean, HOURS3)[0] == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("number", range(3))
def test_the_mean_over_what_an_input_may_turn_out_to_be_is_the_odds_all_told(number):
    """Law of total expectation."""
    curve = straight(18.0, 3e-7)
    lean = Lean(-0.2, np.array([0.05, 0.0, 0.02]), np.array([0.03, 0.06, -0.04]))
    odds, weights = odds_once_known(curve, lean, HOURS3, number)
    told = odds_all_told(curve, lean, HOURS3)[0]
    assert weights @ odds == pytest.approx(told, rel=2e-3)
    low, high = known_range(curve, lean, HOURS3, number)
    assert low < told < high


def test_knowing_an_input_that_does_nothing_is_worth_nothing():
    lean = Lean(0.1, np.array([0.05, 0.0]), np.array([0.02, 0.0]))
    low, high = known_range(straight(18.0, 3e-7), lean, HOURS3, 1)
    assert low == pytest.approx(high, rel=1e-9)


def test_nothing_uncertain_leaves_the_odds_as_they_are():
    found = odds_all_told(straight(18.0, 3e-6), Lean(0.2, np.zeros(4), np.zeros(4)), HOURS3)
    assert found == pytest.approx([-np.expm1(-3e-6 * HOURS3 * np.exp(s)) for s in (0.0, -0.5, 0.5)])


def test_a_bound_is_the_quantile_of_a_normal_input():
    """At 95 % the load lies 1.645 deviations nearer, at the upper end of sampling."""
    curve, lean = straight(18.0, 3e-7), Lean(0.2, np.array([0.05]), np.zeros(1))
    found = odds_bound(curve, lean, HOURS3, 0.95)
    expected = -np.expm1(-HOURS3 * np.exp(curve.ln_rate(1.0 - 1.6448536 * 0.05, "high")))
    assert found[0] == pytest.approx(-np.expm1(-HOURS3 * 3e-7))
    assert found[2] == pytest.approx(expected, rel=0.06)  # the grid steps by 0.2 deviations


def test_the_worst_load_of_a_gumbel_law():
    """Nothing uncertain and ln(rate) straight: the worst of T is Gumbel, its q-quantile where rate T = -ln(q)."""
    curve, nothing = straight(20.0, 1e-6), Lean(0.0, np.zeros(1), np.zeros(1))
    for odds in (0.5, 0.05):
        expected = 1.0 + np.log(1e-6 * HOURS3 / -np.log1p(-odds)) / 20.0
        assert worst_share(curve, nothing, HOURS3, odds) == pytest.approx(expected, abs=1e-6)


def test_odds_of_passing_the_worst_share_are_those_asked_for():
    curve, lean = straight(20.0, 1e-6), Lean(-0.3, np.array([0.05, 0.03]), np.array([0.04, 0.0]))
    share = worst_share(curve, lean, HOURS3, 0.05)
    assert odds_all_told(curve, lean, HOURS3, share)[0] == pytest.approx(0.05, rel=1e-6)


def lean_of(hs, tp, correlation, mean=-0.3):
    """A `Lean` of two straight inputs, and of height and period that act by these tables (shifts, growths)."""
    bends = Bend(2, *map(np.array, hs)), Bend(3, *map(np.array, tp))
    return Lean(mean, np.array([0.03, 0.02, 0.0, 0.0]), np.array([0.02, -0.04, 0.0, 0.0]), bends, correlation)


SEAS = {  # shifts, growths by height and by period at -2 to +2 deviations
    "higher and shorter": (([-0.02, -0.01, 0.0, 0.012, 0.03], [-0.27, -0.13, 0.0, 0.14, 0.31]),
                           ([0.03, 0.01, 0.0, -0.004, -0.006], [0.35, 0.12, 0.0, -0.06, -0.08])),
    "worst at the period as it is": (([0.0] * 5, [-0.2, -0.1, 0.0, 0.1, 0.2]),
                                     ([0.0] * 5, [-0.3, -0.1, 0.0, -0.1, -0.3])),
    "growing faster": (([0.0, 0.0, 0.0, 0.02, 0.06], [-0.1, -0.06, 0.0, 0.15, 0.5]),
                       ([0.0] * 5, [0.1, 0.05, 0.0, -0.05, -0.1])),
}  # fmt: skip


@pytest.mark.parametrize("correlation", [-0.5, 0.0, 0.9])
def test_bends_that_are_straight_are_inputs_in_proportion(correlation):
    """Two normal inputs with a correlation: variance a^2 + b^2 + 2 rho a b, and the odds are those of one input."""
    curve, a, b = straight(18.0, 1e-8), 0.06, 0.04
    bends = Bend(0, a * NODES, np.zeros(5)), Bend(1, b * NODES, np.zeros(5))
    found = odds_all_told(curve, Lean(-0.3, np.zeros(2), np.zeros(2), bends, correlation), HOURS3)
    size = np.sqrt(a**2 + b**2 + 2.0 * correlation * a * b)
    assert found == pytest.approx(odds_all_told(curve, Lean(-0.3, np.array([size]), np.zeros(1)), HOURS3), rel=2e-3)


@pytest.mark.parametrize("sea", SEAS)
@pytest.mark.parametrize("slope, rate, correlation", [(18.0, 3e-7, 0.4), (20.0, 1e-10, 0.4), (30.0, 1e-9, 0.8)])
def test_bent_inputs_are_integrated(sea, slope, rate, correlation):
    """Against the plain sum over height, period and the straight inputs, each on its own fine grid."""
    curve, lean = straight(slope, rate), lean_of(*SEAS[sea], correlation)
    x, w = np.linspace(-6.0, 6.0, 49), np.exp(-0.5 * np.linspace(-6.0, 6.0, 49) ** 2)
    w /= w.sum()
    height = x[:, None] + 0.0 * x
    period = correlation * x[:, None] + np.sqrt(1.0 - correlation**2) * x
    over = [sum(bent(getattr(b, kind), at) for b, at in zip(lean.bends, (height, period), strict=True))
            for kind in ("shifts", "growths")]  # fmt: skip
    expected = 0.0
    for one, weight in zip(x, w, strict=True):  # the second straight input, summed outermost
        shift = over[0][..., None] + 0.02 * one + 0.03 * x
        growth = over[1][..., None] - 0.04 * one + 0.02 * x
        odds = odds_of(curve, "middle", -0.3 + (1.3 - shift) * np.exp(-growth), HOURS3)
        expected += weight * (w @ (w @ (odds @ w)))
    assert odds_all_told(curve, lean, HOURS3)[0] == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize("sea", SEAS)
@pytest.mark.parametrize("number", range(4))
def test_the_mean_over_what_a_bent_input_may_turn_out_to_be_is_the_odds_all_told(sea, number):
    """Law of total expectation; once the height is known the period is known better, by their correlation."""
    curve, lean = straight(18.0, 3e-7), lean_of(*SEAS[sea], 0.4)
    odds, weights = odds_once_known(curve, lean, HOURS3, number)
    assert weights @ odds == pytest.approx(odds_all_told(curve, lean, HOURS3)[0], rel=0.02)


def test_a_height_that_is_known_leaves_nothing_uncertain_where_all_else_is():
    curve, growths = straight(18.0, 3e-7), np.array([-0.2, -0.1, 0.0, 0.12, 0.3])
    lean = Lean(-0.3, np.zeros(1), np.zeros(1), (Bend(0, np.zeros(5), growths),))
    odds, _ = odds_once_known(curve, lean, HOURS3, 0)
    at = -0.3 + 1.3 * np.exp(-0.12)
    assert odds[25] == pytest.approx(odds_of(curve, "middle", at, HOURS3))  # one deviation: the 26th of -4 to 4 by 0.2


def test_worse_bends_cost_odds():
    curve = straight(18.0, 3e-7)
    mild, bad = (lean_of(([0.0] * 5, growths), ([0.0] * 5,) * 2, 0.0) for growths in (
        [-0.2, -0.1, 0.0, 0.1, 0.2], [-0.2, -0.1, 0.0, 0.15, 0.4]))  # fmt: skip
    assert odds_all_told(curve, bad, HOURS3)[0] > 1.5 * odds_all_told(curve, mild, HOURS3)[0]
    assert worst_share(curve, bad, HOURS3, 0.05) > worst_share(curve, mild, HOURS3, 0.05)


VALLEYS = (  # shifts, growths of inputs that move the load either way off
    Bend(4, 0.01 * np.array([0.0, -1.0, 0.0, 3.0, 6.0]), np.array([1.1, 0.55, 0.0, 0.0, 0.1])),
    Bend(5, np.zeros(5), np.array([0.1, 0.0, 0.0, 0.2, 0.4])),
)


@pytest.mark.parametrize("slope, rate", [(18.0, 3e-7), (20.0, 1e-10), (12.0, 1e-5)])
def test_inputs_that_are_worse_either_way_off_are_integrated(slope, rate):
    """Two of them beside one in proportion, against the plain sum on fine grids."""
    curve, x = straight(slope, rate), np.linspace(-6.0, 6.0, 97)
    w = np.exp(-0.5 * x**2) / np.exp(-0.5 * x**2).sum()
    lean = Lean(-0.3, np.array([0.04, *[0.0] * 5]), np.array([0.05, *[0.0] * 5]), alone=VALLEYS)
    one, other = ([bent(values, x) for values in (bend.shifts, bend.growths)] for bend in VALLEYS)
    expected = 0.0
    for at, weight in zip(x, w, strict=True):
        shift, growth = (
            own * at + first[:, None] + second for own, first, second in zip((0.04, 0.05), one, other, strict=True)
        )
        expected += weight * (w @ odds_of(curve, "middle", -0.3 + (1.3 - shift) * np.exp(-growth), HOURS3) @ w)
    assert odds_all_told(curve, lean, HOURS3)[0] == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize("correlation", [0.0, 0.4])
def test_an_input_alone_whose_bend_is_straight_is_one_in_proportion(correlation):
    curve, line = straight(18.0, 3e-7), 0.06 * NODES
    sea = lean_of(*SEAS["higher and shorter"], correlation)
    one, other = (
        sea._replace(shifts=np.append(sea.shifts, 0.0), growths=np.append(sea.growths, size)) for size in (0.0, 0.06)
    )
    alone = one._replace(alone=(Bend(4, np.zeros(5), line),))
    assert odds_all_told(curve, alone, HOURS3) == pytest.approx(odds_all_told(curve, other, HOURS3), rel=0.02)


@pytest.mark.parametrize("number", [0, 2, 4, 5])
def test_the_mean_over_what_is_known_beside_inputs_alone_is_the_odds_all_told(number):
    """Law of total expectation."""
    sea = lean_of(*SEAS["higher and shorter"], 0.4)
    lean = sea._replace(shifts=np.append(sea.shifts, [0.0, 0.0]), growths=np.append(sea.growths, [0.0, 0.0]),
                        alone=VALLEYS)  # fmt: skip
    curve = straight(18.0, 3e-7)
    odds, weights = odds_once_known(curve, lean, HOURS3, number)
    assert weights @ odds == pytest.approx(odds_all_told(curve, lean, HOURS3)[0], rel=0.02)

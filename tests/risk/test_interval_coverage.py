"""Do the 90 % intervals hold the truth? 500 synthetic trials at 5, 10 and 30 realisations.

Truth and trials are ours (origin: derived). Trial error: two standard errors of 500 yes/no trials at 90 %, 2.7 %.
"""

import math

import numpy as np
import pytest
from scipy import stats

from seaload.risk.poisson import clustered_rate_interval, poisson_interval
from seaload.risk.resample import mean_interval, paired_difference_interval
from tests.oracles.paired_ratio import paired_ratio_interval

TRIALS = 500
TRIAL_ERROR = 0.027
SIZES = (5, 10, 30)


HEAVY = (
    "tail without a variance, outside the calibration: the interval misses about 1 true mean in 5. "
    "Where one realisation holds over half of the damage the answer warns; more hours are the remedy"
)


def note(logbook, quantity, covered, least, met, reason="", of=None):
    logbook(
        stage="risk", quantity=f"coverage of 90 % interval: {quantity}", source="500 synthetic trials",
        origin="derived", published=0.90, ours=covered, tolerance=f"at least {least:.3f}", met=met,
        reason=reason, of=of,
    )  # fmt: skip


def test_exact_poisson_never_under_ninety_percent(logbook):
    """Computed, not sampled: the summed probability of all counts whose interval holds the mean."""
    counts = np.arange(200)
    bounds = np.array([poisson_interval(count) for count in counts])
    worst = 1.0
    for mean in np.linspace(0.02, 60.0, 3000):
        inside = (bounds[:, 0] <= mean) & (mean <= bounds[:, 1])
        worst = min(worst, stats.poisson.pmf(counts[inside], mean).sum())
    note(logbook, "exact Poisson, worst of 3000 means", worst, 0.90, worst >= 0.90)
    assert worst >= 0.90


@pytest.mark.parametrize("realisations", SIZES)
@pytest.mark.parametrize("rate", [0.05, 0.5, 4.0])
def test_counts_of_realisations(realisations, rate, logbook):
    """Events that come one by one, `rate` a realisation; the width may only grow by apparent clustering."""
    generator = np.random.default_rng([realisations, int(100 * rate)])
    held = 0
    for _ in range(TRIALS):
        _, low, high, _ = clustered_rate_interval(generator.poisson(rate, realisations), 1200.0)
        held += low * 1200.0 <= rate <= high * 1200.0
    met = held / TRIALS >= 0.90 - TRIAL_ERROR
    note(logbook, f"Poisson, {realisations} realisations, {rate:g} events each", held / TRIALS, 0.873, met)
    assert met


@pytest.mark.parametrize("realisations", SIZES)
def test_clustered_counts(realisations, logbook):
    """Groups of three on average (negative binomial): the exact interval alone holds the truth in about 65 %."""
    generator = np.random.default_rng(realisations)
    held = plain = 0
    for _ in range(TRIALS):
        counts = generator.negative_binomial(1.0, 1.0 / 3.0, realisations)  # mean 2, variance 6
        _, low, high, _ = clustered_rate_interval(counts, 1.0)
        held += low <= 2.0 <= high
        bounds = poisson_interval(counts.sum())
        plain += bounds[0] / realisations <= 2.0 <= bounds[1] / realisations
    least = 0.80 if realisations < 30 else 0.86  # five counts cannot tell well how clustered they are
    note(logbook, f"clustered counts, {realisations} realisations", held / TRIALS, least, held / TRIALS >= least)
    assert plain < held and held / TRIALS >= least


def rayleigh_sums(slope, shape, generator):
    """Damage of realisations of 300 Rayleigh ranges, and its true mean."""
    ranges = np.sqrt(2.0 * generator.exponential(size=shape + (300,)))
    truth = 300.0 * 2.0 ** (0.5 * slope) * math.gamma(1.0 + 0.5 * slope)
    return np.sum(ranges**slope, axis=-1), truth


def held_share(draw, realisations):
    generator = np.random.default_rng([7, realisations])
    held = 0
    for _ in range(TRIALS):
        damages, truth = draw((realisations,), generator)
        interval = mean_interval(damages, resamples=200, generator=generator)
        held += interval.low <= truth <= interval.high
    return held / TRIALS


@pytest.mark.parametrize("realisations", SIZES)
@pytest.mark.parametrize("slope", [10.0, 14.0])
def test_damage_of_waves(slope, realisations, logbook):
    covered = held_share(lambda shape, g: rayleigh_sums(slope, shape, g), realisations)
    met = covered >= 0.86
    note(logbook, f"damage, slope {slope:g}, {realisations} realisations", covered, 0.86, met)
    assert met, covered


@pytest.mark.parametrize("realisations", SIZES)
@pytest.mark.parametrize("sigma", [0.5, 1.0, 1.5])
def test_log_normal_damage(sigma, realisations, logbook):
    covered = held_share(
        lambda shape, g: (np.exp(sigma * g.standard_normal(shape)), math.exp(0.5 * sigma**2)), realisations
    )
    note(logbook, f"log-normal {sigma:g}, {realisations} realisations", covered, 0.86, covered >= 0.86)
    assert covered >= 0.86, covered


@pytest.mark.parametrize("realisations", SIZES)
@pytest.mark.parametrize("index", [2.5, 1.8])
def test_power_law_damage_is_reported_as_it_is(index, realisations, logbook):
    """Pareto tails were not part of the calibration; no interval from so few can be trusted, the rows show it."""
    covered = held_share(lambda shape, g: (1.0 + g.pareto(index, shape), index / (index - 1.0)), realisations)
    met = covered >= 0.86
    reason = "" if met else HEAVY
    note(logbook, f"Pareto index {index:g}, {realisations} realisations", covered, 0.86, met, reason)
    assert covered >= 0.70


@pytest.mark.parametrize("realisations", SIZES)
def test_paired_difference_and_ratio(realisations, logbook):
    """Two settings on the same waves, the second 20 % lower on average."""
    generator = np.random.default_rng(realisations)
    held = np.zeros(2)
    for _ in range(TRIALS):
        waves = np.exp(0.5 * generator.standard_normal(realisations))
        first = waves * np.exp(0.1 * generator.standard_normal(realisations))
        second = 0.8 * waves * np.exp(0.1 * generator.standard_normal(realisations))
        truth = 0.2 * math.exp(0.5 * 0.25 + 0.5 * 0.01)
        _, low, high = paired_difference_interval(first, second, resamples=200, generator=generator)
        held[0] += low <= truth <= high
        _, low, high = paired_ratio_interval(first, second, resamples=200, generator=generator)
        held[1] += low <= 1.25 <= high
    checked = (("difference", paired_difference_interval), ("ratio", paired_ratio_interval))
    for (name, formula), covered in zip(checked, held / TRIALS, strict=True):
        note(logbook, f"paired {name}, {realisations} realisations", covered, 0.85, covered >= 0.85, of=formula)
        assert covered >= 0.85, name

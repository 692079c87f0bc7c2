"""Random histories against two independent open rainflow counters, `rainflow` 3.2 and `fatpack` 0.7.8.

`rainflow` counts by ASTM E1049-85 with half cycles, as we do: every range, mean and count must be equal.
`fatpack` counts four-point full cycles and hands back the residue: full cycles and residue must be equal
(it quantises when it finds reversals itself, so it is given ours). Origin: read (their code runs here).
"""

import fatpack
import numpy as np
import pytest
import rainflow

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.cycle_list import list_cycles, reversal_indices
from seaload.fatigue.rainflow import STACK_SIZE, close_residue, count_chunk, count_on, new_counter, residue_loads


def band_limited(seed, samples, *, rounded):
    """Gaussian load between 0.1 and 2 Hz at 20 Hz; rounded to make plateaus and equal ranges."""
    generator = np.random.default_rng(seed)
    frequency = np.fft.rfftfreq(samples, 0.05)
    spectrum = np.where((frequency > 0.1) & (frequency < 2.0), 1.0, 0.0) * np.exp(
        2j * np.pi * generator.random(len(frequency))
    )
    load = np.fft.irfft(spectrum, samples)
    load *= 100.0 / load.std()
    return np.round(load / 25.0) if rounded else load


@pytest.mark.parametrize("rounded", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_equal_to_the_package_rainflow(seed, rounded, logbook):
    history = band_limited(seed, 4000, rounded=rounded)
    theirs = sorted((r, m, c) for r, m, c, *_ in rainflow.extract_cycles(history))
    ranges, means, counts, starts, ends = list_cycles(history)
    met = theirs == sorted(zip(ranges, means, counts, strict=True))
    logbook(
        stage="counting", quantity=f"random history {seed}, rounded {rounded}: cycles", source="package rainflow 3.2",
        origin="read", published=sum(c for *_, c in theirs), ours=counts.sum(),
        tolerance="exact, every range, mean and count", met=met,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("seed", range(6))
def test_streaming_histogram_equals_the_package_rainflow(seed):
    history = band_limited(seed, 4000, rounded=True)
    histogram = np.zeros((60, 80))
    stacks, states = new_counter()
    rules = (CycleBins(1.0, -20.0, 0.5), histogram, np.zeros(2), WearCurve(1.0, 1.0, 0.0, 0.0, 1.0, 1.0))
    for piece in np.array_split(history, 37):
        count_chunk(piece, stacks[0], states[0], *rules)
    close_residue(stacks[0], states[0], np.empty(STACK_SIZE), *rules)
    expected = np.zeros_like(histogram)
    for load_range, mean, count, *_ in rainflow.extract_cycles(history):
        expected[int(load_range), int((mean + 20.0) / 0.5)] += count
    assert np.array_equal(histogram, expected)


@pytest.mark.parametrize("rounded", [False, True])
@pytest.mark.parametrize("seed", range(6))
def test_full_cycles_and_residue_equal_fatpack(seed, rounded, logbook):
    history = band_limited(seed, 4000, rounded=rounded)
    reversals = history[reversal_indices(history)]
    cycles, residue = fatpack.find_rainflow_cycles(reversals)
    ranges = np.abs(cycles[:, 1] - cycles[:, 0])
    stacks, states = new_counter()
    histogram, damage = np.zeros((2000, 1)), np.zeros(2)
    width = 1.0
    rules = (CycleBins(width, 0.0, 1.0), histogram, damage, WearCurve(1e6, 1e6, 3.0, 5.0, 1.0, 1.0))
    # the last reversal may close cycles: step back a hair so that it is one for us too
    turn = 1e-9 * np.sign(reversals[-2] - reversals[-1])
    count_chunk(np.append(history, history[-1] + turn), stacks[0], states[0], *rules)
    expected = np.bincount(np.minimum((ranges / width).astype(int), 1999), minlength=2000)
    met = bool(np.array_equal(histogram[:, 0], expected)) and np.array_equal(
        residue_loads(stacks[0], states[0])[:-1], residue
    )
    logbook(
        stage="counting", quantity=f"random history {seed}, rounded {rounded}: full cycles and residue",
        source="package fatpack 0.7.8, four-point rule", origin="read", published=len(cycles),
        ours=histogram.sum(), tolerance="exact, counts a range bin and residue", met=met, of=count_on,
    )  # fmt: skip
    assert met

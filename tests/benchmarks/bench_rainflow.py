"""Rainflow rows: one channel, band-limited random load, 38 samples a reversal, histogram out."""

import importlib.util
import tracemalloc

import numpy as np

from seaload.fatigue.constant_life import WearCurve
from seaload.fatigue.cycle_bins import CycleBins
from seaload.fatigue.rainflow import count_chunk, new_counter
from tests.benchmarks.measuring import alternating, row

SAMPLES = 10_000_000
CHUNK = 60_000  # ten minutes at 100 Hz


def load_history(samples, seed=1):
    """Gaussian load between 0.1 and 2 Hz at 100 Hz, standard deviation 1."""
    generator = np.random.default_rng(seed)
    frequency = np.fft.rfftfreq(samples, 0.01)
    inside = (frequency > 0.1) & (frequency < 2.0)
    load = np.fft.irfft(np.where(inside, np.exp(2j * np.pi * generator.random(frequency.size)), 0.0), samples)
    return load / load.std()


def count(history, chunk):
    """Our histogram, fed in chunks."""
    histogram, damage = np.zeros((64, 64)), np.zeros(2)
    stacks, states = new_counter()
    stack, state = stacks[0], states[0]
    for start in range(0, history.size, chunk):
        count_chunk(
            history[start : start + chunk], stack, state, CycleBins(0.2, -6.0, 0.2), histogram, damage,
            WearCurve(1.0, 1.0, 0.0, 0.0, 1.0, 1.0),
        )  # fmt: skip
    return histogram


def peers():
    """{name: function of a history} of the open counters that are installed."""
    found = {}
    if importlib.util.find_spec("pylife"):
        import pylife.stress.rainflow as pylife

        class Sink(pylife.AbstractRecorder):
            def __init__(self):
                super().__init__()
                self.kept = []

            def record_values(self, values_from, values_to):
                self.kept.append(len(values_from))

        def four_point(history):
            pylife.FourPointDetector(recorder=Sink()).process(history)

        found["pylife, four-point (compiled)"] = four_point
    if importlib.util.find_spec("fatpack"):
        import fatpack

        found["fatpack"] = lambda history: fatpack.find_rainflow_ranges(history, k=256)
    return found


def rainflow_rows():
    """Rows against the pure-Python reference, the fastest compiled peer, and whole against chunks."""
    import rainflow

    whole, short = load_history(SAMPLES), load_history(SAMPLES // 10)
    count(short, CHUNK)
    ours_short, reference = alternating(
        [lambda: count(short, CHUNK), lambda: list(rainflow.extract_cycles(short))], 3
    )
    rows = [
        row(
            "rainflow, 1e6 of the samples, the package rainflow (pure Python)",
            ours_short,
            reference,
            100,
            ">=",
        )
    ]
    others = peers()
    taken = alternating([lambda: count(short, CHUNK), *(lambda f=f: f(short) for f in others.values())], 5)
    name, best = min(zip(others, taken[1:], strict=True), key=lambda pair: pair[1])
    rows.append(
        row(f"rainflow, fastest installed compiled peer: {name}, 1e6 samples", taken[0], best, 2.5, ">=")
    )
    chunked, at_once = alternating([lambda: count(whole, CHUNK), lambda: count(whole, SAMPLES)], 5)
    rows.append(
        row(
            "rainflow, 1e7 samples in chunks of 60 000 over whole",
            chunked,
            at_once,
            1.15,
            "<=",
            ratio=chunked / at_once,
        )
    )
    sizes = [peak(short), peak(whole)]
    rows.append(
        row(
            "rainflow, memory [bytes] for 1e7 over 1e6 samples",
            sizes[1],
            sizes[0],
            1.05,
            "<=",
            ratio=sizes[1] / sizes[0],
        )
    )
    assert np.array_equal(count(whole, CHUNK), count(whole, SAMPLES))
    return rows


def run():
    """All rainflow rows."""
    return rainflow_rows()


def peak(history):
    """Peak bytes that counting takes beside the history."""
    tracemalloc.start()
    count(history, CHUNK)
    size = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return size

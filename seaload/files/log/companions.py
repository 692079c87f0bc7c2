"""Channels held against each other: swapped, of the wrong sign, or in another unit from file to file."""

import itertools
from statistics import median_low

import numpy as np

from seaload.basis.compile import compiled
from seaload.files.log.log_chunk import SUSPECT, Finding
from seaload.scenario.log_channels import is_load, kind_of, station_of

RELATED = (  # ' is a rate of change
    ("pitch'", "pitch_rate"),
    ("roll'", "roll_rate"),
    ("heel'", "roll_rate"),
    ("heel", "roll"),
    ("heave''", "acceleration_z"),
)
TOGETHER = 0.4  # [-] correlation from which two channels tell of the same motion
FEWEST = 200  # samples compared
EVERY = 0.1  # [s] between the samples compared
DIFFERED = 0.1  # [s] either way, over which a rate of change is taken
CLEARLY = 0.05  # [-] by which a correlation must be the greater
UNIT_SIZES = (180.0 / np.pi, 100.0, 1000.0, 1e6)  # sizes by which people mistake a unit
UNIT_REACH = 1.6  # factor within which the spread of a file is such a size
OUTWARD = 1.5  # factor by which the boat says that one gauge reads more than another
INVERTED = 1.3  # factor by which the record says the opposite


class CompanionSums:
    """Sums of products of all channels and of their rates of change, over the log, one sample in EVERY seconds."""

    def __init__(self, channels, step):
        self.names = list(channels)
        for channel in channels:
            if channel in ("pitch", "roll", "heel"):
                self.names.append(f"{channel}'")
            if channel == "heave":
                self.names.append("heave''")
        self.stride = max(1, round(EVERY / step))
        self.reach = max(1, round(DIFFERED / step))  # samples either way, for a rate of change
        size = len(self.names)
        self.least_extension = np.inf  # of all settings met, nan where one is not known
        self.count, self.products = np.zeros((size, size)), np.zeros((size, size))
        self.sums, self.squares = np.zeros((size, size)), np.zeros((size, size))

    def add(self, chunk):
        """Add a chunk; its first and last samples only help to differ."""
        time = chunk.time
        self.least_extension = np.minimum(self.least_extension, chunk.setting.extension)
        if len(time) <= 2 * self.reach:
            return
        k = self.reach
        places = np.arange(k, len(time) - k, self.stride)
        width = time[places + k] - time[places - k]
        rows = []
        for name in self.names:
            x = chunk.values[name.rstrip("'")]
            if name.endswith("''"):
                rows.append((x[places + k] - 2.0 * x[places] + x[places - k]) / (0.5 * width) ** 2)
            elif name.endswith("'"):
                rows.append((x[places + k] - x[places - k]) / width)
            else:
                rows.append(x[places])
        add_products(np.array(rows), self.count, self.products, self.sums, self.squares)

    def correlation(self, first, second):
        """Correlation of two names [-]; 0 where there is too little of both."""
        if first not in self.names or second not in self.names:
            return 0.0
        i, j = self.names.index(first), self.names.index(second)
        n = self.count[i, j]
        if n < FEWEST:
            return 0.0
        cross = self.products[i, j] / n - self.sums[i, j] * self.sums[j, i] / n**2
        spread = (self.squares[i, j] / n - (self.sums[i, j] / n) ** 2) * (
            self.squares[j, i] / n - (self.sums[j, i] / n) ** 2
        )
        return float(cross / np.sqrt(spread)) if spread > 0.0 else 0.0

    def spread(self, name):
        """Standard deviation of a name, SI."""
        i = self.names.index(name)
        n = max(self.count[i, i], 1.0)
        return float(np.sqrt(max(self.squares[i, i] / n - (self.sums[i, i] / n) ** 2, 0.0)))

    def mean(self, name):
        """Mean of a name, SI."""
        i = self.names.index(name)
        return float(self.sums[i, i] / max(self.count[i, i], 1.0))


@compiled
def add_products(x, count, products, sums, squares):
    """Add (k, n) samples of k names to their sums over the samples that both of a pair have: (k, k) each.

    A matrix product would do the same, but its threads wait for each other on a busy machine (measured: minutes).
    """
    for i in range(x.shape[0]):
        for j in range(x.shape[0]):
            n, product, one, square = 0.0, 0.0, 0.0, 0.0
            for m in range(x.shape[1]):
                a, b = x[i, m], x[j, m]
                if not (np.isnan(a) or np.isnan(b)):
                    n += 1.0
                    product += a * b
                    one += a
                    square += a * a
            count[i, j] += n
            products[i, j] += product
            sums[i, j] += one
            squares[i, j] += square


def companion_findings(log, sums, start, end):
    """Findings on signs and swaps."""
    found = [*motion_signs(sums), *motion_swaps(sums), *gauge_signs(sums), *gauge_swaps(log, sums)]
    return [Finding(channel, "companion_test", SUSPECT, start, end, words) for channel, words in found]


def motion_signs(sums):
    """(channel, words) of motions that go against what they belong to."""
    for first, second in RELATED:
        agreement = sums.correlation(first, second)
        if agreement < -TOGETHER:
            name = first.rstrip("'")
            words = f"goes against {name} (correlation {agreement:.2f}): one of the two has the wrong sign"
            yield second, words
    if "acceleration_z" in sums.names and sums.mean("acceleration_z") < -4.9:
        yield "acceleration_z", "mean is that of gravity, downward: wrong sign, plus is up"


def motion_swaps(sums):
    """(channel, words) of rates that belong to another motion."""
    def agreement(first, second):
        return abs(sums.correlation(first, second))

    crossed = agreement("pitch'", "roll_rate"), agreement("roll'", "pitch_rate")
    right = agreement("pitch'", "pitch_rate"), agreement("roll'", "roll_rate")
    if min(crossed) > TOGETHER and all(c > r + CLEARLY for c, r in zip(crossed, right, strict=True)):
        yield "pitch_rate", "follows roll, and roll_rate follows pitch: the two are swapped"


def gauge_signs(sums):
    """(channel, words) of gauges that go against most of the others."""
    gauges = [name for name in sums.names if is_load(name)]
    for gauge in gauges:
        agreements = [sums.correlation(gauge, other) for other in gauges if other != gauge]
        against = sum(agreement < -TOGETHER for agreement in agreements)
        if against and 2 * against > len(agreements):
            yield gauge, f"goes against {against} of {len(agreements)} other gauges: wrong sign"
    means = [sums.mean(gauge) for gauge in gauges]
    if gauges and all(mean < 0.0 for mean in means):
        yield gauges[0], "every gauge has a negative mean: all signs may be wrong, plus bends the tip up"


def gauge_swaps(log, sums):
    """(channel, words) of the pair of gauges whose exchange would bring the readings nearest to the boat file's.

    Only gauges that were never inside the hull are asked; none where the extension is not known.
    """
    foil = log.boat.foils[log.foil_side]
    bearing = (1.0 - sums.least_extension) * foil.outside_length  # material at the lower bearing, drawn in furthest
    gauges = [name for name in sums.names if is_load(name)]
    outside = [name for name in gauges if foil.stations[station_of(name) - 1] >= bearing]
    expected = expected_readings(foil, outside)
    spreads = {gauge: max(sums.spread(gauge), 1e-12) for gauge in expected}
    found = inversions(expected, spreads)
    best = (0.5 * found, None)
    for first, second in itertools.combinations(expected, 2):
        exchanged = {**spreads, first: spreads[second], second: spreads[first]}
        best = min(best, (inversions(expected, exchanged), (first, second)), key=lambda one: one[0])
    if found > 0.0 and best[1] is not None:
        first, second = best[1]
        words = f"reads {spreads[second] / spreads[first]:.1f} times {first}, where the boat file expects "
        words += f"{expected[second] / expected[first]:.1f} times: the two may be swapped"
        yield second, words


def inversions(expected, spreads):
    """How far gauges stand in the wrong order: sum of the logarithms of what is clearly inverted [-]."""
    total = 0.0
    for first, second in itertools.permutations(expected, 2):
        if expected[first] > OUTWARD * expected[second]:
            total += max(0.0, np.log(spreads[second] / spreads[first] / INVERTED))
    return total


def expected_readings(foil, gauges):
    """{gauge: reading} of an even pressure on the foil, in one unknown scale; for gauges of one kind.

    Moment at a place = sum of chord x distance outside it; strain goes with moment over c t^2, the share of the normal
    limit is the strain over that of the limit (beam theory).
    """
    s = np.linspace(0.0, foil.outside_length, 400)
    chord = np.interp(s, foil.material_s, foil.chord)
    thickness = chord * np.interp(s, foil.material_s, foil.thickness_share)
    readings = {}
    for gauge in gauges:
        if kind_of(gauge) != kind_of(gauges[0]):
            continue
        station = float(foil.stations[station_of(gauge) - 1])
        outside = s >= station
        moment = np.trapezoid(chord[outside] * (s[outside] - station), s[outside])
        here = np.interp(station, s, chord * thickness**2)
        readings[gauge] = float(moment / here)
    return readings


def unit_findings(surveys, spans):
    """Findings on files in which a channel's spread is off by the size of a unit; `spans` {file: (start, end)}."""
    found = []
    for channel, survey in surveys.items():
        spreads = {}
        for file, (count, total, squares) in survey.by_file.items():
            if count >= FEWEST:
                spreads[file] = np.sqrt(max(squares / count - (total / count) ** 2, 0.0))
        usual = median_low(spreads.values()) if len(spreads) > 1 else 0.0
        for file, spread in spreads.items():
            size = max(spread, 1e-300) / usual if usual > 0.0 else 1.0
            for unit in UNIT_SIZES:
                if max(size, 1.0 / size) / unit < UNIT_REACH and unit / max(size, 1.0 / size) < UNIT_REACH:
                    words = f"in {file} it varies {size:.3g} times as much as in the other files: another unit?"
                    found.append(Finding(channel, "unit_test", SUSPECT, *spans[file], words))
    return found

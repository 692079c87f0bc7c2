"""What is uncertain, as a library tells it at a setting in a sea: a `Doubt` like that of an ensemble sailed there.

Height, period and angle of the sea are coordinates of the library: its surfaces say what another sea does. The load
that is compared is the one that comes as often as the limit; where that is more often or more rarely than a library
tells, the one at the nearest rate that it tells. All other inputs act as the designed runs of some points showed, told
between them like everything else. A sea outside the points is told by the step before it.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.designed_runs import deviation
from seaload.deciding.doubt import Doubt
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD
from seaload.deciding.library.effects import OF_SURFACES, UNCERTAIN
from seaload.deciding.library.rates import LN_RATES, plain_values, rates_of
from seaload.deciding.uncertainty import LIMITS, crests_as_height, of_forecast, sorted_inputs
from seaload.evidence.bend import NODES, Bend, extended
from seaload.evidence.verdict import SIDES

MOST_OFTEN = 1  # number in RATES of the highest rate whose load is compared
LEAST = 1e-3  # [share of the limit] of a fluctuation that can grow


class Inputs(NamedTuple):
    """What is uncertain of a question."""

    entries: tuple  # of `UncertainInput`
    correlation: float  # [-] of the errors of height and period
    strengths: bool  # whether limits are strengths: their scatter counts
    slope: float  # [-] of the S-N curve


class Changes(NamedTuple):
    """Changes of a load and of the wear against the question as it is."""

    shift: np.ndarray  # (sides,) [share of the limit] of the mean load
    growth: np.ndarray  # (sides,) of ln(fluctuation about the mean)
    wear: float  # of ln(wear)

    def of(self, kind, side=0):
        """The change of a `kind` ("shift", "growth", "wear") on a side (number)."""
        return self.wear if kind == "wear" else getattr(self, kind)[side]


def doubt_at(emulator, question, inputs):
    """`Doubt` of an `Emulator` at a `question` (names,) [SI] that it tells, of `Inputs`."""
    marched, bent, others = sorted_inputs(inputs.entries)
    entries = [*marched, *bent, *others]
    names = tuple(entry.name for entry in entries)
    means, seas = other_seas(emulator, question, [*bent, *(e for e in marched if e.name in OF_SURFACES)])
    runs = {kind: part[..., 0] for kind, part in designed_effects(emulator, np.asarray(question)[None]).items()}
    one = lambda e, *at: half_step(seas, e, *at) if e.name in OF_SURFACES else told_by_runs(runs, e, *at)  # noqa: E731
    column = lambda kind, side=0: np.array([  # noqa: E731
        *(one(e, kind, side) for e in marched),
        *(0.5 * (table[3] - table[1]) for table in (table_of(seas, e, kind, side) for e in bent)),
        *(of_itself(runs, e, kind, side, inputs) for e in others),
    ])  # fmt: skip
    shifts = {side: column("shift", i) for i, side in enumerate(SIDES)}
    growths = {side: column("growth", i) for i, side in enumerate(SIDES)}
    wears = column("wear")
    unknown = [n for n, *rows in zip(names, *shifts.values(), *growths.values(), strict=True) if np.isnan(rows).any()]
    columns = [np.nan_to_num(part) for part in (*shifts.values(), *growths.values(), wears)]
    for part in columns:
        crests_as_height(names, part, entries)
    bends = {
        side: tuple(
            Bend(len(marched) + n, table_of(seas, e, "shift", i), table_of(seas, e, "growth", i))
            for n, e in enumerate(bent)
        ) for i, side in enumerate(SIDES)
    }  # fmt: skip
    pairs = [dict(zip(SIDES, part, strict=True)) for part in (columns[:2], columns[2:4], map(float, means))]
    return Doubt(
        names, *pairs, bends, inputs.correlation, tuple(columns[4]), untold_words(seas, bent, unknown), bool(unknown)
    )


def other_seas(emulator, question, entries):
    """(mean load (sides,) [share of the limit] at a `question` (names,) [SI], {(input, deviations): `Changes`, or None
    where nothing is told}) in seas that differ by one of the `entries`.
    """
    places = {}
    for entry in entries:
        for off in (-1.0, 1.0) if entry.name in OF_SURFACES else NODES[[0, 1, 3, 4]]:
            places[entry.name, float(off)] = moved(question, entry, off)
    rates = rates_of(emulator, np.array([question, *places.values()]))
    shifts, growths, wears = changes_between(rates.of(slice(0, 1)), rates)
    told = {
        key: Changes(shifts[n], growths[n], float(wears[n])) if rates.told[n] else None
        for n, key in enumerate(places, 1)
    }  # fmt: skip
    return rates.load_mean[0], told


def changes_between(own, other):
    """(shift (n, sides) [share of the limit], growth (n, sides) of ln(fluctuation), change (n,) of ln(wear)) of `other`
    `Rates` against `own`, of as many questions or of one.
    """
    target = np.clip(own.log_rate, LN_RATES[-1], LN_RATES[MOST_OFTEN])
    before = as_often(own.load, target) - own.load_mean
    after = as_often(other.load, np.broadcast_to(target, other.load_mean.shape)) - other.load_mean
    usable = (after > LEAST) & (before > LEAST)
    growths = np.where(usable, np.log(np.where(usable, after, 1.0) / np.where(usable, before, 1.0)), 0.0)
    return other.load_mean - own.load_mean, growths, np.nan_to_num(other.log_wear - own.log_wear)


def as_often(load, ln_rate):
    """Load (n, sides) [share of the limit] that comes at `ln_rate` (n, sides) [ln 1/s], between the loads (n, sides,
    rates) at RATES by straight lines.
    """
    ends = -LN_RATES
    before = np.clip(np.searchsorted(ends, -ln_rate, side="right") - 1, 0, len(ends) - 2)
    share = np.clip((-ln_rate - ends[before]) / (ends[before + 1] - ends[before]), 0.0, 1.0)
    low, high = (np.take_along_axis(load, (before + step)[..., None], axis=-1)[..., 0] for step in (0, 1))
    return low + share * (high - low)


def moved(question, entry, off):
    """The `question` (names,) [SI] in a sea so many deviations `off` the one forecast in one input."""
    place = np.array(question, dtype=float)
    if entry.name == "forecast_heading":
        place[ANGLE] -= off * deviation(entry)  # waves that turn + come from further ahead
    else:
        place[{"forecast_hs": HEIGHT, "forecast_tp": PERIOD}[entry.name]] *= of_forecast(entry, off)
    return place


def half_step(seas, entry, kind, side):
    """Change by one deviation of an input with seas one deviation either way; by one of them where the other is untold.
    """
    ends = [seas[entry.name, off] for off in (-1.0, 1.0)]
    steps = [sign * end.of(kind, side) for sign, end in zip((-1.0, 1.0), ends, strict=True) if end is not None]
    return float(np.mean(steps)) if steps else 0.0


def table_of(seas, entry, kind, side):
    """Change at each of the NODES, (5,); what is untold as the step before."""
    found = [seas.get((entry.name, float(off))) for off in NODES]
    values = np.array([np.nan if change is None else change.of(kind, side) for change in found])
    return extended(values, np.isfinite(values))


def designed_effects(emulator, questions):
    """{kind: changes by one of each of UNCERTAIN at `questions` (n, names) [SI], (sides, names, n), of the wear
    (1, names, n)}; nan where none is drawn.
    """
    at = {"shift": "load_shift@{0},{1}", "growth": "load_growth@{0},{1}", "wear": "wear_effect@{1}"}
    return {
        kind: np.array([
            [plain_values(emulator, name.format(i, k), questions) for k in range(len(UNCERTAIN))]
            for i in range(1 if kind == "wear" else len(SIDES))
        ]) for kind, name in at.items()
    }  # fmt: skip


def told_by_runs(runs, entry, kind, side):
    """Change by one deviation of an input with designed runs; nan where none is known, nothing without a deviation."""
    by_one = runs[kind][side if kind != "wear" else 0, UNCERTAIN.index(entry.name)]
    return by_one * deviation(entry) if deviation(entry) > 0.0 else 0.0


def of_itself(runs, entry, kind, side, inputs):
    """Change by one deviation of an input without a run: of a limit that is a strength, and of what acts on wear."""
    strength = deviation(entry) if entry.name in LIMITS and inputs.strengths else 0.0
    if kind == "shift":
        return strength if LIMITS.get(entry.name) == SIDES[side] else 0.0
    if kind == "growth":
        return 0.0
    if entry.name in UNCERTAIN:
        return np.nan_to_num(told_by_runs(runs, entry, kind, side))
    return inputs.slope * strength if entry.name == "limit_normal" else 0.0


def untold_words(seas, bent, unknown):
    """Plain words, in a tuple, on what is not told."""
    short = {"forecast_hs": "Hs", "forecast_tp": "Tp"}
    places = [(e.name, float(off)) for e in bent for off in NODES if off]
    outside = [f"{short[name]} {off:+.0f}" for name, off in places if seas[name, off] is None]
    found = (f"outside the library: {', '.join(outside)} deviations",) if outside else ()
    return found + ((f"not told by the library: {', '.join(unknown)}",) if unknown else ())

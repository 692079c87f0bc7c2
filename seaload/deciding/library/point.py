"""What finished cases of one setting in one sea leave in a library: rates given the inputs, never odds."""

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.deciding.library.channels import channels_of, no_channels
from seaload.deciding.library.effects import no_effects
from seaload.deciding.library.load_at_rate import LEVELS, RATES, place_loads, union_loads
from seaload.deciding.library.tail_of_point import no_tail, tail_columns
from seaload.evidence.added_resistance import added_resistance
from seaload.evidence.places import common_place, mean_share
from seaload.evidence.pool_records import time_weights
from seaload.evidence.rate_intervals import worst_wear_rate
from seaload.evidence.verdict import DEVIATE, SIDES

HELD, AT_LEAST, UNREACHABLE = 0, 1, 2  # status of a point
STATUS_WORDS = ("held", "at_least", "unreachable")
LEAST_WEAR = 1e-30  # [1/s]


def point_of(records):
    """{name: value} of one point from its finished cases, floats of single precision; names and sides as in the file.
    """
    union = [union_loads(records, side) for side in SIDES]
    by_place = [place_loads(records, side) for side in SIDES]
    found = {name: np.array([getattr(side, name) for side in union]) for name in union[0]._fields}
    for name in ("load_at_rate", "load_at_rate_error"):
        rows = [[getattr(place, name) for place in side] for side in by_place]
        found[f"place_{name}"] = np.swapaxes(np.array(rows), 0, 1)
    worst = [common_place([records], side)[0] for side in SIDES]
    means = [mean_share(records, side, place) for side, place in zip(SIDES, worst, strict=True)]
    found |= {"worst_place": np.array(worst), "load_mean": np.array(means)}
    wear, low, high = worst_wear_rate(records, time_weights(records)[1])
    found["log_wear"] = np.log(max(wear, LEAST_WEAR))
    found["log_wear_error"] = wear_error(wear, low, high)
    found |= {**tail_columns(records), **channels_of(records)}
    found["added_resistance"] = added_resistance(records)["added_resistance"]
    ended = sum(record.status != STATUS_DONE for record in records)
    found |= {**no_effects(), **no_speed_in_sea()}
    found |= {"status": AT_LEAST if ended else HELD, "cases": len(records), "cases_ended": ended}
    found["duration_total"] = time_weights(records)[1]
    return {name: single(value) for name, value in found.items()}


def wear_error(wear, low, high):
    """Standard error of ln(wear) [-] from an interval of it [1/s]; half of it where one end is open."""
    if not wear > 0.0:
        return 1.0
    if not (low > 0.0 and np.isfinite(high)):
        return max(float(np.log(wear / max(low, 0.2 * wear))) / DEVIATE, 0.1)
    return max(float(np.log(high / low)) / (2.0 * DEVIATE), 1e-3)


def single(value):
    """A number as the file holds it: whole, or of single precision."""
    value = np.asarray(value)
    return value.astype(np.int32 if value.dtype.kind in "iub" else np.float32)


def no_speed_in_sea():
    """Of a point without runs with free speed."""
    return {"speed_attainable_in_sea": np.nan, "speed_attainable_in_sea_error": np.nan}


def with_runs(point, effects, speed):
    """The `point` with what designed runs tell of it: `effects` as `effects_of` gives them, and the speed that the
    thrust holds there, (speed [m/s], low, high) at 90 %.
    """
    middle, low, high = speed
    speeds = {"speed_attainable_in_sea": middle, "speed_attainable_in_sea_error": (high - low) / (2.0 * DEVIATE)}
    return {**point, **{name: single(value) for name, value in {**effects, **speeds}.items()}}


def unreachable_point(places):
    """{name: value} of a setting whose speed cannot be held; its foil has so many `places`."""
    nothing = lambda *shape: np.full(shape, np.nan)  # noqa: E731
    sides, rates, levels = len(SIDES), len(RATES), len(LEVELS)
    found = {name: nothing(sides, rates) for name in ("load_at_rate", "load_at_rate_error")}
    found |= {f"place_{name}": nothing(places, sides, rates) for name in found}
    found |= {name: nothing(sides, levels) for name in ("log_rate", "log_rate_error")}
    found |= {"worst_place": np.full(sides, -1), "load_mean": nothing(sides)}
    found |= {name: nothing() for name in ("log_wear", "log_wear_error", "added_resistance")}
    found |= {**no_tail(), **no_channels(places), **no_effects(), **no_speed_in_sea()}
    found |= {"status": UNREACHABLE, "cases": 0, "cases_ended": 0, "duration_total": 0.0}
    return {name: single(value) for name, value in found.items()}

"""What a column of a log can be: its channel, the kind of quantity that is, and the units it may be written in."""

import difflib
import re
from typing import NamedTuple

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.units import DEGREE, KNOT, MICROSTRAIN, PERCENT

STATION = re.compile(r"(strain|load_share)_([1-9]\d?)")
TIMES = ("time", "date", "clock")  # columns that say when, not what


class Kind(NamedTuple):
    """A kind of quantity: units at the edge with their size in SI, and the widest span a sensor may give (SI)."""

    units: dict
    least: float
    most: float


KINDS = {
    "strain": Kind({"microstrain": MICROSTRAIN, "millistrain": 1e-3, "strain": 1.0}, -0.02, 0.02),
    "load_share": Kind({"percent": PERCENT, "share": 1.0}, -5.0, 5.0),
    "length": Kind({"m": 1.0, "cm": 0.01, "mm": 1e-3, "ft": 0.3048}, -30.0, 30.0),
    "angle": Kind({"deg": DEGREE, "rad": 1.0}, -90.0 * DEGREE, 90.0 * DEGREE),
    "angle_rate": Kind({"deg/s": DEGREE, "rad/s": 1.0}, -300.0 * DEGREE, 300.0 * DEGREE),
    "acceleration": Kind({"m/s2": 1.0, "g": STANDARD_GRAVITY}, -10.0 * STANDARD_GRAVITY, 10.0 * STANDARD_GRAVITY),
    "speed": Kind({"knots": KNOT, "m/s": 1.0, "km/h": 1.0 / 3.6}, -5.0 * KNOT, 70.0 * KNOT),
    "extension": Kind({"percent": PERCENT, "share": 1.0}, -0.1, 1.1),
}
CHANNEL_KIND = {
    "heave": "length",
    "pitch": "angle",
    "roll": "angle",
    "pitch_rate": "angle_rate",
    "roll_rate": "angle_rate",
    "acceleration_x": "acceleration",
    "acceleration_y": "acceleration",
    "acceleration_z": "acceleration",
    "speed": "speed",
    "heel": "angle",
    "rake": "angle",
    "cant": "angle",
    "extension": "extension",
}
TIME_UNITS = {
    "time": ("iso", "dmy", "mdy", "s", "ms", "us", "ns"),  # text in that order, or a count since 1970 or `since`
    "date": ("ymd", "dmy", "mdy"),
    "clock": ("hms", "s"),
}
COUNT_UNITS = {"s": 1.0, "ms": 1e-3, "us": 1e-6, "ns": 1e-9}
SAME_UNIT = {  # other spellings, as headers and netCDF attributes have them
    "µε": "microstrain", "με": "microstrain", "ue": "microstrain", "um/m": "microstrain", "µm/m": "microstrain",
    "microstrains": "microstrain", "ustrain": "microstrain", "mm/m": "millistrain", "m/m": "strain",
    "%": "percent", "1": "share", "": "", "-": "share",
    "metre": "m", "meter": "m", "metres": "m", "meters": "m", "feet": "ft",
    "°": "deg", "degree": "deg", "degrees": "deg", "degs": "deg", "radian": "rad", "radians": "rad",
    "°/s": "deg/s", "deg s-1": "deg/s", "degree s-1": "deg/s", "degrees/s": "deg/s", "degree/s": "deg/s",
    "degrees/second": "deg/s", "deg.s-1": "deg/s", "rad s-1": "rad/s", "radian s-1": "rad/s", "rad.s-1": "rad/s",
    "radians/s": "rad/s", "m s-2": "m/s2", "m/s^2": "m/s2", "m/s²": "m/s2", "m.s-2": "m/s2", "m s^-2": "m/s2",
    "kn": "knots", "kt": "knots", "kts": "knots", "knot": "knots", "m s-1": "m/s", "m.s-1": "m/s", "m s^-1": "m/s",
    "km h-1": "km/h", "kmh": "km/h", "kph": "km/h",
}  # fmt: skip


def kind_of(channel):
    """Name of the kind of quantity of a channel, or None when there is no such channel."""
    station = STATION.fullmatch(channel)
    return station[1] if station else CHANNEL_KIND.get(channel)


def station_of(channel):
    """Number of the strain station of a load channel, from 1; None for the others."""
    station = STATION.fullmatch(channel)
    return int(station[2]) if station else None


def is_load(channel):
    """Whether a channel is a load of the foil."""
    return STATION.fullmatch(channel) is not None


def allowed_units(channel):
    """Units that a column of this channel may be written in, as a tuple of texts."""
    if channel in TIME_UNITS:
        return TIME_UNITS[channel]
    return tuple(KINDS[kind_of(channel)].units)


def unit_size(channel, unit):
    """Size in SI of a unit of a channel."""
    return KINDS[kind_of(channel)].units[unit]


def unit_word(text):
    """A unit as people write it in headers and attributes, in the one spelling of this table."""
    plain = " ".join(text.strip().strip("[]()").split())
    return SAME_UNIT.get(plain, SAME_UNIT.get(plain.lower(), plain.lower()))


def unlike_channel(name):
    """What to say of a channel that does not exist."""
    known = [*TIMES, *CHANNEL_KIND, "strain_1", "load_share_1"]
    near = difflib.get_close_matches(name.lower(), known, n=1, cutoff=0.55)
    if near:
        return f"unknown channel; did you mean {near[0]}?"
    return f"unknown channel; known are {', '.join((*TIMES, *CHANNEL_KIND))}, strain_N, load_share_N"

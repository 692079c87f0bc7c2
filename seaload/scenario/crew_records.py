"""What the crew works with, as SI records: display, ways of backing off, tanks, speed table, doubts."""

from dataclasses import dataclass
from math import nan

import numpy as np


@dataclass(frozen=True)
class Sensors:
    """How the boat's own display shows a strain station."""

    display: str  # "percent_of_normal", "percent_of_own_limit", "microstrain" or "tonne_force"
    rate: float  # [Hz] readings taken a second
    running_mean: float  # [s] width of the running mean on the display
    noise: float  # [-] rms, share of the normal limit
    zero_taken: str  # "retracted": dry, drawn in; "alongside": out, in still water, upright; "never": unloaded material
    zero_drift: float  # [-] a day, share of the normal limit, largest
    lever: float = nan  # [m] that a display in tonne-force divides the bending moment by


@dataclass(frozen=True)
class Logger:
    """How loads and motions are recorded."""

    rate: float  # [Hz] samples a second
    filter: float  # [Hz] corner of the low-pass ahead of the sampling, infinity = none


@dataclass(frozen=True)
class Way:
    """One move one way: its words, with the size, and what it changes."""

    name: str  # the move, and "less" or "more" of an actuator
    words: str  # as printed everywhere
    changes: tuple  # of (name of a setting or "waves_from_bow", SI change)
    simulated: bool = True  # False: only read from a board, between what was simulated


@dataclass(frozen=True)
class Move:
    """A move that the boat file lists as a means of backing off."""

    name: str
    time: float  # [s] from the order until it is done
    only_below: float  # [m/s] boat speed above which it cannot be done, infinity = always possible
    ways: tuple = ()  # of Way


@dataclass(frozen=True)
class Tank:
    """One ballast tank."""

    name: str
    mass: float  # [kg] when full
    from_transom: float  # [m] centre of the tank
    to_leeward: float  # [m] from the centre line, + on the side of the working foil
    height: float  # [m] above the lowest keel point


@dataclass(frozen=True)
class UncertainInput:
    """One input that nobody knows exactly, with how far off it may be."""

    name: str
    distribution: str  # "normal": spread is one standard deviation; "uniform": spread is the half width
    spread: float  # [-] of the value for a factor, in SI units for a shift
    kind: str  # "factor" or "shift"
    reason: str


@dataclass(frozen=True)
class SpeedTable:
    """The user's own boat speeds, at the stated reference setting of the boat."""

    wind_speed: np.ndarray  # (w,) [m/s] rising
    wind_angle: np.ndarray  # (a,) [rad] rising, from the bow
    speed: np.ndarray  # (w, a) [m/s]
    file: str


@dataclass(frozen=True)
class WorkedRange:
    """Range, resolution and tolerance of one setting, as a crew can set it; SI units of the setting."""

    least: float
    most: float
    tolerance: float
    step: float | None = None


@dataclass(frozen=True)
class Fill:
    """The seas that a library is to cover."""

    time: float  # [s] of sea that it may hold
    hs: tuple  # (least, most) [m]
    tp: tuple  # (least, most) [s]
    angle: tuple  # (from, to) [rad] the waves come from, 0 = dead ahead, + from windward

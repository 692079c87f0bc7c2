"""A leg as a crew describes it, in SI: the way, the settings to choose from, what may be spent."""

from dataclasses import dataclass, field
from math import inf
from pathlib import Path

from seaload.scenario.records import Boat


@dataclass(frozen=True)
class LegSegment:
    """One stretch on one heading."""

    heading: float  # [rad] true, the way over ground
    distance: float  # [m] over ground
    change: bool = True  # whether the setting may be changed at its start
    limits: dict = field(default_factory=dict)  # {SETTING name: (least, most) [SI]} that hold on it


@dataclass(frozen=True)
class LegBudget:
    """What the whole leg may spend, on each physical foil."""

    reverse_odds: float = 1.0  # [-] of one event past the reverse limit or more
    normal_odds: float = 1.0  # [-] the same of the normal limit
    wear: float = inf  # [-] damage at the place that wears most


@dataclass(frozen=True)
class LegCheck:
    """How the plan is marched again."""

    marches: int  # of each piece that is checked; 0 = none
    seed: int


@dataclass(frozen=True)
class Steady:
    """A wind or a current that is the same all along, where the forecast has none."""

    speed: float  # [m/s]
    direction: float  # [rad] true; a wind comes from it, a current goes to it


@dataclass(frozen=True)
class Sails:
    """The sails carried from a wind on."""

    wind_from: float  # [m/s] true
    heel: float  # [rad] the most that she is sailed at with them
    thrust: float  # [-] of the reference thrust that they give


@dataclass(frozen=True)
class Leg:
    """The whole description."""

    file: Path  # it was read from
    name: str
    boat: Boat
    boat_name: str
    library: str  # name of the boat's library in the results folder
    forecast: Path
    forecast_made: float | None  # [s] since 1970-01-01 UTC; None = its first time
    start: float  # [s] since 1970-01-01 UTC
    start_place: tuple  # (latitude, longitude) [rad]
    segments: tuple  # of LegSegment; empty where a track says the way
    track: Path | None
    stretch: float  # [m] of a track between places where the setting may change
    settings: tuple  # of Setting to choose from
    budget: LegBudget
    least_between: float  # [s] between two changes of the setting
    wind: Steady | None
    current: Steady | None
    later: tuple  # [s] after the start: later starts that are looked at too
    forecast_error: object  # ForecastSpec: how far off the forecast may be by lead time
    check: LegCheck
    raw: dict  # the file as written
    ladder: tuple = ()  # of Sails, by rising wind; empty where the boat file has none
    defaults_used: tuple = ()  # "key = value" lines of what the file left unsaid

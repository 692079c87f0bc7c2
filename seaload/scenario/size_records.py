"""What a study that sizes a foil becomes inside: SI records."""

from dataclasses import dataclass

from seaload.scenario.records import Gust, Study

USAGE = "usage"  # name that stands for all seas of the table
ULTIMATE, FATIGUE, BOTH = "ultimate", "fatigue", "both"


@dataclass(frozen=True)
class Targets:
    """What the foil is to stand in a season."""

    season: float  # [s] at sea
    reverse_odds: float  # [-] of passing a reverse limit at any place, once or more in the season
    normal_odds: float  # [-] the same of a normal limit
    wear: float  # [-] damage at any place in the season

    def odds(self, side):
        """Target odds [-] of a side."""
        return self.reverse_odds if side == "reverse" else self.normal_odds


@dataclass(frozen=True)
class Situation:
    """One design situation; either a share of the time or a number of times a season."""

    name: str
    sea: int | None  # number among the study's seas; None for the usage and for motions
    setting: int | None  # number among the study's settings; None for the usage
    share: float  # [-] of the season; 0 where it is met a number of times
    times: float  # [-] a season; 0 where it is a share of the time
    gust: Gust | None  # that each of its realisations meets
    motion: int | None  # number among the study's prescribed motions
    analysis: str  # ULTIMATE, FATIGUE or BOTH
    realisations: int
    factor: float  # [-] partial factor on its loads
    origin: str  # where the factor is from

    @property
    def is_usage(self):
        """Whether it stands for all seas of the usage."""
        return self.sea is None and self.motion is None

    def counts_for(self, analysis):
        """Whether its loads count for ULTIMATE, or for FATIGUE."""
        return self.analysis in (analysis, BOTH)


@dataclass(frozen=True)
class FoilChange:
    """A change of the foil, or of the sea, that the designer asks about."""

    name: str
    tip_chord: float = 0.0  # [-] relative, full at the tip and none at the bearing
    tip_angle: float = 0.0  # [rad] added to the dihedral of the tip
    stiffness: float = 0.0  # [-] relative, of Young's modulus
    hs: float = 0.0  # [-] relative, of every significant wave height


@dataclass(frozen=True)
class Rig:
    """The test that a block programme is for."""

    place: int  # number of the place: 0 the bearing, then the strain stations
    slope: float  # [-] nan: that of the foil's own curve
    steps: int
    repeats: int


@dataclass(frozen=True)
class UsageSea:
    """One sea of the usage on one heading."""

    hs: float  # [m]
    tz: float  # [s]
    share: float  # [-] of the usage


@dataclass(frozen=True)
class SizeStudy:
    """A study that sizes a foil: the seas of its usage and situations stand in one `Study`, usage first."""

    study: Study  # its settings: the grid to choose from, then those of the situations
    usage: tuple  # of UsageSea, as many as the first seas of the study
    grid: int  # number of settings to choose from, the first ones
    cells: tuple  # of (hs [m], tz [s], share [-]) of the table as it was read
    situations: tuple  # of Situation; the first is the usage
    targets: Targets
    rig: Rig
    choosing: int  # realisations by which the setting of a sea is chosen
    changes: tuple = ()  # of FoilChange
    compared: tuple = ()  # of (name, Boat)

"""What a season is made of: seas that hold a share of the time, and events that come a number of times."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.evidence.material_loads import SIGN, knots_of, largest, material_blocks
from seaload.evidence.season_loads import peaks_of
from seaload.evidence.verdict import SIDES
from seaload.foil.geometry import limits_at, material_grid

POINTS = 17  # places along the foil, to its tip


def sized_points(foil):
    """Places in the material at which a foil is sized [m]: even from the root, up to half a step past the outermost
    station. Beyond it nothing is told: a straight line to the tip says little of loads near nothing.
    """
    points = np.linspace(0.0, foil.outside_length, POINTS)
    return points[points <= np.max(foil.stations) + 0.5 * points[1]][: POINTS - 1]


@dataclass(frozen=True)
class Part:
    """One sea of the season, or one event: finished cases of one setting, and how much of the season it is."""

    situation: int
    sea: int  # number of the sea of the usage; -1 of a situation's own
    setting: Any  # Setting as sailed
    geometry: Any  # FoilGeometry of it
    records: tuple  # of CaseRecord; of a motion one PrescribedRecord
    share: float = 0.0  # [-] of the season, of a sea
    rate: float = 0.0  # [1/s] that it comes at, of an event
    factor: float = 1.0  # partial factor on its loads
    ultimate: bool = True
    fatigue: bool = False

    @property
    def ended(self):
        """Cases that ended early or left the validity."""
        return sum(getattr(record, "status", STATUS_DONE) != STATUS_DONE for record in self.records)

    @property
    def time(self):
        """Sea sailed [s]."""
        return float(sum(record.duration for record in self.records))


class Season:
    """All parts of a season of one foil, and their loads at the places it is sized at."""

    def __init__(self, foil, seas, events, time):
        """`foil` a scenario record; `seas`, `events` `Part`s; `time` [s] of the season."""
        self.foil, self.seas, self.events, self.time = foil, tuple(seas), tuple(events), time
        self.points, self.grid = sized_points(foil), material_grid(foil)

    @cached_property
    def weights(self):
        """Shares of the season of the seas, (seas,) [-]."""
        return np.array([part.share for part in self.seas])

    def blocks_of(self, part, side):
        """(n, points, blocks) [N m] towards a side."""
        line = knots_of(part.geometry.bearing, self.foil.stations, self.foil.bearing_distance, self.foil.outside_length)
        return material_blocks(part.records, side, self.points, line, self.grid)

    @cached_property
    def blocks(self):
        """{side: [(n, points, blocks) of every sea]}, without partial factors."""
        return {side: [self.blocks_of(part, side) for part in self.seas] for side in SIDES}

    @cached_property
    def peaks(self):
        """{side: [[`SeaPeaks`] of every point of every sea]}, without partial factors."""
        each = self.seas[0].records[0].block_time
        return {side: [peaks_of(blocks, each) for blocks in self.blocks[side]] for side in SIDES}

    @cached_property
    def largest(self):
        """{side: [(n, points) largest load of every time of every event]}, without partial factors."""
        return {side: [self.largest_of(part, side) for part in self.events] for side in SIDES}

    def largest_of(self, part, side):
        """(n, points) [N m] of one event; of a motion a single row."""
        if hasattr(part.records[0], "place_block_normal"):
            return np.nanmax(self.blocks_of(part, side), axis=2)
        return np.array([np.interp(self.points, self.grid, largest(record, side)) for record in part.records])

    @cached_property
    def limits(self):
        """{side: (points,) given limits [N m]}."""
        return dict(zip(("normal", "reverse"), limits_at(self.foil, self.points), strict=True))

    def mean_of(self, records, side):
        """Mean load of some cases at the points towards a side [N m], (points,)."""
        time = np.array([record.duration for record in records])
        mean = np.average([record.grid_moment_mean for record in records], axis=0, weights=np.maximum(time, 1e-9))
        return SIGN[side] * np.interp(self.points, self.grid, mean)

"""The points of one boat's library side by side, in an order that hangs on nothing but the points themselves."""

from dataclasses import dataclass, field

import numpy as np

from seaload.basis.exact_hash import hash_of
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.point import UNREACHABLE

HASHES = ("boat", "foil", "model", "sampling", "code")
WAVES = ("wave_name", "wave_seed", "wave_first")  # what tells which waves a point met


@dataclass(frozen=True)
class Shelf:
    """Points of one boat, marched by one model: `made_for` {one of HASHES: hash}."""

    made_for: dict
    columns: dict = field(default_factory=dict)  # {name: (points, ...)}: NAMES, wave numbers, what points hold
    surfaces: dict = field(default_factory=dict)  # {quantity: how its surface is drawn}, see `surfaces`

    def __len__(self):
        return len(self.columns.get("status", ()))

    @property
    def coordinates(self):
        """(points, names) [SI]."""
        return np.column_stack([self.columns[name] for name in NAMES])

    @property
    def marched(self):
        """Which points were marched, (points,) bool; the others cannot be sailed."""
        return self.columns["status"] != UNREACHABLE

    @property
    def groups(self):
        """Number of the waves that each point met, (points,): one for those that met the same."""
        waves = np.column_stack([self.columns[name] for name in WAVES])
        return np.unique(waves, axis=0, return_inverse=True)[1].reshape(-1)

    @property
    def hours(self):
        """Sea marched for all points [s]."""
        return float(np.sum(self.columns["duration_total"], dtype=float)) if len(self) else 0.0

    def keys(self):
        """Name of each point: the hash of its coordinates and of the waves it met."""
        waves = zip(*(self.columns[name] for name in WAVES), strict=True)
        return [hash_of([*map(float, row), *map(int, own)]) for row, own in zip(self.coordinates, waves, strict=True)]

    def of(self, rows):
        """The shelf with some `rows` alone."""
        return Shelf(self.made_for, {name: column[rows] for name, column in self.columns.items()}, self.surfaces)

    def with_points(self, points):
        """The shelf with further points, [{name: value}]; of two in the same waves the one of more cases stays."""
        if not points:
            return self
        new = {name: np.stack([np.asarray(point[name]) for point in points]) for name in points[0]}
        if len(self):
            new = {name: np.concatenate([column, self.columns[name]]) for name, column in new.items()}
        grown = Shelf(self.made_for, new)
        keys = grown.keys()
        cases = grown.columns["cases"]
        first = {}
        for row, key in enumerate(keys):
            if key not in first or cases[row] > cases[first[key]]:
                first[key] = row
        order = sorted(first.values(), key=lambda row: (*map(float, grown.coordinates[row]), keys[row]))
        return grown.of(np.array(order))

"""The wear of the marches of a check, way by way along the leg: each takes one march of every piece, in their order,
and what the marches leave open is joined.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.deciding.leg.spending import FOILS
from seaload.evidence.rate_intervals import worst_wear
from seaload.fatigue.cycle_bins import MEAN_BINS, RANGE_BINS
from seaload.fatigue.residue_join import join_residues
from seaload.files.ledger.curve import foil_curve
from seaload.risk.resample import mean_interval


class Ways(NamedTuple):
    """Wear of so many ways along the pieces that were marched."""

    wear: np.ndarray  # (ways,) [-] at the place that wears most on each piece, what closes between pieces added
    joined: float  # [-] share of it that closes between pieces

    def interval(self):
        """(mean, low, high) [-] of the wear of one way, at 90 % by their scatter."""
        found = mean_interval(self.wear)
        return float(found.mean), float(found.low), float(found.high)


def ways_of(boat, foils, records):
    """`Ways` of marched `records` [piece][realisation] of pieces with the numbers of their working `foils` (p,) in
    FOILS; marches that did not run to their end count nothing.
    """
    done = np.array([[record.status == STATUS_DONE for record in some] for some in records])
    each = np.where(done, np.array([worst_wear(some) for some in records]), 0.0)
    apart, together = 0.0, 0.0
    for number in np.unique(foils):
        foil = boat.foils.get(FOILS[number]) or next(iter(boat.foils.values()))
        mine = [some for own, some in zip(foils, records, strict=True) if own == number]
        for way in range(len(records[0])):
            one, both = open_cycles(foil_curve(foil), [some[way] for some in mine if some[way].status == STATUS_DONE])
            apart, together = apart + one, together + both
    whole = float(each.sum())
    more = max(together - apart, 0.0)
    share = more / (whole + more) if whole + more > 0.0 else 0.0
    return Ways(each.sum(axis=0) * (1.0 + (more / whole if whole > 0.0 else 0.0)), share)


def open_cycles(curve, records):
    """(damage [-] of what records leave open each by itself, of the same joined in their order) at the gauge or bearing
    where joining adds most; `curve` a ledger's `Curve`.
    """
    found = [(0.0, 0.0)]
    for place in range(len(records[0].residue) if records else 0):
        loads = [np.asarray(r.residue[place], dtype=float) / limit_of(r, place) for r in records]
        loads = [part for part in loads if len(part)]
        if loads:
            found.append((damage_of(curve, loads, apart=True), damage_of(curve, loads, apart=False)))
    return max(found, key=lambda pair: pair[1] - pair[0])


def limit_of(record, place):
    """Normal limit [N m] of a place of a record; one where it holds none."""
    return 1.0 if record.normal_limit is None else record.normal_limit[place]


def damage_of(curve, loads, apart):
    """Damage [-] of what a row of residues [share of the normal limit] close, each by itself or together."""
    cycles, damage = np.zeros((1, RANGE_BINS, MEAN_BINS)), np.zeros((1, 2))
    first = np.zeros(sum(map(len, loads)), dtype=np.uint8)
    if apart:
        first[np.cumsum([0, *map(len, loads[:-1])])] = 1
    row = np.concatenate(loads)
    join_residues(row, np.zeros(len(row), dtype=np.int64), first, *curve.rules(cycles, damage))
    return float(damage[0, 0])

"""Totals of a page: stretches joined in the order of time, by place, day and setting."""

from dataclasses import dataclass

import numpy as np

from seaload.basis.units import FULL_LOAD_SHARE
from seaload.fatigue.cycle_bins import MEAN_BINS, RANGE_BINS
from seaload.fatigue.excursion_list import joined_excursions, listed_events
from seaload.fatigue.residue_join import join_residues
from seaload.files.ledger.stretch import LEVELS, missing_time


@dataclass(frozen=True)
class PlaceTotal:
    """What one place has been through; loads are shares of the normal limit."""

    groups: dict  # {(day, setting): (seconds, seconds under load, damage, damage by the steep slope)}
    cycles: np.ndarray  # (RANGE_BINS, MEAN_BINS)
    damage: np.ndarray  # (2,) both slopes
    seconds: float
    loaded: float
    highest: float
    highest_time: float
    lowest: float
    lowest_time: float
    excursions: dict  # {name of LEVELS: (k, 3) start, stop [s], depth}
    joined_over: int  # gaps over which the record was carried on: only time is missing
    broken_at: int  # gaps at which it was closed and begun anew: the setting or the zero changed


def full_load_cycles(damage):
    """Wear as the number of cycles from 0 to the normal limit that cost as much [-]."""
    return damage / FULL_LOAD_SHARE


def breaks(stretches):
    """(whether a stretch begins anew, whether time is missing before it), two (n,) bool; stretches of one place in
    the order of time. A record is carried on where only time is missing, and closed where the zero changed, or the
    setting did while time was missing.
    """
    anew, missing = np.zeros(len(stretches), dtype=bool), np.zeros(len(stretches), dtype=bool)
    for i in range(1, len(stretches)):
        before, now = stretches[i - 1], stretches[i]
        missing[i] = now.start - before.stop > missing_time(max(now.step, before.step))
        anew[i] = now.anew or (missing[i] and now.setting != before.setting)
    return anew, missing


def place_total(stretches, curve):
    """`PlaceTotal` of the stretches of one place, in the order of time, at least one."""
    names = sorted({(s.day, s.setting) for s in stretches})
    number = {name: i for i, name in enumerate(names)}
    group = np.array([number[s.day, s.setting] for s in stretches])
    anew, missing = breaks(stretches)
    cycles, damage = np.zeros((len(names), RANGE_BINS, MEAN_BINS)), np.zeros((len(names), 2))
    seconds, loaded = np.zeros(len(names)), np.zeros(len(names))
    for g, s in zip(group, stretches, strict=True):
        cycles[g] += s.cycles
        damage[g] += s.damage
        seconds[g] += s.seconds
        loaded[g] += s.loaded
    lengths = [len(s.residue) for s in stretches]
    first = np.zeros(sum(lengths), dtype=np.uint8)
    first[np.cumsum([0, *lengths[:-1]])[anew]] = 1
    loads = np.concatenate([s.residue for s in stretches])
    join_residues(loads, np.repeat(group, lengths), first, *curve.rules(cycles, damage))
    high = max(stretches, key=lambda s: (s.highest, -s.start))
    low = min(stretches, key=lambda s: (s.lowest, s.start))
    return PlaceTotal(
        groups={
            name: (seconds[i], loaded[i], damage[i, 0], damage[i, 1]) for i, name in enumerate(names)
        },
        cycles=cycles.sum(axis=0),
        damage=damage.sum(axis=0),
        seconds=float(seconds.sum()),
        loaded=float(loaded.sum()),
        highest=high.highest,
        highest_time=high.highest_time,
        lowest=low.lowest,
        lowest_time=low.lowest_time,
        excursions=all_excursions(stretches, missing),
        joined_over=int((missing & ~anew).sum()),
        broken_at=int(anew.sum()),
    )


def all_excursions(stretches, missing):
    """{name of LEVELS: (k, 3)} excursions of one place over all its stretches."""
    return {
        name: joined_excursions(
            (*s.excursions[name], not gap) for s, gap in zip(stretches, missing, strict=True)
        )
        for name in LEVELS
    }


def events(places, name):
    """Events at any place past a level, (k, 3) start, stop [s], depth; `places` {place: PlaceTotal}."""
    rows = [total.excursions[name] for total in places.values()]
    return listed_events(np.concatenate(rows)) if rows else np.empty((0, 3))


def page_totals(stretches, curve):
    """{place: PlaceTotal} from {place: [Stretch]}."""
    return {place: place_total(rows, curve) for place, rows in sorted(stretches.items())}

"""Load spectra of a season: cycles by range and mean, damage-equivalent ranges, a block programme for a rig."""

import numpy as np

from seaload.fatigue.block_programme import programme, sequence
from seaload.fatigue.cycle_matrix import matrix_of, mean_middles, range_middles
from seaload.fatigue.miner import damage_equivalent_range, equivalent_of_usage

REFERENCE_CYCLES = 1e6  # [-] of a damage-equivalent range


def slopes_of(curve, rig):
    """Slopes that ranges are told at [-]: 10, 14, those of the foil's own curve and of the rig, rising."""
    return tuple(sorted({10.0, 14.0, float(curve.slope), float(curve.steep_slope), float(rig.slope)}))


def cycles_of(part):
    """(places, ranges, means) [-] cycles of all cases of a part, its partial factor on range and mean."""
    counts = np.sum([record.rainflow_count for record in part.records], axis=0, dtype=float)
    if part.factor == 1.0:
        return counts
    rows, columns = np.meshgrid(part.factor * range_middles(), part.factor * mean_middles(), indexing="ij")
    return np.array([matrix_of(rows.ravel(), columns.ravel(), each.ravel()) for each in counts], dtype=float)


class Spectra:
    """Spectra of one `Season`; picks as of `Sizing`."""

    def __init__(self, season):
        self.season = season
        self.used = [i for i, part in enumerate(season.seas) if part.fatigue and part.time > 0.0]

    def season_cycles(self):
        """(places, ranges, means) [-] of the whole season."""
        season = self.season
        return sum(
            season.seas[i].share * season.time / season.seas[i].time * cycles_of(season.seas[i]) for i in self.used
        )

    def damages(self, slopes):
        """[(n, places, slopes) sum of n S^m of each case, over the season's time a second] of the parts used."""
        middles = range_middles()
        powers = np.array([middles**slope for slope in slopes])
        found = []
        for i in self.used:
            part = self.season.seas[i]
            rows = np.array([record.rainflow_count.sum(axis=2) @ powers.T for record in part.records], dtype=float)
            found.append(rows * part.factor ** np.array(slopes))
        return found

    def equivalents(self, slopes, picks=()):
        """((slopes, places), low, high) ranges over the normal limit that, 10^6 times, do the season's damage [-]."""
        damages = self.damages(slopes)

        def of(chosen):
            each = []  # (places, slopes) of every sea, were the whole season spent in it
            for i, rows in zip(self.used, damages, strict=True):
                part = self.season.seas[i]
                taken = range(len(rows)) if chosen is None else chosen["seas"][i]
                longer = self.season.time / max(sum(part.records[r].duration for r in taken), 1e-9)
                each.append((longer * rows[list(taken)].sum(axis=0) / REFERENCE_CYCLES) ** (1.0 / np.array(slopes)))
            shares = [self.season.seas[i].share for i in self.used]
            return np.array([equivalent_of_usage(shares, np.array(each)[..., s], m) for s, m in enumerate(slopes)])

        drawn = np.array([of(each) for each in picks]) if picks else np.array([of(None)])
        return of(None), *np.quantile(drawn, (0.05, 0.95), axis=0)


def rig_programme(cycles, rig):
    """([`Step`], [(repeat, step, cycles)], function of a slope).

    That gives the damage-equivalent range of the programme over the season's, less 1.

    cycles : (ranges, means) [-] of the season at the place of the `rig`. Ranges and means over the normal limit.
    """
    rows, columns = np.nonzero(cycles)
    ranges, means = range_middles()[rows], mean_middles()[columns]
    counts = cycles[rows, columns]
    steps = programme(ranges, means, counts, rig.slope, rig.steps, rig.repeats)
    of_steps = np.array([step.load_range for step in steps]), np.array([step.cycles for step in steps])

    def error(slope):
        wanted = damage_equivalent_range(ranges, counts, slope, REFERENCE_CYCLES)
        return damage_equivalent_range(*of_steps, slope, REFERENCE_CYCLES) / max(wanted, 1e-300) - 1.0

    return steps, sequence(steps, rig.repeats), error

"""What a change of the foil or of the sea, or another foil, does to the loads: sailed in the seas that carry them, over
the same waves and settings.

Loads are compared place by place as `evidence.load_change` does: the mean shifts, and the fluctuation about it grows,
by the mean of the highest tenth of the ten-second blocks. Together they say which load comes as often as the least
limit is passed without the change. What the waves do to both alike drops out; errors are by leaving a realisation out
(Tukey's jackknife).
"""

from dataclasses import dataclass, replace

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.deciding.size.season import Part, Season
from seaload.evidence.verdict import SIDES
from seaload.simulation.prepare_foil import geometry_of

HIGHEST_SHARE = 0.1  # [-] of the blocks, whose mean is a high load
DEVIATE = 1.6448536269514722  # of the normal distribution at 90 % two-sided
LEAST = 1e-6  # [N m]
CHANGED_WITHIN = (-0.9, 9.0)  # [-] a change beyond says only which way


def changed_foil(foil, change):
    """The foil record with a `FoilChange`: chord grows in a straight line from the bearing to the tip."""
    along = np.asarray(foil.material_s) / foil.outside_length
    return replace(
        foil,
        chord=np.asarray(foil.chord) * (1.0 + change.tip_chord * along),
        tip_angle=foil.tip_angle + change.tip_angle,
        youngs_modulus=foil.youngs_modulus * (1.0 + change.stiffness),
    )


def changed_boat(boat, side, change):
    """The boat record with the working foil, on `side`, changed."""
    return replace(boat, foils={**boat.foils, side: changed_foil(boat.foils[side], change)})


@dataclass(frozen=True)
class Told:
    """What a change does; arrays (points,) of each side."""

    limit: dict  # {side: (value, low, high)} least limit over that without, less 1 [-]
    speed: tuple  # (value, low, high) [m/s] less that without
    righting: tuple  # (value, low, high) [-] righting moment of the foil over that without, less 1
    wear: tuple  # (value, low, high) [-] wear over that without, less 1
    ended: int  # cases that ended early or left the validity
    given: dict  # {side: (points,) given limits of the changed foil [N m]}


def carrying(sizing, most):
    """Numbers of the parts that carry the loads, the first of them most: up to `most` of the seas."""
    points = range(len(sizing.season.points))
    worth = np.zeros(len(sizing.season.seas))
    for side in SIDES:
        levels = sizing.needed[side].all_told
        for p in points:
            for i, share in sizing.shares(side, p, levels[p])[1].items():
                worth[i] += share
    order = [int(i) for i in np.argsort(-worth, kind="stable") if worth[i] > 0.0]
    return order[:most]


def side_shares(sizing, parts, side):
    """(parts, points) share [-] of each carrying part in the rate of a side at each place, sum 1 over the parts."""
    levels, rows = sizing.needed[side].all_told, []
    for p in range(len(sizing.season.points)):
        by_sea = sizing.shares(side, p, levels[p])[1]
        rows.append([by_sea.get(i, 0.0) for i in parts])
    shares = np.array(rows).T + 1e-12
    return shares / shares.sum(axis=0)


def season_of(study, sized, parts, records, named_model):
    """`Season` of another foil in the same carrying `parts`, with `records` {number of a part: its cases}."""
    foil = study.boat.foils[study.foil_side]
    from seaload.simulation.model_options import model_factors

    factors = model_factors(named_model)
    seas = [
        Part(part.situation, part.sea, part.setting, geometry_of(foil, part.setting.extension, factors),
             tuple(records[i]), part.share, 0.0, part.factor, part.ultimate, part.fatigue)
        for i, part in parts.items()
    ]  # fmt: skip
    return Season(foil, seas, (), sized.targets.season)


def high(blocks):
    """Mean of the highest tenth of the blocks at each point, (points,); `blocks` (n, points, blocks)."""
    flat = np.sort(np.nan_to_num(blocks, nan=-np.inf).swapaxes(0, 1).reshape(blocks.shape[1], -1), axis=1)
    count = max(int(round(HIGHEST_SHARE * np.isfinite(blocks[:, 0]).sum())), 1)
    return flat[:, -count:].mean(axis=1)


def moved(level, base, other):
    """Load that comes as often as `level` (points,) [N m] does without the change; `base`, `other` (mean, high)."""
    fluctuation = np.maximum(base[1] - base[0], LEAST)
    return other[0] + (level - base[0]) * np.maximum(other[1] - other[0], LEAST) / fluctuation


def relative(level, base, other):
    """`moved` over the level, less 1 [-]; nothing where the level is nothing."""
    return np.where(level > LEAST, moved(level, base, other) / np.maximum(level, LEAST) - 1.0, 0.0)


def jackknife(whole, without):
    """(value, low, high) from a value and those with each realisation left out, (n, ...)."""
    n = len(without)
    error = np.sqrt((n - 1.0) / n * np.sum((without - without.mean(axis=0)) ** 2, axis=0))
    return whole, whole - DEVIATE * error, whole + DEVIATE * error


def paired(of, count):
    """(value, low, high) of `of(kept realisations)` by leaving each of `count` out."""
    every = list(range(count))
    return jackknife(of(every), np.array([of([r for r in every if r != left]) for left in every]))


def loads_of(season, i, side, kept):
    """(mean, high load) (points,) [N m] of the realisations `kept` of a season's part number `i`."""
    return season.mean_of([season.seas[i].records[r] for r in kept], side), high(season.blocks[side][i][kept])


def told(base, other, shares, levels):
    """`Told` of another `Season` against the `base` of the same carrying parts.

    shares : {side: (parts, points)} of the rate. levels : {side: (points,) least limits of the base [N m]}.
    """
    count = min(len(part.records) for part in (*base.seas, *other.seas))
    limit = {}
    for side in SIDES:

        def change(kept, side=side):
            ratios = [
                relative(levels[side], loads_of(base, i, side, kept), loads_of(other, i, side, kept))
                for i in range(len(base.seas))
            ]
            return np.sum(shares[side] * np.clip(ratios, *CHANGED_WITHIN), axis=0)

        limit[side] = paired(change, count)
    weight = np.array([part.share for part in base.seas])
    weight = weight / weight.sum()
    mean = lambda season, name, kept: float(sum(  # noqa: E731
        w * np.mean([getattr(part.records[r], name) for r in kept]) for w, part in zip(weight, season.seas, strict=True)
    ))  # fmt: skip
    speed = paired(lambda kept: mean(other, "speed_mean", kept) - mean(base, "speed_mean", kept), count)
    righting = paired(
        lambda kept: mean(other, "righting_moment_mean", kept) / mean(base, "righting_moment_mean", kept) - 1.0, count
    )
    wear = paired(lambda kept: np.log(worn(other, kept) / worn(base, kept)), count)
    return Told(
        limit, speed, righting, tuple(float(np.expm1(each)) for each in wear),
        sum(record.status != STATUS_DONE for part in other.seas for record in part.records), other.limits,
    )  # fmt: skip


def worn(season, kept):
    """Wear a second at the place that wears most [1/s], of the carrying seas by their shares."""
    rate = sum(
        part.share * np.sum([part.records[r].grid_damage for r in kept], axis=0)
        / max(sum(part.records[r].duration for r in kept), 1e-9)
        for part in season.seas
    )  # fmt: skip
    return max(float(np.max(rate)), 1e-300)

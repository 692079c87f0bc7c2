"""Loads of finished cases at fixed places in a foil's material, whatever setting they were sailed with.

The march keeps the highest load of every ten seconds at the bearing and the strain stations. Between those the moment
is read off a straight line, which at every place is scaled so that the mean of the largest loads of the realisations is
the one that was counted there. Inside the hull the moment falls from the lower to the upper bearing in a straight line.
"""

import numpy as np

from seaload.evidence.places import sailed_blocks

SIGN = {"reverse": -1.0, "normal": 1.0}
SCALED_WITHIN = (0.5, 2.0)  # [-] beyond these a scale says more about a load near nothing than about the line
SAME = 1e-6  # [m]


def knots_of(bearing, stations, bearing_distance, length):
    """(material [m] of the knots of the line, number of the place that each takes its load from; -1 = none).

    bearing : [m] material at the lower bearing; stations : (p,) [m] of places 1 on; bearing_distance [m]; length [m] of
    the foil's material outside when fully out, where the tip is.
    """
    outside = [(s, p + 1) for p, s in enumerate(stations) if bearing + SAME < s < length - SAME]
    rows = [(bearing - bearing_distance, -1), (bearing, 0), *sorted(outside), (length, -1)]
    material, place = zip(*rows, strict=True)
    return np.array(material), np.array(place)


def line_weights(points, material, place, places):
    """Weights (points, places) [-] that turn loads at the places into loads at `points` [m] along a straight line.

    `material`, `place` as `knots_of` gives them, `places` the number of places. Nothing inboard of the upper bearing.
    """
    weights = np.zeros((len(points), places))
    for knot, number in enumerate(place):
        if number >= 0:
            tent = np.zeros(len(material))
            tent[knot] = 1.0
            weights[:, number] += np.interp(points, material, tent, left=0.0, right=0.0)
    return weights


def material_blocks(records, side, points, line, grid):
    """Highest load towards a side in each block [N m], (n, points, blocks), nan where nothing was sailed.

    records : finished cases of one setting. points : (points,) [m] in the material. line : (knots, places) as of
    `knots_of`. grid : (G,) [m] the material grid that extremes were kept on.
    """
    material, place = line
    limit = getattr(records[0], f"{side}_limit")
    weights = line_weights(points, material, place, len(limit))
    found = []
    for record in records:
        shares = np.array(getattr(record, f"place_block_{side}"), dtype=float)
        blocks = np.full((len(points), shares.shape[1]), np.nan)
        sailed = sailed_blocks(record)
        blocks[:, :sailed] = weights @ np.nan_to_num(shares[:, :sailed] * limit[:, None])
        found.append(blocks)
    found = np.array(found)
    return found * scales(found, records, side, points, grid)[None, :, None]


def scales(blocks, records, side, points, grid):
    """Scale of the line at each point [-], (points,): counted over told, mean of the realisations' largest loads."""
    if not np.isfinite(blocks).any():
        return np.ones(len(points))
    used = [i for i, record in enumerate(records) if sailed_blocks(record) > 0]
    told = np.nanmax(blocks[used], axis=2).mean(axis=0)
    counted = np.mean([np.interp(points, grid, largest(records[i], side)) for i in used], axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where((told > 0.0) & (counted > 0.0), counted / told, 1.0)
    return np.clip(ratio, *SCALED_WITHIN)


def largest(record, side):
    """Largest load of a case towards a side along the material grid [N m], (G,)."""
    extremes = record.grid_moment_max if side == "normal" else record.grid_moment_min
    return SIGN[side] * np.asarray(extremes, dtype=float)

"""Block extremes of finished cases: of all places together, of each by itself, and which is likeliest to pass its
limit.
"""

import numpy as np


def sailed_blocks(record):
    """Number of blocks of a case with any sea in them."""
    return int(np.ceil(record.duration / record.block_time - 1e-9))


def block_extremes(records, name):
    """Highest share in each block, (n, blocks), nan where nothing was sailed."""
    rows = []
    for record in records:
        row = np.array(getattr(record, name), dtype=float)
        row[sailed_blocks(record) :] = np.nan
        rows.append(row)
    return np.array(rows)


def place_extremes(records, side):
    """[(n, blocks) highest share of a limit] of every place outside the hull, the likeliest to pass it first.

    Records without extremes of places give those of all places together.
    """
    if any(getattr(record, f"place_block_{side}") is None for record in records):
        return [block_extremes(records, f"block_worst_{side}")]
    stacked = np.array([getattr(record, f"place_block_{side}") for record in records], dtype=float)
    for row, record in zip(stacked, records, strict=True):
        row[:, sailed_blocks(record) :] = np.nan
    places = [stacked[:, p] for p in range(stacked.shape[1]) if np.any(np.isfinite(stacked[:, p]))]
    return sorted(places, key=reach_of)


def common_place(groups, side):
    """(place, [(n, blocks)] of several groups of records there): the place likeliest to pass its limit in any.

    Place -1 stands for all places together, for records without extremes of each or in which no time was sailed.
    """
    if any(getattr(record, f"place_block_{side}") is None for records in groups for record in records):
        return -1, [block_extremes(records, f"block_worst_{side}") for records in groups]
    stacked = [np.array([getattr(r, f"place_block_{side}") for r in records], dtype=float) for records in groups]
    for rows, records in zip(stacked, groups, strict=True):
        for row, record in zip(rows, records, strict=True):
            row[:, sailed_blocks(record) :] = np.nan
    usable = [p for p in range(stacked[0].shape[1]) if all(np.isfinite(rows[:, p]).any() for rows in stacked)]
    if not usable:
        return -1, [block_extremes(records, f"block_worst_{side}") for records in groups]
    reach = np.min([reaches_of(rows, usable) for rows in stacked], axis=0)
    place = usable[int(np.argmin(reach))]
    return place, [rows[:, place] for rows in stacked]


def reaches_of(rows, places):
    """`reach_of` each of the `places` in `rows` (n, places, blocks), (p,) [-]."""
    together = rows[:, places].swapaxes(0, 1).reshape(len(places), -1)
    if not np.isfinite(together).all():
        return np.array([reach_of(each) for each in together])
    middle, upper = np.quantile(together, [0.8, 0.98], axis=1)
    return (1.0 - upper) / np.maximum(upper - middle, 1e-12)


def mean_share(records, side, place):
    """Mean load at a place [share of the limit of that side, positive towards it]; 0 for all places together."""
    if place < 0 or any(record.normal_limit is None for record in records):
        return 0.0
    weights = np.array([record.duration for record in records])
    if not weights.sum() > 0.0:
        return 0.0
    moments = np.array([record.moment_mean[place] for record in records])
    toward = -1.0 if side == "reverse" else 1.0
    return float(toward * np.average(moments, weights=weights) / getattr(records[0], f"{side}_limit")[place])


def reach_of(extremes):
    """How many widths of its upper tail a place is away from the limit [-]; small = likely to pass it."""
    values = extremes[np.isfinite(extremes)]
    middle, upper = np.quantile(values, [0.8, 0.98])
    return float((1.0 - upper) / max(upper - middle, 1e-12))

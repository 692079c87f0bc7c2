"""Loads of a season along the span: moments of a return time, and moment, shear and torsion met once in a season.

Moments by the tails of ten-second blocks. Of shear, torsion and the hold-down line a case keeps its extremes alone: the
largest of each realisation follows a Gumbel law in each sea, and the seas are mixed (`risk.mixture`).
"""

import numpy as np

from seaload.risk.gumbel import gumbel_by_l_moments
from seaload.risk.mixture import mixed_return_value, shares_of

KINDS = ("shear", "torsion")
LEAST_SCALE = 1e-6  # [-] of the largest value: of a load that is always the same
NONE = -1


def return_values(sizing, side, times, number=None):
    """(times, points) [N m] passed once in each of the `times` [s], characteristic: without partial factors."""
    points = range(len(sizing.season.points))
    loads = [sizing.load(side, p, factored=False, number=number) for p in points]
    return np.array([[load.level(1.0 / time) for load in loads] for time in times])


def law_of(values):
    """(location, scale) of the largest of a realisation, `values` (n,)."""
    values = np.asarray(values, dtype=float)
    least = LEAST_SCALE * max(float(np.max(np.abs(values))), 1e-9)
    if len(values) < 3:
        return float(values.max()), least
    location, scale = gumbel_by_l_moments(values)
    return location, max(scale, least)


def once_a_season(season, values_of):
    """(value met once in a season, situation with most of it) of a load.

    values_of(part) gives its largest value in each case of a part, (n,), or None where the part says nothing of it.
    """
    weights, laws, situations, each = [], [], [], season.seas[0].records[0].duration
    blocks = season.time / each
    for part in (*season.seas, *season.events):
        values = values_of(part)
        if values is None or not np.isfinite(values).all():
            continue
        weights.append(part.share if part.share else part.rate * season.time / blocks)
        laws.append(law_of(values))
        situations.append(part.situation)
    if not laws or not sum(weights) * blocks > 1.0:
        return np.nan, NONE
    location, scale = np.array(laws).T
    value = mixed_return_value(weights, location, scale, blocks)
    shares = shares_of(weights, location, scale, value)
    by = {s: sum(x for x, known in zip(shares, situations, strict=True) if known == s) for s in set(situations)}
    return value, max(sorted(by), key=by.get)


def span_values(season, part, kind, side):
    """(n, points) largest shear or torsion of each case of a part towards a side, nan inside the hull; None if unknown.
    """
    name = f"{kind}_{'max' if side == 'normal' else 'min'}"
    sign, edges = (1.0 if side == "normal" else -1.0), part.geometry.strips.s_edge
    rows = [getattr(record, name) for record in part.records]
    if any(row is None or len(row) != len(edges) for row in rows):
        return None
    return np.array([np.interp(season.points, edges, sign * np.asarray(row, float), left=np.nan) for row in rows])


def span_envelope(season, kind, side):
    """((points,) value once in a season, (points,) number of the situation with most of it) of shear or torsion."""
    known = [span_values(season, part, kind, side) for part in (*season.seas, *season.events)]
    values = {id(part): rows for part, rows in zip((*season.seas, *season.events), known, strict=True)}
    column = lambda part, p: None if values[id(part)] is None else values[id(part)][:, p]  # noqa: E731
    found = [once_a_season(season, lambda part, p=p: column(part, p)) for p in range(len(season.points))]
    return np.array([value for value, _ in found]), np.array([number for _, number in found])


def hold_down(season):
    """(load of the hold-down line once in a season [N], number of the situation with most of it)."""
    return once_a_season(season, lambda part: np.array([record.hold_down_max for record in part.records]))


def governing(sizing, side, levels, *, factored):
    """((points,) situation, (points,) its share, (points,) sea of the usage that carries most of it) past `levels`."""
    rows = []
    for p, level in enumerate(levels):
        by_situation, by_sea = sizing.shares(side, p, level, factored=factored)
        best = max(sorted(by_situation), key=by_situation.get)
        seas = {sizing.season.seas[i].sea: share for i, share in by_sea.items() if sizing.season.seas[i].sea >= 0}
        rows.append((best, by_situation[best], max(sorted(seas), key=seas.get) if seas else NONE))
    return tuple(np.array(column) for column in zip(*rows, strict=True))



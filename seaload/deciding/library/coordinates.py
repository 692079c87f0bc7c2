"""Where a point of a library lies: the setting and the sea by their SI names, what of that the library covers, and the
features that surfaces are drawn over. Nothing is told outside what is covered.
"""

from typing import NamedTuple

import numpy as np

SETTING = ("extension", "rake", "heel", "cant", "ballast_shift", "speed_set")
SEA = ("sea_hs", "sea_tp", "waves_from_bow", "peak_enhancement", "spreading")
NAMES = SETTING + SEA
ANGLE, HEIGHT, PERIOD = (NAMES.index(name) for name in ("waves_from_bow", "sea_hs", "sea_tp"))
SAME = 1e-9  # [-] of a range, or of a value that does not vary
WIDEST_GAP = np.pi / 3.0  # [rad] between neighbouring wave angles that is still bridged
DRAWN = {  # what a surface is drawn over where that is not the coordinate itself
    "sea_tp": np.log,
    "spreading": lambda s: 1.0 / s,  # a long-crested sea has an infinite one
}


LN_STEEPNESS = (-3.5, 1.2)  # [ln m/s2] middle and half width: Hs over peak wavelength from 1/170 to 1/16


class Refusal(NamedTuple):
    """Why a question is not answered: what of it lies outside, and what is covered there."""

    name: str  # of the coordinate, or "sea" for height and period together
    value: float  # [SI]
    low: float  # [SI]
    high: float  # [SI]


class Cover(NamedTuple):
    """What the points of a library cover."""

    low: np.ndarray  # (names,) [SI] least of each coordinate
    high: np.ndarray  # (names,) [SI]
    seas: np.ndarray  # (corners, 2) hull of the seas in (height [m], ln(period [s])), counter-clockwise
    angles: np.ndarray  # (n,) [rad] wave angles, rising

    @property
    def varies(self):
        """Which coordinates have several values, (names,) bool."""
        with np.errstate(invalid="ignore"):  # of a spreading that is infinite throughout
            wide = self.high - self.low
        return (self.high != self.low) & (np.isinf(wide) | (wide > SAME * np.maximum(np.abs(self.low), 1.0)))


def cover_of(coordinates):
    """`Cover` of points at `coordinates` (n, names) [SI]."""
    seas = np.unique(np.column_stack([coordinates[:, HEIGHT], np.log(coordinates[:, PERIOD])]), axis=0)
    angles = np.unique(wrapped(coordinates[:, ANGLE]))
    return Cover(coordinates.min(axis=0), coordinates.max(axis=0), hull_of(seas), angles)


def wrapped(angles):
    """Angles [rad] within -pi..pi."""
    return np.mod(np.asarray(angles, dtype=float) + np.pi, 2.0 * np.pi) - np.pi


def hull_of(places):
    """Corners (k, 2) of the convex hull of sorted `places` (n, 2), counter-clockwise (Andrew 1979)."""
    chains = []
    for row in (places, places[::-1]):
        chain = []
        for place in row:
            while len(chain) > 1 and turn(chain[-2], chain[-1], place) <= 0.0:
                chain.pop()
            chain.append(place)
        chains.append(chain[:-1] if len(places) > 1 else chain[:0] if chains else chain)
    return np.array(chains[0] + chains[1])


def turn(first, second, third):
    """Twice the area of a triangle, positive where it turns to the left (any text on geometry)."""
    return (second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0])


def inside_hull(hull, places):
    """Whether `places` (..., 2) lie in a `hull` (k, 2) of corners, its edges included within rounding, bool."""
    places = np.asarray(places, dtype=float)
    if len(hull) == 1:
        return np.all(np.abs(places - hull[0]) <= SAME * np.maximum(np.abs(hull[0]), 1.0), axis=-1)
    widths = np.maximum(np.ptp(hull, axis=0), SAME)
    ends = np.roll(hull, -1, axis=0)
    near = SAME * 10.0 * widths[0] * widths[1] + SAME**2
    low, high = hull.min(axis=0) - SAME * widths, hull.max(axis=0) + SAME * widths
    within = np.all((places >= low) & (places <= high), axis=-1)
    for one, other in zip(hull, ends, strict=True):
        within = within & (turn(one, other, np.moveaxis(places, -1, 0)) >= -near)
    return within


def refusal(cover, question):
    """`Refusal` of a `question` (names,) [SI] that lies outside a `Cover`, or None."""
    for number, (name, near) in enumerate(zip(NAMES, near_ends(cover), strict=True)):
        low, high, value = cover.low[number], cover.high[number], question[number]
        if number == ANGLE or low == high == value:
            continue
        if not low - near <= value <= high + near:
            return Refusal(name, float(value), float(low), float(high))
    if not inside_hull(cover.seas, np.array([question[HEIGHT], np.log(question[PERIOD])])):
        low, high = heights_at(cover.seas, np.log(question[PERIOD]))
        return Refusal("sea", float(question[HEIGHT]), low, high)
    return angle_refusal(cover.angles, float(wrapped(question[ANGLE])))


def heights_at(hull, period):
    """(least, most) height [m] that a `hull` of seas covers at a `period` [ln s] between its ends."""
    found = []
    for one, other in zip(hull, np.roll(hull, -1, axis=0), strict=True):
        (h0, t0), (h1, t1) = one, other
        if min(t0, t1) <= period <= max(t0, t1):
            found += [h0 + (h1 - h0) * (period - t0) / (t1 - t0)] if t1 != t0 else [h0, h1]
    return (float(min(found)), float(max(found))) if found else (np.nan, np.nan)


def angle_refusal(angles, angle):
    """`Refusal` of a wave `angle` [rad] farther from the covered `angles` (n,) [rad] than is bridged, or None."""
    ahead, behind = (float(gap) for gap in gaps_about(angles, angle))
    if bridged(ahead, behind):
        return None
    return Refusal("waves_from_bow", angle, float(wrapped(angle + ahead)), float(wrapped(angle - behind)))


def gaps_about(angles, asked):
    """(turn [rad] to the next of the covered `angles` (n,) [rad], turn back to the last) of `asked` (any shape)."""
    asked = np.asarray(asked, dtype=float)[..., None]
    ahead = np.min(np.mod(angles - asked + SAME, 2.0 * np.pi), axis=-1) - SAME
    return ahead, np.min(np.mod(asked - angles + SAME, 2.0 * np.pi), axis=-1) - SAME


def bridged(ahead, behind):
    """Whether an angle with such gaps about it [rad] is covered."""
    return (np.minimum(ahead, behind) <= SAME) | (ahead + behind <= WIDEST_GAP)


def covered(cover, questions):
    """Which of `questions` (n, names) [SI] lie inside a `Cover`, (n,) bool: those without a `refusal`."""
    low, high = cover.low - near_ends(cover), cover.high + near_ends(cover)
    same = (cover.low == cover.high) & (questions == cover.low)
    within = same | ((questions >= low) & (questions <= high))
    within[:, ANGLE] = bridged(*gaps_about(cover.angles, wrapped(questions[:, ANGLE])))
    seas = np.column_stack([questions[:, HEIGHT], np.log(questions[:, PERIOD])])
    return np.all(within, axis=1) & inside_hull(cover.seas, seas)


def near_ends(cover):
    """How far outside its ends each coordinate of a `Cover` still counts as inside, (names,) [SI]: rounding."""
    size = np.maximum(np.maximum(np.abs(cover.low), np.abs(cover.high)), 1.0)
    return np.where(np.isfinite(size), SAME * size, 0.0)


def features_of(cover, coordinates):
    """Features (n, d) [-] of `coordinates` (n, names) [SI]: what varies, within -1..1; an angle as its unit vector;
    the steepness of the sea beside height and period, of which it is made: loads bend along it.
    """
    rows = np.atleast_2d(np.asarray(coordinates, dtype=float))
    columns = []
    for number, name in enumerate(NAMES):
        if not cover.varies[number]:
            continue
        if number == ANGLE:
            columns += [np.cos(rows[:, number]), np.sin(rows[:, number])]
            continue
        drawn = DRAWN.get(name, np.asarray)
        ends = drawn(np.array([cover.low[number], cover.high[number]]))
        columns.append((drawn(rows[:, number]) - 0.5 * (ends[0] + ends[1])) / (0.5 * abs(ends[1] - ends[0])))
    if cover.varies[HEIGHT] and cover.varies[PERIOD]:
        columns.append(ln_steepness(rows) / LN_STEEPNESS[1] - LN_STEEPNESS[0] / LN_STEEPNESS[1])
    return np.column_stack(columns) if columns else np.zeros((len(rows), 0))


def ln_steepness(rows):
    """ln(height over the square of the period) [ln m/s2] at `rows` (n, names): what short seas load a foil by."""
    return np.log(rows[:, HEIGHT]) - 2.0 * np.log(rows[:, PERIOD])


def products_of(features):
    """The `features` (n, d) [-] with their squares and the products of every two, (n, d + d (d + 1) / 2)."""
    first, second = np.triu_indices(features.shape[1])
    return np.column_stack([features, features[:, first] * features[:, second]])

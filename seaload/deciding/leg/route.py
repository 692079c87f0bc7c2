"""The way of a leg cut into short pieces, each with one heading, in which a sea is taken as one.

Pieces end where segments end, and at whole multiples of one length from the start of the leg: a segment that is written
as two is then cut at the same places.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.earth import along_rhumb_line, great_circle, rhumb_line

PIECE = 9260.0  # [m] 5 nautical miles, some 20 minutes: as long as a sea is taken as stationary
MOST_PIECES = 600
NEAR = 1.0  # [m] pieces shorter than this are rounding


class Route(NamedTuple):
    """Pieces of a leg in order."""

    segment: np.ndarray  # (n,) number of the segment of each
    first: np.ndarray  # (n,) bool, the first piece of its segment
    change: np.ndarray  # (n,) bool, the setting may be changed at its start
    heading: np.ndarray  # (n,) [rad] true
    length: np.ndarray  # (n,) [m]
    start: np.ndarray  # (n,) [m] from the start of the leg
    latitude: np.ndarray  # (n,) [rad] of its middle
    longitude: np.ndarray  # (n,) [rad], within -pi..pi
    end: tuple  # (latitude, longitude) [rad] of the end of the leg

    @property
    def distance(self):
        """Length of the leg [m]."""
        return float(self.length.sum())

    def of_segments(self, values):
        """Sums (segments, ...) of `values` (n, ...) over the pieces of each segment."""
        found = np.zeros((int(self.segment[-1]) + 1, *np.shape(values)[1:]))
        np.add.at(found, self.segment, values)
        return found


def route_of(start, segments):
    """`Route` from a start (latitude, longitude) [rad] over records with heading [rad], distance [m] and change.

    ValueError for a way that reaches a pole.
    """
    whole = sum(segment.distance for segment in segments)
    step = PIECE * max(1, int(np.ceil(whole / PIECE / MOST_PIECES)))
    rows, place, gone = [], start, 0.0
    for number, segment in enumerate(segments):
        cuts = step * np.arange(np.ceil((gone + NEAR) / step), np.floor((gone + segment.distance - NEAR) / step) + 1)
        ends = np.concatenate([[0.0], cuts - gone, [segment.distance]])
        lengths = np.diff(ends)
        latitude, longitude = along_rhumb_line(place, segment.heading, 0.5 * (ends[1:] + ends[:-1]))
        for k, length in enumerate(lengths):
            rows.append((number, k == 0, k == 0 and segment.change, segment.heading, length, gone + ends[k],
                         latitude[k], longitude[k]))  # fmt: skip
        place = tuple(map(float, along_rhumb_line(place, segment.heading, segment.distance)))
        gone += segment.distance
    columns = [np.array(column) for column in zip(*rows, strict=True)]
    columns[2][0] = True
    return Route(*columns, end=place)


def rhumb_ways(places):
    """[(course [rad], distance [m])] between neighbouring `places` (n, 2) (latitude, longitude) [rad]; places that are
    the same are left out.
    """
    found = []
    for one, other in zip(places, places[1:], strict=False):
        distance, course = rhumb_line(tuple(one), tuple(other))
        if distance > NEAR:
            found.append((float(course), float(distance)))
    return found


def shortest(places):
    """Length [m] of the great circles between neighbouring `places` (n, 2) (latitude, longitude) [rad]."""
    return sum(float(great_circle(tuple(a), tuple(b))[0]) for a, b in zip(places, places[1:], strict=False))

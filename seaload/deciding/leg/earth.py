"""Distances, courses and places on a sphere: rhumb lines, which a boat steers, and great circles, which are shortest.

A sphere of the earth's mean radius is within 0.6 % of the ellipsoid, less than a current makes (any text on
navigation).
Angles [rad]: latitude north +, longitude east +, courses clockwise from true north.
"""

import numpy as np

RADIUS = 6_371_008.8  # [m] mean radius of the WGS 84 ellipsoid, (2 a + b) / 3
SAME_PARALLEL = 1e-12  # [rad] of latitude below which a rhumb line follows a parallel


def wrapped(angle):
    """Angle [rad] within -pi..pi."""
    return np.mod(np.asarray(angle, dtype=float) + np.pi, 2.0 * np.pi)[()] - np.pi


def great_circle(start, end):
    """(distance [m], course at the start [rad]) of the shortest way between two places (latitude, longitude) [rad]; the
    haversine formula (Sinnott 1984).
    """
    (lat1, lon1), (lat2, lon2) = start, end
    east = wrapped(lon2 - lon1)
    half = np.sin(0.5 * (lat2 - lat1)) ** 2 + np.cos(lat1) * np.cos(lat2) * np.sin(0.5 * east) ** 2
    course = np.arctan2(
        np.sin(east) * np.cos(lat2),
        np.cos(lat1) * np.sin(lat2) - np.sin(lat1) * np.cos(lat2) * np.cos(east),
    )
    return 2.0 * RADIUS * np.arcsin(np.sqrt(np.clip(half, 0.0, 1.0))), np.mod(course, 2.0 * np.pi)


def mercator(latitude):
    """Isometric latitude [rad] of a `latitude` [rad]: the height on Mercator's chart, ln tan(pi/4 + latitude/2)."""
    return np.log(np.tan(0.25 * np.pi + 0.5 * latitude))


def stretch(lat1, lat2):
    """cos(latitude) [-] that turns longitude into distance along a rhumb line between two latitudes [rad]."""
    drawn = mercator(lat2) - mercator(lat1)
    return np.where(np.abs(lat2 - lat1) > SAME_PARALLEL, (lat2 - lat1) / np.where(drawn == 0.0, 1.0, drawn),
                    np.cos(lat1))  # fmt: skip


def rhumb_line(start, end):
    """(distance [m], course [rad]) of the way of constant course between two places (latitude, longitude) [rad], the
    shorter way round (any text on navigation: Mercator sailing).
    """
    (lat1, lon1), (lat2, lon2) = start, end
    east = wrapped(lon2 - lon1)
    across = stretch(lat1, lat2) * east
    course = np.arctan2(east, mercator(lat2) - mercator(lat1))
    course = np.where(np.abs(lat2 - lat1) > SAME_PARALLEL, course, np.arctan2(np.sign(east), 0.0))
    return RADIUS * np.hypot(lat2 - lat1, across), np.mod(course, 2.0 * np.pi)[()]


def along_rhumb_line(start, course, distance):
    """(latitude, longitude) [rad] of places `distance` (n,) [m] from a start on a `course` [rad]; longitude within
    -pi..pi. ValueError for a way that reaches a pole.
    """
    lat1, lon1 = start
    distance = np.asarray(distance, dtype=float)
    lat2 = lat1 + distance / RADIUS * np.cos(course)
    if np.any(np.abs(lat2) >= 0.5 * np.pi):
        raise ValueError("the way reaches a pole")
    return lat2, wrapped(lon1 + distance / RADIUS * np.sin(course) / stretch(lat1, lat2))

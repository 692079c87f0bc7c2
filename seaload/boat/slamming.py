"""Slams: the forefoot comes out of the water and meets it again faster than a stated speed."""

from math import sqrt

SLAM_SHARE = 0.093  # [-] of sqrt(g L), after Ochi and Motter 1973 (from memory: 12 ft/s for a ship of 520 ft, scaled)
FOREFOOT_SHARE = 0.9  # [-] of the waterline length from the transom, a tenth of it behind its fore end (the same)


def slam_speed(waterline_length, gravity):
    """Relative vertical velocity at re-entry from which on it counts as a slam [m/s].

    `waterline_length` [m], `gravity` [m/s2]. Ochi and Motter 1973, from memory: made for ships; for a light planing
    hull it counts what a crew would call a slam and much that they would not.
    """
    return SLAM_SHARE * sqrt(gravity * waterline_length)

"""What a change of the wind does to the force of the sails: apparent wind, size of the sails, trim."""

import numpy as np
from scipy.signal import lfilter

SAIL_SIZE = 1.5  # [-] side of a square of the sails' area over the height of their effort (assumption, no source)
LEAST_SHARE = 0.25  # [-] of the true wind that the apparent wind counts as at least, dead before it
LEAST_WIND = 0.1  # [m/s] the same without any wind


def apparent_wind(wind, angle, speed):
    """(from ahead, across) apparent wind [m/s]: the true wind and the boat's own.

    `wind` [m/s] true, `angle` [rad] it comes from, off the bow, `speed` [m/s] of the boat; floats or arrays (n,).
    Sum of vectors (definition).
    """
    return wind * np.cos(angle) + speed, wind * np.sin(angle)


def sail_pull(change, wind, angle, speed):
    """Force of the sails over that in the mean wind [-], (n,).

    `change` (n,) [m/s] of the true wind along its own direction, `wind` [m/s] its mean, `angle` [rad] it comes from,
    off the bow, `speed` [m/s] of the boat. Pressure of the apparent wind, the force's direction held by the sheets.
    Wind from further aft gives no more, for sails are trimmed to their best; from further ahead they lose their angle,
    and force as that: none is left when all wind is the boat's own (first order, assumption, no source).
    """
    ahead, across = apparent_wind(wind, angle, speed)
    mean, whole = ahead**2 + across**2, np.maximum(wind + change, 0.0)
    now_ahead, now_across = apparent_wind(whole, angle, speed)
    least = max((LEAST_SHARE * wind) ** 2, LEAST_WIND**2)
    pressure = 1.0 + (now_ahead**2 + now_across**2 - mean) / max(mean, least)
    before, now = np.arctan2(across, ahead), np.arctan2(now_across, now_ahead)
    angle_left = np.minimum(now / before, 1.0) if before > 0.0 else 1.0
    return np.maximum(pressure, 0.0) * angle_left


def sail_admittance(wavenumber, size):
    """Share of a gust that sails feel as a whole [-], (n,): 1/(1 + (2 k b)^(4/3)).

    `wavenumber` k (n,) [cycles/m] of the gust, `size` b [m] of a square of the sails' area. Vickery 1965, for plates
    across the wind (from memory).
    """
    return 1.0 / (1.0 + (2.0 * wavenumber * size) ** (4.0 / 3.0))


def eased_by_trim(pull, step, trim_time):
    """Pull of the sails [-] when the crew trims every lasting change of it away, (n,); never below zero.

    `pull` (n,) [-] with sheets left alone, every `step` [s]; `trim_time` [s] in which an even change falls to 37 %,
    infinite when nobody trims. Filter of first order from trimmed sails on (in any text on control); the crew is alike
    in gust and lull (assumption).
    """
    share = np.exp(-step / trim_time)
    more = pull - 1.0
    moved = np.diff(more, prepend=0.0)  # what is left of every change so far
    return np.maximum(1.0 + lfilter([1.0], [1.0, -share], moved), 0.0)

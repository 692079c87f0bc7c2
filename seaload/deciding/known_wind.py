"""In which winds the speed of a rig's reference setting is known: by a speed table, else near the calibrated wind."""

from math import radians

import numpy as np

NEAR_WIND, NEAR_ANGLE = 0.15, radians(15.0)  # [-], [rad] off the calibrated wind (assumption, no source)
SPARE = 0.02  # [-] a speed this much above the attainable one still counts as held


def reference_speed(boat, wind, angle):
    """Speed of the rig's reference setting [m/s] in a true wind of `wind` [m/s] at `angle` [rad], None where unknown.

    `boat` a scenario record. Her speed table says it, bilinear; without one the calibrated wind, near it.
    """
    if boat.speed_table is not None:
        return table_speed(boat.speed_table, wind, angle)
    near = abs(wind / boat.reference_wind_speed - 1.0) <= NEAR_WIND
    near = near and abs(angle - boat.reference_wind_angle) <= NEAR_ANGLE
    return boat.reference_speed if near else None


def table_speed(table, wind, angle):
    """Speed of a speed table [m/s] at a true wind speed [m/s] and angle [rad], bilinear; None outside it."""
    if not table.wind_speed[0] <= wind <= table.wind_speed[-1]:
        return None
    if not table.wind_angle[0] <= angle <= table.wind_angle[-1]:
        return None
    rows = [np.interp(angle, table.wind_angle, row) for row in table.speed]
    return float(np.interp(wind, table.wind_speed, rows))

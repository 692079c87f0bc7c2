"""An invented hull of 18 m for the tests of the boat room; no real boat."""

from typing import NamedTuple

import numpy as np


class Form(NamedTuple):
    length: float = 18.0
    waterline_length: float = 17.5
    station_x: np.ndarray = np.array([0.0, 3.0, 7.0, 9.0, 11.0, 13.0, 14.5, 16.0, 18.0])
    keel_rise: np.ndarray = np.array([0.0, 0.0, 0.0, 0.0, 0.02, 0.09, 0.18, 0.28, 0.47])
    half_beam_share: np.ndarray = np.array([0.86, 0.95, 1.0, 0.97, 0.93, 0.80, 0.70, 0.52, 0.28])
    half_beam: float = 2.55
    half_beam_per_heel: float = -2.58
    deadrise: float = np.radians(10.0)
    deadrise_per_heel: float = 0.6
    least_deadrise: float = np.radians(8.0)
    fullness: float = 0.0
    stations: int = 24
    transom_relief: bool = True
    side_height: float = 1.2


FORM = Form()


class Box(NamedTuple):
    """A flat-bottomed box, 10 m by 4 m, for closed forms; the deadrise is a trace."""

    length: float = 10.0
    station_x: np.ndarray = np.array([0.0, 10.0])
    keel_rise: np.ndarray = np.array([0.0, 0.0])
    half_beam_share: np.ndarray = np.array([1.0, 1.0])
    half_beam: float = 2.0
    deadrise: float = 1e-9
    side_height: float = 3.0


BOX = Box()

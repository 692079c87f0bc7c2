"""The frozen record of a prescribed motion: `simulation` fills it, `result` makes variables of it."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Worst:
    """The worst load of a motion on one side, over all places outside the hull."""

    share: float  # [-] of the limit of that side; 0 = never loaded that way
    time: float  # [s] from the first row
    material: float  # [m] place in the material
    beyond: float  # [s] past the limit


@dataclass(frozen=True)
class PrescribedRecord:
    """What a written motion did to the foil; arrays float64, times from the first row."""

    duration: float  # [s]
    normal: Worst
    reverse: Worst
    grid_moment_max: np.ndarray  # (material,) [N m]
    grid_moment_min: np.ndarray  # (material,) [N m]
    shear_max: np.ndarray  # (strip edges,) [N] along the local normal
    shear_min: np.ndarray
    torsion_max: np.ndarray  # (strip edges,) [N m] about the local axis
    torsion_min: np.ndarray
    hold_down_max: float  # [N]
    tip_depth_min: float  # [m]
    series: dict  # {name: (samples,)}: motion as in `SERIES`, and the highest share of either limit round each sample


SERIES = ("time", "heel", "leeway", "speed", "height", "pitch", "normal_share", "reverse_share", "tip_depth")

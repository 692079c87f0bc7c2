"""Lift of the foil's strips at their mean depth in calm water, as the march takes it along."""

from typing import NamedTuple

import numpy as np

from seaload.foil.free_surface import steady_surface_factor
from seaload.foil.lifting_surface import span_loading
from seaload.foil.strip_load import surface_factor

LEAST_SLOPE = 0.2  # [1/rad] a strip with less of it in calm water counts as dry


class CalmLift(NamedTuple):
    """What the march needs of n strips; arrays (n,)."""

    slope: np.ndarray  # [1/rad] lift slope in deep water with the span's mutual influence
    induced: np.ndarray  # [-] factor k of the induced drag k c_l^2
    steady_gap: np.ndarray  # [-] steady surface factor less that at infinite Froude number, zero for dry strips


def calm_lift(y_edge, z_edge, z_mid, chord, section_slope, surface, speed, gravity):
    """`CalmLift` of the strips of a foil under a still surface.

    `y_edge`, `z_edge` (n+1,) [m] strip edges and `z_mid` (n,) [m] middles in the heeled plane, heights from the same
    point as that of the `surface` [m]; `chord` (n,) [m], `section_slope` [1/rad] in two dimensions, `speed` [m/s],
    `gravity` [m/s2]. The march multiplies the slope by the surface factor of the moment, so that of the mean depth is
    taken out here. A strip dry in calm water lifts too when a wave reaches it: as the nearest wet strip (rule of this
    project, no source).
    """
    count = len(chord)
    depth = np.maximum(surface - z_mid, 0.0)
    loading = span_loading(y_edge, z_edge, chord, section_slope, surface)
    near = np.array([surface_factor(*each) for each in zip(depth, chord, strict=True)])
    wet = loading.lift_slope > LEAST_SLOPE
    if not wet.any():  # the whole foil is out of the water: no slope to copy
        wet[-1] = True
    nearest = np.argmin(np.abs(np.arange(count)[:, None] - np.flatnonzero(wet)[None, :]), axis=1)
    index = np.flatnonzero(wet)[nearest]
    slope = np.where(wet, loading.lift_slope / near, 0.0)[index]
    induced = np.where(wet, loading.induced_drag, 0.0)[index]
    steady = steady_surface_factor(depth, chord, speed, gravity)
    return CalmLift(slope, np.maximum(induced, 0.0), np.where(depth > 0.0, steady - near, 0.0))

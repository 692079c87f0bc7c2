"""What the strips of a foil do to each other at rising water, in the form that the march takes along.

The march knows the water's height over the foil at every instant and mixes the two states next to it. The factor of
the surface over a section of its own depth is taken out of each state, for the march multiplies by that of the moment.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from seaload.foil.influence import influence, mirrored_influence
from seaload.foil.strip_load import surface_factor

STATES = 8  # of the water's height, evenly from the lowest strips awash to all of them under
LOWEST, HIGHEST = 0.15, 0.5  # [-] of the foil's height above its lowest edge, and of its mean chord over its highest


class WetStates(NamedTuple):
    """Matrices of n strips at k heights of water, and those heights."""

    first: float  # [m] lowest height of the water, from where the edges are counted
    step: float  # [m] between two
    lift: np.ndarray  # (k, n, n) [-] incidence that the row's section answers to per incidence of the column's
    wash: np.ndarray  # (k, n, n) [-] half the angle of the far wake at the row's strip per incidence of the column's


def joined(wet, mine, higher):
    """A matrix of all strips (n, n) [-]: `mine` among the `wet` (n,) [-] bool, `higher` among the dry, nothing between.

    So between two states a strip's share in the lift of others grows as it wets, and the symmetric part of a mean of
    states, forces per velocity, is positive where each one's is (a mean of positive forms, derived here).
    """
    both, neither = wet[:, None] & wet[None, :], ~wet[:, None] & ~wet[None, :]
    return np.where(both, mine, 0.0) + np.where(neither, higher, 0.0)


def wet_states(y_edge, z_edge, chord, section_slope, count=STATES):
    """`WetStates` of n strips end to end in the heeled plane.

    `y_edge`, `z_edge` (n+1,) [m] edges, `chord` (n,) [m], `section_slope` [1/rad] in two dimensions, `count` of states
    [-].
    The last state wets all strips. A strip that a state leaves dry has rows and columns of the next higher state
    without the strips that are wet. Lattice: `influence`.
    """
    middle = 0.5 * (z_edge[1:] + z_edge[:-1])
    low, high = float(np.min(z_edge)), float(np.max(z_edge))
    heights = np.linspace(low + LOWEST * (high - low), high + HIGHEST * float(np.mean(chord)), count)
    lift, wash = np.zeros((count,) + (len(chord),) * 2), np.zeros((count,) + (len(chord),) * 2)
    for k in range(count - 1, -1, -1):
        found = influence(y_edge, z_edge, chord, section_slope, heights[k])
        depth = np.maximum(heights[k] - middle, 0.0)
        near = np.array([surface_factor(*each) for each in zip(depth, chord, strict=True)])
        above = min(k + 1, count - 1)
        wet = found.wet > 0.0
        lift[k] = joined(wet, found.lift / (section_slope * near[:, None]), lift[above])
        wash[k] = joined(wet, found.wash @ found.lift, wash[above])
    return WetStates(float(heights[0]), float(heights[1] - heights[0]), lift, wash)


@lru_cache(maxsize=128)
def _remembered(y_edge, z_edge, chord, section_slope):
    """`wet_states` of `y_edge`, `z_edge`, `chord` [m] given as bytes and a `section_slope` [1/rad].

    Settings that differ in rake or speed share them.
    """
    return wet_states(*(np.frombuffer(each) for each in (y_edge, z_edge, chord)), section_slope)


def answers(lift, wash):
    """Matrices `lift` and `wash` (..., n, n) [-] as the march has them, (..., 2 n, n): a strip's two together.

    Layout of this project.
    """
    both = np.stack([lift, wash], axis=-2)
    return both.reshape(*lift.shape[:-2], 2 * lift.shape[-2], lift.shape[-1])


def foil_answers(y_edge, z_edge, chord, section_slope):
    """(`answers` (k, 2 n, n) [-], first height [m], step [m]) of the wet states of a foil.

    `y_edge`, `z_edge` [m], `chord` [m], `section_slope` [1/rad] as in `wet_states`.
    """
    arrays = (np.ascontiguousarray(each, dtype=float).tobytes() for each in (y_edge, z_edge, chord))
    states = _remembered(*arrays, section_slope)
    return answers(states.lift, states.wash), states.first, states.step


def fin_answers(count, aspect_ratio, section_slope):
    """`answers` (2 n, n) [-] of `count` strips of a fin under a hull that mirrors it, all under water.

    `aspect_ratio` [-] of fin and image together, `section_slope` [1/rad]. The surface acts by each strip's own depth.
    """
    found = mirrored_influence(1.0, count, aspect_ratio, section_slope)
    return answers(found.lift / section_slope, found.wash @ found.lift)

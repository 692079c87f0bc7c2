"""Where the waves stand in the plain arrays of the march: rows at a lane, and what of the sea all lanes share.

A boat that yaws meets the same sea from another side. The rows of the sea are worked out for a few headings, and at
each anchor every lane runs a polynomial through them at its own.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled

# --- wave rows at a lane, `wave[row, lane]`: six a hull station, one for the boat, thirteen a strip ---------------
(
    W_ELEVATION,  # [m]
    W_RISE,  # [m/s] of the water there
    W_ACCELERATION,  # [m/s2]
    W_SLOPE,  # [-] of the surface, forward
    W_SIDE_SLOPE,  # [-] of it, to leeward
    W_SIDE,  # [m/s] of the water there, to leeward
    HULL_WAVE_ROWS,
) = range(7)
BOAT_WAVE_ROWS = 1  # lateral slope of the surface at the centre of gravity
DEPTH_TERMS = 6  # of the polynomial in depth, degree 5
STRIP_WAVE_ROWS = 1 + 2 * DEPTH_TERMS  # surface, normal velocity terms, axial velocity terms
NODE_ROWS = 1 + 3 * DEPTH_TERMS  # of the sea at a lateral node: surface, vertical, lateral and axial velocity terms

# headings that the sea is worked out for, as far to either side of the one steered for: their number and the angle
# [rad] between two, for hull and boat, whose ends move far, and for the strips. A polynomial in the heading over
# TURN_UNIT [rad] runs through them; its terms have so many rows each
HULL_HEADINGS, HULL_TURN = 5, 0.08
STRIP_HEADINGS, STRIP_TURN = 3, 0.1
TURN_UNIT = 0.1


class SeaPart(NamedTuple):
    """Rows of the sea that share shapes of their own at all headings: of hull and boat, or of the lateral nodes."""

    terms: tuple  # of (own shapes, shapes of the sea used) for each power of the heading, shapes of the sea to own ones
    rows: np.ndarray  # (rows, own shapes)


class WaveTable(NamedTuple):
    """The sea of a block, as plain arrays."""

    omega: np.ndarray  # (N,) [rad/s]
    along: np.ndarray  # (N,) [rad/m] wavenumber along the heading steered for
    across: np.ndarray  # (N,) [rad/m] square to it, to leeward
    phase: np.ndarray  # (N, LANES) [rad]
    swing: np.ndarray  # (N, LANES) [-] amplitude in the lane's realisation over the mean one, 1 when fixed
    project: np.ndarray  # (rank, 2 N) [-] components to shapes
    hull: SeaPart  # of hull and boat, HULL_HEADINGS terms
    nodes: SeaPart  # of the lateral nodes, STRIP_HEADINGS terms
    group_start: np.ndarray  # (groups,) int64, first row of each surface group among the nodes'
    group_nodes: np.ndarray  # (groups,) int64, lateral nodes of each group
    strip_group: np.ndarray  # (strips,) int64
    strip_weight: np.ndarray  # (strips, nodes, LANES) [-] lateral interpolation
    orbital: float  # [-] 1, or 0 to leave orbital flow at the strips out
    rated: np.ndarray  # (wave rows,) bool, as `rated_wave_rows` has it


class Course(NamedTuple):
    """Where the boats are and how they move over the sea at one instant; arrays (LANES,)."""

    ahead: np.ndarray  # [m] along the heading steered for
    aside: np.ndarray  # [m] square to it, to leeward
    heading: np.ndarray  # [rad] off it, bow to leeward
    ahead_rate: np.ndarray  # [m/s]
    aside_rate: np.ndarray  # [m/s]
    turn: np.ndarray  # [rad/s]


@compiled
def strip_wave_row(stations, strip):
    """First wave row [-] of strip number `strip`, after those of a hull of so many `stations` and of the boat."""
    return HULL_WAVE_ROWS * stations + BOAT_WAVE_ROWS + STRIP_WAVE_ROWS * strip


def wave_row_count(stations, strips):
    """Number of wave rows a lane needs for so many hull `stations` and lifting `strips`."""
    return HULL_WAVE_ROWS * stations + BOAT_WAVE_ROWS + STRIP_WAVE_ROWS * strips


def rated_wave_rows(stations, strips):
    """Whether the rate of each wave row is read too, (rows,) bool.

    That of elevation, rise and sideways velocity at the hull's `stations`, of the surface and the normal velocity at
    the `strips`.
    """
    station = np.isin(np.arange(HULL_WAVE_ROWS), (W_ELEVATION, W_RISE, W_SIDE))
    strip = np.arange(STRIP_WAVE_ROWS) < 1 + DEPTH_TERMS
    return np.concatenate([np.tile(station, stations), np.zeros(BOAT_WAVE_ROWS, dtype=bool), np.tile(strip, strips)])

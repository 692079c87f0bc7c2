"""First bending mode of the curved foil outside the hull, dry or wet, on bearings that let the root turn."""

from typing import NamedTuple

import numpy as np
from scipy.interpolate import CubicSpline, PchipInterpolator

CELLS = 240  # along the span; the frequency of a uniform cantilever is then within 1e-5
ITERATIONS = 60


class FirstMode(NamedTuple):
    """First bending mode, scaled to a normal displacement of 1 at the tip. n strips."""

    shape_normal: np.ndarray  # (n,) [-] along each strip's own normal, at the middle
    shape_y: np.ndarray  # (n,) [-] to leeward, upright boat
    shape_z: np.ndarray  # (n,) [-] up
    modal_mass: float  # [kg] with the added mass given, if any
    stiffness: float  # [N/m] from the strain energy, bearings included
    omega: float  # [rad/s]
    moment_per_unit: np.ndarray  # (n+1,) [N m per m] EI x curvature at the strip edges


class _Cells(NamedTuple):
    """Fine cells of the span: tangents and masses at the middle, EI at the edges."""

    ds: float
    t_y: np.ndarray
    t_z: np.ndarray
    y_edge: np.ndarray
    z_edge: np.ndarray
    y: np.ndarray
    z: np.ndarray
    ei_edge: np.ndarray
    mass: np.ndarray
    added: np.ndarray


def root_flexibility(bearing_distance, rigidity_at_bearing):
    """Turn of the foil at the lower bearing per moment there [rad/(N m)]: d / (3 EI).

    `bearing_distance` d [m], `rigidity_at_bearing` EI [N m2]. The part between two bearings that hold only sideways
    bends like a beam with a moment at one end (common beam theory); its EI is taken as that of the material at the
    bearing.
    """
    return bearing_distance / (3.0 * rigidity_at_bearing)


def _fine_cells(s_edge, y_edge, z_edge, rigidity, mass_per_length, added_mass_per_length):
    """(`_Cells`, fine edges, fine middles [m]): places by cubic splines, EI and masses monotone.

    `s_edge`, `y_edge`, `z_edge` (n+1,) [m], `rigidity` (n+1,) [N m2], `mass_per_length` and `added_mass_per_length`
    (n,) [kg/m]. Splines as in any text on numerical analysis.
    """
    s_edge = np.asarray(s_edge, dtype=float)
    s_mid = 0.5 * (s_edge[1:] + s_edge[:-1])
    fine = np.linspace(s_edge[0], s_edge[-1], CELLS + 1)
    mid = 0.5 * (fine[1:] + fine[:-1])
    y_of, z_of = CubicSpline(s_edge, y_edge), CubicSpline(s_edge, z_edge)
    t_y, t_z = y_of(mid, 1), z_of(mid, 1)
    size = np.hypot(t_y, t_z)
    t_y, t_z = t_y / size, t_z / size

    def over_mids(values):
        values = np.broadcast_to(np.asarray(values, dtype=float), s_mid.shape)
        return np.maximum(PchipInterpolator(s_mid, values, extrapolate=True)(mid), 0.0)

    rigidity = np.broadcast_to(np.asarray(rigidity, dtype=float), s_edge.shape)
    ds = fine[1] - fine[0]
    y_fine = np.concatenate(([0.0], np.cumsum(t_y * ds)))
    z_fine = np.concatenate(([0.0], np.cumsum(t_z * ds)))
    return _Cells(
        ds, t_y, t_z, y_fine, z_fine, 0.5 * (y_fine[1:] + y_fine[:-1]), 0.5 * (z_fine[1:] + z_fine[:-1]),
        PchipInterpolator(s_edge, rigidity)(fine), over_mids(mass_per_length),
        over_mids(added_mass_per_length),
    ), fine, mid  # fmt: skip


def _moment_at_edges(cells, load_y, load_z):
    """Moment at the fine edges [N m] from loads per length `load_y`, `load_z` (m,) [N/m] on the `cells` outboard."""

    def outboard(values):
        return np.concatenate((np.cumsum((values * cells.ds)[::-1])[::-1], [0.0]))

    turning = outboard(cells.y * load_z - cells.z * load_y)
    return turning - cells.y_edge * outboard(load_z) + cells.z_edge * outboard(load_y)


def _displacement(cells, moment, flexibility):
    """Displacement (y, z) [m] of the middles of `cells` under a `moment` line (m+1,) [N m], and its steps over the
    cells.

    `flexibility` [rad/(N m)] of the root. Turn = integral of M/EI; shift = turn x normal (beam theory, any text).
    """
    curvature = moment / cells.ei_edge
    turn = flexibility * moment[0] + np.concatenate(
        ([0.0], np.cumsum(0.5 * cells.ds * (curvature[1:] + curvature[:-1])))
    )
    turn_mid = 0.5 * (turn[1:] + turn[:-1])
    step_y, step_z = -turn_mid * cells.t_z * cells.ds, turn_mid * cells.t_y * cells.ds
    return np.cumsum(step_y) - 0.5 * step_y, np.cumsum(step_z) - 0.5 * step_z, step_y, step_z


def first_mode(
    s_edge, y_edge, z_edge, rigidity, mass_per_length, root_flexibility, added_mass_per_length=0.0
):
    """First in-plane bending mode of the curved, inextensible foil outside the hull, as `FirstMode`.

    `s_edge`, `y_edge`, `z_edge` (n+1,) [m] strip edges in the upright boat; `rigidity` (n+1,) [N m2]
    EI at the edges; `mass_per_length` (n,) [kg/m] moves with the foil in both directions;
    `root_flexibility` [rad/(N m)] turn at the bearing per moment; `added_mass_per_length` (n,) [kg/m]
    counts for the normal component only. Inverse (Stodola) iteration: inertia load -> moment ->
    curvature -> displacement, until the shape repeats; frequency by Rayleigh's quotient.
    """
    cells, fine, mid = _fine_cells(s_edge, y_edge, z_edge, rigidity, mass_per_length, added_mass_per_length)
    shape_y, shape_z = -cells.t_z * (mid - fine[0]) ** 2, cells.t_y * (mid - fine[0]) ** 2
    square = last = 0.0
    for _ in range(ITERATIONS):
        normal = -cells.t_z * shape_y + cells.t_y * shape_z
        load_y = cells.mass * shape_y - cells.added * normal * cells.t_z
        load_z = cells.mass * shape_z + cells.added * normal * cells.t_y
        moment = _moment_at_edges(cells, load_y, load_z)
        new_y, new_z, step_y, step_z = _displacement(cells, moment, root_flexibility)
        square = np.sum(load_y * shape_y + load_z * shape_z) / np.sum(load_y * new_y + load_z * new_z)
        tip_y, tip_z = new_y[-1] + 0.5 * step_y[-1], new_z[-1] + 0.5 * step_z[-1]
        tip = -cells.t_z[-1] * tip_y + cells.t_y[-1] * tip_z
        shape_y, shape_z = new_y / tip, new_z / tip
        if abs(square - last) <= 1e-13 * square:
            break
        last = square
    return _collect(cells, fine, mid, shape_y, shape_z, moment / tip, root_flexibility, np.asarray(s_edge))


def modal_mass(mode, mass_per_length, length):
    """Modal mass of a `mode` (`FirstMode`) in air [kg]; `mass_per_length` (n,) [kg/m] and `length` (n,) [m] of the
    strips. Definition.
    """
    return float(np.sum(mass_per_length * (mode.shape_y**2 + mode.shape_z**2) * length))


def modal_damping(ratio, stiffness, mass):
    """Damping of a mode [kg/s] from its share of critical: 2 zeta sqrt(k m), in any text on vibration.

    `ratio` zeta [-], `stiffness` k [N/m], `mass` m [kg].
    """
    return 2.0 * ratio * np.sqrt(stiffness * mass)


def _collect(cells, fine, mid, shape_y, shape_z, moment, flexibility, s_edge):
    """Scale-free mode on the fine cells to `FirstMode` on the strips.

    `cells`, `fine`, `mid` as `_fine_cells` gives them; `shape_y`, `shape_z` (m,) [-], `moment` (m+1,) [N m per m],
    `flexibility` [rad/(N m)] of the root, `s_edge` (n+1,) [m] of the strips. Means over each strip (definition).
    """
    normal = -cells.t_z * shape_y + cells.t_y * shape_z
    modal_mass = cells.ds * np.sum(cells.mass * (shape_y**2 + shape_z**2) + cells.added * normal**2)
    bent = moment**2 / cells.ei_edge
    stiffness = cells.ds * (np.sum(bent) - 0.5 * (bent[0] + bent[-1])) + flexibility * moment[0] ** 2
    s_mid = 0.5 * (s_edge[1:] + s_edge[:-1])
    return FirstMode(
        np.interp(s_mid, mid, normal), np.interp(s_mid, mid, shape_y), np.interp(s_mid, mid, shape_z),
        float(modal_mass), float(stiffness), float(np.sqrt(stiffness / modal_mass)),
        np.interp(s_edge, fine, moment),
    )  # fmt: skip

"""Loads on hull and strips of one boat at one instant, station by station and strip by strip, in plain Python.

The formulas of the rooms are called with plain floats; how they are put together is written here a second time.
"""

from dataclasses import dataclass, field

import numpy as np

from seaload.boat.hull_section import hull_section_load, section_shape
from seaload.boat.resistance import buried_bow_area
from seaload.foil import lag_states as lag
from seaload.foil import strip_load as formula
from seaload.simulation import layout as L

LEAST_SPEED = 1.0  # [m/s]


@dataclass
class Loads:
    """Sums over the boat, and what is kept of each strip."""

    heave: float = 0.0
    pitch: float = 0.0
    roll: float = 0.0
    surge: float = 0.0
    hull_lift: float = 0.0
    buried: float = 0.0
    side: float = 0.0
    yaw: float = 0.0
    added: np.ndarray = field(default_factory=lambda: np.zeros((5, 5)))  # heave, pitch, roll, sway, yaw
    mode_force: float = 0.0
    mode_mass: float = 0.0
    mode_damping: float = 0.0
    mode_inertia: np.ndarray = field(default_factory=lambda: np.zeros(5))
    strips: list = field(default_factory=list)


def add_hull(loads, boat, hull, rigid, waves, density, gravity):
    """Hull stations from the transom forward; `hull` (stations, rows), `boat` {name: value}, `rigid` {name: value}."""
    elevation, rise, acceleration, slope, elevation_rate, rise_rate = waves.hull()
    side_slope, side_water, side_water_rate = waves.beside()
    side, u = boat["hull_arm_y"], rigid["speed"]
    for i, row in enumerate(hull):
        x, dx = row[L.H_X], row[L.H_DX]
        beam, chine = row[L.H_BEAM], row[L.H_INVERSE_CHINE]
        up = rigid["heave_rate"] + x * rigid["pitch_rate"] - side * rigid["roll_rate"]
        height = rigid["heave"] + x * rigid["pitch"] - side * rigid["roll"] + row[L.H_Z]
        up += boat["hull_damping_more"] * (up - rise[i])
        immersion = elevation[i] - height
        keel_slope = rigid["pitch"] + row[L.H_SLOPE]
        entry = u * keel_slope - up + rise[i]
        entry_rate = u * rigid["pitch_rate"] + rise_rate[i]
        force, momentum, added = hull_section_load(
            immersion, elevation_rate[i] - up, entry, entry_rate, rise[i] - up, acceleration[i], chine, beam,
            boat["fullness"], boat["pile_up"], boat["added_mass_factor"], boat["drag_factor"],
            boat["buoyancy_factor"], density, row[L.H_RADIATION],
        )  # fmt: skip
        area = section_shape(immersion, chine, beam, boat["fullness"])[2]
        relief, relief_slope = row[L.H_RELIEF], row[L.H_RELIEF_SLOPE]
        stern = {0: 1.5, 1: -0.5}.get(i, 0.0) * boat["stern_share"]
        carried = added * entry * u
        lift = (force - (1.0 - relief) * momentum) * dx + carried * (relief_slope * dx + stern)
        loads.hull_lift += lift
        loads.pitch += x * lift + carried * relief * dx
        aft = max(relief * momentum, 0.0) * max(keel_slope, 0.0) * dx + density * gravity * area * slope[i] * dx
        loads.surge -= aft
        arm = np.array([1.0, x, -side, 0.0, 0.0])
        loads.added += relief * added * dx * np.outer(arm, arm)
        draught = max(immersion, 0.0)
        swaying = boat["sway_factor"] * draught**2
        drift = rigid["sway"] + x * rigid["yaw_rate"] - side_water[i]
        growth = 2.0 * boat["sway_factor"] * draught * (elevation_rate[i] - up)
        shed = {0: 1.5, 1: -0.5}.get(i, 0.0) * swaying * u * drift
        pushed = swaying * side_water_rate[i] - max(growth, 0.0) * drift - density * gravity * area * side_slope[i]
        loads.side += pushed * dx - shed
        loads.yaw += x * (pushed * dx - shed) - swaying * u * drift * dx + side * aft
        arm = np.array([0.0, 0.0, 0.0, 1.0, x])
        loads.added += swaying * dx * np.outer(arm, arm)
        loads.buried += buried_bow_area(immersion, beam, dx, x, boat["plunge_depth"], boat["bow_from_cg"])


def strip_inflow(row, rigid, mode_rate, surface, axial_of, rudder):
    """Depth, speed along the chord, normals, own motion and set angle of one strip as a dict."""
    x, y, z, ny, nz = (row[i] for i in (L.S_X, L.S_Y, L.S_Z, L.S_NY, L.S_NZ))
    roll = rigid["roll"]
    up = rigid["heave_rate"] + x * rigid["pitch_rate"] - y * rigid["roll_rate"]
    speed = max(rigid["speed"] - y * rigid["yaw_rate"] - axial_of, LEAST_SPEED)
    ny_now, nz_now = ny + nz * roll, nz - ny * roll
    drift = rigid["sway"] + x * rigid["yaw_rate"]
    body = ny * z * rigid["roll_rate"] + nz * up + ny_now * drift + row[L.S_SHAPE] * mode_rate
    angle = row[L.S_INCIDENCE] + rudder + rigid["pitch"] * nz_now
    return dict(
        depth=surface - (rigid["heave"] + x * rigid["pitch"] - y * roll + z),
        up=up, speed=speed, ny=ny_now, nz=nz_now, body=body, motion=speed * angle - body,
    )  # fmt: skip


def limited_lift(row, asked, depth, speed, memory, water):
    """(lift coefficient, demand over the normal limit, over the reverse one) of one strip."""
    sigma = formula.cavitation_number(
        depth, speed, water["ambient"], water["density"] * water["gravity"], water["density"]
    )
    top = formula.lift_limit(row[L.S_CL_MAX], row[L.S_CAV_N0], row[L.S_CAV_N1], sigma)
    low = formula.lift_limit(-row[L.S_CL_MIN], row[L.S_CAV_R0], row[L.S_CAV_R1], sigma)
    top_now = top + (min(row[L.S_VENT], top) - top) * memory[0]
    low_now = low + (min(row[L.S_VENT], low) - low) * memory[1]
    lift = formula.soft_limited(asked, top_now if asked >= 0.0 else low_now)
    return lift, asked / max(top, 0.05), -asked / max(low, 0.05)


def shares(level, top):
    """[(wet state, its share)] of the two on either side of a `level` in states above the lowest."""
    held = min(max(level, 0.0), top)
    lower = min(int(held), int(top) - 1)
    return [(lower, 1.0 - (held - lower)), (lower + 1, held - lower)]


@dataclass
class Spans:
    """Matrices of foil, keel fin and rudder of one lane, and what they made of the wakes at the start of the step."""

    states: np.ndarray  # (wet states, 2 n, n)
    level: np.ndarray  # (4,)
    fixed: tuple  # of the matrices (2 m, m) of keel fin and rudder
    lift: np.ndarray = None  # (strips,) [m/s]
    wash: np.ndarray = None
    lift_rate: np.ndarray = None
    wash_rate: np.ndarray = None

    def apply(self, height, past, rate):
        """Have all matrices answer to what the strips' wakes recall, `past` [m/s], and to its rate."""
        above = (height - self.level[0]) * self.level[1]
        foil = sum(share * self.states[k] for k, share in shares(above, self.level[2]))
        out, at = [], 0
        for matrix in (foil, *self.fixed):
            here = slice(at, at + matrix.shape[1])
            lift, wash = matrix[::2], matrix[1::2]
            out.append([lift @ past[here], wash @ past[here], lift @ rate[here], wash @ rate[here]])
            at = here.stop
        self.lift, self.wash, self.lift_rate, self.wash_rate = (np.concatenate(each) for each in zip(*out, strict=True))


def wake_of(boat, row, rigid, mode_rate, lags, flow, rudder):
    """(rates of the four lag states, what the wake recalls, its rate, what acts beyond it, inflow) of one strip."""
    surface, surface_rate, gust, _, axial = flow
    s = strip_inflow(row, rigid, mode_rate, surface, axial, rudder)
    s["motion"] -= s["speed"] * row[L.S_ZERO_LIFT]
    s["deepening"] = surface_rate - s["up"]
    shares_decays = (
        (lag.WAGNER_A1, lag.WAGNER_B1), (lag.WAGNER_A2, lag.WAGNER_B2),
        (lag.KUESSNER_A1, lag.KUESSNER_B1), (lag.KUESSNER_A2, lag.KUESSNER_B2),
    )  # fmt: skip
    drive = (s["motion"], s["motion"], gust, gust)
    semichords = 2.0 * s["speed"] / row[L.S_CHORD]
    rates = np.array(
        [
            lag.lag_rate(z, share, decay + row[L.S_WAKE], w, semichords)
            for z, (share, decay), w in zip(lags, shares_decays, drive, strict=True)
        ]
    )
    on = boat["lag"]
    past = on * 2.0 * lags[:3].sum() + (1.0 - on) * (s["motion"] + gust)
    beyond = s["motion"] + on * 2.0 * lags[3] + (1.0 - on) * gust - past
    return rates, past, on * 2.0 * rates[:3].sum(), beyond, s


def add_strip(loads, boat, row, rigid, memory, water, flow, s, span):
    """One strip of a lifting surface. `flow` (surface [m], its rate [m/s], normal velocity [m/s], its rate [m/s2],
    axial velocity [m/s]); `s` its inflow; `span` (velocity beyond the wake's, after the span's influence, half the
    far wash) [m/s].
    """
    gust, gust_rate = flow[2:4]
    density, gravity = water["density"], water["gravity"]
    chord, length, shape = row[L.S_CHORD], row[L.S_LENGTH], row[L.S_SHAPE]
    depth, speed, motion = s["depth"], s["speed"], s["motion"] + s["speed"] * row[L.S_ZERO_LIFT]
    wet = formula.wet_share(depth, row[L.S_HALF_WIDTH])
    wetting = formula.wet_share_slope(depth, row[L.S_HALF_WIDTH]) * s["deepening"]
    near = formula.surface_factor(depth, chord)
    beyond, answered, wash = span
    angle = formula.inflow_angle(near * (0.5 * beyond + answered), speed)
    asked = row[L.S_SLOPE] * angle + row[L.S_STEADY]
    lift, normal_demand, reverse_demand = limited_lift(row, asked, depth, speed, memory, water)
    pressure = 0.5 * density * speed**2 * chord
    heavy = boat["fast_added_mass"] * row[L.S_ADDED] * wet
    fast = heavy * (speed * rigid["pitch_rate"] * row[L.S_NZ] + gust_rate)
    fast += boat["fast_added_mass"] * 0.5 * row[L.S_ADDED] * max(wetting, 0.0) * (motion + gust)
    circulatory = pressure * lift * wet
    normal = (circulatory + fast) * length
    drag = pressure * wet * (row[L.S_PROFILE] + row[L.S_INDUCED] * wash / speed * lift) * length
    buoyancy = row[L.S_BUOYANCY] * wet * length
    fx = circulatory * length * (gust - s["body"]) / speed - drag
    fz, fy = normal * s["nz"] + buoyancy, normal * s["ny"]
    x, y, z = row[L.S_X], row[L.S_Y], row[L.S_Z]
    loads.heave += fz
    loads.pitch += x * fz - z * fx
    rolled = y + rigid["roll"] * z
    loads.roll += normal * (z * row[L.S_NY] - y * row[L.S_NZ]) - buoyancy * rolled
    loads.surge += fx
    loads.side += fy
    loads.yaw += x * fy - y * fx
    ny, nz = row[L.S_NY], row[L.S_NZ]
    reach = np.array([nz, nz * x, z * ny - y * nz, ny, ny * x])
    mass, own = heavy * length, row[L.S_MASS] * length
    loads.added += mass * np.outer(reach, reach)
    hung = buoyancy - own * gravity
    flung = own * ny * rigid["speed"] * rigid["yaw_rate"]
    loads.mode_force += shape * (normal - flung + hung * s["nz"])
    loads.mode_mass += shape**2 * mass
    loads.mode_damping += shape**2 * length * 0.25 * density * speed * chord * row[L.S_SLOPE] * near * wet
    loads.mode_inertia += shape * (mass + own) * reach
    kept = dict(normal=normal - flung, mass=mass + own, hung=hung, wet=wet, speed=speed)
    kept.update(demand=(normal_demand, reverse_demand), depth=depth)
    loads.strips.append(kept)

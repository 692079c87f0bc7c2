"""Kernel: loads of all lifting strips, foil, keel fin and rudder alike, and the rates of their wakes, at one instant.

A strip goes through five steps: where it is and what flows past it, its memory of the wake, what its span gives it
(`span_stage`), the lift it can have, its forces on boat and bending mode. The limits of its section (stall, cavitation,
ventilation) come after the span's matrix: a strip at its limit still acts on its neighbours as if it had none, an
approximation.
"""

from typing import NamedTuple

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.foil.lag_states import (
    KUESSNER_A1,
    KUESSNER_A2,
    KUESSNER_B1,
    KUESSNER_B2,
    WAGNER_A1,
    WAGNER_A2,
    WAGNER_B1,
    WAGNER_B2,
    lag_rate,
)
from seaload.foil.strip_axes import rolled_normal, rolled_place, set_angle
from seaload.foil.strip_load import (
    cavitation_number,
    fast_load,
    flow_damping,
    forward_lean,
    inflow_angle,
    lift_limit,
    soft_limited,
    strip_drag,
    surface_factor,
    wet_share,
    wet_share_slope,
)
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.span_stage import felt_by, remember, span_answers

B_LAG, B_FAST = BOAT["lag"], BOAT["fast_added_mass"]
LEAST_SPEED = 1.0  # [m/s] along a chord; below it angles of inflow mean nothing
LEAST_LIMIT = 0.05  # [-] of a lift coefficient, where a demand is told as a share of it


class Place(NamedTuple):
    """Where a strip is: from the centre of gravity, and its normal at the mean heel."""

    x: float  # [m] forward
    y: float  # [m] to leeward
    z: float  # [m] up
    ny: float  # [-]
    nz: float  # [-]


class Force(NamedTuple):
    """What a strip gives the boat."""

    forward: float  # [N]
    leeward: float  # [N]
    up: float  # [N]
    rolling: float  # [N m] leeward side down; its lift keeps its lever, for both turn with the boat


class Inflow(NamedTuple):
    """The water that a strip meets."""

    depth: float  # [m] of its middle
    wet: float  # [-] share of it
    wetting: float  # [1/s] rate of that share
    deepening: float  # [m/s] rate of the depth
    speed: float  # [m/s] along the chord
    body: float  # [m/s] of the strip along its normal
    motion: float  # [m/s] normal velocity past it by the boat's motion and its own angle from zero lift
    gust: float  # [m/s] normal velocity by the waves
    gust_rate: float  # [m/s2]


class Lift(NamedTuple):
    """Lift of a strip as it asks and as it gets."""

    angle: float  # [rad] felt, from zero lift
    slope: float  # [1/rad] now
    wash: float  # [rad] half the angle of the far wake
    asked: float  # [-] coefficient without limits
    got: float  # [-] with them
    top: float  # [-] limit on the design side
    low: float  # [-] on the reverse side


@compiled
def place_of(strip, base, lane):
    """`Place` of the strip whose rows begin at `base` of `strip` (flat), in a `lane`."""
    return Place(
        strip[at(base + L.S_X, lane)],
        strip[at(base + L.S_Y, lane)],
        strip[at(base + L.S_Z, lane)],
        strip[at(base + L.S_NY, lane)],
        strip[at(base + L.S_NZ, lane)],
    )


@compiled
def wave_flow(wave, rate, row, share, lane):
    """(normal velocity [m/s], its rate [m/s2], axial velocity [m/s]) that the waves make at one depth.

    `wave` and `rate` flat, `row` of the strip's surface in them, `share` [-] of the depth scale.
    """
    gust = 0.0
    gust_rate = 0.0
    axial = 0.0
    for p in range(L.DEPTH_TERMS - 1, -1, -1):
        gust = gust * share + wave[at(row + 1 + p, lane)]
        gust_rate = gust_rate * share + rate[at(row + 1 + p, lane)]
        axial = axial * share + wave[at(row + 1 + L.DEPTH_TERMS + p, lane)]
    return gust, gust_rate, axial


@compiled
def inflow_of(march, strip, state, place, s, lane):
    """`Inflow` of strip number `s` at its `place`; `march` and `state` as in `strip_loads`, its `strip` flat."""
    rigid = state.rigid
    wave, rate = state.wave, state.rate
    base, row = L.STRIP_ROWS * s, L.strip_wave_row(march.hull.shape[0], s)
    on_rudder = 1.0 if s >= march.foil_strips + march.keel_span.shape[1] else 0.0
    x, y, z, ny, nz = place
    roll = rigid[at(L.ROLL, lane)]
    rise = rigid[at(L.HEAVE_RATE, lane)] + x * rigid[at(L.PITCH_RATE, lane)] - y * rigid[at(L.ROLL_RATE, lane)]
    depth = wave[at(row, lane)] - (rigid[at(L.HEAVE, lane)] + x * rigid[at(L.PITCH, lane)] - y * roll + z)
    share = min(max(depth / march.depth_scale, 0.0), 1.0)
    gust, gust_rate, axial = wave_flow(wave, rate, row, share, lane)
    half_width = strip[at(base + L.S_HALF_WIDTH, lane)]
    wet = wet_share(depth, half_width)
    deepening = rate[at(row, lane)] - rise
    wetting = wet_share_slope(depth, half_width) * deepening
    turn = rigid[at(L.YAW_RATE, lane)]
    speed = max(rigid[at(L.SPEED, lane)] - y * turn - axial, LEAST_SPEED)
    ny_now, nz_now = rolled_normal(ny, nz, roll)
    bending = strip[at(base + L.S_SHAPE, lane)] * state.mode[at(L.MODE_RATE, lane)]
    drift = rigid[at(L.SWAY, lane)] + x * turn
    body = ny * z * rigid[at(L.ROLL_RATE, lane)] + nz * rise + ny_now * drift + bending
    turned = strip[at(base + L.S_INCIDENCE, lane)] + on_rudder * rigid[at(L.RUDDER, lane)]
    angle = set_angle(turned, rigid[at(L.PITCH, lane)], nz_now)
    motion = speed * (angle - strip[at(base + L.S_ZERO_LIFT, lane)]) - body
    return Inflow(depth, wet, wetting, deepening, speed, body, motion, gust, gust_rate)


@compiled
def leave_inflow(state, flow, s, lane):
    """Leave the `flow` of strip number `s` in its rows of `inflow` and `out` of a `state` (a LoadState)."""
    inflow, out, first, left = state.inflow, state.out, L.INFLOW_ROWS * s, L.STRIP_OUT_ROWS * s
    inflow[at(first + L.F_DEPTH, lane)] = flow.depth
    inflow[at(first + L.F_WET, lane)] = flow.wet
    inflow[at(first + L.F_WETTING, lane)] = flow.wetting
    inflow[at(first + L.F_DEEPENING, lane)] = flow.deepening
    inflow[at(first + L.F_SPEED, lane)] = flow.speed
    inflow[at(first + L.F_BODY, lane)] = flow.body
    inflow[at(first + L.F_MOTION, lane)] = flow.motion
    inflow[at(first + L.F_GUST, lane)] = flow.gust
    inflow[at(first + L.F_GUST_RATE, lane)] = flow.gust_rate
    out[at(left + L.O_WET, lane)] = flow.wet
    out[at(left + L.O_SPEED, lane)] = flow.speed
    out[at(left + L.O_MOTION, lane)] = flow.motion
    out[at(left + L.O_DEPTH, lane)] = flow.depth


@compiled
def left_inflow(inflow, s, lane):
    """The `Inflow` of strip number `s` that `leave_inflow` left in `inflow`, rows as in `layout`."""
    first = L.INFLOW_ROWS * s
    return Inflow(
        inflow[at(first + L.F_DEPTH, lane)],
        inflow[at(first + L.F_WET, lane)],
        inflow[at(first + L.F_WETTING, lane)],
        inflow[at(first + L.F_DEEPENING, lane)],
        inflow[at(first + L.F_SPEED, lane)],
        inflow[at(first + L.F_BODY, lane)],
        inflow[at(first + L.F_MOTION, lane)],
        inflow[at(first + L.F_GUST, lane)],
        inflow[at(first + L.F_GUST_RATE, lane)],
    )


@compiled
def lift_of(march, strip, state, flow, since, s, lane):
    """`Lift` of strip number `s` in its `flow`: what the span gives it, then the limits of its sections.

    `march`, `state` and `since` as in `strip_loads`, `strip` flat.
    """
    memory, density, base = state.memory, march.density, L.STRIP_ROWS * s
    near = surface_factor(flow.depth, strip[at(base + L.S_CHORD, lane)])
    felt = felt_by(state, s, near, since, lane)
    angle = inflow_angle(felt.velocity, flow.speed)
    slope = strip[at(base + L.S_SLOPE, lane)]
    asked = slope * angle + strip[at(base + L.S_STEADY, lane)]
    wash = strip[at(base + L.S_INDUCED, lane)] * felt.wash / flow.speed
    sigma = cavitation_number(flow.depth, flow.speed, march.ambient, density * march.gravity, density)
    floor_n, slope_n = strip[at(base + L.S_CAV_N0, lane)], strip[at(base + L.S_CAV_N1, lane)]
    floor_r, slope_r = strip[at(base + L.S_CAV_R0, lane)], strip[at(base + L.S_CAV_R1, lane)]
    top = lift_limit(strip[at(base + L.S_CL_MAX, lane)], floor_n, slope_n, sigma)
    low = lift_limit(-strip[at(base + L.S_CL_MIN, lane)], floor_r, slope_r, sigma)
    vent = strip[at(base + L.S_VENT, lane)]
    top_now = top + (min(vent, top) - top) * memory[at(2 * s + 0, lane)]
    low_now = low + (min(vent, low) - low) * memory[at(2 * s + 1, lane)]
    got = soft_limited(asked, top_now if asked >= 0.0 else low_now)
    return Lift(angle, slope * near, wash, asked, got, top, low)


@compiled
def add_forces(march, strip, boat, state, place, flow, lift, s, lane):
    """Add the forces of strip number `s` to the totals of boat and bending mode, and leave what is read of it.

    `place`, `flow`, `lift` of the strip; `march` and `state` as in `strip_loads`, their `strip` and `boat` flat.
    """
    total, out = state.total, state.out
    base, left, density = L.STRIP_ROWS * s, L.STRIP_OUT_ROWS * s, march.density
    x, y, z, ny, nz = place
    speed, wet = flow.speed, flow.wet
    chord = strip[at(base + L.S_CHORD, lane)]
    length = strip[at(base + L.S_LENGTH, lane)]
    shape = strip[at(base + L.S_SHAPE, lane)]
    fast = boat[at(B_FAST, lane)]
    full = strip[at(base + L.S_ADDED, lane)]
    profile = strip[at(base + L.S_PROFILE, lane)]
    past = flow.motion + speed * strip[at(base + L.S_ZERO_LIFT, lane)] + flow.gust
    lightness = strip[at(base + L.S_BUOYANCY, lane)] * wet
    own = strip[at(base + L.S_MASS, lane)]
    roll = state.rigid[at(L.ROLL, lane)]
    ny_now, nz_now = rolled_normal(ny, nz, roll)
    pressure = 0.5 * density * speed * speed * chord
    circulatory = pressure * lift.got * wet
    heavy = full * wet
    added = fast * fast_load(
        heavy, full, speed, state.rigid[at(L.PITCH_RATE, lane)], nz, flow.gust_rate, flow.wetting,
        past,
    )  # fmt: skip
    normal = (circulatory + added) * length
    drag = strip_drag(pressure, wet, profile, lift.got, lift.wash, length)
    fx = forward_lean(circulatory, length, flow.gust, flow.body, speed) - drag
    fz = normal * nz_now + lightness * length
    fy = normal * ny_now
    rolling = normal * (z * ny - y * nz) - lightness * length * rolled_place(y, z, roll)
    mass = fast * heavy * length
    arm = z * ny - y * nz
    hung = (lightness - own * march.gravity) * length
    inert = mass + own * length
    flung = own * length * ny * state.rigid[at(L.SPEED, lane)] * state.rigid[at(L.YAW_RATE, lane)]
    add_to_boat(total, place, Force(fx, fy, fz, rolling), 1.0 if s < march.foil_strips else 0.0, lane)
    add_mass(total, place, mass, lane)
    total[at(L.T_MODE_FORCE, lane)] += shape * (normal - flung + hung * nz_now)
    total[at(L.T_MODE_MASS, lane)] += shape * shape * mass
    total[at(L.T_MODE_DAMPING, lane)] += flow_damping(shape, length, density, speed, chord, lift.slope, wet)
    total[at(L.T_MODE_G1, lane)] += shape * inert * nz
    total[at(L.T_MODE_G2, lane)] += shape * inert * nz * x
    total[at(L.T_MODE_G3, lane)] += shape * inert * arm
    total[at(L.T_MODE_G4, lane)] += shape * inert * ny
    total[at(L.T_MODE_G5, lane)] += shape * inert * ny * x
    out[at(left + L.O_NORMAL, lane)] = normal - flung
    out[at(left + L.O_MASS, lane)] = inert
    out[at(left + L.O_VERTICAL, lane)] = hung
    out[at(left + L.O_FORWARD, lane)] = fx
    leave_lift(out, lift, left, lane)


@compiled
def add_to_boat(total, place, force, on_foil, lane):
    """Add a strip's `force` to the boat's rows of `total` (flat), of one lane.

    `place` of the strip, `on_foil` [-] 1 for a strip of the foil, else 0.
    """
    x, y, z, _, _ = place
    fx, fy, fz, rolling = force
    total[at(L.T_FZ, lane)] += fz
    total[at(L.T_MPITCH, lane)] += x * fz - z * fx
    total[at(L.T_MROLL, lane)] += rolling
    total[at(L.T_FY, lane)] += fy
    total[at(L.T_MYAW, lane)] += x * fy - y * fx
    total[at(L.T_FX, lane)] += fx
    total[at(L.T_FOIL_FZ, lane)] += on_foil * fz
    total[at(L.T_FOIL_RM, lane)] -= on_foil * rolling
    total[at(L.T_FOIL_FX, lane)] += on_foil * fx


@compiled
def add_mass(total, place, mass, lane):
    """Add a strip's added `mass` [kg] along its normal to the boat's rows of `total` (flat), of one lane.

    `place` of the strip. Its share in two freedoms is the mass times how far the normal moves with either (mechanics).
    """
    x, y, z, ny, nz = place
    bow, lean, turn = nz * x, z * ny - y * nz, ny * x  # of the normal, by pitch, roll and yaw
    total[at(L.T_A22, lane)] += mass * ny * ny
    total[at(L.T_A23, lane)] += mass * ny * nz
    total[at(L.T_A24, lane)] += mass * ny * lean
    total[at(L.T_A25, lane)] += mass * ny * bow
    total[at(L.T_A26, lane)] += mass * ny * turn
    total[at(L.T_A33, lane)] += mass * nz * nz
    total[at(L.T_A34, lane)] += mass * nz * lean
    total[at(L.T_A35, lane)] += mass * nz * bow
    total[at(L.T_A36, lane)] += mass * nz * turn
    total[at(L.T_A44, lane)] += mass * lean * lean
    total[at(L.T_A45, lane)] += mass * lean * bow
    total[at(L.T_A46, lane)] += mass * lean * turn
    total[at(L.T_A55, lane)] += mass * bow * bow
    total[at(L.T_A56, lane)] += mass * bow * turn
    total[at(L.T_A66, lane)] += mass * turn * turn


@compiled
def leave_lift(out, lift, left, lane):
    """Leave the `lift` of a strip in its rows of `out` (flat), which begin at `left`."""
    out[at(left + L.O_DEMAND_N, lane)] = lift.asked / max(lift.top, LEAST_LIMIT)
    out[at(left + L.O_DEMAND_R, lane)] = -lift.asked / max(lift.low, LEAST_LIMIT)
    out[at(left + L.O_ANGLE, lane)] = lift.angle


@compiled
def advance_lag(state, row, rate, weight, ahead, last, lane):
    """One lag state, `row` of a `state`, within the Runge-Kutta stage; its `rate` [m/s2].

    `weight`, `ahead` [s], `last` as in `strip_loads`.
    """
    sum_ = state.lag_sums[at(row, lane)] + weight * rate
    state.lag_sums[at(row, lane)] = sum_
    state.lags[at(row, lane)] = state.lags_before[at(row, lane)] + last * sum_ + (1.0 - last) * ahead * rate


@compiled
def wake_rates(strip, state, flow, s, lane):
    """Rates [m/s2] of the four lag states of strip number `s` of a `state` in its `flow`; `strip` flat."""
    lags, lag, base = state.lags, L.LAGS * s, L.STRIP_ROWS * s
    semichords = 2.0 * flow.speed / strip[at(base + L.S_CHORD, lane)]
    sooner = strip[at(base + L.S_WAKE, lane)]
    return (
        lag_rate(lags[at(lag, lane)], WAGNER_A1, WAGNER_B1 + sooner, flow.motion, semichords),
        lag_rate(lags[at(lag + 1, lane)], WAGNER_A2, WAGNER_B2 + sooner, flow.motion, semichords),
        lag_rate(lags[at(lag + 2, lane)], KUESSNER_A1, KUESSNER_B1 + sooner, flow.gust, semichords),
        lag_rate(lags[at(lag + 3, lane)], KUESSNER_A2, KUESSNER_B2 + sooner, flow.gust, semichords),
    )


@compiled
def inflow_loads(march, state, weight, ahead, last):
    """Leave every strip's inflow and what its wake recalls [m/s] in `state`, and advance its lag states.

    `march`, `state`, `weight` [s], `ahead` [s], `last` as in `strip_loads`.
    """
    strip, boat = march.strip.reshape(-1), march.boat.reshape(-1)
    for s in range(march.strip.shape[0]):
        lag = L.LAGS * s
        for lane in range(LANES):
            place = place_of(strip, L.STRIP_ROWS * s, lane)
            flow = inflow_of(march, strip, state, place, s, lane)
            leave_inflow(state, flow, s, lane)
            r1, r2, r3, r4 = wake_rates(strip, state, flow, s, lane)
            remember(state, s, flow, (r1, r2, r3), boat[at(B_LAG, lane)], lane)
            advance_lag(state, lag, r1, weight, ahead, last, lane)
            advance_lag(state, lag + 1, r2, weight, ahead, last, lane)
            advance_lag(state, lag + 2, r3, weight, ahead, last, lane)
            advance_lag(state, lag + 3, r4, weight, ahead, last, lane)


@compiled
def strip_loads(march, state, weight, ahead, last, since):
    """Add the loads of all lifting strips and advance their lag states within the Runge-Kutta stage.

    `march` and `state` (a LoadState) in one precision; `weight` [s] of this stage in the sum of rates, `ahead` [s]
    from the start of the step to the next stage, `last` 1.0 in the fourth stage, else 0.0, `since` [s] from the start
    of the step to this stage, when the matrices of the spans were last applied. Without wake memory, a choice that all
    lanes share, they are applied at every stage.
    """
    strip, boat = march.strip.reshape(-1), march.boat.reshape(-1)
    inflow_loads(march, state, weight, ahead, last)
    remembers = march.boat[B_LAG, 0] > 0.5
    if since <= 0.0 or not remembers:
        span_answers(march, state, ahead if remembers else 0.0 * ahead)
    for s in range(march.strip.shape[0]):
        for lane in range(LANES):
            place = place_of(strip, L.STRIP_ROWS * s, lane)
            flow = left_inflow(state.inflow, s, lane)
            lift = lift_of(march, strip, state, flow, since, s, lane)
            add_forces(march, strip, boat, state, place, flow, lift, s, lane)

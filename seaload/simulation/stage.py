"""Kernels: the right-hand side of the equations of motion for all lanes at one instant.

Three loops follow each other, hull stations, strips, then the solution for the accelerations; each adds
to `total` (rows T_*, see layout). Force is + up, bow-up and leeward-down moments are +.
"""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.boat.hull_section import hull_section_load, relieved_slice, section_shape, stern_weight
from seaload.boat.resistance import bottom_drag, buried_bow_area, wave_slope_push
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
    lagged_velocity,
)
from seaload.foil.strip_axes import rolled_normal, set_angle
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
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT

B_FULLNESS, B_PILE_UP = BOAT["fullness"], BOAT["pile_up"]
B_ADDED, B_DRAG, B_BUOYANCY = BOAT["added_mass_factor"], BOAT["drag_factor"], BOAT["buoyancy_factor"]
B_HULL_Y = BOAT["hull_arm_y"]
B_LEEWAY, B_LAG, B_FAST = BOAT["leeway"], BOAT["lag"], BOAT["fast_added_mass"]
B_STERN, B_PLUNGE, B_BOW = BOAT["stern_share"], BOAT["plunge_depth"], BOAT["bow_from_cg"]
LEAST_SPEED = 1.0  # [m/s] along a chord; below it angles of inflow mean nothing


@compiled
def clear_totals(state):
    """Set all totals of a `state` (LoadState) to zero, before hull and strips add theirs."""
    for i in range(TOTAL_ROWS * LANES):
        state.total[i] = 0.0


@compiled
def loads(march, state, weight, ahead, last):
    """All loads of hull and strips at one instant; `march`, `state`, `weight`, `ahead`, `last` as in `strip_loads`.

    The march calls the three by themselves: every level of calls is compiled once more, which takes seconds.
    """
    clear_totals(state)
    hull_loads(march, state)
    strip_loads(march, state, weight, ahead, last)


@compiled
def hull_loads(march, state):
    """Add the hull's loads and added mass, station by station from the transom forward.

    What the hull carries leaves out added mass times the water's acceleration: the boat's own acceleration, on the
    left-hand side, takes most of that back. In calm water it is the whole lift.
    `march` and `state` (a LoadState) in one precision; formulas in `boat/hull_section` and `boat/resistance`.
    """
    hull, boat = march.hull.reshape(-1), march.boat.reshape(-1)
    density, gravity = march.density, march.gravity
    rigid, wave, rate, total = state.rigid, state.wave, state.rate, state.total
    for i in range(march.hull.shape[0]):
        base = HULL_ROWS * i
        row = HULL_WAVE_ROWS * i
        stern = stern_weight(i)
        for lane in range(LANES):
            x = hull[at(base + H_X, lane)]
            dx = hull[at(base + H_DX, lane)]
            relief = hull[at(base + H_RELIEF, lane)]
            side = boat[at(B_HULL_Y, lane)]
            u = rigid[at(SPEED, lane)]
            elevation = wave[at(row, lane)]
            rise_water = wave[at(row + W_RISE, lane)]
            rise = rigid[at(HEAVE_RATE, lane)] + x * rigid[at(PITCH_RATE, lane)] - side * rigid[at(ROLL_RATE, lane)]
            height = (
                rigid[at(HEAVE, lane)]
                + x * rigid[at(PITCH, lane)]
                - side * rigid[at(ROLL, lane)]
                + hull[at(base + H_Z, lane)]
            )
            immersion = elevation - height
            slope = rigid[at(PITCH, lane)] + hull[at(base + H_SLOPE, lane)]
            entry = u * slope - rise + rise_water
            entry_rate = u * rigid[at(PITCH_RATE, lane)] + rate[at(row + W_RISE, lane)]
            force, momentum, added = hull_section_load(
                immersion,
                rate[at(row, lane)] - rise,
                entry,
                entry_rate,
                rise_water - rise,
                wave[at(row + W_ACCELERATION, lane)],
                hull[at(base + H_INVERSE_CHINE, lane)],
                hull[at(base + H_BEAM, lane)],
                boat[at(B_FULLNESS, lane)],
                boat[at(B_PILE_UP, lane)],
                boat[at(B_ADDED, lane)],
                boat[at(B_DRAG, lane)],
                boat[at(B_BUOYANCY, lane)],
                density,
                hull[at(base + H_RADIATION, lane)],
            )
            _, _, area = section_shape(
                immersion,
                hull[at(base + H_INVERSE_CHINE, lane)],
                hull[at(base + H_BEAM, lane)],
                boat[at(B_FULLNESS, lane)],
            )
            lift, along, eased, mass = relieved_slice(
                force, momentum, added, entry, u, relief, hull[at(base + H_RELIEF_SLOPE, lane)],
                boat[at(B_STERN, lane)] * stern, dx,
            )  # fmt: skip
            total[at(T_HULL_FZ, lane)] += lift
            total[at(T_HULL_CARRIED, lane)] += lift - mass * entry_rate
            total[at(T_MPITCH, lane)] += x * lift + along
            total[at(T_FX, lane)] -= bottom_drag(eased, slope, dx)
            total[at(T_FX, lane)] -= wave_slope_push(area, wave[at(row + W_SLOPE, lane)], dx, density, gravity)
            total[at(T_A33, lane)] += mass
            total[at(T_A35, lane)] += x * mass
            total[at(T_A34, lane)] -= side * mass
            total[at(T_A55, lane)] += x * x * mass
            total[at(T_A45, lane)] -= side * x * mass
            total[at(T_A44, lane)] += side * side * mass
            total[at(T_PLUNGE, lane)] += buried_bow_area(
                immersion, hull[at(base + H_BEAM, lane)], dx, x, boat[at(B_PLUNGE, lane)], boat[at(B_BOW, lane)]
            )


@compiled
def strip_loads(march, state, weight, ahead, last):
    """Add the loads of all lifting strips and advance their lag states within the Runge-Kutta stage.

    `march` and `state` (a LoadState) in one precision; `weight` [s] of this stage in the sum of rates, `ahead` [s]
    from the start of the step to the next stage, `last` 1.0 in the fourth stage, else 0.0.
    """
    stations, strips, foil_strips = march.hull.shape[0], march.strip.shape[0], march.foil_strips
    depth_scale, density, gravity, ambient = march.depth_scale, march.density, march.gravity, march.ambient
    strip, boat = march.strip.reshape(-1), march.boat.reshape(-1)
    rigid, lags, began, sums = state.rigid, state.lags, state.lags_before, state.lag_sums
    wave, rate, memory, mode = state.wave, state.rate, state.memory, state.mode
    total, out = state.total, state.out
    first_row = HULL_WAVE_ROWS * stations + BOAT_WAVE_ROWS
    for s in range(strips):
        row = first_row + STRIP_WAVE_ROWS * s
        base = STRIP_ROWS * s
        left = STRIP_OUT_ROWS * s
        lag = LAGS * s
        on_foil = 1.0 if s < foil_strips else 0.0
        for lane in range(LANES):
            x = strip[at(base + S_X, lane)]
            y = strip[at(base + S_Y, lane)]
            z = strip[at(base + S_Z, lane)]
            ny = strip[at(base + S_NY, lane)]
            nz = strip[at(base + S_NZ, lane)]
            chord = strip[at(base + S_CHORD, lane)]
            length = strip[at(base + S_LENGTH, lane)]
            shape = strip[at(base + S_SHAPE, lane)]
            roll = rigid[at(ROLL, lane)]
            rise = rigid[at(HEAVE_RATE, lane)] + x * rigid[at(PITCH_RATE, lane)] - y * rigid[at(ROLL_RATE, lane)]
            depth = wave[at(row, lane)] - (
                rigid[at(HEAVE, lane)] + x * rigid[at(PITCH, lane)] - y * roll + z
            )
            d = min(max(depth / depth_scale, 0.0), 1.0)
            gust = 0.0
            gust_rate = 0.0
            axial = 0.0
            for p in range(DEPTH_TERMS - 1, -1, -1):
                gust = gust * d + wave[at(row + 1 + p, lane)]
                gust_rate = gust_rate * d + rate[at(row + 1 + p, lane)]
                axial = axial * d + wave[at(row + 1 + DEPTH_TERMS + p, lane)]
            wet = wet_share(depth, strip[at(base + S_HALF_WIDTH, lane)])
            wetting = wet_share_slope(depth, strip[at(base + S_HALF_WIDTH, lane)]) * (rate[at(row, lane)] - rise)
            speed = max(rigid[at(SPEED, lane)] - axial, LEAST_SPEED)
            ny_now, nz_now = rolled_normal(ny, nz, roll)
            body = (
                ny * z * rigid[at(ROLL_RATE, lane)] + nz * rise + shape * mode[at(MODE_RATE, lane)]
            )
            leeway = boat[at(B_LEEWAY, lane)]
            angle = set_angle(strip[at(base + S_INCIDENCE, lane)], rigid[at(PITCH, lane)], leeway, ny_now, nz_now)
            motion = speed * angle - body
            z1 = lags[at(lag, lane)]
            z2 = lags[at(lag + 1, lane)]
            z3 = lags[at(lag + 2, lane)]
            z4 = lags[at(lag + 3, lane)]
            felt = lagged_velocity(motion, gust, z1, z2, z3, z4, boat[at(B_LAG, lane)])
            angle = inflow_angle(felt, speed) - strip[at(base + S_ZERO_LIFT, lane)]
            near = surface_factor(depth, chord)
            slope = strip[at(base + S_SLOPE, lane)] * near
            asked = slope * angle + strip[at(base + S_STEADY, lane)]
            sigma = cavitation_number(depth, speed, ambient, density * gravity, density)
            floor_n, slope_n = strip[at(base + S_CAV_N0, lane)], strip[at(base + S_CAV_N1, lane)]
            floor_r, slope_r = strip[at(base + S_CAV_R0, lane)], strip[at(base + S_CAV_R1, lane)]
            top = lift_limit(strip[at(base + S_CL_MAX, lane)], floor_n, slope_n, sigma)
            low = lift_limit(-strip[at(base + S_CL_MIN, lane)], floor_r, slope_r, sigma)
            vent = strip[at(base + S_VENT, lane)]
            top_now = top + (min(vent, top) - top) * memory[at(2 * s + 0, lane)]
            low_now = low + (min(vent, low) - low) * memory[at(2 * s + 1, lane)]
            lift = soft_limited(asked, top_now if asked >= 0.0 else low_now)
            pressure = 0.5 * density * speed * speed * chord
            circulatory = pressure * lift * wet
            heavy = strip[at(base + S_ADDED, lane)] * wet
            full = strip[at(base + S_ADDED, lane)]
            added = boat[at(B_FAST, lane)] * fast_load(
                heavy, full, speed, rigid[at(PITCH_RATE, lane)], nz, gust_rate, wetting, motion + gust
            )
            normal = (circulatory + added) * length
            profile, induced = strip[at(base + S_PROFILE, lane)], strip[at(base + S_INDUCED, lane)]
            drag = strip_drag(pressure, wet, profile, induced, lift, length)
            fx = forward_lean(circulatory, length, gust, body, speed) - drag
            fz = normal * nz_now + strip[at(base + S_BUOYANCY, lane)] * wet * length
            fy = normal * ny_now
            mass = boat[at(B_FAST, lane)] * heavy * length
            arm = z * ny - y * nz
            total[at(T_FZ, lane)] += fz
            total[at(T_MPITCH, lane)] += x * fz - z * fx
            total[at(T_MROLL, lane)] += z * fy - y * fz
            total[at(T_FX, lane)] += fx
            total[at(T_A33, lane)] += mass * nz * nz
            total[at(T_A35, lane)] += mass * nz * nz * x
            total[at(T_A34, lane)] += mass * nz * arm
            total[at(T_A55, lane)] += mass * nz * nz * x * x
            total[at(T_A45, lane)] += mass * nz * x * arm
            total[at(T_A44, lane)] += mass * arm * arm
            total[at(T_FOIL_FZ, lane)] += on_foil * fz
            total[at(T_FOIL_RM, lane)] += on_foil * (y * fz - z * fy)
            total[at(T_FOIL_FX, lane)] += on_foil * fx
            own = strip[at(base + S_MASS, lane)]
            hung = (strip[at(base + S_BUOYANCY, lane)] * wet - own * gravity) * length
            inert = mass + own * length
            total[at(T_MODE_FORCE, lane)] += shape * (normal + hung * nz)
            total[at(T_MODE_MASS, lane)] += shape * shape * mass
            total[at(T_MODE_DAMPING, lane)] += flow_damping(shape, length, density, speed, chord, slope, wet)
            total[at(T_MODE_G1, lane)] += shape * inert * nz
            total[at(T_MODE_G2, lane)] += shape * inert * nz * x
            total[at(T_MODE_G3, lane)] += shape * inert * arm
            out[at(left + O_NORMAL, lane)] = normal
            out[at(left + O_MASS, lane)] = inert
            out[at(left + O_DEMAND_N, lane)] = asked / max(top, 0.05)
            out[at(left + O_DEMAND_R, lane)] = -asked / max(low, 0.05)
            out[at(left + O_WET, lane)] = wet
            out[at(left + O_VERTICAL, lane)] = hung
            out[at(left + O_SPEED, lane)] = speed
            out[at(left + O_ANGLE, lane)] = angle
            out[at(left + O_MOTION, lane)] = motion
            out[at(left + O_DEPTH, lane)] = depth
            semichords = 2.0 * speed / chord
            r1 = lag_rate(z1, WAGNER_A1, WAGNER_B1, motion, semichords)
            r2 = lag_rate(z2, WAGNER_A2, WAGNER_B2, motion, semichords)
            r3 = lag_rate(z3, KUESSNER_A1, KUESSNER_B1, gust, semichords)
            r4 = lag_rate(z4, KUESSNER_A2, KUESSNER_B2, gust, semichords)
            g1 = sums[at(lag, lane)] + weight * r1
            g2 = sums[at(lag + 1, lane)] + weight * r2
            g3 = sums[at(lag + 2, lane)] + weight * r3
            g4 = sums[at(lag + 3, lane)] + weight * r4
            sums[at(lag, lane)] = g1
            sums[at(lag + 1, lane)] = g2
            sums[at(lag + 2, lane)] = g3
            sums[at(lag + 3, lane)] = g4
            lags[at(lag, lane)] = began[at(lag, lane)] + last * g1 + (1.0 - last) * ahead * r1
            lags[at(lag + 1, lane)] = began[at(lag + 1, lane)] + last * g2 + (1.0 - last) * ahead * r2
            lags[at(lag + 2, lane)] = began[at(lag + 2, lane)] + last * g3 + (1.0 - last) * ahead * r3
            lags[at(lag + 3, lane)] = began[at(lag + 3, lane)] + last * g4 + (1.0 - last) * ahead * r4

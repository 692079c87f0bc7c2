"""Kernels: the right-hand side of the equations of motion for all lanes at one instant.

Three loops follow each other, hull stations, strips, then the solution for the accelerations; each adds
to `total` (rows T_*, see layout). Force is + up, bow-up and leeward-down moments are +.
"""

from seaload.basis.compile import compiled
from seaload.boat.hull_section import hull_section_load, section_shape
from seaload.boat.resistance import buried_bow_area
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
from seaload.foil.strip_load import (
    cavitation_number,
    inflow_angle,
    lift_limit,
    soft_limited,
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
B_STERN = BOAT["stern_share"]
LEAST_SPEED = 1.0  # [m/s] along a chord; below it angles of inflow mean nothing


@compiled
def clear_totals(total):
    """Set all totals to zero."""
    for row in range(TOTAL_ROWS):
        for lane in range(LANES):
            total[row, lane] = 0.0


@compiled
def hull_loads(hull, boat, state, wave, rate, density, gravity, total):
    """Add the hull's loads and added mass, station by station from the transom forward."""
    for i in range(hull.shape[0]):
        row = HULL_WAVE_ROWS * i
        stern = 1.5 if i == 0 else (-0.5 if i == 1 else 0.0)
        for lane in range(LANES):
            x = hull[i, H_X, lane]
            dx = hull[i, H_DX, lane]
            relief = hull[i, H_RELIEF, lane]
            side = boat[B_HULL_Y, lane]
            u = state[SPEED, lane]
            elevation = wave[row, lane]
            rise_water = wave[row + W_RISE, lane]
            rise = state[HEAVE_RATE, lane] + x * state[PITCH_RATE, lane] - side * state[ROLL_RATE, lane]
            height = (
                state[HEAVE, lane]
                + x * state[PITCH, lane]
                - side * state[ROLL, lane]
                + hull[i, H_Z, lane]
            )
            immersion = elevation - height
            slope = state[PITCH, lane] + hull[i, H_SLOPE, lane]
            entry = u * slope - rise + rise_water
            entry_rate = u * state[PITCH_RATE, lane] + rate[row + W_RISE, lane]
            force, momentum, added = hull_section_load(
                immersion,
                rate[row, lane] - rise,
                entry,
                entry_rate,
                rise_water - rise,
                wave[row + W_ACCELERATION, lane],
                hull[i, H_INVERSE_CHINE, lane],
                hull[i, H_BEAM, lane],
                boat[B_FULLNESS, lane],
                boat[B_PILE_UP, lane],
                boat[B_ADDED, lane],
                boat[B_DRAG, lane],
                boat[B_BUOYANCY, lane],
                density,
                hull[i, H_RADIATION, lane],
            )
            _, _, area = section_shape(
                immersion, hull[i, H_INVERSE_CHINE, lane], hull[i, H_BEAM, lane], boat[B_FULLNESS, lane]
            )
            carried = added * entry * u
            eased = relief * momentum
            local = force - momentum + eased
            # the convective term by parts: what the wake takes along, relief gradient and stern
            shed = carried * hull[i, H_RELIEF_SLOPE, lane] * dx + boat[B_STERN, lane] * stern * carried
            along = carried * relief * dx
            mass = relief * added * dx
            lift = local * dx + shed
            total[T_HULL_FZ, lane] += lift
            total[T_MPITCH, lane] += x * lift + along
            total[T_FX, lane] -= max(eased, 0.0) * max(slope, 0.0) * dx
            total[T_FX, lane] -= density * gravity * area * wave[row + W_SLOPE, lane] * dx
            total[T_A33, lane] += mass
            total[T_A35, lane] += x * mass
            total[T_A34, lane] -= side * mass
            total[T_A55, lane] += x * x * mass
            total[T_A45, lane] -= side * x * mass
            total[T_A44, lane] += side * side * mass
            total[T_PLUNGE, lane] += buried_bow_area(immersion, hull[i, H_BEAM, lane], dx, x)


@compiled
def strip_loads(
    march, strip, boat, state, start, gathered, weight, ahead, last, wave, rate, memory, mode, total, out
):
    """Add the loads of all lifting strips and advance their lag states within the Runge-Kutta stage.

    `start` lag states at the step's start, `gathered` the weighted sum of rates so far, `weight` [s] of this
    stage in it, `ahead` [s] from the start to the next stage; `last` 1.0 in the fourth stage.
    """
    first_row = HULL_WAVE_ROWS * march.hull.shape[0] + BOAT_WAVE_ROWS
    density = march.density
    for s in range(strip.shape[0]):
        row = first_row + STRIP_WAVE_ROWS * s
        lag = RIGID_ROWS + LAGS * s
        on_foil = 1.0 if s < march.foil_strips else 0.0
        for lane in range(LANES):
            x = strip[s, S_X, lane]
            y = strip[s, S_Y, lane]
            z = strip[s, S_Z, lane]
            ny = strip[s, S_NY, lane]
            nz = strip[s, S_NZ, lane]
            chord = strip[s, S_CHORD, lane]
            length = strip[s, S_LENGTH, lane]
            shape = strip[s, S_SHAPE, lane]
            roll = state[ROLL, lane]
            rise = state[HEAVE_RATE, lane] + x * state[PITCH_RATE, lane] - y * state[ROLL_RATE, lane]
            depth = wave[row, lane] - (
                state[HEAVE, lane] + x * state[PITCH, lane] - y * roll + z
            )
            d = min(max(depth / march.depth_scale, 0.0), 1.0)
            gust = 0.0
            gust_rate = 0.0
            axial = 0.0
            for p in range(DEPTH_TERMS - 1, -1, -1):
                gust = gust * d + wave[row + 1 + p, lane]
                gust_rate = gust_rate * d + rate[row + 1 + p, lane]
                axial = axial * d + wave[row + 1 + DEPTH_TERMS + p, lane]
            wet = wet_share(depth, strip[s, S_HALF_WIDTH, lane])
            wetting = wet_share_slope(depth, strip[s, S_HALF_WIDTH, lane]) * (rate[row, lane] - rise)
            speed = max(state[SPEED, lane] - axial, LEAST_SPEED)
            ny_now = ny + nz * roll
            nz_now = nz - ny * roll
            body = (
                ny * z * state[ROLL_RATE, lane] + nz * rise + shape * mode[MODE_RATE, lane]
            )
            set_angle = strip[s, S_INCIDENCE, lane] + state[PITCH, lane] * nz_now - boat[B_LEEWAY, lane] * ny_now
            motion = speed * set_angle - body
            z1 = state[lag, lane]
            z2 = state[lag + 1, lane]
            z3 = state[lag + 2, lane]
            z4 = state[lag + 3, lane]
            felt = lagged_velocity(motion, gust, z1, z2, z3, z4, boat[B_LAG, lane])
            angle = inflow_angle(felt, speed) - strip[s, S_ZERO_LIFT, lane]
            near = surface_factor(depth, chord)
            slope = strip[s, S_SLOPE, lane] * near
            asked = slope * angle + strip[s, S_STEADY, lane]
            sigma = cavitation_number(depth, speed, march.ambient, density * march.gravity, density)
            top = lift_limit(strip[s, S_CL_MAX, lane], strip[s, S_CAV_N0, lane], strip[s, S_CAV_N1, lane], sigma)
            low = lift_limit(-strip[s, S_CL_MIN, lane], strip[s, S_CAV_R0, lane], strip[s, S_CAV_R1, lane], sigma)
            vent = strip[s, S_VENT, lane]
            top_now = top + (min(vent, top) - top) * memory[s, 0, lane]
            low_now = low + (min(vent, low) - low) * memory[s, 1, lane]
            lift = soft_limited(asked, top_now if asked >= 0.0 else low_now)
            pressure = 0.5 * density * speed * speed * chord
            circulatory = pressure * lift * wet
            heavy = strip[s, S_ADDED, lane] * wet
            added = boat[B_FAST, lane] * (
                heavy * (speed * state[PITCH_RATE, lane] * nz + gust_rate)
                + 0.5 * strip[s, S_ADDED, lane] * max(wetting, 0.0) * (motion + gust)
            )
            normal = (circulatory + added) * length
            drag = pressure * wet * (strip[s, S_PROFILE, lane] + strip[s, S_INDUCED, lane] * lift * lift) * length
            fx = circulatory * length * (gust - body) / speed - drag
            fz = normal * nz_now + strip[s, S_BUOYANCY, lane] * wet * length
            fy = normal * ny_now
            mass = boat[B_FAST, lane] * heavy * length
            arm = z * ny - y * nz
            total[T_FZ, lane] += fz
            total[T_MPITCH, lane] += x * fz - z * fx
            total[T_MROLL, lane] += z * fy - y * fz
            total[T_FX, lane] += fx
            total[T_A33, lane] += mass * nz * nz
            total[T_A35, lane] += mass * nz * nz * x
            total[T_A34, lane] += mass * nz * arm
            total[T_A55, lane] += mass * nz * nz * x * x
            total[T_A45, lane] += mass * nz * x * arm
            total[T_A44, lane] += mass * arm * arm
            total[T_FOIL_FZ, lane] += on_foil * fz
            total[T_FOIL_RM, lane] += on_foil * (y * fz - z * fy)
            total[T_FOIL_FX, lane] += on_foil * fx
            own = strip[s, S_MASS, lane]
            hung = (strip[s, S_BUOYANCY, lane] * wet - own * march.gravity) * length
            inert = mass + own * length
            total[T_MODE_FORCE, lane] += shape * (normal + hung * nz)
            total[T_MODE_MASS, lane] += shape * shape * mass
            total[T_MODE_DAMPING, lane] += (
                shape * shape * length * 0.25 * density * speed * chord * slope * wet
            )
            total[T_MODE_G1, lane] += shape * inert * nz
            total[T_MODE_G2, lane] += shape * inert * nz * x
            total[T_MODE_G3, lane] += shape * inert * arm
            out[s, O_NORMAL, lane] = normal
            out[s, O_MASS, lane] = inert
            out[s, O_DEMAND_N, lane] = asked / max(top, 0.05)
            out[s, O_DEMAND_R, lane] = -asked / max(low, 0.05)
            out[s, O_WET, lane] = wet
            out[s, O_VERTICAL, lane] = hung
            out[s, O_SPEED, lane] = speed
            out[s, O_ANGLE, lane] = angle
            out[s, O_MOTION, lane] = motion
            out[s, O_DEPTH, lane] = depth
            semichords = 2.0 * speed / chord
            r1 = lag_rate(z1, WAGNER_A1, WAGNER_B1, motion, semichords)
            r2 = lag_rate(z2, WAGNER_A2, WAGNER_B2, motion, semichords)
            r3 = lag_rate(z3, KUESSNER_A1, KUESSNER_B1, gust, semichords)
            r4 = lag_rate(z4, KUESSNER_A2, KUESSNER_B2, gust, semichords)
            g1 = gathered[lag, lane] + weight * r1
            g2 = gathered[lag + 1, lane] + weight * r2
            g3 = gathered[lag + 2, lane] + weight * r3
            g4 = gathered[lag + 3, lane] + weight * r4
            gathered[lag, lane] = g1
            gathered[lag + 1, lane] = g2
            gathered[lag + 2, lane] = g3
            gathered[lag + 3, lane] = g4
            state[lag, lane] = start[lag, lane] + (g1 if last else ahead * r1)
            state[lag + 1, lane] = start[lag + 1, lane] + (g2 if last else ahead * r2)
            state[lag + 2, lane] = start[lag + 2, lane] + (g3 if last else ahead * r3)
            state[lag + 3, lane] = start[lag + 3, lane] + (g4 if last else ahead * r4)

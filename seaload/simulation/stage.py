"""Kernels: the right-hand side of the equations of motion for all lanes at one instant.

Three loops follow each other, hull stations, strips (`strip_stage.py`), then the solution for the accelerations; each
adds to `total` (rows T_*, see layout). Force is + up, bow-up and leeward-down moments are +.
"""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.boat.hull_section import hull_section_load, relieved_slice, section_shape, stern_weight
from seaload.boat.resistance import bottom_drag, buried_bow_area, wave_slope_push
from seaload.boat.sway import side_slice, sway_added_mass, sway_added_mass_slope, unsteady_side
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.strip_stage import strip_loads

B_FULLNESS, B_PILE_UP = BOAT["fullness"], BOAT["pile_up"]
B_ADDED, B_DRAG, B_BUOYANCY = BOAT["added_mass_factor"], BOAT["drag_factor"], BOAT["buoyancy_factor"]
B_HULL_Y = BOAT["hull_arm_y"]
B_SWAY = BOAT["sway_factor"]
B_STERN, B_PLUNGE, B_BOW = BOAT["stern_share"], BOAT["plunge_depth"], BOAT["bow_from_cg"]
B_DAMPING = BOAT["hull_damping_more"]


@compiled
def clear_totals(state):
    """Set all totals of a `state` (LoadState) to zero, before hull and strips add theirs."""
    for i in range(L.TOTAL_ROWS * LANES):
        state.total[i] = 0.0


@compiled
def loads(march, state, weight, ahead, last):
    """All loads [N] of hull and strips at the start of a step; `march`, `state`, `weight`, `ahead`, `last` as in
    `strip_loads`.

    The march calls the three by themselves: every level of calls is compiled once more, which takes seconds.
    """
    clear_totals(state)
    hull_loads(march, state)
    strip_loads(march, state, weight, ahead, last, 0.0)


@compiled
def hull_loads(march, state):
    """Add the hull's loads and added mass, station by station from the transom forward.

    What the hull carries leaves out added mass times the water's acceleration: the boat's own acceleration, on the
    left-hand side, takes most of that back. In calm water it is the whole lift. A hull that damps more or less than
    the formulas say feels as much more or less of her vertical velocity against the water, in every term that holds it:
    a hull that goes with the water, as in a long wave, is not damped by any formula.
    `march` and `state` (a LoadState) in one precision; formulas in `boat/hull_section` and `boat/resistance`.
    """
    hull, boat = march.hull.reshape(-1), march.boat.reshape(-1)
    density, gravity = march.density, march.gravity
    rigid, wave, rate, total = state.rigid, state.wave, state.rate, state.total
    for i in range(march.hull.shape[0]):
        base = L.HULL_ROWS * i
        row = L.HULL_WAVE_ROWS * i
        stern = stern_weight(i)
        for lane in range(LANES):
            x = hull[at(base + L.H_X, lane)]
            dx = hull[at(base + L.H_DX, lane)]
            relief = hull[at(base + L.H_RELIEF, lane)]
            side = boat[at(B_HULL_Y, lane)]
            u = rigid[at(L.SPEED, lane)]
            elevation = wave[at(row, lane)]
            rise_water = wave[at(row + L.W_RISE, lane)]
            rise = (
                rigid[at(L.HEAVE_RATE, lane)] + x * rigid[at(L.PITCH_RATE, lane)] - side * rigid[at(L.ROLL_RATE, lane)]
            )
            height = (
                rigid[at(L.HEAVE, lane)]
                + x * rigid[at(L.PITCH, lane)]
                - side * rigid[at(L.ROLL, lane)]
                + hull[at(base + L.H_Z, lane)]
            )
            rise += boat[at(B_DAMPING, lane)] * (rise - rise_water)
            immersion = elevation - height
            slope = rigid[at(L.PITCH, lane)] + hull[at(base + L.H_SLOPE, lane)]
            entry = u * slope - rise + rise_water
            entry_rate = u * rigid[at(L.PITCH_RATE, lane)] + rate[at(row + L.W_RISE, lane)]
            force, momentum, added = hull_section_load(
                immersion,
                rate[at(row, lane)] - rise,
                entry,
                entry_rate,
                rise_water - rise,
                wave[at(row + L.W_ACCELERATION, lane)],
                hull[at(base + L.H_INVERSE_CHINE, lane)],
                hull[at(base + L.H_BEAM, lane)],
                boat[at(B_FULLNESS, lane)],
                boat[at(B_PILE_UP, lane)],
                boat[at(B_ADDED, lane)],
                boat[at(B_DRAG, lane)],
                boat[at(B_BUOYANCY, lane)],
                density,
                hull[at(base + L.H_RADIATION, lane)],
            )
            _, _, area = section_shape(
                immersion,
                hull[at(base + L.H_INVERSE_CHINE, lane)],
                hull[at(base + L.H_BEAM, lane)],
                boat[at(B_FULLNESS, lane)],
            )
            lift, along, eased, mass = relieved_slice(
                force, momentum, added, entry, u, relief, hull[at(base + L.H_RELIEF_SLOPE, lane)],
                boat[at(B_STERN, lane)] * stern, dx,
            )  # fmt: skip
            total[at(L.T_HULL_FZ, lane)] += lift
            total[at(L.T_HULL_CARRIED, lane)] += lift - mass * entry_rate
            total[at(L.T_MPITCH, lane)] += x * lift + along
            aft = bottom_drag(eased, slope, dx)
            aft += wave_slope_push(area, wave[at(row + L.W_SLOPE, lane)], dx, density, gravity)
            swaying = sway_added_mass(immersion, boat[at(B_SWAY, lane)])
            growth = sway_added_mass_slope(immersion, boat[at(B_SWAY, lane)]) * (rate[at(row, lane)] - rise)
            drift = (
                rigid[at(L.SWAY, lane)] + x * rigid[at(L.YAW_RATE, lane)] - wave[at(row + L.W_SIDE, lane)]
            )
            across, turning = side_slice(swaying, drift, u, stern, x, dx)
            pushed = unsteady_side(swaying, growth, drift, rate[at(row + L.W_SIDE, lane)]) * dx
            pushed -= wave_slope_push(area, wave[at(row + L.W_SIDE_SLOPE, lane)], dx, density, gravity)
            total[at(L.T_FX, lane)] -= aft
            total[at(L.T_FY, lane)] += across + pushed
            total[at(L.T_MYAW, lane)] += turning + x * pushed + side * aft
            total[at(L.T_A22, lane)] += swaying * dx
            total[at(L.T_A26, lane)] += x * swaying * dx
            total[at(L.T_A66, lane)] += x * x * swaying * dx
            total[at(L.T_A33, lane)] += mass
            total[at(L.T_A35, lane)] += x * mass
            total[at(L.T_A34, lane)] -= side * mass
            total[at(L.T_A55, lane)] += x * x * mass
            total[at(L.T_A45, lane)] -= side * x * mass
            total[at(L.T_A44, lane)] += side * side * mass
            total[at(L.T_PLUNGE, lane)] += buried_bow_area(
                immersion, hull[at(base + L.H_BEAM, lane)], dx, x, boat[at(B_PLUNGE, lane)], boat[at(B_BOW, lane)]
            )

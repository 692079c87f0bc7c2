"""The calm-water balance against statics: all forces and moments add up, in the mirror too; leeway goes as it must.

Statics and thin-aerofoil theory, any text; that a boat makes more leeway the more she heels and the slower she goes is
common practice, no source.
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from seaload.basis.units import DEGREE, KNOT
from seaload.boat.hull_section import stern_weight
from seaload.foil.influence import mirrored_influence
from seaload.foil.strip_load import surface_factor
from seaload.simulation import layout as L
from seaload.simulation.balance import CalmWater, balance, rudder_rows, solved, still_water_loads
from seaload.simulation.calm import calm_trim
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.simulation.workspace import load_state
from tests.simulation.still_water import demo_study

ROW = L.BOAT
SPEEDS = (10.0, 13.0, 16.0, 20.0, 24.0)  # [kn]
FREE = np.full((2, L.LANES), np.nan)


@lru_cache
def trimmed(choice="balanced", righting=True):
    """(settings, march arrays, trim): lanes 0 to 4 faster and faster at 80 %, 5 to 8 more and more heel, 9 and 10 half
    and all of the foil out, 11 the keel upright, 12 at 2 kn.
    """
    study = demo_study()
    boat, foil = study.boat, study.boat.foils["port"]
    model = model_factors({**study.model, "leeway": choice})
    first = replace(study.settings[0], extension=0.8, speed=20.0 * KNOT)
    settings = [replace(first, speed=v * KNOT) for v in SPEEDS]
    settings += [replace(first, heel=h * DEGREE) for h in (12.0, 15.0, 18.0, 21.0)]
    settings += [replace(first, extension=0.5), replace(first, extension=1.0), replace(first, cant=0.0)]
    settings += [replace(first, speed=2.0 * KNOT)] + [first] * 3
    march, _, _ = march_arrays(boat, foil, settings, [1.0] * L.LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, settings) if righting else None)
    return settings, march, trim


def totals_at(march, heave, pitch):
    """Totals (rows, LANES) in still water of arrays that hold their own leeway and rudder, wake memory off."""
    boat = march.boat.copy()
    boat[ROW["lag"]] = boat[ROW["roll_free"]] = boat[ROW["surge_free"]] = 0.0
    work = load_state(march, np.float64)
    still_water_loads(march._replace(boat=boat), work, heave, pitch)
    return work.total.reshape(L.TOTAL_ROWS, L.LANES)


def test_every_force_and_moment_adds_up_to_a_millionth_of_the_weight():
    settings, march, trim = trimmed()
    total, boat = totals_at(march, trim.heave, trim.pitch), march.boat
    weight, lever, side = boat[ROW["weight"]], boat[ROW["sail_lever"]], trim.sail_side
    down, thrust, force = boat[ROW["down_force"]], boat[ROW["thrust"]], np.hypot(side, boat[ROW["down_force"]])
    ahead = thrust - side * trim.leeway  # along the heading; the thrust is told along the course
    resistance = ahead + total[L.T_FX]  # of the hull as a whole
    sums = {
        "up": total[L.T_FZ] + total[L.T_HULL_FZ] - weight - down,
        "ahead": total[L.T_RESIDUAL_X],
        "to leeward": total[L.T_FY] + side,
        "bow up": total[L.T_MPITCH] - ahead * boat[ROW["sail_arm"]] - down * boat[ROW["effort_ahead"]],
        "leeward side down": total[L.T_MROLL] - total[L.T_HULL_FZ] * boat[ROW["righting_arm"]] + force * lever,
        "bow to leeward": total[L.T_MYAW] + side * boat[ROW["effort_ahead"]] - ahead * boat[ROW["effort_side"]]
        + boat[ROW["hull_arm_y"]] * resistance,
    }  # fmt: skip
    assert trim.balanced[:12].all() and trim.sideways[:12].all()
    for name, left in sums.items():
        assert np.all(np.abs(left / weight)[:12] < 1e-6), name
    assert down == pytest.approx(side * np.tan([s.heel for s in settings]))


def test_the_march_starts_where_nothing_accelerates():
    _, march, trim = trimmed()
    boat = march.boat.copy()
    boat[ROW["lag"]] = 0.0
    work = load_state(march, np.float64)
    still_water_loads(march._replace(boat=boat), work, trim.heave, trim.pitch)
    total = work.total.reshape(L.TOTAL_ROWS, L.LANES)
    for row in (L.T_ACC_HEAVE, L.T_ACC_PITCH, L.T_ACC_ROLL, L.T_ACC_SURGE, L.T_ACC_SWAY, L.T_ACC_YAW):
        assert np.all(np.abs(total[row, :12]) < 1e-6)


def test_without_fin_and_rudders_hull_and_foil_carry_her_and_right_her():
    """Statics, with what is told of the foil: its lift and the hull's are weight and the sails' down force, its
    righting moment and the hull's meet the sails, and its drag is what the strips have.
    """
    settings, whole, _ = trimmed("held")
    model = model_factors({**demo_study().model, "leeway": "held"})
    march = whole._replace(strip=whole.strip.copy(), boat=whole.boat.copy())
    march.strip[march.foil_strips :, L.S_LENGTH] = 0.0
    trim, boat = calm_trim(march, model, carried_righting(demo_study().boat, settings)), march.boat
    assert trim.balanced[:12].all() and np.all(trim.vertical_lift[:12] > 0.1 * boat[ROW["weight"], :12])
    carried, righting = trim.hull_lift + trim.vertical_lift, trim.hull_lift * boat[ROW["righting_arm"]]
    assert carried[:12] == pytest.approx((boat[ROW["weight"]] + boat[ROW["down_force"]])[:12], rel=1e-6)
    assert (righting + trim.righting_moment)[:12] == pytest.approx(trim.heel_moment[:12], rel=1e-6)
    whole = totals_at(march, trim.heave, trim.pitch)[[L.T_FX, L.T_FY]]
    march.strip[:, L.S_LENGTH] = 0.0
    ahead, aside = totals_at(march, trim.heave, trim.pitch)[[L.T_FX, L.T_FY]] - whole
    assert trim.foil_drag == pytest.approx(ahead + trim.leeway * aside, rel=1e-9)


def test_a_hull_that_drifts_is_held_by_the_water_its_transom_leaves_moving_and_turned_by_all_of_it():
    """Slender bodies (Munk 1924; Jones 1946, from memory) of sway added mass m(x), at a leeway b: side force
    -U^2 b m(transom), moment about the transom -U^2 b integral of m dx.
    """
    _, march, trim = trimmed()
    march = march._replace(strip=march.strip.copy())
    march.strip[:, L.S_LENGTH] = 0.0
    water = CalmWater(march, load_state(march, np.float64), np.zeros((2, L.LANES)))

    def at(leeway):
        water.at(np.array([trim.heave, trim.pitch, leeway + 0.0 * trim.leeway, 0.0 * trim.rudder]))
        return water.total[[L.T_FY, L.T_MYAW]]

    x, rise = march.hull[:, L.H_X], march.hull[:, L.H_Z]
    under = np.maximum(-(trim.heave + x * trim.pitch + rise), 0.0)
    mass, stern = march.boat[ROW["sway_factor"]] * under**2, np.array([stern_weight(i) for i in range(len(x))])[:, None]
    pressure = march.boat[ROW["target_speed"]] ** 2
    for leeway in (0.02, 0.06):
        force, turn = at(leeway) - at(0.0)
        assert force == pytest.approx(-pressure * leeway * np.sum(stern * mass, axis=0), rel=1e-9)
        about_stern = turn - np.sum(x * stern * mass, axis=0) / np.sum(stern * mass, axis=0) * force
        assert about_stern == pytest.approx(-pressure * leeway * np.sum(mass * march.hull[:, L.H_DX], axis=0), rel=1e-9)


def test_leeway_falls_with_speed_and_grows_with_heel():
    _, _, trim = trimmed()
    assert np.all(np.diff(trim.leeway[:5]) < 0.0) and np.all(trim.leeway[:12] > 0.0)
    assert np.all(np.diff(trim.leeway[5:9]) > 0.0)
    assert 1.0 * DEGREE < trim.leeway[3] < 2.5 * DEGREE  # two calculations for the former boat: 1.1 to 2.4


def test_more_foil_out_lets_her_carry_more_sail_and_a_few_degrees_of_rudder_hold_her():
    _, march, trim = trimmed()
    assert trim.heel_moment[9] < trim.heel_moment[10]
    assert np.all(np.abs(trim.rudder[:12]) < 5.0 * DEGREE)
    assert np.all(march.boat[ROW["heel_moment"], :12] == trim.heel_moment[:12])


def test_in_the_mirror_leeway_turns_round_and_nothing_else_changes():
    """Every lateral place, normal, arm and heel reversed; the rudder is counted along its strips' own normal."""
    _, march, trim = trimmed()
    strip, boat = march.strip.copy(), march.boat.copy()
    strip[rudder_rows(march), L.S_INCIDENCE] -= trim.rudder
    start = np.array([trim.heave + 0.01, trim.pitch, 0.0 * trim.leeway, 0.0 * trim.rudder])
    here = balance(march._replace(strip=strip), load_state(march, np.float64), start, FREE)
    mirrored = strip.copy()
    mirrored[:, [L.S_Y, L.S_NY]] *= -1.0
    for name in ("heel", "righting_arm", "hull_arm_y", "effort_side"):
        boat[ROW[name]] *= -1.0
    there = balance(march._replace(strip=mirrored, boat=boat), load_state(march, np.float64), start, FREE)
    assert here.sideways[:12].all() and there.sideways[:12].all()
    as_trimmed = np.array([trim.heave, trim.pitch, trim.leeway, trim.rudder])
    assert here.place[:, :12] == pytest.approx(as_trimmed[:, :12], abs=1e-7)
    assert there.place[[0, 1, 3], :12] == pytest.approx(here.place[[0, 1, 3], :12], abs=1e-7)
    assert there.place[2, :12] == pytest.approx(-here.place[2, :12], abs=1e-7)
    assert there.sails.side[:12] == pytest.approx(-here.sails.side[:12], rel=1e-6)


def test_a_fin_alone_makes_the_leeway_of_its_lift_slope():
    """Slope by our lattice of fin and mirror image, held elsewhere. Foil, rudder and hull without side force:
    F cos(heel) = q S a (leeway cos(heel) + pitch sin(heel)) cos(heel).
    """
    _, march, trim = trimmed()
    strip, boat = march.strip.copy(), march.boat.copy()
    fin = slice(march.foil_strips, rudder_rows(march).start)
    strip[: march.foil_strips, L.S_LENGTH] = 0.0
    strip[rudder_rows(march), L.S_LENGTH] = 0.0
    boat[ROW["sway_factor"]] = 0.0
    held = np.full((2, L.LANES), np.nan)
    held[1] = 0.0
    start = np.array([trim.heave, trim.pitch, trim.leeway, trim.rudder])
    found = balance(march._replace(strip=strip, boat=boat), load_state(march, np.float64), start, held)
    lane = 11  # the keel upright
    assert found.sideways[lane]
    heave, pitch, leeway, _ = found.place[:, lane]
    rows, speed = strip[fin, :, lane], boat[ROW["target_speed"], lane]
    depth = -(heave + rows[:, L.S_X] * pitch + rows[:, L.S_Z])
    near = np.array([surface_factor(*each) for each in zip(depth, rows[:, L.S_CHORD], strict=True)])
    even = mirrored_influence(1.0, len(rows), demo_study().boat.keel.effective_aspect).lift.sum(axis=1) / (2.0 * np.pi)
    slope = 2.0 * np.pi * even * near
    force = 0.5 * march.density * speed**2 * rows[:, L.S_CHORD] * rows[:, L.S_LENGTH] * slope
    heel = boat[ROW["heel"], lane]
    expected = np.sum(force) * (leeway * np.cos(heel) + pitch * np.sin(heel)) * np.cos(heel)
    assert found.sails.side[lane] == pytest.approx(expected, rel=5e-3)


def test_at_two_knots_no_leeway_meets_the_side_force():
    _, _, trim = trimmed()
    assert not trim.sideways[12]


def test_a_held_leeway_is_the_stated_one_and_moves_no_rudder():
    _, march, trim = trimmed("held")
    assert trim.leeway[:12] == pytest.approx(0.5 * DEGREE, abs=1e-9) and np.all(np.abs(trim.rudder[:12]) < 1e-9)
    assert trim.balanced[:12].all()


def test_elimination_solves_what_numpy_solves():
    random = np.random.default_rng(1)
    matrix = random.normal(size=(4, 4, 16)) + 4.0 * np.eye(4)[:, :, None]
    right = random.normal(size=(4, 16))
    expected = np.linalg.solve(matrix.transpose(2, 0, 1), right.T[:, :, None])[:, :, 0].T
    assert solved(matrix, right) == pytest.approx(expected, rel=1e-10)

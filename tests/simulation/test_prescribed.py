"""The foil led through a written motion: what is known of it in closed form, and what must not matter."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.foil.geometry import shaft_axis
from seaload.foil.hold_down import axial_force, hold_down_load
from seaload.foil.wet_states import STATES, answers
from seaload.scenario.records import PrescribedMotion
from seaload.simulation import layout as L
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, lane_centre, march_arrays
from seaload.simulation.prescribed import LEAD, Bench, History, bench_of, history_of, lead_through, mirrored
from seaload.simulation.prescribed_loads import prescribed_records, span_extremes, worst_of
from seaload.simulation.sampling import R_DRAG, R_LIFT, R_LINE, R_RIGHTING, R_TIP_DEPTH
from seaload.simulation.strip_stage import strip_loads
from seaload.simulation.turned_strips import SPAN_STEP, SpanTable, UprightFoil, span_at
from seaload.simulation.workspace import load_state
from tests.simulation.still_water import demo_study, varied

STEP, SPEED, DEEP = 0.02, 10.0, -50.0
CHORD, SPAN = 0.5, 4.0


def motion(time, windward=False, name="m", **rows):
    """A `PrescribedMotion`, SI."""
    kept = {key: rows.get(key) for key in ("heel", "leeway", "speed", "height", "pitch")}
    return PrescribedMotion(name, "", windward, tuple(time), **kept)


def demo_records(motions, setting=None, **model):
    """Records of motions of the demonstration boat."""
    study = demo_study()
    foils = study.boat.foils["port"], study.boat.foils["starboard"]
    named = {**study.model, **model}
    return prescribed_records(study.boat, foils, setting or study.settings[0], motions, STEP, named)


@lru_cache
def calm_of(heel_deg=18.0, speed_knots=20.0, leeway=None, **named):
    """(trim, march) of the demonstration boat in calm water, made ready at that heel by the march's own road."""
    study = demo_study()
    setting = replace(varied(speed_knots=speed_knots), heel=np.radians(heel_deg))
    model = model_factors({**study.model, **named})
    march, _, _ = march_arrays(study.boat, study.boat.foils["port"], [setting] * LANES, [1.0] * LANES, model)
    return calm_trim(march, model, carried_righting(study.boat, [setting] * LANES)), march


def held(still, seconds=0.2, **values):
    """Samples of the demonstration foil held at `values` (SI), the lead before them included."""
    study = demo_study()
    model = model_factors({**study.model, **still})
    rows = {key: (value, value) for key, value in values.items()}
    trim = {"heave": 0.0, "pitch": 0.0, "leeway": 0.0}
    history, _ = history_of([motion((0.0, seconds), **rows)], trim, study.settings[0], STEP)
    heels = [(values["heel"], values["heel"])]
    bench, geometry = bench_of(study.boat, study.boat.foils["port"], study.settings[0], model, heels)
    steps = int(round((LEAD + seconds) / STEP))
    return lead_through(bench, history, steps, STEP)[0][:, -1, 0], bench.reading.channels, geometry


@pytest.mark.parametrize("heel_deg, leeway_deg, knots", [(18.0, 1.5, 20.0), (4.0, -2.0, 14.0), (-16.0, 3.0, 24.0)])
def test_a_hold_bears_the_calm_loads_of_that_heel_leeway_and_speed(heel_deg, leeway_deg, knots):
    """Against strips made ready at that heel by the march's own road, in double precision, without flow memory."""
    study, still = demo_study(), {"free_surface": "high-froude", "flow_memory": 0.0}
    heel, leeway, speed, height, pitch = np.radians(heel_deg), np.radians(leeway_deg), knots * 1852 / 3600, 0.5, 0.02
    samples, first, geometry = held(still, heel=heel, leeway=leeway, speed=speed, height=height, pitch=pitch)
    model = model_factors({**study.model, **still})
    setting = replace(study.settings[0], heel=heel)
    march, _, _ = march_arrays(study.boat, study.boat.foils["port"], [setting] * LANES, [1.0] * LANES, model)
    march.boat[BOAT["lag"]] = 0.0
    loads = load_state(march, np.float64)
    rigid, total = loads.rigid.reshape(-1, LANES), loads.total.reshape(-1, LANES)
    rigid[L.HEAVE], rigid[L.PITCH], rigid[L.SPEED], rigid[L.SWAY] = height, pitch, speed, speed * leeway
    strip_loads(march, loads, 0.0, 0.0, 0.0, 0.0)
    for row, theirs in ((R_LIFT, L.T_FOIL_FZ), (R_RIGHTING, L.T_FOIL_RM)):
        assert samples[first + row] == pytest.approx(total[theirs, 0], rel=1e-4)
    n = march.foil_strips
    rows, out = march.strip[:n, :, 0], loads.out.reshape(-1, L.STRIP_OUT_ROWS, LANES)[:n, :, 0]
    fy, fz = out[:, L.O_NORMAL] * rows[:, L.S_NY], out[:, L.O_NORMAL] * rows[:, L.S_NZ] + out[:, L.O_VERTICAL]
    along = -(total[L.T_FOIL_FX, 0] + leeway * np.sum(fy))
    assert samples[first + R_DRAG] == pytest.approx(along, rel=1e-3)
    y, z = rows[:, L.S_Y] - march.edge_y[0, 0], rows[:, L.S_Z] - march.edge_z[0, 0]
    assert samples[0] * geometry.normal_limit[0] == pytest.approx(
        np.sum(y * fz - z * fy), rel=1e-4, abs=1e-5 * geometry.normal_limit[0]
    )
    foil, (ay, az) = study.boat.foils["port"], shaft_axis(study.boat.foils["port"], geometry.bearing, heel)
    across, up = fy.sum(), fz.sum()
    line = hold_down_load(axial_force(across, up, ay, az), np.sum(y * fz - z * fy), ay * up - az * across,
                          foil.bearing_distance, foil.bearing_friction)  # fmt: skip
    assert samples[first + R_LINE] == pytest.approx(line, rel=1e-3, abs=1.0)


def test_a_motion_that_goes_nowhere_bears_the_calm_trim():
    """Lift, righting moment and drag of the foil as the calm trim has them, to a thousandth; nothing moves."""
    study = demo_study()
    found = demo_records([motion((0.0, 2.0), height=(0.0, 0.0))])[0]
    assert np.ptp(found.series["normal_share"]) < 1e-3 * found.normal.share
    trim, _ = calm_of()
    history, _ = history_of([motion((0.0, 2.0), height=(0.0, 0.0))],
                            {name: float(getattr(trim, name)[0]) for name in ("heave", "pitch", "leeway")},
                            study.settings[0], STEP)  # fmt: skip
    model, heel = model_factors(study.model), study.settings[0].heel
    bench, _ = bench_of(study.boat, study.boat.foils["port"], study.settings[0], model, [(heel, heel)])
    first, last = bench.reading.channels, lead_through(bench, history, 200, STEP)[0][:, -1, 0]
    assert last[first + R_LIFT] == pytest.approx(trim.vertical_lift[0], rel=1e-3)
    assert last[first + R_RIGHTING] == pytest.approx(trim.righting_moment[0], rel=1e-3)
    assert last[first + R_DRAG] == pytest.approx(trim.foil_drag[0], rel=3e-3)


def test_a_motion_that_has_come_to_rest_bears_what_a_hold_there_bears():
    """Within a per cent some seconds later: matrices, wake, flow memory and steady waves have all followed."""
    study, trim = demo_study(), {name: float(getattr(calm_of()[0], name)[0]) for name in ("heave", "pitch", "leeway")}
    foil, model, found = study.boat.foils["port"], model_factors(study.model), []
    for rows in ((0.31, 0.05, 0.05), (0.05, 0.05, 0.05)):
        history, _ = history_of([motion((0.0, 1.5, 8.0), heel=rows)], trim, study.settings[0], STEP)
        bench, _ = bench_of(study.boat, foil, study.settings[0], model, [(min(rows), max(rows))])
        first, samples = bench.reading.channels, lead_through(bench, history, 550, STEP)[0]
        found.append(samples[[0, 3, first + R_LIFT, first + R_RIGHTING], -1, 0])
    assert found[0] == pytest.approx(found[1], rel=0.01)


def test_a_hold_is_settled_from_its_first_step_however_slow():
    """At two knots the wake of a step takes longer to fade than the lead lasts; there is no such step."""
    study, still = demo_study(), {"free_surface": "high-froude", "flow_memory": 0.0, "bending": "quasi-static"}
    heel, model = study.settings[0].heel, model_factors({**study.model, **still})
    rows = {"speed": (1.2, 1.2), "height": (0.5, 0.5)}
    trim = {"heave": 0.0, "pitch": 0.03, "leeway": 0.02}
    history, _ = history_of([motion((0.0, 0.2), **rows)], trim, study.settings[0], STEP)
    bench, _ = bench_of(study.boat, study.boat.foils["port"], study.settings[0], model, [(heel, heel)])
    lift = lead_through(bench, history, 160, STEP)[0][bench.reading.channels + R_LIFT, :, 0]
    assert lift[0] == pytest.approx(lift[-1], rel=1e-3)


def level_wing(weight=0.0, slope=2.0 * np.pi, added=0.0, height=DEEP, inner=0.0):
    """`Bench` of a level wing `height` over the centre of gravity, from `inner` to leeward of it: a section alone, no
    strip feels another, no limits, no drag; mass `weight` and added mass `added` [kg/m] of its strips.
    """
    study = demo_study()
    setting = study.settings[0]
    model = model_factors({**study.model, "free_surface": "high-froude", "flow_memory": 0.0, "bending": "quasi-static"})
    bench, _ = bench_of(study.boat, study.boat.foils["port"], setting, model, [(0.0, 0.0)])
    n = bench.march.foil_strips
    edge, length = inner + np.linspace(0.0, SPAN, n + 1), SPAN / n
    for row, value in ((L.S_CHORD, CHORD), (L.S_LENGTH, length), (L.S_X, 0.0), (L.S_SLOPE, slope), (L.S_WAKE, 0.0),
                       (L.S_PROFILE, 0.0), (L.S_ADDED, added), (L.S_MASS, weight), (L.S_BUOYANCY, 0.0),
                       (L.S_ZERO_LIFT, 0.0), (L.S_INCIDENCE, 0.0), (L.S_INDUCED, 0.0), (L.S_CL_MAX, 1e9),
                       (L.S_CL_MIN, -1e9), (L.S_CAV_N0, 1e9), (L.S_CAV_R0, 1e9)):  # fmt: skip
        bench.march.strip[:n, row] = value
    flat = np.zeros(n)
    upright = UprightFoil(0.5 * (edge[1:] + edge[:-1]), flat + height, edge, np.full(n + 1, height), flat, 0.0,
                          flat + length, flat + CHORD)  # fmt: skip
    alone = answers(np.eye(n), np.zeros((n, n)))
    tables = [SpanTable(np.zeros(1), np.broadcast_to(alone, (1, STATES, 2 * n, n)), np.zeros(1), np.ones(1))]
    return Bench(bench.march, bench.reading, upright, tables, 0.0)


def led(bench, seconds, speed=SPEED, **moved):
    """(lift [N] at every step from the end of the lead, time [s], samples): `moved` gives (value, rate, acceleration)
    at the times of half steps, zero before time is.
    """
    steps = int(round((LEAD + seconds) / STEP))
    at = 0.5 * STEP * np.arange(2 * steps + 3) - LEAD
    rows = {name: np.zeros((3, len(at), LANES)) for name in History._fields}
    rows["speed"][0] = speed
    for name, of in moved.items():
        rows[name][:] = np.array(of(at))[:, :, None]
    samples = lead_through(bench, History(**rows), steps, STEP)[0][:, :, 0].astype(float)
    lead = int(round(LEAD / STEP))
    return samples[bench.reading.channels + R_LIFT, lead:], at[::2][lead:steps], samples[:, lead:]


def test_a_fall_into_the_water_gives_half_the_momentum_of_the_added_mass():
    """The entry term alone: its impulse is m V/2 a length, however fast the strip wets (its own closed form)."""
    added, sink, over = 200.0, 0.4, 0.2

    def heave(at):
        return over - sink * np.maximum(at, 0.0), np.where(at >= 0.0, -sink, 0.0), 0.0 * at

    lift, _, _ = led(level_wing(slope=0.0, added=added, height=0.0), 1.2, heave=heave)
    impulse = np.sum(lift) * STEP
    assert impulse == pytest.approx(0.5 * added * sink * SPAN, rel=0.01)
    under = np.flatnonzero(lift > 0.0) * STEP
    half_width = 0.15 * CHORD  # of the ramp from dry to wet, a level strip
    assert under[0] == pytest.approx((over - half_width) / sink, abs=1.5 * STEP)
    assert under[-1] == pytest.approx((over + half_width) / sink, abs=1.5 * STEP)


def test_in_free_fall_through_the_air_a_foil_bends_no_more():
    """Held in the air the bearing bears the wing's weight, m g l^2/2; falling freely, nothing (statics)."""
    weight = 30.0
    bench = level_wing(weight=weight, height=40.0)
    _, _, samples = led(bench, 0.2)
    limit = 1.0 / float(bench.reading.per_limit[0, 0])
    assert samples[0, -1] * limit == pytest.approx(-0.5 * weight * STANDARD_GRAVITY * SPAN**2, rel=1e-4)

    def heave(at):
        fallen = np.maximum(at, 0.0)
        return -0.5 * STANDARD_GRAVITY * fallen**2, -STANDARD_GRAVITY * fallen, -STANDARD_GRAVITY * (at >= 0.0)

    _, _, samples = led(level_wing(weight=weight, height=40.0), 0.6, heave=heave)
    assert np.abs(samples[0, 1:] * limit).max() < 1e-3 * 0.5 * weight * STANDARD_GRAVITY * SPAN**2


@pytest.mark.parametrize("turning", ["heel", "pitch"])
def test_a_wing_that_begins_to_turn_in_the_air_bears_its_own_inertia(turning):
    """Beside its weight: m y times the roll's acceleration, the outboard side going down, or -m x times the pitch's."""
    weight, ahead, inner, speeding = 30.0, 1.6, 1.0, 2.0
    bench = level_wing(weight=weight, height=0.0, inner=inner)
    bench.march.strip[: bench.march.foil_strips, L.S_X] = ahead

    def high(at):
        return 0.0 * at + 60.0, 0.0 * at, 0.0 * at

    def turn(at):
        gone = np.maximum(at, 0.0)
        return 0.5 * speeding * gone**2, speeding * gone, speeding * (at >= -1e-9)

    _, _, samples = led(bench, 0.2, heave=high, **{turning: turn})
    still = -0.5 * weight * STANDARD_GRAVITY * SPAN**2
    roll, pitch = inner * SPAN**2 / 2.0 + SPAN**3 / 3.0, -ahead * SPAN**2 / 2.0
    expected = still + weight * speeding * (roll if turning == "heel" else pitch)
    assert samples[0, 0] / float(bench.reading.per_limit[0, 0]) == pytest.approx(expected, rel=1e-3)


def test_leeway_that_grows_bears_on_an_upright_wing_by_its_inertia():
    """A wing that hangs straight down in the air: -m U times the rate of leeway, half its span outboard (statics)."""
    weight, growing = 30.0, 0.3
    bench = level_wing(weight=weight, height=0.0)

    def down(at):
        return 0.0 * at + np.pi / 2.0, 0.0 * at, 0.0 * at

    def leeway(at):
        return growing * np.maximum(at, 0.0), growing * (at >= -1e-9), 0.0 * at

    _, _, samples = led(bench, 0.1, heel=down, leeway=leeway, heave=lambda at: (0.0 * at + 60.0, 0.0 * at, 0.0 * at))
    expected = -weight * SPEED * growing * SPAN**2 / 2.0
    assert samples[0, 0] / float(bench.reading.per_limit[0, 0]) == pytest.approx(expected, rel=1e-3)


def test_held_in_the_air_the_shear_of_an_edge_is_the_weight_outside_it():
    """m g of what is outboard, downward, along the whole wing; the motion's extremes are those of its own samples."""
    weight = 30.0
    _, along = lead_through(level_wing(weight=weight, height=40.0), still_history(5), 5, STEP)
    n = along.shape[2] - 1
    outboard = SPAN * (1.0 - np.arange(n + 1) / n)
    assert along[0, -1, :, 0] == pytest.approx(-weight * STANDARD_GRAVITY * outboard, rel=1e-5, abs=1e-3)
    rows = np.arange(24.0).reshape(2, 3, 4)
    found = span_extremes(rows)
    assert np.array_equal(found["shear_max"], rows[0, 2]) and np.array_equal(found["shear_min"], rows[0, 0])
    assert np.array_equal(found["torsion_max"], rows[1, 2]) and np.array_equal(found["torsion_min"], rows[1, 0])


def still_history(steps):
    """A `History` in which nothing moves but the boat ahead."""
    rows = {name: np.zeros((3, 2 * steps + 3, LANES)) for name in History._fields}
    rows["speed"][0] = SPEED
    return History(**rows)


def test_a_steady_roll_in_deep_water_is_felt_alike_at_every_heel():
    """Strips turned exactly: through a whole radian the load at the bearing of a weightless wing does not change."""
    rate = 0.5

    def heel(at):
        return rate * np.clip(at, -1e9, 2.0), np.where((at >= 0.0) & (at <= 2.0), rate, 0.0), 0.0 * at

    def turning(at):
        value, rates, none = heel(at)
        return np.maximum(value, 0.0), rates, none

    bench = level_wing(height=0.0, inner=1.0)

    def deep(at):
        return 0.0 * at + DEEP, 0.0 * at, 0.0 * at

    _, time, samples = led(bench, 2.0, heel=turning, heave=deep)
    settled = samples[0, time > 1.2]
    arm = SPAN**2 / 2.0 + SPAN**3 / 3.0  # of a velocity that grows from the centre of gravity, a metre inboard
    quasi_steady = rate * np.pi * 1025.0 * SPEED * CHORD * arm * bench.reading.per_limit[0, 0]
    assert np.ptp(settled) < 0.02 * np.abs(settled).max()
    assert settled[-1] == pytest.approx(quasi_steady, rel=0.02)


def test_a_gybe_of_the_windward_foil_is_that_of_the_working_one_mirrored():
    """With nothing canted the boat is her own mirror image."""
    setting = replace(demo_study().settings[0], cant=0.0)
    rows = {"heel": np.radians([18.0, 0.0, -18.0]), "leeway": np.radians([1.5, 0.0, -1.5]), "speed": [10.0, 8.5, 8.0]}
    other = {"heel": -rows["heel"], "leeway": -rows["leeway"], "speed": rows["speed"]}
    one = motion((0.0, 1.0, 2.0), name="one", **rows)
    two = motion((0.0, 1.0, 2.0), name="two", windward=True, **other)
    first, second = demo_records([one, two], setting)
    for side in ("normal", "reverse"):
        assert getattr(first, side) == getattr(second, side)
    assert np.array_equal(first.series["normal_share"], second.series["normal_share"])
    assert np.array_equal(first.series["heel"], -second.series["heel"])
    assert first.normal.share > 0.2


def test_the_windward_foil_sees_the_centre_of_gravity_on_the_other_hand():
    """Keel and tanks full to leeward of the working foil lie to windward of the other; ahead and up are the same."""
    boat = demo_study().boat
    water = ((700.0, 9.0, 1.4, 0.5), (300.0, 1.0, -0.3, 0.6))
    setting = replace(demo_study().settings[0], cant=0.4, water=water)
    there, here = lane_centre(boat, mirrored(setting)), lane_centre(boat, setting)
    assert there == pytest.approx((here[0], -here[1], here[2])) and abs(here[1]) > 0.1
    assert there[1] != pytest.approx(-lane_centre(boat, replace(setting, water=()))[1], abs=1e-3)


def test_a_motion_has_the_same_bits_in_any_company():
    leap = motion((0.0, 0.5, 1.0), name="leap", height=(0.0, 1.0, 0.0))
    roll = motion((0.0, 1.5), name="roll", heel=(0.3, -0.2))
    alone, beside = demo_records([leap])[0], demo_records([roll, leap])[1]
    assert alone.normal == beside.normal and alone.reverse == beside.reverse
    assert all(np.array_equal(alone.series[name], beside.series[name]) for name in alone.series)


def test_a_leap_raises_the_tip_by_its_height_and_a_fall_loads_it_more():
    calm = demo_records([motion((0.0, 0.2), height=(0.0, 0.0))])[0]
    leap = demo_records([motion((0.0, 0.6, 1.2), height=(0.0, 1.0, 0.0))])[0]
    assert leap.tip_depth_min == pytest.approx(calm.tip_depth_min - 1.0, abs=2e-3)
    assert leap.reverse.share > calm.reverse.share and leap.reverse.time < 0.6  # drawn up
    assert leap.normal.share > 1.5 * calm.normal.share and leap.normal.time > 0.6  # falling


def test_a_hold_between_two_heels_of_the_matrices_bears_what_it_does_at_one_of_them():
    """Half-way between two heels lifts and moments are within a per cent of those of matrices worked out there."""
    study, still = demo_study(), {"free_surface": "high-froude", "flow_memory": 0.0}
    foil, setting, model = study.boat.foils["port"], study.settings[0], model_factors({**study.model, **still})
    row = motion((0.0, 0.2), heel=(0.2, 0.2), height=(0.0, 0.0))
    trim = {name: float(getattr(calm_of()[0], name)[0]) for name in ("heave", "pitch", "leeway")}
    history, _ = history_of([row], trim, setting, STEP)
    found = []
    for away in (0.0, 0.5 * SPAN_STEP):
        bench, _ = bench_of(study.boat, foil, setting, model, [(0.2 - away, 0.2 + away)])
        assert len(bench.tables[0].heel) == (1 if away == 0.0 else 2)
        first = bench.reading.channels
        samples, _ = lead_through(bench, history, 150, STEP)
        found.append(samples[[0, 3, first + R_LIFT, first + R_RIGHTING], -1, 0])
    assert found[1] == pytest.approx(found[0], rel=0.01)
    table = bench.tables[0]
    assert np.array_equal(span_at(table, table.heel[1])[0], table.states[1])


def test_a_foil_that_was_dry_lifts_less_when_it_comes_back():
    """Flow memory goes along: without it the same re-entry loads the foil more."""
    leap = motion((0.0, 0.6, 1.4, 1.9), height=(0.0, 2.4, 2.4, 0.3))
    with_memory, without = demo_records([leap])[0], demo_records([leap], flow_memory=0.0)[0]
    assert with_memory.tip_depth_min < -0.3 and with_memory.normal.time > 1.4
    assert with_memory.normal.share < 0.97 * without.normal.share


def test_worst_load_has_its_time_its_place_and_its_time_past_the_limit():
    places = np.array([0.5, 1.5, 2.5])
    channels = np.array([[0.1, 0.9, 0.2, 0.1], [0.2, 1.2, 1.0, 0.1], [0.0, 0.4, 1.3, 0.1]])
    found = worst_of(channels.max(axis=0), channels, places, 0.5)
    assert (found.share, found.time, found.material, found.beyond) == (1.3, 1.0, 2.5, 1.0)
    never = worst_of(np.zeros(4), np.zeros((3, 4)), places, 0.5)
    assert never.share == 0.0 and np.isnan(never.time) and np.isnan(never.material)


def test_no_calm_trim_no_loads():
    too_fast = replace(demo_study().settings[0], speed=60.0, rake=np.radians(9.0), extension=1.0)
    trim, _ = calm_of()
    assert trim.balanced[0]
    assert demo_records([motion((0.0, 0.2), height=(0.0, 0.1))], too_fast) == [None]


def test_tip_depth_is_read_at_every_step():
    samples, first, _ = held({"flow_memory": 0.0}, heel=0.3, leeway=0.0, speed=9.0, height=0.4, pitch=0.0)
    higher, _, _ = held({"flow_memory": 0.0}, heel=0.3, leeway=0.0, speed=9.0, height=0.7, pitch=0.0)
    assert samples[first + R_TIP_DEPTH] - higher[first + R_TIP_DEPTH] == pytest.approx(0.3, abs=1e-4)

"""What a marched case keeps of events, motions and span, against its own series and the sums they stand for."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.basis.records import EVENT_COLUMNS, NORMAL_EVENT, REVERSE_EVENT
from seaload.basis.units import KNOT
from seaload.foil.bending import static_moments
from seaload.foil.geometry import foil_geometry
from seaload.foil.span_load import edge_torsion, shear_arm
from seaload.foil.strip_axes import strip_normal
from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation import layout as L
from seaload.simulation.block import march_block
from seaload.simulation.sampling import edge_moments
from seaload.simulation.strip_stage import Inflow, Lift, Place, add_forces

COLUMN = {name: i for i, name in enumerate(EVENT_COLUMNS)}
RUN_IN, KEPT = 20.0, 100.0  # [s]
LOWER = {"normal_limit_factor": 0.6, "reverse_limit_factor": 0.1}  # so that seconds hold events of either side


@pytest.fixture(scope="module")
def study(small_study):
    one_blas_thread()
    sampling = replace(small_study.sampling, run_in=RUN_IN, realisation_time=KEPT)
    return replace(small_study, sampling=sampling)


@pytest.fixture(scope="module")
def sailed(study):
    """A case whose foil does not swing, its series kept."""
    foil = study.boat.foils[study.foil_side]
    named = {**study.model, **LOWER, "bending": "quasi-static"}
    cases = [(replace(study.settings[0], rake=0.0), 3)]
    (record,), _ = march_block(study.boat, foil, study.seas[0], cases, study.sampling, named, keep=0)
    return record


def test_the_deepest_event_is_the_highest_share_of_all_blocks(sailed):
    events = sailed.event_table
    for sign, blocks, peaks in (
        (REVERSE_EVENT, sailed.block_worst_reverse, sailed.event_peaks_reverse),
        (NORMAL_EVENT, sailed.block_worst_normal, sailed.event_peaks_normal),
    ):
        mine = events[events[:, COLUMN["side"]] == sign]
        assert len(mine) == min(len(peaks), 16) > 0
        assert mine[0, COLUMN["depth"]] == np.float32(blocks.max()) == peaks.max()
        assert np.all(np.diff(mine[:, COLUMN["depth"]]) <= 0.0)
    reverse = events[events[:, COLUMN["side"]] == REVERSE_EVENT]
    assert reverse[0, COLUMN["time"]] == pytest.approx(sailed.deepest_reverse_time, abs=1e-3)


def test_an_event_tells_the_motion_of_its_moment(sailed):
    for row in sailed.event_table:
        i = int(round((row[COLUMN["time"]] - RUN_IN) / 0.02))
        for name, series in (("speed", "speed"), ("pitch", "pitch"), ("roll", "roll"), ("heave", "heave"),
                             ("elevation", "wave_elevation")):  # fmt: skip
            assert row[COLUMN[name]] == np.float32(sailed.series[series][i])


def test_the_load_of_the_strips_makes_the_moment_of_the_event(study, sailed):
    """Moment of the strips outside about the place (statics) over its limit; what acts along the span left out."""
    foil = study.boat.foils[study.foil_side]
    geometry = foil_geometry(foil, study.settings[0].extension, *LOWER.values())
    s = geometry.strips
    ny, nz = strip_normal(s.chi_b)
    for row, load in zip(sailed.event_table, sailed.event_strip_load, strict=True):
        place, channel = float(row[COLUMN["material"]]), int(row[COLUMN["channel"]])
        assert place == pytest.approx(geometry.channel_s[channel], rel=1e-6)
        y, z = (np.interp(place, s.s_edge, edge) for edge in (s.y_edge, s.z_edge))
        moment = static_moments([place], [y], [z], s, geometry.bearing, foil.bearing_distance, load * ny, load * nz)[0]
        reverse = row[COLUMN["side"]] == REVERSE_EVENT
        share = -moment / geometry.reverse_limit[channel] if reverse else moment / geometry.normal_limit[channel]
        assert share == pytest.approx(row[COLUMN["depth"]], rel=0.04, abs=0.02)


def test_accelerations_are_the_second_derivative_of_the_path_of_each_place(study, sailed):
    """To the 5 % that a difference over two steps flattens the motion by, and a third the hardest slam."""
    boat, dt = study.boat, study.sampling.step
    heave, pitch = (sailed.series[name].astype(float) for name in ("heave", "pitch"))
    second = lambda path: (path[2:] - 2.0 * path[1:-1] + path[:-2]) / dt**2  # noqa: E731
    places = (boat.hull.length, boat.mast_from_transom, boat.cockpit_from_transom)
    for i, x in enumerate(places):
        told = second(heave + (x - boat.cg_from_transom) * pitch)
        assert sailed.acceleration_rms[i] == pytest.approx(told.std(), rel=0.05)
        assert sailed.acceleration_worst[i] == pytest.approx(told.max(), rel=0.35)
        assert sailed.acceleration_rms[i] < sailed.acceleration_highest_tenth[i] <= sailed.acceleration_worst[i]
    assert sailed.acceleration_rms[0] > sailed.acceleration_rms[1] > sailed.acceleration_rms[2] > 0.0


def test_shear_and_torsion_end_at_nothing_and_hold_what_is_carried(sailed):
    for name in ("shear", "torsion"):
        high, low = getattr(sailed, f"{name}_max"), getattr(sailed, f"{name}_min")
        assert high[-1] == low[-1] == 0.0 and np.all(high >= low) and np.all(np.isfinite([high, low]))
    assert sailed.slams == int(sailed.slams) and sailed.thrust_std > 0.0
    assert sailed.speed_mean > 5.0 * KNOT


def random_state(seed):
    """(march, loads) of a foil of twelve strips round a bend, with made-up forces, as the kernel reads them."""
    generator, strips, lanes = np.random.default_rng(seed), 12, L.LANES
    chi = np.linspace(-1.1, 0.4, strips)[:, None] + 0.01 * generator.standard_normal((strips, lanes))
    edge_y, edge_z = (np.concatenate([np.zeros((1, lanes)), np.cumsum(0.3 * f(chi), axis=0)]) for f in (np.cos, np.sin))
    strip = np.zeros((strips, L.STRIP_ROWS, lanes))
    strip[:, L.S_Y], strip[:, L.S_Z] = (0.5 * (edge[1:] + edge[:-1]) for edge in (edge_y, edge_z))
    strip[:, L.S_NY], strip[:, L.S_NZ] = strip_normal(chi)
    out = np.zeros((strips, L.STRIP_OUT_ROWS, lanes))
    for row in (L.O_NORMAL, L.O_FORWARD, L.O_VERTICAL):
        out[:, row] = generator.standard_normal((strips, lanes))

    class March:
        pass

    march, loads = March(), March()
    march.foil_strips, march.strip, march.edge_y, march.edge_z = strips, strip, edge_y, edge_z
    march.edge_arm = np.full((strips + 1, lanes), 0.07)
    march.mode_moment, march.boat = np.zeros((strips + 1, lanes)), np.ones((len(L.BOAT_ROWS), lanes))
    loads.out, loads.rigid, loads.mode = out.reshape(-1), np.zeros(L.RIGID_ROWS * lanes), np.zeros(2 * lanes)
    loads.total = np.zeros(L.TOTAL_ROWS * lanes)
    return march, loads


def test_shear_is_the_sum_of_the_strips_outside_and_torsion_their_moment_about_the_cut():
    """All moments about the cut (r x F), along its tangent: as a vector, one strip after the other."""
    march, loads = random_state(2)
    n, lanes = march.foil_strips, L.LANES
    span = np.zeros((L.SPAN_ROWS * (n + 1), lanes))
    span[0::2], span[1::2] = -1e30, 1e30
    edge_moments.py_func(march, loads, np.zeros((n + 1, lanes)), np.zeros((7, lanes)), span)
    out, strip = loads.out.reshape(n, -1, lanes), march.strip
    force = np.array([
        out[:, L.O_FORWARD], out[:, L.O_NORMAL] * strip[:, L.S_NY],
        out[:, L.O_NORMAL] * strip[:, L.S_NZ] + out[:, L.O_VERTICAL],
    ])  # fmt: skip
    for e in range(n):
        normal = np.array([np.zeros(lanes), strip[e, L.S_NY], strip[e, L.S_NZ]])
        outward = np.array([np.zeros(lanes), normal[2], -normal[1]])
        shear = (force[:, e:].sum(axis=1) * normal).sum(axis=0)
        places = np.array([
            np.full((n - e, lanes), 0.07), strip[e:, L.S_Y] - march.edge_y[e], strip[e:, L.S_Z] - march.edge_z[e]
        ])  # fmt: skip
        turning = np.cross(places, force[:, e:], axis=0).sum(axis=1)
        torsion = -(turning * outward).sum(axis=0)
        assert span[4 * e] == pytest.approx(shear) and span[4 * e + 1] == pytest.approx(shear)
        assert span[4 * e + 2] == pytest.approx(torsion) and span[4 * e + 3] == pytest.approx(torsion)


def moments_rolled(march, loads, roll):
    """Bending moments (edges, lanes) of a boat rolled by so much [rad]."""
    edges = march.foil_strips + 1
    moment, span = np.zeros((edges, L.LANES)), np.zeros((L.SPAN_ROWS * edges, L.LANES))
    loads.rigid.reshape(L.RIGID_ROWS, -1)[L.ROLL] = roll
    edge_moments.py_func(march, loads, moment, np.zeros((7, L.LANES)), span)
    return moment


def test_rolling_changes_nothing_in_how_lift_bends_the_foil():
    """Lift turns with the foil: what it does inside the foil is the same at any roll (statics)."""
    march, loads = random_state(3)
    loads.out.reshape(march.foil_strips, -1, L.LANES)[:, L.O_VERTICAL] = 0.0
    upright = moments_rolled(march, loads, 0.0)
    assert np.abs(upright[:-1]).min() > 0.0
    assert moments_rolled(march, loads, 0.15) == pytest.approx(upright, rel=1e-12)


def test_weight_bends_a_rolled_foil_by_its_levers_as_they_lie_then():
    """Vertical forces at places turned by the roll, each by its lever to leeward of the cut (statics)."""
    march, loads = random_state(4)
    n, out, roll = march.foil_strips, loads.out.reshape(march.foil_strips, -1, L.LANES), 0.01
    out[:, L.O_NORMAL] = 0.0
    found = moments_rolled(march, loads, roll)
    turned = lambda y, z: y * np.cos(roll) + z * np.sin(roll)  # noqa: E731
    strips = turned(march.strip[:, L.S_Y], march.strip[:, L.S_Z])
    for e in range(n):
        levers = strips[e:] - turned(march.edge_y[e], march.edge_z[e])
        assert found[e] == pytest.approx((levers * out[e:, L.O_VERTICAL]).sum(axis=0), abs=20.0 * roll**2)
    assert np.abs(found - moments_rolled(march, loads, 0.0)).max() > 200.0 * roll**2


def rolling_moment(roll, *, lift, buoyancy):
    """Roll moment [N m] that one strip of a boat rolled by `roll` [rad] gives her, by its lift coefficient or float."""
    march, strip, boat = SimpleNamespace(density=1025.0, gravity=9.81, foil_strips=1), *np.zeros((2, 64, L.LANES))
    state = SimpleNamespace(total=np.zeros(L.TOTAL_ROWS * L.LANES), out=np.zeros(L.STRIP_OUT_ROWS * L.LANES),
                            rigid=np.zeros(L.RIGID_ROWS * L.LANES))  # fmt: skip
    state.rigid.reshape(L.RIGID_ROWS, -1)[L.ROLL] = roll
    strip[[L.S_CHORD, L.S_LENGTH]], strip[L.S_BUOYANCY] = 0.5, buoyancy
    flow = Inflow(1.0, 1.0, 0.0, 0.0, 8.0, 0.0, 0.0, 0.0, 0.0)
    got = Lift(0.1, 5.0, 0.0, lift, lift, 1.0, 1.0)
    add_forces.py_func(march, strip.reshape(-1), boat.reshape(-1), state,
                       Place(1.0, 2.5, -1.5, *strip_normal(0.4)), flow, got, 0, 0)  # fmt: skip
    return state.total[L.T_MROLL * L.LANES]


def test_lift_keeps_its_lever_when_she_rolls_and_buoyancy_hangs_plumb():
    """r x F with both turned (statics): lift's moment about the centre of gravity stays, a float's lever moves."""
    assert rolling_moment(0.1, lift=0.5, buoyancy=0.0) == pytest.approx(rolling_moment(0.0, lift=0.5, buoyancy=0.0))
    roll, float_ = 0.05, 400.0  # [N/m], half a metre of it
    lever = 2.5 * np.cos(roll) - 1.5 * np.sin(roll)
    assert rolling_moment(roll, lift=0.0, buoyancy=float_) == pytest.approx(-0.5 * float_ * lever, rel=0.002)


def test_lift_ahead_of_the_shear_centre_turns_the_leading_edge_up():
    assert edge_torsion(1000.0, shear_arm(0.8, 0.4), 0.0) == pytest.approx(1000.0 * 0.12)
    assert shear_arm(0.8, 0.25) == 0.0
    assert edge_torsion(0.0, 0.1, -50.0) == 50.0  # drag above the cut's tangent pushes the upper face aft

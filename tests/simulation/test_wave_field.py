"""The waves the march feels against the plain direct sum, along the path of a boat that surges hard.

The kernels are fed a made-up path: a mean speed, +-40 % surge at several periods, started up to 200 m off. The truth
is `direct_sum` in float64 at the very place of the boat. Errors are root mean squares over the path, the worst
row of each kind over the size of its kind. Bounds: goals of the project, for a hull and a foil.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from seaload.boat.heeling import heeled
from seaload.simulation import block
from seaload.simulation.layout import (
    BOAT,
    DEPTH_TERMS,
    HULL_WAVE_ROWS,
    LANES,
    PATH,
    S_NY,
    S_NZ,
    S_Y,
    SPEED,
    STRIP_WAVE_ROWS,
    T_ACC_SURGE,
    Clock,
)
from seaload.simulation.march import anchors_of, new_anchor, waves_between_in_single
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import lane_centre, march_arrays
from seaload.simulation.sea_table import group_of, sea_components, station_positions, wave_table
from seaload.simulation.wave_field import anchor_waves
from seaload.simulation.workspace import blank_work, in_numbers_of
from seaload.studies.load_study import load_study
from tests.oracles import direct_sum

STUDY = Path(__file__).resolve().parents[2] / "scenarios" / "studies" / "bow-quarter-swell.toml"
STEP = 0.02
SURGE = 0.4  # [-] of the mean speed, either way
PERIODS = (6.0, 9.0, 12.0, 20.0)  # [s] of the surge
OFF_PATH = (-200.0, -60.0, 0.0, 200.0)  # [m]
HOUR = 3600.0
DEPTHS = (0.0, 0.5, 1.5, 3.0)  # [m]
NUDGE = 1e-4  # [s] of the difference that gives the path derivative
BOUNDS = {
    "hull elevation": 1e-3,
    "hull rise": 1e-3,
    "hull slope": 1e-3,
    "hull acceleration": 1e-2,
    "hull path rate of elevation": 1e-2,
    "hull path rate of rise": 1e-2,
    "foil elevation": 5e-3,
    "foil normal velocity": 5e-3,
    "foil axial velocity": 5e-3,
    "foil path rate of normal velocity": 1e-2,
    # no goal is set for keel fin and rudders; their water is read below the surface, where it is smoother
    "fin elevation": 5e-3,
    "fin normal velocity": 1e-2,
    "fin axial velocity": 1e-2,
    "fin path rate of normal velocity": 3e-2,
}
FIN_DEPTHS = slice(1, None)  # of DEPTHS


class Path_:
    """Place, speed and acceleration of every lane at a time since the start."""

    def __init__(self, mean, start_time):
        lane = np.arange(LANES)
        self.mean = mean
        self.turn = 2.0 * np.pi / np.array(PERIODS)[lane % 4]
        self.off = np.array(OFF_PATH)[(lane // 4) % 4]
        self.start = start_time

    def place(self, t):
        sway = SURGE * self.mean / self.turn * (1.0 - np.cos(self.turn * t))
        return self.mean * (self.start + t) + sway + self.off

    def speed(self, t):
        return self.mean * (1.0 + SURGE * np.sin(self.turn * t))

    def surge(self, t):
        return self.mean * SURGE * self.turn * np.cos(self.turn * t)


@pytest.fixture(scope="module")
def ready():
    return ready_arrays()


def ready_arrays(amplitudes="fixed"):
    """March arrays and wave table of the first study; even lanes at half, odd ones at full extension."""
    study = load_study(STUDY)
    foil, sea = study.boat.foils[study.foil_side], study.seas[0]
    settings = [replace(study.settings[0], extension=0.5 if lane % 2 == 0 else 1.0) for lane in range(LANES)]
    model = model_factors({**study.model, "amplitudes": amplitudes})
    count, seed = study.sampling.components, study.sampling.seed
    march, _, _ = march_arrays(study.boat, foil, settings, [1.0] * LANES, model)
    centres = [heeled(*lane_centre(study.boat, s)[1:], s.heel)[0] for s in settings]
    realisations = [lane % 3 for lane in range(LANES)]
    table = wave_table(
        study.boat, foil, sea, realisations, march, centres, seed=seed, count=count, model=model
    )  # fmt: skip
    return study, march, table, np.array(centres), sea_components(sea, seed, count, model)


def direct_rows(ready, path, lane, t, shift):
    """Truth of one lane at `t`, its place moved on by `shift` [s] along the path."""
    study, march, table, centres, components = ready
    phases = table.phase[:, lane]
    components = components._replace(amplitude=components.amplitude * table.swing[:, lane])
    time, place = path.start + t + shift, float(path.place(t + shift)[lane])
    x = place + station_positions(study.boat)[0]
    velocity = direct_sum.velocities(components, phases, x, 0.0, time, 0.0)
    rows = {
        "hull elevation": direct_sum.elevation(components, phases, x, 0.0, time),
        "hull rise": velocity[2],
        "hull slope": direct_sum.slopes(components, phases, x, 0.0, time)[0],
        "hull acceleration": direct_sum.accelerations(components, phases, x, 0.0, time, 0.0)[2],
    }
    strip = march.strip[:, :, lane]
    keel_x = study.boat.keel.root_x - study.boat.cg_from_transom
    carried = direct_sum.velocities(components, phases, place + keel_x, 0.0, time, study.boat.sway_depth)[1]
    # the lateral place is the heeled boat's, from its centre line; the march reads the sea at nominal x
    nominal = np.repeat(
        [x - study.boat.cg_from_transom for x in _surface_places(study)],
        [march.foil_strips, *np.bincount(table.strip_group)[1:]],
    )
    u, v, w = direct_sum.velocities(
        components, phases, place + nominal[:, None], (strip[:, S_Y] + centres[lane])[:, None], time, DEPTHS
    )
    y = strip[:, S_Y] + centres[lane]
    rows["foil elevation"] = direct_sum.elevation(components, phases, place + nominal, y, time)
    across = v - table.sway_following[lane] * carried
    rows["foil normal velocity"] = w * strip[:, S_NZ, None] + across * strip[:, S_NY, None]
    rows["foil axial velocity"] = u
    return apart(rows, march.foil_strips)


def apart(rows, foil_strips):
    """Strip rows split into those of the foil and those of keel fin and rudder."""
    for kind in [kind for kind in rows if kind.startswith("foil")]:
        fin = rows[kind][foil_strips:]
        rows[kind.replace("foil", "fin", 1)] = fin if fin.ndim == 1 else fin[:, FIN_DEPTHS]
        rows[kind] = rows[kind][:foil_strips]
    return rows


def _surface_places(study):
    return (study.boat.foils[study.foil_side].exit_x, study.boat.keel.root_x, study.boat.rudder.root_x)


def fast_rows(march, wave, rate, lane):
    """The same from the march's own rows."""
    stations, strips = march.hull.shape[0], march.strip.shape[0]
    hull = HULL_WAVE_ROWS * np.arange(stations)
    base = HULL_WAVE_ROWS * stations + 2 + STRIP_WAVE_ROWS * np.arange(strips)
    d = np.minimum(np.array(DEPTHS) / march.depth_scale, 1.0)
    powers = d[None, :] ** np.arange(DEPTH_TERMS)[:, None]
    normal = base[:, None] + 1 + np.arange(DEPTH_TERMS)
    rows = {
        "hull elevation": wave[hull, lane],
        "hull rise": wave[hull + 1, lane],
        "hull slope": wave[hull + 3, lane],
        "hull acceleration": wave[hull + 2, lane],
        "hull path rate of elevation": rate[hull, lane],
        "hull path rate of rise": rate[hull + 1, lane],
        "foil elevation": wave[base, lane],
        "foil normal velocity": wave[normal, lane] @ powers,
        "foil axial velocity": wave[normal + DEPTH_TERMS, lane] @ powers,
        "foil path rate of normal velocity": rate[normal, lane] @ powers,
    }
    return apart(rows, march.foil_strips)


def truth_rows(ready, path, lane, t):
    """Direct rows and their derivatives along the path."""
    now = direct_rows(ready, path, lane, t, 0.0)
    ahead = direct_rows(ready, path, lane, t, NUDGE)
    behind = direct_rows(ready, path, lane, t, -NUDGE)
    for kind, of in (
        ("hull path rate of elevation", "hull elevation"),
        ("hull path rate of rise", "hull rise"),
        ("foil path rate of normal velocity", "foil normal velocity"),
        ("fin path rate of normal velocity", "fin normal velocity"),
    ):
        now[kind] = (ahead[of] - behind[of]) / (2.0 * NUDGE)
    return now


def follow(ready, anchor_steps, start_time, lanes, *, seconds=24.0, read_every=37):
    """{kind: relative error} of the march's waves along the made-up path, as if the boat were marching."""
    _, march, table, _, _ = ready
    clock = Clock(STEP, anchor_steps, 10.0)
    span = STEP * anchor_steps
    path = Path_(march.boat[BOAT["target_speed"]], start_time)
    work = blank_work(march, table)
    scratch = (work.angle, work.phasor, work.shapes, work.generic)
    single, loads = in_numbers_of(np.float32, march), work.loads
    anchor = round(start_time / span)
    for t, rows in zip((-span, 0.0), anchors_of(work, anchor)[:2], strict=True):
        anchor_waves(
            table, single.strip, march.hull.shape[0], start_time + t, 1.0, 0.0, path.place(t), path.speed(t),
            scratch, rows,
        )  # fmt: skip
    wrong, size = {kind: 0.0 for kind in BOUNDS}, {kind: 0.0 for kind in BOUNDS}
    reads = 0
    for half in range(int(seconds / STEP) * 2):
        t, within = 0.5 * half * STEP, 0.5 * half % anchor_steps
        if within == 0.0:
            work.state[PATH], work.state[SPEED] = path.place(t), path.speed(t)
            loads.total.reshape(-1, LANES)[T_ACC_SURGE] = path.surge(t)
            anchor = round((start_time + t) / span)
            new_anchor(single, table, clock, work, anchor, span)
        if half % read_every:
            continue
        share = np.float32(within / anchor_steps)
        waves_between_in_single(*anchors_of(work, anchor), np.float32(span), share, table.rated, loads.wave, loads.rate)
        wave, rate = loads.wave.reshape(-1, LANES), loads.rate.reshape(-1, LANES)
        reads += 1
        for lane in lanes:
            fast, truth = fast_rows(march, wave, rate, lane), truth_rows(ready, path, lane, t)
            for kind in BOUNDS:
                wrong[kind] = wrong[kind] + (fast[kind] - truth[kind]) ** 2
                size[kind] = size[kind] + np.mean(truth[kind] ** 2)
    assert reads > 50  # 37 shares no factor with the half steps between two anchors
    return {kind: float(np.sqrt(np.max(wrong[kind]) / size[kind])) for kind in BOUNDS}


@pytest.mark.parametrize("hours", [0.5, 100.0])
@pytest.mark.parametrize("extension", [0.5, 1.0])
def test_waves_along_a_surging_path(ready, hours, extension):
    first = 0 if extension == 0.5 else 1
    errors = follow(ready, block.ANCHOR_STEPS, hours * HOUR, (first, first + 14), read_every=37)
    over = {kind: value for kind, value in errors.items() if not value <= BOUNDS[kind]}
    assert not over, f"errors over rms: {over}"


def test_random_amplitudes_are_each_realisations_own():
    """The same direct sum with every component's own swing; the lanes of one realisation share theirs."""
    swinging = ready_arrays("random")
    swing = swinging[2].swing
    assert np.array_equal(swing[:, 0], swing[:, 3]) and not np.array_equal(swing[:, 0], swing[:, 1])
    errors = follow(swinging, block.ANCHOR_STEPS, 0.5 * HOUR, (0, 14), read_every=37)
    over = {kind: value for kind, value in errors.items() if not value <= 2.0 * BOUNDS[kind]}
    assert not over, f"errors over rms: {over}"


def test_every_group_of_realisations_has_its_own_components():
    """Sixteen share frequencies and directions, the next sixteen draw theirs; the energy is the sea's in both."""
    study = load_study(STUDY)
    model, sea = model_factors(study.model), study.seas[0]
    first, again, other = (sea_components(sea, 1, 240, model, group) for group in (0, 0, 1))
    assert np.array_equal(first.omega, again.omega) and not np.any(first.omega == other.omega)
    assert np.sum(first.amplitude**2) == pytest.approx(np.sum(other.amplitude**2), rel=1e-9)
    assert group_of(range(16)) == 0 and group_of([16, 31]) == 1
    with pytest.raises(ValueError, match="groups"):
        group_of([15, 16])

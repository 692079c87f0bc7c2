"""One block of cases: up to LANES runs side by side in one sea, marched, counted, and handed back as records."""

import time
from dataclasses import dataclass
from functools import partial

import numpy as np

from seaload.basis.lane_index import lined_up
from seaload.boat.resistance import floor_speed
from seaload.boat.slamming import slam_speed
from seaload.fatigue.constant_life import reference_scale
from seaload.fatigue.rainflow import OVERFLOWED
from seaload.foil.lag_states import WAGNER_A1, WAGNER_A2
from seaload.simulation.case_record import block_records
from seaload.simulation.count_events import LEAST_SHARE, count_events, event_levels, new_event_tally
from seaload.simulation.count_motion import count_motion, new_motion_tally
from seaload.simulation.counting import BLOCK_TIME, CountRules, count_block, new_tally
from seaload.simulation.deepest import DeepestKeeper
from seaload.simulation.layout import (
    BOAT,
    HEADING,
    HEAVE,
    LAGS,
    LANES,
    PITCH,
    SPEED,
    SWAY,
)
from seaload.simulation.march import march_steps
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import lane_sides
from seaload.simulation.prepared import Prepared
from seaload.simulation.sampling import BOAT_SAMPLES, R_PITCH, R_SPEED, R_WORST_NORMAL, R_WORST_REVERSE
from seaload.simulation.sea_table import group_of, sea_components, wave_table
from seaload.simulation.series import MomentKeeper, SeriesKeeper
from seaload.simulation.wave_field import anchor_waves
from seaload.simulation.wave_weights import clock_of
from seaload.simulation.wind_table import gusty_wind
from seaload.simulation.workspace import blank_held, blank_work, in_numbers_of
from seaload.waves.encounter import mean_encounter_frequency

CHUNK = 200  # steps between two counts
ANCHOR_STEPS = 6
BOAT_TARGET, BOAT_LEEWAY = BOAT["target_speed"], BOAT["leeway"]
MOMENTS = "moments"  # what may be kept of every case
RAMP = 10.0  # [s] from still water to full sea
USUAL = (R_WORST_REVERSE, R_WORST_NORMAL, R_PITCH, R_SPEED)  # rows whose means over the run-in are expected
BLOWN_UP = (50.0, 1.5)  # [m] heave, [rad] pitch: no boat is there, the case has ended
BROACHED = 1.5  # [rad] off her heading either way: the sails are not modelled so far round, the case has ended


@dataclass(frozen=True)
class BlockTimes:
    """Where the processor time of a block went [s], of the one thread that marched it."""

    prepare: float
    march: float
    count: float
    simulated: float  # [s] of sea, all real lanes, run-in included


def count_rules(boat, foil, geometries, sampling, speeds):
    """`CountRules` of a block: ultimates in shares [-] of the normal limit, wear scaled to the reference block.

    `boat`, `foil`, `sampling` scenario records, `geometries` a `FoilGeometry` a lane, `speeds` (LANES,) [m/s] set.
    """
    curve, first = foil.fatigue, geometries[0]
    channels = len(first.channel_s)
    reverse, scale, steep = (np.zeros((channels, LANES)) for _ in range(3))
    for lane, geometry in enumerate(geometries):
        ratio = geometry.reverse_limit / geometry.normal_limit
        reverse[:, lane] = curve.ultimate_reverse * ratio
        for channel in range(channels):
            ends = (1.0, curve.ultimate_normal, reverse[channel, lane])
            scale[channel, lane] = reference_scale(*ends, curve.slope)
            steep[channel, lane] = reference_scale(*ends, curve.steep_slope)
    return CountRules(
        step=sampling.step,
        places=1 + len(foil.stations),
        pitch_bound=boat.limits_of_validity.pitch,
        floor_speed=floor_speed(speeds, boat.thrust_slope),
        rudder_limit=float(boat.steering.rudder_limit),
        slope=float(curve.slope),
        steep_slope=float(curve.steep_slope),
        normal_ultimate=float(curve.ultimate_normal),
        reverse_ultimate=reverse,
        scale=scale,
        steep_scale=steep,
    )


def start_from_calm(march, single, table, trim, step):
    """`Work` of a block at rest in its calm trim, with the first anchor summed.

    `march` and its copy `single` in single precision, `table` a `WaveTable`, `trim` a `CalmTrim` (units in each),
    `step` [s] of the march.
    """
    work = blank_work(march, table, step)
    work.state[HEAVE] = trim.heave
    work.state[PITCH] = trim.pitch
    work.state[SPEED] = march.boat[BOAT_TARGET]
    lags = work.loads.lags.reshape(-1, LAGS, LANES)
    lags[:, 0], lags[:, 1] = WAGNER_A1 * trim.motion, WAGNER_A2 * trim.motion
    work.state[SWAY] = march.boat[BOAT_TARGET] * march.boat[BOAT_LEEWAY]
    work.place.ahead_rate[:], work.place.aside_rate[:] = work.state[SPEED], work.state[SWAY]
    anchor_waves(table, single, 0.0, 0.0, 0.0, work.place, work, work.anchors[0])
    return work


def lanes_there(work):
    """Lanes of a `work` with a finite state that a boat can have, (LANES,) bool."""
    rigid = work.state
    finite = np.all(np.isfinite(rigid), axis=0)
    finite &= np.all(np.isfinite(work.loads.lags.reshape(-1, LANES)), axis=0)
    with np.errstate(invalid="ignore"):
        return finite & (np.abs(rigid[HEAVE]) < BLOWN_UP[0]) & (np.abs(rigid[PITCH]) < BLOWN_UP[1])


def lanes_gone(work):
    """Lanes of a `work` that come to their end, broached or blown up, (LANES,) bool."""
    with np.errstate(invalid="ignore"):
        return ~(lanes_there(work) & (np.abs(work.state[HEADING]) < BROACHED))


def _park(work, lanes, trim, march):
    """Put ended `lanes` (LANES,) bool of a `work` back at rest in their `trim`: they march on unread.

    So every block has the same shape; `march` holds their speed.
    """
    for array in (work.state, work.mode, work.mode_half, work.mode_end, work.held, work.gained, work.helm[None]):
        array[:, lanes] = 0.0
    work.heard.reshape(-1, LANES)[:, lanes] = 0.0
    for flat in (work.loads.lags, work.loads.memory, work.loads.total):
        flat.reshape(-1, LANES)[:, lanes] = 0.0
    work.state[HEAVE, lanes] = trim.heave[lanes]
    work.state[PITCH, lanes] = trim.pitch[lanes]
    work.state[SPEED, lanes] = march.boat[BOAT_TARGET, lanes]
    work.state[SWAY, lanes] = march.boat[BOAT_TARGET, lanes] * march.boat[BOAT_LEEWAY, lanes]


def prepared_run(boat, foil, sea, cases, sampling, named_model=None, *, gust=None, keeper=None, prepared=None):
    """(a block ready to march from calm, `FoilGeometry` of its lanes).

    `boat`, `foil`, `sea`, `cases`, `sampling`, `named_model`, `gust` and `prepared` as `march_block`'s; `keeper` makes
    what keeps samples of the block, or None.
    """
    model, prepared = model_factors(named_model), prepared or Prepared()
    lanes = list(cases) + [cases[-1]] * (LANES - len(cases))
    settings = [setting for setting, _ in lanes]
    group = group_of(realisation for _, realisation in lanes)
    known = prepared.sea(boat, foil, sea, sampling, model, group)
    # every group of realisations is the same sea to the hull: her damping is that of its first components
    first = known[0] if group == 0 else sea_components(sea, sampling.seed, sampling.components, model)
    encounters = [mean_encounter_frequency(first, s.speed) for s in settings]
    march, reading, geometries, trim = prepared.block(boat, foil, settings, encounters, model)
    table = wave_table(
        boat, foil, sea, [r for _, r in lanes], march, lane_sides(boat, settings),
        seed=sampling.seed, count=sampling.components, model=model, known=known,
    )  # fmt: skip
    clock = clock_of(known[0], march.boat[BOAT_TARGET], sampling.step, ANCHOR_STEPS, RAMP)
    single = in_numbers_of(np.float32, march)
    work = start_from_calm(march, single, table, trim, sampling.step)
    rules = count_rules(boat, foil, geometries, sampling, march.boat[BOAT_TARGET])
    if gust is None:
        gust = gusty_wind(boat, sea, lanes, sampling, model)
    run = _Run(march, single, reading, table, clock, work, rules, trim, sampling, gust, keeper, len(cases))
    return run, geometries


def wind_at_steps(gust, steps):
    """Pull of the wind over its mean at every full step, (steps + 1, LANES) [-] in single precision.

    `gust` the same of all lanes (steps + 1,) or of as many as there are (steps + 1, lanes), the last one repeated;
    None for a steady wind. `steps` their number.
    """
    if gust is None:
        return np.ones((steps + 1, LANES), dtype=np.float32)
    column = np.asarray(gust).reshape(steps + 1, -1)
    return np.ascontiguousarray(column[:, np.minimum(np.arange(LANES), column.shape[1] - 1)], dtype=np.float32)


def keeper_of(keep, deepest):
    """What makes the keeper of a block, or None; `keep`, `deepest` as `march_block`'s."""
    if deepest:
        return DeepestKeeper
    if keep is None:
        return None
    return MomentKeeper if keep == MOMENTS else partial(SeriesKeeper, lane=keep)


def march_block(
    boat, foil, sea, cases, sampling, named_model=None,
    *, gust=None, keep=None, deepest=False, stop=None, prepared=None,
):  # fmt: skip
    """March and count one block. Returns (list of CaseRecord in the order of `cases`, BlockTimes).

    boat, foil, sea : scenario records. cases : up to LANES pairs (setting, realisation number), SI.
    sampling : record with seed, realisation_time, run_in, step, components.
    named_model : choices and factors of the physics, as `model_options` has them.
    gust : pull of the wind over its mean at every step, as `wind_at_steps` takes it; None for the sea's own wind.
    keep : None, or number of the case whose samples are kept as its `series`, or MOMENTS, those of every case.
    deepest : whether the case with the deepest reverse load gets what its minute can be marched again from.
    stop : None, or a function asked at every chunk; once it says True the block ends with KeyboardInterrupt.
    prepared : None, or the `Prepared` that remembers what other blocks were prepared from; it moves no bit.
    """
    began = time.thread_time()
    run, geometries = prepared_run(
        boat, foil, sea, cases, sampling, named_model,
        gust=gust, keeper=keeper_of(keep, deepest), prepared=prepared,
    )  # fmt: skip
    prepared = time.thread_time()
    run.go(stop)
    simulated = len(cases) * (sampling.run_in + sampling.realisation_time)
    records = block_records(run, boat, geometries, cases)
    times = BlockTimes(prepared - began, run.march_time, run.count_time, simulated)
    return records, times


class _Run:
    """The chunks of one block in order: march, look for ended lanes, count."""

    def __init__(self, march, single, reading, table, clock, work, rules, trim, sampling, gust, keeper, real):
        """What a block marches with, and fresh counts.

        `march` and its copy `single` in single precision, `reading`, `table`, `clock`, `work` as `march_steps` takes
        them; `rules` (`CountRules`), `trim` (`CalmTrim`) to park ended lanes in, `sampling` a scenario record with
        times [s]; `gust` as `wind_at_steps` takes it; `keeper` makes what keeps samples, or None; `real` number of
        lanes that count.
        """
        self.march, self.reading, self.table, self.clock, self.work = march, reading, table, clock, work
        self.single, self.single_reading = single, in_numbers_of(np.float32, reading)
        self.rules, self.trim, self.sampling, self.real = rules, trim, sampling, real
        self.steps = int(round((sampling.run_in + sampling.realisation_time) / clock.step))
        self.skip = int(round(sampling.run_in / clock.step))
        self.wind = wind_at_steps(gust, self.steps)
        self.alive = np.zeros(LANES, dtype=np.int64)
        self.alive[:real] = 1
        self.stopped_at, self.broached = np.full(LANES, np.nan), np.zeros(LANES, dtype=bool)
        blocks = max(int(np.ceil(sampling.realisation_time / BLOCK_TIME - 1e-9)), 1)
        self.tally = new_tally(reading.channels, rules.places, blocks)
        self.held = blank_held(march, LEAST_SHARE, (trim.pitch, march.boat[BOAT_TARGET]))
        self.events = new_event_tally(march.foil_strips, blocks + 1)
        self.motions = new_motion_tally()
        self.slam_depth = clock.step * np.array([slam_speed(length, march.gravity) for length in
                                                 march.boat[BOAT["waterline_length"]]])  # fmt: skip
        self.usual = np.zeros((len(USUAL), LANES))
        self.march_time = self.count_time = 0.0
        self.buffer = lined_up(np.zeros((reading.channels + BOAT_SAMPLES, CHUNK, LANES), dtype=np.float32))
        self.keeper = None if keeper is None else keeper(self)

    def go(self, stop=None):
        """March to the end, or until no real lane is left, or until told to stop."""
        for first in (*range(0, self.skip, CHUNK), *range(self.skip, self.steps, CHUNK)):
            if stop is not None and stop():
                raise KeyboardInterrupt
            count = min(CHUNK, (self.skip if first < self.skip else self.steps) - first)
            t0 = time.thread_time()
            if self.keeper is not None:
                self.keeper.stand(first)
            self.go_on(first, count)
            t1 = time.thread_time()
            self.march_time += t1 - t0
            gone = lanes_gone(self.work)
            if gone.any():
                self._end(gone, first)
            if first >= self.skip:
                self._count(count, first)
            else:
                self._look_ahead(count, first)
            self.count_time += time.thread_time() - t1
            if not self.alive.any():
                return

    def go_on(self, first, count):
        """March `count` steps from step number `first`, their samples in the buffer."""
        march_steps(
            self.march, self.single, self.table, self.clock, self.single_reading, self.work,
            first, count, self.wind, self.buffer, self.held,
        )  # fmt: skip

    def _end(self, gone, first):
        """Note that the lanes `gone` (LANES,) bool ended in the chunk from step number `first`, and park them."""
        ended = gone & (self.alive == 1)
        self.broached |= ended & lanes_there(self.work)
        self.stopped_at[ended] = first * self.clock.step
        self.alive[gone] = 0
        _park(self.work, gone, self.trim, self.march)

    def _look_ahead(self, count, first):
        """Add `count` samples of the run-in, from step number `first`, to what is usual; at its end, expect that."""
        rows = self.buffer[[self.reading.channels + row for row in USUAL], :count].astype(float)
        self.usual = np.add.reduce(np.concatenate([self.usual[:, None], rows], axis=1), axis=1)
        if first + count == self.skip:
            mean = self.usual / self.skip
            self.held.level[:] = event_levels(mean[:2])
            self.held.usual[:] = mean[2:]

    def _count(self, count, first):
        """Count `count` samples in the buffer, from step number `first`."""
        count_block(
            self.buffer, count, first * self.clock.step, self.reading, self.tally, self.rules, self.alive
        )  # fmt: skip
        channels = self.reading.channels
        count_events(
            self.buffer, count, first * self.clock.step, channels, self.held, self.events, self.clock.step, self.alive
        )  # fmt: skip
        count_motion(self.buffer, count, channels, self.motions, self.slam_depth, self.alive)
        if self.keeper is not None:
            self.keeper.take(count, first)

    def overflowed(self, lane):
        """Whether a rainflow stack of a lane was too small."""
        return bool(self.tally.state[lane, :, OVERFLOWED].any())

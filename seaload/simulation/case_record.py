"""From the tallies of a block to one frozen record a case."""

import numpy as np

from seaload.basis.records import (
    STATUS_BROACHED,
    STATUS_COUNTER_FULL,
    STATUS_DONE,
    STATUS_FOREDECK_BURIED,
    STATUS_NOT_FINITE,
    STATUS_PITCH_BEYOND,
    STATUS_SPEED_BEYOND,
    STATUS_SPEED_NOT_HELD,
    STATUS_THRUST_FLOOR,
    CaseRecord,
)
from seaload.fatigue.excursions import COUNT, LONGEST, TIME_BEYOND
from seaload.fatigue.rainflow import residue_loads
from seaload.simulation.calm import calm_thrust
from seaload.simulation.counting import BLOCK_TIME, FULL, HALF, OVER, close_lane
from seaload.simulation.layout import BOAT
from seaload.simulation.record_events import event_fields, motion_fields, span_fields
from seaload.simulation.sampling import (
    R_DRAG,
    R_DRIVE,
    R_HEADING,
    R_HEAVE,
    R_HULL_LIFT,
    R_LIFT,
    R_LINE,
    R_PITCH,
    R_RIGHTING,
    R_ROLL,
    R_RUDDER,
    R_SPEED,
    R_SWAY,
    R_TIP_DEPTH,
)

LEAST_SPEED = 0.1  # [m/s] below it an angle of leeway means nothing


def _status(run, lane, validity, speed_mean, speed_max):
    """How a case ended (STATUS_*), by the stated limits of `validity`.

    `run` the block, `lane` its number; `speed_mean`, `speed_max` [m/s]. A speed that is not held cannot miss.
    """
    target, tally = run.march.boat[BOAT["target_speed"], lane], run.tally
    share = lambda samples: samples[lane] / max(tally.samples[lane], 1.0)  # noqa: E731
    if not np.isnan(run.stopped_at[lane]):
        return STATUS_BROACHED if run.broached[lane] else STATUS_NOT_FINITE
    if run.overflowed(lane):
        return STATUS_COUNTER_FULL
    if share(tally.steep_samples) > validity.pitch_share:
        return STATUS_PITCH_BEYOND
    if share(tally.buried_samples) > validity.foredeck_share:
        return STATUS_FOREDECK_BURIED
    if speed_max > validity.speed_ratio * target:
        return STATUS_SPEED_BEYOND
    if share(tally.becalmed_samples) > validity.thrust_floor_share:
        return STATUS_THRUST_FLOOR
    held = run.march.boat[BOAT["speed_hold_rate"], lane] > 0.0
    if held and abs(speed_mean / target - 1.0) > validity.speed_held:
        return STATUS_SPEED_NOT_HELD
    return STATUS_DONE


def mean_speeds(run):
    """Mean speed [m/s] of every lane of a `run`, (LANES,); the speed set where nothing was counted."""
    tally, row = run.tally, run.reading.channels + R_SPEED
    mean = tally.offset[:, row] + tally.mean[:, row] / np.maximum(tally.samples, 1.0)
    return np.where(tally.samples > 0.0, mean, run.march.boat[BOAT["target_speed"]])


def case_record(run, boat, geometry, lane, thrust_calm):
    """`CaseRecord` of one `lane` of a finished `run`; `boat` a scenario record, `geometry` its `FoilGeometry`.

    `thrust_calm` [N] that still water asks for at the mean speed.
    """
    tally, rules, step = run.tally, run.rules, run.clock.step
    channels, places = run.reading.channels, rules.places
    samples = max(tally.samples[lane], 1.0)
    mean = tally.offset[lane] + tally.mean[lane] / samples
    spread = tally.square[lane] / samples - (tally.mean[lane] / samples) ** 2
    std = np.sqrt(np.maximum(spread, 0.0))
    limit = geometry.normal_limit
    histogram, damage = tally.histogram[lane].copy(), tally.damage[lane].copy()
    close_lane(tally, rules, lane, histogram, damage)
    boat_row = {
        name: channels + row
        for name, row in (
            ("speed", R_SPEED),
            ("heave", R_HEAVE),
            ("pitch", R_PITCH),
            ("roll", R_ROLL),
            ("heading", R_HEADING),
            ("sway", R_SWAY),
            ("rudder", R_RUDDER),
            ("lift", R_LIFT),
            ("righting", R_RIGHTING),
            ("drag", R_DRAG),
            ("line", R_LINE),
            ("drive", R_DRIVE),
        )
    }
    highest, lowest = tally.highest[lane], tally.lowest[lane]
    farthest = {
        name: float(max(abs(highest[boat_row[name]]), abs(lowest[boat_row[name]])))
        for name in ("pitch", "heading", "rudder")
    }
    beyond = tally.steep_samples[lane] * step
    excursion = tally.excursion[lane]
    status = _status(
        run,
        lane,
        boat.limits_of_validity,
        mean[boat_row["speed"]],
        highest[boat_row["speed"]],
    )
    load = slice(0, places)
    outside = geometry.channel_s[load] >= geometry.bearing - 1e-9
    grid = slice(places, channels)
    # a share at a place inside the hull is of the moment between the bearings, over the place's own limit
    moment = {
        "mean": mean[:channels] * limit,
        "max": highest[:channels] * limit,
        "min": lowest[:channels] * limit,
    }
    return CaseRecord(
        status=status,
        duration=float(tally.samples[lane] * step),
        stopped_at=float(run.stopped_at[lane]),
        moment_mean=moment["mean"][load],
        moment_std=(std[:channels] * limit)[load],
        moment_max=moment["max"][load],
        moment_min=moment["min"][load],
        reversed_time=tally.reversed_samples[lane, load] * step,
        excursions_half=excursion[:, HALF, COUNT].copy(),
        excursions_full=excursion[:, FULL, COUNT].copy(),
        normal_exceedances=excursion[:, OVER, COUNT].copy(),
        excursion_time=excursion[:, FULL, TIME_BEYOND].copy(),
        excursion_longest=excursion[:, HALF, LONGEST].copy(),
        damage=damage[load, 0],
        damage_steep=damage[load, 1],
        rainflow_count=histogram,
        residue=tuple(
            residue_loads(tally.stack[lane, c], tally.state[lane, c]) * limit[c] for c in range(places)
        ),
        events_half=int(tally.event[lane, HALF, 0]),
        events_full=int(tally.event[lane, FULL, 0]),
        normal_events=int(tally.event[lane, OVER, 0]),
        block_time=BLOCK_TIME,
        block_worst_reverse=tally.block_reverse[lane].copy(),
        block_worst_normal=tally.block_normal[lane].copy(),
        deepest_reverse_time=float(tally.deepest[lane, 1]),
        grid_damage=damage[grid, 0],
        grid_moment_mean=moment["mean"][grid],
        grid_moment_max=moment["max"][grid],
        grid_moment_min=moment["min"][grid],
        speed_mean=float(mean[boat_row["speed"]]),
        speed_std=float(std[boat_row["speed"]]),
        speed_max=float(highest[boat_row["speed"]]),
        heave_std=float(std[boat_row["heave"]]),
        pitch_mean=float(mean[boat_row["pitch"]]),
        pitch_std=float(std[boat_row["pitch"]]),
        pitch_max=farthest["pitch"],
        roll_std=float(std[boat_row["roll"]]),
        vertical_lift_mean=float(mean[boat_row["lift"]]),
        lift_share_mean=float(mean[boat_row["lift"]] / run.march.boat[BOAT["weight"], lane]),
        righting_moment_mean=float(mean[boat_row["righting"]]),
        foil_drag_mean=float(mean[boat_row["drag"]]),
        hold_down_mean=float(mean[boat_row["line"]]),
        hold_down_max=float(highest[boat_row["line"]]),
        slack_time=float(tally.slack_samples[lane] * step),
        pitch_beyond_time=float(beyond),
        hull_lift_min=float(lowest[channels + R_HULL_LIFT]),
        tip_depth_min=float(lowest[channels + R_TIP_DEPTH]),
        place_block_reverse=np.where(outside[:, None], tally.place_reverse[lane], np.nan),
        place_block_normal=np.where(outside[:, None], tally.place_normal[lane], np.nan),
        normal_limit=limit[load],
        reverse_limit=geometry.reverse_limit[load],
        grid_outside=(geometry.channel_s[grid] >= geometry.bearing - 1e-9).astype(float),
        series={},
        leeway_mean=float(mean[boat_row["sway"]] / max(mean[boat_row["speed"]], LEAST_SPEED)),
        rudder_mean=float(run.trim.rudder[lane] + mean[boat_row["rudder"]]),
        sway_std=float(std[boat_row["sway"]]),
        heading_std=float(std[boat_row["heading"]]),
        heading_max=farthest["heading"],
        rudder_std=float(std[boat_row["rudder"]]),
        rudder_max=farthest["rudder"],
        broach_time=float(tally.broach[lane, 0] * step),
        thrust_mean=float(mean[boat_row["drive"]]),
        thrust_calm=float(thrust_calm),
        foredeck_time=float(tally.buried_samples[lane] * step),
        thrust_floor_time=float(tally.becalmed_samples[lane] * step),
        thrust_std=float(std[boat_row["drive"]]),
        **event_fields(run, geometry, lane),
        **motion_fields(run, lane, std, highest),
        **span_fields(run, lane),
    )


def block_records(run, boat, geometries, cases):
    """Records of the real lanes of a finished `run`, in the order of the `cases`; a kept case carries its series.

    `boat` a scenario record, `geometries` a `FoilGeometry` a lane.
    """
    calm = calm_thrust(run.march, run.trim, mean_speeds(run))
    records = [case_record(run, boat, geometries[lane], lane, calm[lane]) for lane in range(len(cases))]
    if run.keeper is not None:
        for lane, series in run.keeper.series([g.normal_limit for g in geometries]).items():
            records[lane].series.update(series)
    return records

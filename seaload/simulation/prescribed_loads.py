"""What written motions do to a foil: each led through its history, its worst loads and their place and time."""

import numpy as np

from seaload.basis.prescribed_record import PrescribedRecord, Worst
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.simulation.prescribed import (
    ANY_ENCOUNTER,
    LEAD,
    bench_of,
    history_of,
    lead_through,
    mirrored,
)
from seaload.simulation.sampling import R_LINE, R_TIP_DEPTH, R_WORST_NORMAL, R_WORST_REVERSE

MOST_SAMPLES = 240  # of a motion's kept series


def trim_of(boat, foil, setting, model):
    """{heave [m], pitch [rad], leeway [rad]} in calm water, or None where there is no trim.

    `boat`, `foil`, `setting` scenario records, `model` {name: value} as `model_factors` gives it.
    """
    settings = [setting] * LANES
    march, _, _ = march_arrays(boat, foil, settings, [ANY_ENCOUNTER] * LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, settings))
    if not trim.balanced[0]:
        return None
    return {name: float(getattr(trim, name)[0]) for name in ("heave", "pitch", "leeway")}


def prescribed_records(boat, foils, setting, motions, step, named_model=None, stop=None):
    """`PrescribedRecord` of each of the `motions`, in order; None for all where the setting has no calm trim.

    boat, foils, setting : scenario records, `foils` (working, windward or None). motions : up to LANES. step : [s].
    named_model : choices and factors of the physics, as `model_options` has them. stop : as `march_block`'s.
    """
    model, found = model_factors(named_model), {}
    trim = trim_of(boat, foils[0], setting, model)
    if trim is None:
        return [None] * len(motions)
    for windward in (False, True):
        mine = [motion for motion in motions if motion.windward == windward]
        if mine:
            side, seen = (-1.0, mirrored(setting)) if windward else (1.0, setting)
            foil = foils[windward]
            history, counts = history_of(mine, trim, setting, step, side)
            lanes = history.heel[0, :, : len(mine)].T
            bench, geometry = bench_of(boat, foil, seen, model, [(h.min(), h.max()) for h in lanes])
            samples, along = lead_through(bench, history, max(counts) + 1, step, stop)
            for lane, (motion, count) in enumerate(zip(mine, counts, strict=True)):
                kept = slice(int(round(LEAD / step)), count + 1)
                series = motion_series(history, trim, side, kept, lane)
                places = 1 + len(foil.stations)
                of_lane = samples[:, kept, lane], along[:, kept, :, lane]
                found[motion.name] = record_of(motion.time[-1], *of_lane, geometry, places, series, step)
    return [found[motion.name] for motion in motions]


def span_extremes(along):
    """{name: (edges,)} highest and lowest shear [N] and torsion [N m] of those `along` (2, samples, edges) the span."""
    shear, torsion = along.astype(float)
    return {
        "shear_max": shear.max(axis=0),
        "shear_min": shear.min(axis=0),
        "torsion_max": torsion.max(axis=0),
        "torsion_min": torsion.min(axis=0),
    }


def motion_series(history, trim, side, kept, lane):
    """{name: (samples,)} of one lane's motion, signs as they were written: heel, leeway, pitch [rad], speed [m/s],
    height [m] above the calm `trim`, pitch from it.

    `history` a `History`, `side` [-] as in `history_of`, `kept` slice of full steps.
    """
    rows = {name: getattr(history, name)[0, ::2, lane][kept] for name in history._fields}
    return {
        "heel": side * rows["heel"],
        "leeway": side * rows["leeway"],
        "speed": rows["speed"],
        "height": rows["heave"] - trim["heave"],
        "pitch": rows["pitch"] - trim["pitch"],
    }


def worst_of(share, channel_share, channel_s, step):
    """`Worst` of one side from the highest `share` (samples,) [-] of its limit and that of every channel outside,
    `channel_share` (channels, samples) [-] at `channel_s` (channels,) [m]; `step` [s].
    """
    at = int(np.argmax(share))
    if not share[at] > 0.0:
        return Worst(0.0, np.nan, np.nan, 0.0)
    place = int(np.argmax(channel_share[:, at]))
    return Worst(float(share[at]), at * step, float(channel_s[place]), float(np.sum(share >= 1.0) * step))


def record_of(duration, samples, along, geometry, places, series, step):
    """`PrescribedRecord` of a motion of `duration` [s] from its `samples` (buffer rows, n) of every `step` [s].

    `along` as in `span_extremes`; `geometry` a `FoilGeometry`, whose first `places` [-] channels are bearing and
    stations, the others the material grid; `series` {name: (n,)} [SI] of the motion itself.
    """
    samples, channels = samples.astype(float), len(geometry.channel_s)
    outside = geometry.channel_s >= geometry.bearing - 1e-9
    normal, where = samples[:channels][outside], geometry.channel_s[outside]
    reverse = -normal * (geometry.normal_limit / geometry.reverse_limit)[outside, None]
    highest = {"normal": samples[channels + R_WORST_NORMAL], "reverse": samples[channels + R_WORST_REVERSE]}
    moment = (samples[:channels] * geometry.normal_limit[:, None])[places:]
    time, tip = step * np.arange(samples.shape[1]), samples[channels + R_TIP_DEPTH]
    start = np.arange(0, len(time), int(np.ceil(len(time) / MOST_SAMPLES)))
    kept = {name: values[start] for name, values in {"time": time, **series}.items()}
    kept["tip_depth"] = np.minimum.reduceat(tip, start)
    for side, share in highest.items():
        kept[f"{side}_share"] = np.maximum(np.maximum.reduceat(share, start), 0.0)
    return PrescribedRecord(
        duration=float(duration),
        normal=worst_of(highest["normal"], normal, where, step),
        reverse=worst_of(highest["reverse"], reverse, where, step),
        grid_moment_max=moment.max(axis=1),
        grid_moment_min=moment.min(axis=1),
        **span_extremes(along),
        hold_down_max=float(samples[channels + R_LINE].max()),
        tip_depth_min=float(tip.min()),
        series=kept,
    )

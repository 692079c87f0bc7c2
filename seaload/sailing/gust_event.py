"""The one stated gust, or lull: does the boat leap, and what does the foil feel? In calm water and in the sea.

She leaps when the hull carries nothing in calm water, or the tip of the foil leaves the water. In waves a
tip may come clear without a gust, so the same waves are sailed with and without it, and only what the
gust adds counts. The wind is steady besides, and nobody trims but for the sheets that are eased when the gust says so.
"""

from dataclasses import replace

import numpy as np

from seaload.basis.smooth_step import smooth_step
from seaload.boat.sail_wind import sail_pull
from seaload.sailing.block_task import BlockTask
from seaload.simulation.layout import LANES

BEFORE, AFTER = 20.0, 40.0  # [s] kept before the gust and after it has gone
EASE_TIME = 2.0  # [s] sheets take to run out
CALM = 1e-6  # [-] of the sea's height: still water for every purpose
CALM_RUN_IN = 40.0  # [s]


def gust_length(gust):
    """Seconds kept of a gust run, whole blocks of ten."""
    ease = gust.ease_after if np.isfinite(gust.ease_after) else 0.0
    return float(10.0 * np.ceil((BEFORE + max(2.0 * gust.rise + gust.hold, ease) + AFTER) / 10.0))


def gust_pulls(gust, sea, speeds, run_in, step, length):
    """Pull of the sails over its mean at every step for boats of some `speeds`, (steps + 1, speeds) [-].

    The true wind of the `sea` goes up, is held, goes down; the sails feel it as part of the apparent wind. Eased sheets
    take a gust all off.
    """
    time = step * np.arange(int(round((run_in + length) / step)) + 1) - run_in - BEFORE
    up = np.array([smooth_step(t / gust.rise) for t in time])
    down = np.array([smooth_step((t - gust.rise - gust.hold) / gust.rise) for t in time])
    wind = sea.true_wind_speed
    change = gust.strength * wind * (up - down)
    pulls = np.stack([sail_pull(change, wind, sea.true_wind_angle, speed) for speed in speeds], axis=-1)
    if np.isfinite(gust.ease_after):
        eased = np.array([smooth_step((t - gust.ease_after) / EASE_TIME) for t in time])
        pulls += eased[:, None] * np.minimum(1.0 - pulls, 0.0)
    return pulls


def calm_task(study, settings, sea, model):
    """Task of up to a block of settings in calm water with the gust."""
    foil, length = study.boat.foils[study.foil_side], gust_length(study.gust)
    still = replace(study.sampling, realisation_time=length, run_in=CALM_RUN_IN)
    pulls = gust_pulls(study.gust, sea, [s.speed for s in settings], still.run_in, still.step, length)
    cases = tuple((setting, 0) for setting in settings)
    return BlockTask(study.boat, foil, sea, cases, still, {**model, "hs_factor": CALM}, gust=pulls)


def begin_calm_gusts(sailer, pairs):
    """Function that gives {pair: gust numbers in calm water} of many settings; their marches are begun."""
    study, waiting = sailer.study, []
    for sea in sorted({j for _, j in pairs}):
        mine = [pair for pair in pairs if pair[1] == sea]
        for first in range(0, len(mine), LANES):
            some = mine[first : first + LANES]
            settings = [sailer.settings[pair] for pair in some]
            task = calm_task(study, settings, study.seas[sea], sailer.model)
            waiting.append((some, sailer.crew.submit(task)))
    return lambda: {
        pair: gust_answer([record], [], [])
        for some, future in waiting
        for pair, record in zip(some, future.result()[0], strict=True)
    }


def gust_tasks(study, setting, sea, model, realisations):
    """Tasks (calm with gust, sea with gust, sea without) of one setting; `realisations` lanes in the sea."""
    foil, length = study.boat.foils[study.foil_side], gust_length(study.gust)
    sampling = replace(study.sampling, realisation_time=length)
    cases = tuple((setting, r) for r in range(realisations))
    pulls = gust_pulls(study.gust, sea, [setting.speed], sampling.run_in, sampling.step, length)
    return (
        calm_task(study, [setting], sea, model),
        BlockTask(study.boat, foil, sea, cases, sampling, model, gust=pulls),
        BlockTask(study.boat, foil, sea, cases, sampling, {**model, "wind": "steady"}),
    )


def foil_out(record):
    """Whether the outermost strip left the water."""
    return record.tip_depth_min <= 0.0


def gust_answer(calm, with_gust, without):
    """Gust numbers by vocabulary name, from the records of the three tasks; those of the sea may be empty."""
    leaps = calm[0].hull_lift_min <= 0.0 or foil_out(calm[0])
    leaps |= sum(map(foil_out, with_gust)) > sum(map(foil_out, without))
    answer = {"gust_leaps": float(leaps)}
    for where, records in (("calm", calm), ("sea", with_gust)):
        if not records:
            continue
        answer[f"gust_hull_lift_min_{where}"] = min(r.hull_lift_min for r in records)
        answer[f"gust_tip_depth_min_{where}"] = min(r.tip_depth_min for r in records)
        answer[f"gust_reverse_share_{where}"] = max(float(r.block_worst_reverse.max()) for r in records)
        answer[f"gust_normal_share_{where}"] = max(float(r.block_worst_normal.max()) for r in records)
    return answer

"""The one stated gust: does the boat leap, and what does the foil feel? In calm water and in the sea.

She leaps when the hull carries nothing in calm water, or the tip of the foil leaves the water. In waves a
tip may come clear without a gust, so the same waves are sailed with and without it, and only what the
gust adds counts.
"""

from dataclasses import replace

import numpy as np

from seaload.basis.smooth_step import smooth_step
from seaload.studies.block_task import BlockTask

BEFORE, AFTER = 20.0, 40.0  # [s] kept before the gust and after it has gone
EASE_TIME = 2.0  # [s] sheets take to run out
CALM = 1e-6  # [-] of the sea's height: still water for every purpose
CALM_RUN_IN = 40.0  # [s]


def gust_length(gust):
    """Seconds kept of a gust run, whole blocks of ten."""
    ease = gust.ease_after if np.isfinite(gust.ease_after) else 0.0
    return float(10.0 * np.ceil((BEFORE + max(2.0 * gust.rise + gust.hold, ease) + AFTER) / 10.0))


def gust_pressure(gust, run_in, step, length):
    """Wind pressure over its mean at every step, (steps + 1,) [-]: up, held, down; eased sheets take it
    all off.
    """
    time = step * np.arange(int(round((run_in + length) / step)) + 1) - run_in - BEFORE
    up = np.array([smooth_step(t / gust.rise) for t in time])
    down = np.array([smooth_step((t - gust.rise - gust.hold) / gust.rise) for t in time])
    pressure = (1.0 + gust.strength * (up - down)) ** 2
    if np.isfinite(gust.ease_after):
        eased = np.array([smooth_step((t - gust.ease_after) / EASE_TIME) for t in time])
        pressure = pressure + eased * np.minimum(1.0 - pressure, 0.0)
    return pressure


def gust_tasks(study, setting, sea, model, realisations):
    """Tasks (calm with gust, sea with gust, sea without) of one setting; `realisations` lanes in the sea."""
    foil, length = study.boat.foils[study.foil_side], gust_length(study.gust)
    sampling = replace(study.sampling, realisation_time=length)
    still = replace(sampling, run_in=CALM_RUN_IN)
    cases = tuple((setting, r) for r in range(realisations))
    calm_model = {**model, "hs_factor": CALM}
    pressure = lambda s: gust_pressure(study.gust, s.run_in, s.step, length)  # noqa: E731
    return (
        BlockTask(study.boat, foil, sea, cases[:1], still, calm_model, gust=pressure(still)),
        BlockTask(study.boat, foil, sea, cases, sampling, model, gust=pressure(sampling)),
        BlockTask(study.boat, foil, sea, cases, sampling, model),
    )


def foil_out(record):
    """Whether the outermost strip left the water."""
    return record.tip_depth_min <= 0.0


def gust_answer(calm, with_gust, without):
    """Gust numbers by vocabulary name, from the records of the three tasks."""
    leaps = calm[0].hull_lift_min <= 0.0 or foil_out(calm[0])
    leaps |= sum(map(foil_out, with_gust)) > sum(map(foil_out, without))
    answer = {"gust_leaps": float(leaps)}
    for where, records in (("calm", calm), ("sea", with_gust)):
        answer[f"gust_hull_lift_min_{where}"] = min(r.hull_lift_min for r in records)
        answer[f"gust_tip_depth_min_{where}"] = min(r.tip_depth_min for r in records)
        answer[f"gust_reverse_share_{where}"] = max(float(r.block_worst_reverse.max()) for r in records)
        answer[f"gust_normal_share_{where}"] = max(float(r.block_worst_normal.max()) for r in records)
    return answer

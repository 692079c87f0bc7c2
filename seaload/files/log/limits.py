"""What a channel may do before a sample counts as suspect: from the boat, the description and the log itself."""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.units import DEGREE, KNOT
from seaload.files.log.sample_tests import (
    CLIP_HIGH,
    CLIP_LOW,
    FASTEST,
    FREEZES,
    LEAST,
    LIMITS,
    LONGEST,
    MOST,
    ROUGHNESS,
    STANDS,
    USUAL_LEAST,
    USUAL_MOST,
)
from seaload.files.log.survey import FINEST
from seaload.scenario.log_channels import is_load, kind_of

USUAL = {  # SI; what a sailing boat does, widely drawn: common practice, no source
    "heave": (-15.0, 15.0),
    "pitch": (-30.0 * DEGREE, 30.0 * DEGREE),
    "roll": (-60.0 * DEGREE, 60.0 * DEGREE),
    "heel": (-60.0 * DEGREE, 60.0 * DEGREE),
    "pitch_rate": (-100.0 * DEGREE, 100.0 * DEGREE),
    "roll_rate": (-100.0 * DEGREE, 100.0 * DEGREE),
    "acceleration_x": (-4.0 * STANDARD_GRAVITY, 4.0 * STANDARD_GRAVITY),
    "acceleration_y": (-4.0 * STANDARD_GRAVITY, 4.0 * STANDARD_GRAVITY),
    "acceleration_z": (-5.0 * STANDARD_GRAVITY, 5.0 * STANDARD_GRAVITY),
    "speed": (-1.0 * KNOT, 50.0 * KNOT),
    "rake": (-10.0 * DEGREE, 15.0 * DEGREE),
    "cant": (-60.0 * DEGREE, 60.0 * DEGREE),
    "extension": (-0.02, 1.02),
}
SET_BY_THE_CREW = ("rake", "cant", "extension")  # these may stand for hours
STANDS_LEAST, FREEZES_LEAST = 3.0, 10.0  # [s] a value may stand before it is suspect, before it fails
STANDS_RUNS, FREEZES_RUNS = 8.0, 25.0  # and in usual runs of one value of this channel
FASTEST_TIMES = 25.0  # times the mean rate of change of this channel
CLIP_FEWEST, CLIP_SHARE = 8, 2.0  # samples at a level; times those just below it
CLIP_NEAR = 0.03  # how far below that is, in spreads of the channel
CLIP_STEPS = 3.5  # and in steps it is written to: a round crest stands up to 2.4 times as long on its top step as on
# the next, as long as on the next three together; derived here from a parabola


def load_size(log, channel):
    """What one normal limit is in the unit of a load channel (SI)."""
    return log.boat.foils[log.foil_side].strain_normal if kind_of(channel) == "strain" else 1.0


def limits_of(log, channel, survey, longest):
    """(LIMITS,) array for the sample tests of one channel, from its ChannelSurvey."""
    limits = np.empty(LIMITS)
    column = log.columns_of(channel)[0]
    limits[LEAST], limits[MOST] = column.least, column.most
    if is_load(channel):
        foil, size = log.boat.foils[log.foil_side], load_size(log, channel)
        ratio = foil.strain_reverse / foil.strain_normal
        limits[USUAL_LEAST] = -foil.fatigue.ultimate_reverse * ratio * size
        limits[USUAL_MOST] = foil.fatigue.ultimate_normal * size
    else:
        limits[USUAL_LEAST], limits[USUAL_MOST] = USUAL[channel]
    still = channel in SET_BY_THE_CREW
    limits[STANDS] = np.inf if still else max(STANDS_LEAST, STANDS_RUNS * survey.usual_run)
    limits[FREEZES] = np.inf if still else max(FREEZES_LEAST, FREEZES_RUNS * survey.usual_run)
    limits[FASTEST] = FASTEST_TIMES * survey.quickness if survey.quickness > 0.0 else np.inf
    finest = survey.sums[FINEST] if np.isfinite(survey.sums[FINEST]) else 0.0
    limits[ROUGHNESS] = max(survey.rough, finest)
    near = clip_reach(survey.spread, finest)
    limits[CLIP_HIGH] = np.inf if still else min(clip_level(survey.highest, near, column.most), column.most)
    limits[CLIP_LOW] = -np.inf if still else max(-clip_level(survey.lowest, near, -column.least), column.least)
    limits[LONGEST] = longest
    return limits


def clip_reach(spread, finest):
    """How far below a level a record is looked at for whether it is cut off there, SI; `finest` its smallest change."""
    return max(CLIP_NEAR * spread, CLIP_STEPS * finest)


def clip_level(highest, near, most):
    """The level, at most `most`, at which a record is cut off; infinity when there is none.

    highest : (values falling, how often each). At such a level many samples stand exactly, many more than within
    `near` below it; a few that are higher yet are spikes.
    """
    possible = highest[0] <= most
    values, counts = highest[0][possible], highest[1][possible]
    for level, count in zip(values.tolist(), counts.tolist(), strict=True):
        if count >= CLIP_FEWEST:
            below = np.sum(counts[(values < level) & (values >= level - near)])
            return level if len(values) > 1 and count >= CLIP_SHARE * max(below, 1.0) else np.inf
    return np.inf

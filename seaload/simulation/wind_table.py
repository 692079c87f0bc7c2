"""The wind of a block: what gusts and lulls do to the sails of every lane at every step.

All settings meet one frozen field of gusts in each realisation, each at the speed of her own apparent wind.
"""

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.boat.sail_wind import SAIL_SIZE, apparent_wind, eased_by_trim, sail_admittance, sail_pull
from seaload.simulation.layout import LANES
from seaload.waves.gusts import gust_deviations, gust_field, gust_length

KNOT_TIME = 0.2  # [s] between two places of the field that a lane meets
SPACING = 2.0  # [m] of the field
FASTEST = 40.0  # [m/s] of apparent wind that meets the field once at most
LEAST_PLACES = 8192  # of the field


def felt_deviations(boat, sea, time):
    """Standard deviation of each wave of the gusts that the sails of a `boat` feel, (n,) [m/s].

    `boat`, `sea` scenario records, `time` [s] that the field has to last; waves as of `gust_deviations`.
    """
    places = max(LEAST_PLACES, int(2.0 ** np.ceil(np.log2(FASTEST * time / SPACING))))
    deviation = sea.gustiness * sea.true_wind_speed
    wavenumber, each = gust_deviations(places, SPACING, deviation, gust_length(boat.sail_height))
    return each * sail_admittance(wavenumber, SAIL_SIZE * boat.sail_height)


def pull_at_knots(boat, sea, speed, field, step, count):
    """Pull of the sails over its mean [-], (count,), every `step` [s] along a field of gusts.

    `boat`, `sea` scenario records, `speed` [m/s] of the boat, `field` (n,) [m/s] of wind over its mean, SPACING apart
    and once round, `count` of knots.
    """
    wind, angle = sea.true_wind_speed, sea.true_wind_angle
    way = np.hypot(*apparent_wind(wind, angle, speed)) * step / SPACING * np.arange(count)
    place = way.astype(np.int64)
    share, here, there = way - place, place % len(field), (place + 1) % len(field)
    met = (1.0 - share) * field[here] + share * field[there]
    return eased_by_trim(sail_pull(met, wind, angle, speed), step, boat.trim_time)


def gusty_wind(boat, sea, cases, sampling, model):
    """Pull of the wind over its mean at every full step of LANES `cases`, (steps + 1, LANES) [-] in single precision.

    `boat`, `sea`, `sampling` scenario records, `cases` pairs (setting, realisation number), `model` {name: value} as
    `model_factors` gives it. None where the wind is steady.
    """
    if not model["gusts"] * sea.gustiness * sea.true_wind_speed > 0.0:
        return None
    time, step = sampling.run_in + sampling.realisation_time, sampling.step
    steps, within = int(round(time / step)), max(1, int(round(KNOT_TIME / step)))
    count, fields, columns = -(-steps // within) + 1, {}, {}
    deviations = felt_deviations(boat, sea, time)
    for setting, realisation in cases:
        if realisation not in fields:
            stream = random_stream(sampling.seed, sea.name, realisation, "wind")
            fields[realisation] = gust_field(stream, deviations)
        key = setting.speed, realisation
        if key not in columns:
            columns[key] = pull_at_knots(boat, sea, setting.speed, fields[realisation], within * step, count)
    knots = np.stack([columns[setting.speed, r] for setting, r in cases], axis=-1).astype(np.float32)
    share = (np.arange(within, dtype=np.float32) / np.float32(within))[:, None]
    between = knots[:-1, None] + share * (knots[1:] - knots[:-1])[:, None]
    return np.concatenate([between.reshape(-1, LANES), knots[-1:]])[: steps + 1]

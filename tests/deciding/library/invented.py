"""A library of an invented boat: loads by a formula that is known, with errors as finished cases have them."""

import numpy as np

from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.effects import EFFECTS, UNCERTAIN
from seaload.deciding.library.load_at_rate import LEVELS, RATES
from seaload.deciding.library.next_seas import Range, first_seas, questions_of, spread_seas
from seaload.deciding.library.point import HELD
from seaload.deciding.library.shelf import HASHES, Shelf

SPAN = Range((1.5, 5.0), (6.0, 14.0), (-np.pi, np.pi), 1.0 / 16.0)
QUESTION = np.array([0.8, 0.0, 0.3, 0.5, 0.0, 9.0, 3.0, 9.0, 0.5, 3.3, 10.0])
SETTINGS = np.array([
    [extension, rake, 0.3, 0.5, 0.0, speed]
    for extension in (0.6, 0.8, 1.0) for rake in (0.0, 0.05) for speed in (7.0, 9.0, 11.0)
])  # fmt: skip
FIRST = 3.0  # e-foldings from the mean to the load at the highest rate
OFTEN = 30.0 / 3600.0  # [1/s] where the tail begins
MADE_FOR = dict.fromkeys(HASHES, "invented")


def mean_and_scale(rows):
    """Mean load (n, 2 sides) [share of the limit] at `rows` (n, names) [SI], and by how much a load grows (n, 2) for
    each e-folding of its rate.
    """
    named = dict(zip(NAMES, np.atleast_2d(rows).T, strict=True))
    short = np.exp(-(((np.log(named["sea_tp"]) - 2.1) / 0.5) ** 2))
    ahead = 0.6 + 0.4 * np.cos(named["waves_from_bow"])
    scale = 0.012 * named["sea_hs"] * named["extension"] * (0.5 + short) * ahead * named["speed_set"] / 9.0
    mean = 0.3 * named["extension"] * (1.0 + 4.0 * named["rake"])
    return np.column_stack([0.2 - mean, mean]), np.column_stack([scale, 0.5 * scale])


def truth(rows):
    """Loads (n, 2 sides, rates) [share of the limit] at `rows` (n, names) [SI]: a mean and a Gumbel tail about it."""
    mean, scale = mean_and_scale(rows)
    return mean[:, :, None] + scale[:, :, None] * (FIRST - np.log(RATES / RATES[0]))


def points_at(seas, settings=SETTINGS, noise=0.03, common=0.7, first=0, seed=1, every=5):
    """Points [{name: value}] of every setting in every sea (n, 3), with an error that a sea's settings share in part;
    effects of uncertain inputs in `every` so many seas.
    """
    draws, found = np.random.default_rng([seed, first]), []
    for number, rows in enumerate(questions_of(QUESTION, settings, np.atleast_2d(seas))):
        together = draws.normal(size=(1, 2, 1))
        for row, load, mean in zip(rows, truth(rows), mean_and_scale(rows)[0], strict=True):
            error = noise * (1.0 + 0.15 * np.arange(len(RATES))) * np.ones((2, 1))
            off = np.sqrt(common) * together[0] + np.sqrt(1.0 - common) * draws.normal(size=(2, 1))
            point = dict(zip(NAMES, row, strict=True))
            point |= {"wave_name": 1, "wave_seed": seed, "wave_first": 16 * (first + number)}
            point |= {"load_at_rate": load + error * off, "load_at_rate_error": error, "load_mean": mean}
            point |= tail_at(mean, row, 0.4 * error[:, 0], off[:, 0], draws)
            point |= {"log_rate": np.zeros((2, len(LEVELS))), "log_rate_error": np.ones((2, len(LEVELS)))}
            point |= {"log_wear": 2.0 * np.log(row[NAMES.index("sea_hs")]) - 15.0, "log_wear_error": 0.1}
            point |= {"speed_mean": row[NAMES.index("speed_set")], "status": HELD, "cases": 6, "cases_ended": 0}
            point |= {"duration_total": 7200.0, "speed_attainable": 12.0}
            point["speed_mean_error"] = 0.05
            point |= effects_at(row, number % every == 0, draws)
            found.append({name: np.asarray(value) for name, value in point.items()})
    return found


def tail_at(mean, row, error, off, draws):
    """Columns of the tail of `truth` at a `row` (names,): exponential; `error` (2,) of a load, with what chance made of
    it, `off` (2,) errors; none in the mean load.
    """
    scale = mean_and_scale(row)[1][0]
    swing = scale * (FIRST - np.log(OFTEN / RATES[0]))
    found = {"load_calm": mean, "tail_swing": np.maximum(swing + error * off, 0.1 * swing), "tail_swing_error": error}
    others = {"union": (np.zeros(2), 0.01), "log_rate": (np.log([OFTEN, OFTEN]), 0.05),
              "excess": (scale / swing, 0.05 * scale / swing), "l_cv": (np.full(2, 0.5), 0.02)}  # fmt: skip
    for name, (value, own) in others.items():
        found[f"tail_{name}"] = value + own * draws.normal(size=2)
        found[f"tail_{name}_error"] = own * np.ones(2)
    return found


def true_effects(row):
    """(shift (2 sides, names) [share of the limit], growth (2, names) [-], wear (names,) [-]) of one of each input."""
    named, each = dict(zip(NAMES, row, strict=True)), np.arange(len(UNCERTAIN)) - 3.0
    shift = 0.05 * named["extension"] * each * np.array([[-1.0], [1.0]])
    growth = 0.1 * each * np.array([[1.0], [0.5]]) * named["speed_set"] / 9.0
    return shift, growth, 0.2 * each


def effects_at(row, known, draws):
    """Columns of them, where they are `known` with a small error."""
    found = {}
    for name, true in zip(EFFECTS, true_effects(row), strict=True):
        found[name] = true + 0.01 * draws.normal(size=true.shape) if known else np.full(true.shape, np.nan)
        found[f"{name}_error"] = np.where(np.isfinite(found[name]), 0.01, np.nan)
    speed = 11.5 if known else np.nan
    return {**found, "speed_attainable_in_sea": speed, "speed_attainable_in_sea_error": 0.05}


def invented_shelf(seas=60, **options):
    """A `Shelf` of so many seas that span SPAN."""
    first = first_seas(SPAN)
    nodes = np.concatenate([first, spread_seas(SPAN, 100, seas - len(first))])
    return Shelf(MADE_FOR).with_points(points_at(nodes, **options))

"""Made tables of what settings spend on a leg: hazards by formulas that are known, no library and no march."""

import numpy as np

from seaload.deciding.leg.spending import Spending

SPEEDS = np.linspace(5.0, 10.0, 6)  # [m/s]


def made(seed=1, segments=5, settings=4, cases=6, moments=1, harm=1.0, least_between=0.0, step=3600.0):
    """A `Spending` of one piece a segment: the harder the sea and the faster, the more events; port foil works first,
    starboard after half of the leg.
    """
    draws = np.random.default_rng([seed, segments, settings])
    speed = np.linspace(5.0, 10.0, settings)
    sea = draws.lognormal(0.0, 1.0, (segments, 1, 1, 1))
    sea = sea * np.exp(draws.normal(0.0, 0.7, (segments, moments, 1, cases)))
    lots = np.exp(draws.normal(0.0, 0.3, (segments, 1, settings)))
    reverse = 2e-3 * harm * sea * ((speed / 5.0) ** 5 * lots)[..., None]
    normal = 1e-3 * harm * sea * ((speed / 5.0) ** 3)[None, None, :, None]
    duration = np.exp(draws.normal(0.0, 0.03, (segments, moments, 1))) * 20e3 / speed
    duration = np.broadcast_to(duration, (segments, moments, settings)).copy()
    wear = np.zeros((segments, moments, settings, 2))
    half = segments // 2
    wear[:half, ..., 0] = (sea.mean(axis=-1) * speed**3)[:half] * 1e-6
    wear[half:, ..., 1] = (sea.mean(axis=-1) * speed**3)[half:] * 1e-6
    first = step * np.floor(np.arange(segments) * 20e3 / 10.0 / step)
    return Spending(first, step, duration, {"reverse": reverse, "normal": normal}, np.full(cases, 1.0 / cases), wear,
                    np.ones(segments, dtype=bool), least_between)  # fmt: skip


def still(spending):
    """The same with no waves: nothing is spent."""
    nothing = {side: np.zeros_like(events) for side, events in spending.events.items()}
    return spending._replace(events=nothing, wear=np.zeros_like(spending.wear))

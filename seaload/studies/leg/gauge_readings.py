"""What the boat's own display shows along a plan, and at which reading it is left: by the library's quantiles of
gauges.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.units import DAY
from seaload.deciding.display import shown, zero_moment
from seaload.deciding.leg.gauge import best_gauge, law_of, readings
from seaload.deciding.library.channels import QUANTILES
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, PERIOD, SETTING, covered
from seaload.deciding.library.rates import plain_values
from seaload.evidence.verdict import SIDES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of

SIGNS = np.array([-1.0, 1.0])  # of a load past either side's limit


class Gauge(NamedTuple):
    """Readings of one gauge on n stretches, in the display's scale; nan where nothing is told."""

    place: int  # number of the gauge from 1
    side: int  # number in SIDES
    ordinary: np.ndarray  # (n,) highest of ten minutes of the sea as planned, median; lowest on the reverse side
    low: np.ndarray  # (n,) nine in ten lie between
    high: np.ndarray  # (n,)
    leave: np.ndarray  # (n,) at which the plan is left
    missed: np.ndarray  # (n,) [-]


def gauge_of(question, plan, met, blocks, factors):
    """`Gauge` along a plan, or None for a boat without a display or a library without quantiles.

    met : (n, 1 moment) along it; blocks : [(first, one past the last)] of the stretches; factors : (height, period)
    (blocks,) each of the sea in which the plan is left, nan = never.
    """
    sensors, emulator = question.leg.boat.sensors, question.emulator
    if sensors is None or "channel_quantile" not in emulator.shelf.columns:
        return None
    begins = np.array([first for first, _ in blocks])
    here = np.array([sea_of(met, slice(*block)) for block in blocks])
    higher, shorter = (np.nan_to_num(np.array(part, dtype=float), nan=1.0) for part in factors)
    worse = here * np.column_stack([higher, np.where(higher == 1.0, shorter, 1.0), np.ones(len(blocks))])
    leaves = np.isfinite(factors[0]) | np.isfinite(factors[1])
    settings = question.settings[plan.settings[begins]]
    parts = [told_there(question, settings, seas) for seas in (here, worse)]
    drift = sensors.zero_drift / np.sqrt(3.0) * daily(question.leg, plan)
    scale = limits_of(question.leg, settings)
    laws = [law_of(values, np.hypot(errors, drift * scale.ratio)) for values, errors in parts]
    laws[1] = laws[1]._replace(mode=np.where(leaves[:, None, None], laws[1].mode, np.nan))
    told = readings(*laws)
    gauge, side = best_gauge(told)
    if gauge < 0:
        return None
    display = lambda load: scale.display(load[:, gauge, side], gauge, side)  # noqa: E731
    ends = [display(part) for part in told.shown]
    low, high = (np.minimum(ends[0], ends[2]), np.maximum(ends[0], ends[2]))
    known = np.isfinite(told.missed[:, gauge, side])
    leave = np.where(known, display(told.leave), np.nan)
    return Gauge(gauge + 1, side, ends[1], low, high, leave, told.missed[:, gauge, side])


def sea_of(met, pieces):
    """(height, period, angle) of the middle of a stretch's sea: mean of all members, median, mean direction."""
    hs, tp, angle = (part[pieces, 0] for part in (met.hs, met.tp, met.angle))
    known = np.isfinite(hs) & np.isfinite(tp) & np.isfinite(angle)
    if not known.any():
        return np.nan, np.nan, np.nan
    turned = np.arctan2(np.sin(angle[known]).mean(), np.cos(angle[known]).mean())
    return float(hs[known].mean()), float(np.median(tp[known])), float(turned)


def told_there(question, settings, seas):
    """(QUANTILES (n, gauges, sides, 3) [share of the limit], error of the last of them (n, gauges, sides)) with the
    `settings` (n, SETTING names) in `seas` (n, 3), nan where they are not covered, or the library has none.
    """
    cover, shape = question.emulator.cover, question.emulator.shelf.columns["channel_quantile"].shape[1:]
    rows = np.tile(cover.low, (len(seas), 1))
    rows[:, : len(SETTING)] = settings
    rows[:, HEIGHT] = np.maximum(seas[:, 0], cover.low[HEIGHT])
    rows[:, PERIOD] = np.minimum(seas[:, 1], cover.high[PERIOD])
    rows[:, ANGLE] = seas[:, 2]
    inside = covered(cover, np.nan_to_num(rows, nan=1e-3))
    values = np.full((len(seas), shape[0] - 1, len(SIDES), len(QUANTILES)), np.nan)
    errors = np.full(values.shape[:-1], np.nan)
    for place, side in np.ndindex(values.shape[1:3]):
        for k in (1, 2):
            name = f"channel_quantile@{place + 1},{side},{k}"
            value, error = plain_values(question.emulator, name, rows[inside], error=True)
            values[inside, place, side, k] = value
            errors[inside, place, side] = error
    return values, errors


def daily(leg, plan):
    """Days [-] that a zero may have drifted by the end of the leg, at least one."""
    return max(1.0, float(plan.moments[-1]) / DAY)


class Limits(NamedTuple):
    """Limits of the gauges with each of n settings, and how the display shows a load."""

    normal: np.ndarray  # (n, gauges) [N m]
    reverse: np.ndarray  # (n, gauges) [N m]
    zero: np.ndarray  # (n, gauges) [N m]
    sensors: object
    strain_normal: float

    @property
    def ratio(self):
        """(n, gauges, sides) [-] of the normal limit over that of each side."""
        return np.stack([self.normal / self.reverse, np.ones_like(self.normal)], axis=-1)

    def display(self, load, gauge, side):
        """Loads (n,) [share of the limit of a side] of one gauge in the display's scale."""
        limit = (self.reverse, self.normal)[side][:, gauge]
        moment = SIGNS[side] * load * limit - self.zero[:, gauge]
        return shown(moment, self.normal[:, gauge], self.reverse[:, gauge], self.sensors, self.strain_normal)


def limits_of(leg, settings):
    """`Limits` of the gauges at `settings` (n, SETTING names)."""
    foil, sensors, factors = next(iter(leg.boat.foils.values())), leg.boat.sensors, model_factors()
    known = {}
    for extension in settings[:, SETTING.index("extension")]:
        if extension not in known:
            g, gauges = geometry_of(foil, float(extension), factors), slice(1, 1 + len(foil.stations))
            zero = zero_moment(leg.boat, foil, float(extension), g.channel_s[gauges], sensors)
            known[extension] = g.normal_limit[gauges], g.reverse_limit[gauges], zero
    rows = [np.array(part) for part in zip(*(known[e] for e in settings[:, SETTING.index("extension")]), strict=True)]
    return Limits(*rows, sensors, foil.strain_normal)

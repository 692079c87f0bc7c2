"""The speed a setting can hold in a sea's wind, and whether heel, cant, foil and thrust balance at the
speed asked for.

Thrust follows righting moment: a boat that stands up more firmly carries more sail. The user's speed
table (or, near the wind it was calibrated for, the boat file's reference thrust) says what the reference
setting reaches; the calm trim of every other setting, with its own drag and righting moment, scales it.
"""

from dataclasses import dataclass, replace
from math import isnan, nan, radians

import numpy as np

from seaload.basis.units import DEGREE, KNOT
from seaload.sailing.block_task import BlockTask, load_kernels
from seaload.scenario.records import Setting
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import march_arrays

SPEEDS = np.linspace(8.0, 36.0, LANES) * KNOT  # [m/s] of the trims that a curve is drawn through
# the setting that speed table and reference thrust are stated for
REFERENCE = Setting(0.8, 2.0 * DEGREE, 18.0 * DEGREE, 30.0 * DEGREE, 0.0, nan)
NEAR_WIND, NEAR_ANGLE = 0.15, radians(15.0)  # of the calibrated wind, where no table is needed
SPARE = 0.02  # [-] a speed this much above the attainable one still counts as held


@dataclass(frozen=True)
class TrimCurve:
    """Calm-water answers of one setting over SPEEDS."""

    thrust: np.ndarray  # [N] needed
    heel_moment: np.ndarray  # [N m] needed to hold the heel: what hull, keel and foil right
    balanced: np.ndarray  # bool

    def at(self, name, speed):
        """Value of a curve at a speed [m/s]."""
        return float(np.interp(speed, SPEEDS, getattr(self, name)))


class Reach:
    """Attainable speeds of one boat, trims remembered."""

    def __init__(self, boat, foil, named_model):
        self.boat, self.foil, self.model = boat, foil, model_factors(named_model)
        self._curves = {}

    def curve(self, setting):
        """`TrimCurve` of a setting, whatever its own speed."""
        key = replace(setting, speed=0.0, attainable=False)
        if key not in self._curves:
            lanes = [replace(key, speed=float(speed)) for speed in SPEEDS]
            march, _, _ = march_arrays(self.boat, self.foil, lanes, [1.0] * LANES, self.model)
            trim = calm_trim(march, self.foil, self.model)
            self._curves[key] = TrimCurve(trim.thrust, trim.heel_moment, trim.balanced)
        return self._curves[key]

    def reference(self, sea):
        """(speed [m/s], thrust [N], righting moment [N m]) of the reference setting in a sea's wind, or None.

        None where neither table nor calibration covers the wind.
        """
        speed = table_speed(self.boat.speed_table, sea.true_wind_speed, sea.true_wind_angle)
        curve = self.curve(REFERENCE)
        if speed is not None:
            return speed, curve.at("thrust", speed), curve.at("heel_moment", speed)
        near = abs(sea.true_wind_speed / self.boat.reference_wind_speed - 1.0) <= NEAR_WIND
        if not near or abs(sea.true_wind_angle - self.boat.reference_wind_angle) > NEAR_ANGLE:
            return None
        speed = self.boat.reference_speed
        return speed, self.boat.reference_thrust, curve.at("heel_moment", speed)

    def attainable(self, setting, sea):
        """Speed at which thrust and drag of a setting balance [m/s]; nan where it is unknown or never."""
        known = self.reference(sea)
        if known is None:
            return nan
        speed, thrust, moment = known
        curve = self.curve(setting)
        firmer = 1.0 + self.boat.thrust_per_righting * (curve.heel_moment / moment - 1.0)
        given = thrust * (1.0 - self.boat.thrust_slope * (SPEEDS / speed - 1.0)) * np.maximum(firmer, 0.0)
        spare = np.where(curve.balanced, given - curve.thrust, -np.inf)
        held = np.flatnonzero(spare >= 0.0)
        if len(held) == 0:
            return nan
        last = int(held[-1])
        if last == LANES - 1 or not np.isfinite(spare[last + 1]):
            return float(SPEEDS[last])
        share = spare[last] / (spare[last] - spare[last + 1])
        return float(SPEEDS[last] + share * (SPEEDS[last + 1] - SPEEDS[last]))

    def settle(self, setting, sea):
        """(setting with its speed, attainable speed [m/s], reachable) of a setting in a sea."""
        speed = self.attainable(setting, sea)
        if setting.attainable:
            return replace(setting, speed=speed), speed, not isnan(speed)
        curve = self.curve(setting)
        near = int(np.argmin(np.abs(SPEEDS - setting.speed)))
        balances = bool(curve.balanced[near]) and curve.at("heel_moment", setting.speed) > 0.0
        known = self.reference(sea) is not None
        held = not known or (not isnan(speed) and setting.speed <= speed * (1.0 + SPARE))
        return setting, speed, balances and held


def settle_all(study, named_model, account):
    """({(setting, sea): Setting} with speeds worked out, parts for the Dataset: attainable speed and
    reachable).

    Machine code is fetched first, so that it is loaded in the order that every process loads it in.
    """
    foil = study.boat.foils[study.foil_side]
    first = replace(study.settings[0], speed=study.boat.reference_speed)
    task = BlockTask(study.boat, foil, study.seas[0], ((first, 0),), study.sampling, named_model)
    account.compile_s += load_kernels(task, account.say)
    reach, settled = Reach(study.boat, foil, named_model), {}
    shape = (len(study.settings), len(study.seas))
    speeds, reachable = np.full(shape, nan), np.zeros(shape, dtype=np.int8)
    for i, setting in enumerate(study.settings):
        for j, sea in enumerate(study.seas):
            settled[i, j], speeds[i, j], reachable[i, j] = reach.settle(setting, sea)
    dims = ("setting", "sea")
    return settled, {"speed_attainable": (dims, speeds), "reachable": (dims, reachable)}


def settle_later(study, named_model, account):
    """({(setting, sea): Setting}, function that gives the parts of `settle_all`), for a study that wants to march soon.

    Where every speed is stated, the trims are left to that function: no march waits for them.
    """
    if any(setting.attainable for setting in study.settings):
        settled, parts = settle_all(study, named_model, account)
        return settled, lambda: parts
    settled = {(i, j): setting for i, setting in enumerate(study.settings) for j in range(len(study.seas))}
    return settled, lambda: settle_all(study, named_model, account)[1]


def table_speed(table, wind, angle):
    """Speed of the user's table at a true wind speed [m/s] and angle [rad], bilinear; None outside it."""
    if table is None:
        return None
    if not table.wind_speed[0] <= wind <= table.wind_speed[-1]:
        return None
    if not table.wind_angle[0] <= angle <= table.wind_angle[-1]:
        return None
    rows = [np.interp(angle, table.wind_angle, row) for row in table.speed]
    return float(np.interp(wind, table.wind_speed, rows))

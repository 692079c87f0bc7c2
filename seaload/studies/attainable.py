"""The speed a setting can hold in a sea's wind, and whether heel, cant, foil and thrust balance at the
speed asked for.

Thrust follows righting moment: a boat that stands up more firmly carries more sail. The user's speed
table (or, near the wind it was calibrated for, the boat file's reference thrust) says what the reference
setting reaches; the calm trim of every other setting, with its own drag and righting moment, scales it.
"""

from dataclasses import dataclass, replace
from math import isnan, nan

import numpy as np

from seaload.basis.units import KNOT
from seaload.deciding.known_wind import SPARE, reference_speed
from seaload.sailing.block_task import BlockTask, load_kernels
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.studies.surf_riding import surf_riding_speed

USUAL_SPEEDS = (8.0 * KNOT, 36.0 * KNOT)  # [m/s] least window of the trims that a curve is drawn through
AROUND_KNOWN = (0.8, 1.25)  # [-] of the least and most speed known of a boat, which the window reaches to as well
WIDER = 2.0  # [-] times the window's top, where a setting still has thrust to spare there
NO_SPEED = "thrust holds no speed"


@dataclass(frozen=True)
class TrimCurve:
    """Calm-water answers of one setting over LANES speeds."""

    speeds: np.ndarray  # [m/s] rising
    thrust: np.ndarray  # [N] needed
    heel_moment: np.ndarray  # [N m] needed to hold the heel: what hull, keel and foil right
    balanced: np.ndarray  # bool: nothing accelerates
    sideways: np.ndarray  # bool: side force and yaw balance too

    def at(self, name, speed):
        """Value of a curve at a speed [m/s] inside it."""
        return float(np.interp(speed, self.speeds, getattr(self, name)))


def speed_window(boat):
    """(least, most) [m/s] of the speeds at which the trims of a boat's settings are worked out."""
    known = [boat.reference_speed]
    if boat.speed_table is not None:
        known += [boat.speed_table.speed[boat.speed_table.speed > 0.0].min(), boat.speed_table.speed.max()]
    least, most = AROUND_KNOWN[0] * min(known), AROUND_KNOWN[1] * max(known)
    return float(min(USUAL_SPEEDS[0], least)), float(max(USUAL_SPEEDS[1], most))


class Reach:
    """Attainable speeds of one boat, trims remembered."""

    def __init__(self, boat, foil, named_model):
        self.boat, self.foil, self.model = boat, foil, model_factors(named_model)
        self.window = speed_window(boat)
        self._curves = {}

    def curve(self, setting, window=None):
        """`TrimCurve` of a setting, whatever its own speed, over a `window` [m/s], the boat's unless said."""
        window = window or self.window
        key = replace(setting, speed=0.0, attainable=False), window
        if key not in self._curves:
            speeds = np.linspace(*window, LANES)
            lanes = [replace(key[0], speed=float(speed)) for speed in speeds]
            trim = self.trim(key, lanes)
            level, sideways = trim.balanced, trim.balanced & trim.sideways
            self._curves[key] = TrimCurve(speeds, trim.thrust, trim.heel_moment, level, sideways)
        return self._curves[key]

    def trim(self, key, lanes):
        """`CalmTrim` of LANES settings, those of the curve that is known by `key`."""
        march, _, _ = march_arrays(self.boat, self.foil, lanes, [1.0] * LANES, self.model)
        return calm_trim(march, self.model, carried_righting(self.boat, lanes))

    def curve_to(self, setting):
        """`TrimCurve` of a setting over the boat's window, widened to its own speed where that lies outside."""
        if isnan(setting.speed):
            return self.curve(setting)
        return self.curve(setting, (min(self.window[0], setting.speed), max(self.window[1], setting.speed)))

    def reference(self, sea):
        """(speed [m/s], thrust [N], righting moment [N m]) of the reference setting in a sea's wind, or None.

        None where neither table nor calibration covers the wind.
        """
        speed = reference_speed(self.boat, sea.true_wind_speed, sea.true_wind_angle)
        if speed is None:
            return None
        curve = self.curve(self.boat.reference_setting)
        thrust = self.boat.reference_thrust if self.boat.speed_table is None else curve.at("thrust", speed)
        return speed, thrust, curve.at("heel_moment", speed)

    def spare(self, curve, known, share=1.0):
        """Thrust left over [N] at every speed of a `curve`, minus infinity where it does not balance.

        `known` as `reference` gives it; `share` [-] of that thrust that the sails give. Thrust follows righting moment
        (common practice, no source).
        """
        speed, thrust, moment = known
        firmer = 1.0 + self.boat.thrust_per_righting * (curve.heel_moment / moment - 1.0)
        given = thrust * (1.0 - self.boat.thrust_slope * (curve.speeds / speed - 1.0)) * np.maximum(firmer, 0.0)
        return np.where(curve.sideways, share * given - curve.thrust, -np.inf)

    def attainable(self, setting, sea, share=1.0):
        """Speed at which thrust and drag of a setting balance [m/s]; nan where it is unknown or never. `share` [-] of
        the thrust in that wind.
        """
        known = self.reference(sea)
        if known is None:
            return nan
        curve = self.curve_to(setting)
        if self.spare(curve, known, share)[-1] >= 0.0:
            curve = self.curve(setting, (curve.speeds[0], WIDER * curve.speeds[-1]))
        spare, speeds = self.spare(curve, known, share), curve.speeds
        held = np.flatnonzero(spare >= 0.0)
        if len(held) == 0 or held[-1] == LANES - 1:
            return nan
        last = int(held[-1])
        if not np.isfinite(spare[last + 1]):
            return float(speeds[last])
        share = spare[last] / (spare[last] - spare[last + 1])
        return float(speeds[last] + share * (speeds[last + 1] - speeds[last]))

    def settle(self, setting, sea):
        """(setting with its speed, attainable speed [m/s], why it cannot be sailed) of a setting in a sea.

        No words where it can.
        """
        speed = self.attainable(setting, sea)
        if setting.attainable:
            return replace(setting, speed=speed), speed, NO_SPEED if isnan(speed) else ""
        curve = self.curve_to(setting)
        near = int(np.argmin(np.abs(curve.speeds - setting.speed)))
        held = self.reference(sea) is None or setting.speed <= speed * (1.0 + SPARE)
        found = (
            (curve.balanced[near], "heave and pitch do not balance"),
            (curve.at("heel_moment", setting.speed) > 0.0, "nothing holds up this heel"),
            (curve.sideways[near], "no leeway meets the side force"),
            (held, NO_SPEED if isnan(speed) else f"thrust holds {speed / KNOT:.1f} kn"),
        )
        return setting, speed, next((why for holds, why in found if not holds), "")


def settle_all(study, named_model, account, reached=lambda pair, setting, speed: None):
    """({(setting, sea): Setting} with speeds worked out, parts for the Dataset: attainable speed and
    reachable).

    reached(pair, setting, attainable speed) is told of each that can be sailed as soon as that is known. Machine code
    is fetched first, so that it is loaded in the order that every process loads it in.
    """
    foil = study.boat.foils[study.foil_side]
    first = replace(study.settings[0], speed=study.boat.reference_speed)
    task = BlockTask(study.boat, foil, study.seas[0], ((first, 0),), study.sampling, named_model)
    account.compile_s += load_kernels(task, account.say)
    reach, settled = Reach(study.boat, foil, named_model), {}
    shape = (len(study.settings), len(study.seas))
    speeds, surf, why = np.full(shape, nan), np.full(shape, nan), np.full(shape, "", dtype=object)
    for i, setting in enumerate(study.settings):
        for j, sea in enumerate(study.seas):
            settled[i, j], speeds[i, j], why[i, j] = reach.settle(setting, sea)
            surf[i, j] = surf_riding_speed(reach, setting, sea)
            if not why[i, j]:
                reached((i, j), settled[i, j], speeds[i, j])
    reachable = (why == "").astype(np.int8)
    found = {"speed_attainable": speeds, "surf_riding_speed": surf, "reachable": reachable, "unreachable_reason": why}
    return settled, {name: (("setting", "sea"), values) for name, values in found.items()}


def settle_later(study, named_model, account):
    """({(setting, sea): Setting}, function that gives the parts of `settle_all`), for a study that wants to march soon.

    Where every speed is stated, the trims are left to that function: no march waits for them.
    """
    if any(setting.attainable for setting in study.settings):
        settled, parts = settle_all(study, named_model, account)
        return settled, lambda: parts
    settled = {(i, j): setting for i, setting in enumerate(study.settings) for j in range(len(study.seas))}
    return settled, lambda: settle_all(study, named_model, account)[1]

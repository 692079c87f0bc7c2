"""Seas as coordinates of a library, and back: one wave system of a named spectrum, by height, period and angle."""

import hashlib
from dataclasses import replace
from math import pi

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.deciding.library.coordinates import SEA, SETTING, wrapped
from seaload.deciding.library.next_seas import Range
from seaload.scenario.read_toml import shown
from seaload.scenario.sea_spec import SeaSpec
from seaload.studies.build_sea import USUAL_GAMMA, build_sea

NAMED = ("jonswap", "bretschneider")  # one peak, told by height, period and peak enhancement
WANTED = "a library holds seas of one wave system: spectrum jonswap or bretschneider, waves_from_bow_deg"


def coordinates_of(written, sea):
    """{name of SEA: value [SI]} of a `[[sea]]` table as `written` and its record, or None where it is no such sea."""
    if written.get("spectrum") not in NAMED or written.get("system"):
        return None
    gamma = written.get("gamma", USUAL_GAMMA) if written["spectrum"] == "jonswap" else 1.0
    (system,) = sea.systems
    return dict(zip(SEA, (
        float(written["hs_m"]), float(written["tp_s"]), float(wrapped(pi - system.direction)), float(gamma),
        float(system.spreading),
    ), strict=True))  # fmt: skip


def kind_of_sea(study):
    """(table as written, `SEA` coordinates) of the one sea of a study that fills a library; InputError for others."""
    tables = study.raw["sea"]
    if len(tables) != 1:
        allowed = "with [fill] one [[sea]]: the others are like it"
        raise InputError(shown(study.path), "sea", len(tables), allowed)
    found = coordinates_of(tables[0], study.seas[0])
    if found is None or "waves_from_bow_deg" not in tables[0]:
        raise InputError(shown(study.path), "sea[1]", tables[0].get("spectrum", "this table"), WANTED)
    return tables[0], found


def span_of(study):
    """`Range` of the seas that a study fills a library with; InputError where there are none."""
    span = Range(study.fill.hs, study.fill.tp, study.fill.angle, study.boat.limits_of_validity.steepness)
    if not span.least_period < span.tp[1]:
        allowed = f"no sea of these heights is less steep than 1/{1.0 / span.steepness:.0f}"
        raise InputError(shown(study.path), "fill.tp_s", list(study.fill.tp), allowed)
    return span


def refuse_unfit(study):
    """InputError for a study with [fill] whose sea, range or settings no library can hold."""
    kind_of_sea(study)
    span_of(study)
    refuse_unfit_settings(study)


def sea_like(study, written, place):
    """Sea record like the one `written`, at a `place` (height [m], period [s], angle [rad])."""
    hs, tp, angle = map(float, place)
    spec = SeaSpec.model_validate({**written, "hs_m": hs, "tp_s": tp, "waves_from_bow_deg": angle / DEGREE})
    sea = build_sea(spec, 0, path=study.path, boat=study.boat, starboard_tack=study.foil_side == "port")
    return replace(sea, forecast=study.seas[0].forecast)


def setting_row(setting):
    """(SETTING names,) [SI] of a setting record."""
    names = ("speed" if name == "speed_set" else name for name in SETTING)
    return np.array([float(getattr(setting, name)) for name in names])


def wave_number(name):
    """Whole number that stands for the `name` that random streams follow, under 2^31."""
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:4], "big") >> 1


def refuse_unfit_settings(study):
    """InputError for settings that are no points of a library."""
    if any(setting.attainable for setting in study.settings):
        allowed = "with [fill] stated speeds: the library tells what can be held"
        raise InputError(shown(study.path), "settings.speed_knots", "attainable", allowed)
    if any(setting.water for setting in study.settings):
        allowed = "with [fill] ballast_shift_m: points of a library have no water in tanks"
        raise InputError(shown(study.path), "settings.tanks", "this table", allowed)

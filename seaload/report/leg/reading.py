"""Reading the result of a leg: its stretches as records in human units, moments, settings, budgets."""

import math
from typing import NamedTuple

import numpy as np

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, KNOT, PERCENT
from seaload.report.shared.result_reading import number

NAUTICAL_MILE = 1852.0  # [m]
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Stretch(NamedTuple):
    """One stretch of the plan, in human units."""

    number: int  # from 1
    start: float  # [s] since 1970-01-01 UTC
    minutes: float
    miles: float
    heading: float  # degrees true
    setting: int
    changed: bool
    foil: str  # port or starboard
    hs: float  # m
    hs_least: float
    hs_most: float
    tp: float  # s
    waves_from_bow: float  # degrees, + from windward
    wind_knots: float
    wind_angle: float  # degrees, + from starboard
    current_knots: float
    share: float  # of the leg's reverse odds
    hazard: float  # events an hour, mean of the settings open there
    wear: float  # full-load cycles
    faster: tuple  # (setting or -1, minutes saved, odds more)
    slower: tuple  # (setting or -1, minutes lost, odds less)
    leave_hs: float  # m, nan = never
    leave_tp: float  # s, nan = never


def stretches(dataset):
    """All stretches in order."""
    get = {name: dataset[name].values for name in dataset.variables if dataset[name].dims == ("stretch",)}
    seconds = seconds_of(get["stretch_start"])
    foils = [str(name) for name in dataset["foil_name"].values]
    found = []
    for i in range(dataset.sizes["stretch"]):
        at = lambda name, unit=1.0, i=i: float(get[name][i]) / unit  # noqa: E731
        found.append(Stretch(
            i + 1, float(seconds[i]), at("stretch_duration", 60.0), at("stretch_distance", NAUTICAL_MILE),
            at("stretch_heading", DEGREE), int(get["stretch_setting"][i]), bool(get["stretch_changed"][i]),
            foils[int(get["stretch_foil"][i])], at("stretch_hs"), at("stretch_hs_least"), at("stretch_hs_most"),
            at("stretch_tp"), at("stretch_waves_from_bow", DEGREE), at("stretch_wind_speed", KNOT),
            at("stretch_wind_angle", DEGREE), at("stretch_current", KNOT), at("stretch_reverse_share"),
            at("stretch_hazard") * 3600.0, at("stretch_wear", FULL_LOAD_SHARE),
            (int(get["faster_setting"][i]), -at("faster_time", 60.0), at("faster_odds")),
            (int(get["slower_setting"][i]), at("slower_time", 60.0), -at("slower_odds")),
            at("leave_hs"), at("leave_tp"),
        ))  # fmt: skip
    return found


def seconds_of(values):
    """Times of a result, however they were decoded, as seconds since 1970."""
    values = np.asarray(values)
    return values.astype("datetime64[ms]").astype(np.int64) / 1e3 if values.dtype.kind == "M" else values.astype(float)


def moment_words(seconds):
    """A moment as crews write it: "14 Mar 06:20"; UTC."""
    if not math.isfinite(seconds):
        return "unknown"
    moment = np.datetime64(int(round(seconds / 60.0)) * 60, "s").astype(object)
    return f"{moment.day:02d} {MONTHS[moment.month - 1]} {moment:%H:%M}"


def time_words(seconds):
    """A stretch of time: "27 h 40 min", "48 min"."""
    if not math.isfinite(seconds):
        return "unknown"
    minutes = int(round(seconds / 60.0))
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def settings(dataset):
    """[{extension_percent, rake_deg, heel_deg, cant_deg, ballast_shift_m, speed_knots}] of all settings."""
    sizes = {"extension": ("extension_percent", PERCENT), "rake": ("rake_deg", DEGREE), "heel": ("heel_deg", DEGREE),
             "cant": ("cant_deg", DEGREE), "ballast_shift": ("ballast_shift_m", 1.0),
             "speed_set": ("speed_knots", KNOT)}  # fmt: skip
    return [
        {word: float(dataset[name].values[i]) / size + 0.0 for name, (word, size) in sizes.items()}
        for i in range(dataset.sizes["setting"])
    ]


def setting_words(setting, varying=("heel_deg", "cant_deg", "ballast_shift_m")):
    """A setting in a few words: "80 % out, rake 2°, 16 kn"; what is the same in all settings is left out."""
    words = [f"{setting['extension_percent']:.0f} % out", f"rake {trimmed(setting['rake_deg'])}°"]
    words += [f"heel {trimmed(setting['heel_deg'])}°"] if "heel_deg" in varying else []
    words += [f"keel {trimmed(setting['cant_deg'])}°"] if "cant_deg" in varying else []
    words += [f"ballast {setting['ballast_shift_m']:+.1f} m"] if "ballast_shift_m" in varying else []
    return ", ".join([*words, f"{trimmed(setting['speed_knots'])} kn"])


def varying(rows):
    """Keys in which some settings differ."""
    return tuple(key for key in rows[0] if len({round(row[key], 6) for row in rows}) > 1)


def trimmed(value):
    """A number to one digit behind the point at most, none where it is whole."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def budgets(dataset):
    """{name: (spent, allowed)} of what is bounded: odds of each side, wear of each foil in full-load cycles."""
    found = {}
    for side in ("reverse", "normal"):
        allowed = number(dataset, f"budget_{side}_odds")
        if allowed < 1.0:
            found[f"{side} odds"] = (number(dataset, f"leg_{side}_odds"), allowed)
    allowed = number(dataset, "budget_wear")
    if math.isfinite(allowed):
        for name, spent in zip(dataset["foil_name"].values, dataset["leg_wear"].values, strict=True):
            found[f"wear of the {name} foil"] = (float(spent) / FULL_LOAD_SHARE, allowed / FULL_LOAD_SHARE)
    return found

"""Reading a saved result: single numbers, names of places, seas, settings in human units, how cases ended."""

import json
import math

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.basis.vocabulary import entry_of
from seaload.files.result_file import read_result
from seaload.report.shared.held_names import missing_name
from seaload.report.shared.named_values import Bounds
from seaload.report.shared.wording import angle_from_bow_words, ballast_words, significant

TEXT_SHOWN = 200  # characters of any text from a file


def open_result(path):
    """The saved result of a run or a sweep as a Dataset in memory. InputError when no page can be made of it."""
    dataset = read_result(path)
    check_result(dataset, path)
    return dataset


def check_result(dataset, path):
    """InputError, with the name of what is missing, when no page of a run or a sweep can be made of a Dataset."""
    if "reverse_odds" not in dataset or "setting" not in dataset.dims:
        raise InputError(path.name, "RESULT", path.name, "no odds in it: give the result of run or sweep")
    if name := missing_name(dataset, attribute(dataset, "kind")):
        raise InputError(path.name, name, "missing", "every result of run or sweep holds it: the file is damaged")


def attribute(dataset, name):
    """A text attribute of the result, "" when absent."""
    return str(dataset.attrs.get(name, ""))


def line(text, most=TEXT_SHOWN):
    """Text from a file as one line without anything that steers a terminal or turns the reading direction."""
    shown = "".join(c if c.isprintable() else " " for c in str(text))
    shown = " ".join(shown.split())
    return shown if len(shown) <= most else shown[: most - 3] + "..."


def number(dataset, name, setting=None, sea=None, place=None):
    """One number of the result as a float. KeyError when the result does not hold the name, ValueError when there is
    more than one number of it."""
    at = {"setting": setting, "sea": sea, "place": place}
    found = dataset[name]
    return float(found.isel({dim: i for dim, i in at.items() if i is not None and dim in found.dims}).values)


def number_if_held(dataset, name, setting=None, sea=None, place=None):
    """The same; nan when this result does not hold the name. KeyError for a name that no result holds."""
    entry_of(name)
    return number(dataset, name, setting, sea, place) if name in dataset else math.nan


def bounds(dataset, name, *where):
    """`Bounds` of X, X_low, X_high at a place, setting, sea."""
    return Bounds(*(number(dataset, name + end, *where) for end in ("", "_low", "_high")))


def flag(dataset, name, setting, sea):
    """A 0/1 flag as bool, None when unknown or not sailed."""
    value = number_if_held(dataset, name, setting, sea)
    return None if not math.isfinite(value) or value < 0 else value > 0.5


def place_names(dataset):
    """ "bearing", "station 1", ... in the order of the result."""
    numbers = np.asarray(dataset["station"].values).astype(int)
    return ["bearing" if n == 0 else f"station {n}" for n in numbers]


def hours_sailed(dataset, setting, sea):
    """Hours of sea behind a setting's numbers, run-in left out."""
    return number(dataset, "duration_total", setting, sea) / HOUR


def ended_cases(dataset, setting, sea):
    """{name of status: number of realisations}, those never sailed left out."""
    if "status" not in dataset:
        return {}
    status = dataset["status"]
    codes = status.isel(setting=setting, sea=sea).values.ravel()
    meanings = dict(
        zip(
            np.atleast_1d(status.attrs["flag_values"]).tolist(),
            status.attrs["flag_meanings"].split(),
            strict=True,
        )
    )
    counted = {}
    for code in codes.tolist():
        name = meanings.get(int(code), "unknown") if math.isfinite(code) else "not_sailed"
        counted[name] = counted.get(name, 0) + 1
    counted.pop("not_sailed", None)
    return counted


def sea_name(dataset, sea):
    """The name of a sea as one line."""
    return line(dataset["sea_name"].values[sea], 80)


def sea_words(dataset, sea):
    """A sea in a sentence: name, height, period, where from, wind."""
    words = (
        f"{line(dataset['sea_name'].values[sea], 80)}: Hs {number(dataset, 'sea_hs', sea=sea):.1f} m, "
        f"peak period {number(dataset, 'sea_tp', sea=sea):.1f} s, "
        f"waves {angle_from_bow_words(round(number(dataset, 'waves_from_bow', sea=sea) / DEGREE, 1))}, "
        f"true wind {number(dataset, 'true_wind_speed', sea=sea) / KNOT:.0f} kn at "
        f"{number(dataset, 'true_wind_angle', sea=sea) / DEGREE:.0f} deg"
    )
    if (gusts := number_if_held(dataset, "gustiness", sea=sea)) > 0.0:
        words += f" with gusts and lulls of {100.0 * gusts:.0f} % (one standard deviation)"
    if number(dataset, "sea_steep", sea=sea) > 0:
        words += "; steeper than the model is valid for"
    return words


def angle_deg(dataset, sea):
    """Where the waves of a sea come from, from the bow [deg]."""
    return number(dataset, "waves_from_bow", sea=sea) / DEGREE


def setting_values(dataset, setting, sea=0):
    """The setting in human units, by edge name."""
    at = lambda name: number(dataset, name, setting, sea)  # noqa: E731
    return {
        "extension_percent": 100.0 * at("extension"),
        "rake_deg": at("rake") / DEGREE,
        "heel_deg": at("heel") / DEGREE,
        "cant_deg": at("cant") / DEGREE,
        "ballast_shift_m": at("ballast_shift"),
        "speed_knots": at("speed_set") / KNOT,
    }


def setting_words(dataset, setting, sea=0):
    """A setting in a sentence."""
    v = setting_values(dataset, setting, sea)
    speed = f"{v['speed_knots']:.1f} kn" if math.isfinite(v["speed_knots"]) else "speed as attainable"
    return (
        f"{v['extension_percent']:.0f} % out, rake {significant(v['rake_deg'], 2)} deg, "
        f"heel {v['heel_deg']:.0f} deg, keel canted {v['cant_deg']:.0f} deg, "
        f"{ballast_words(v['ballast_shift_m'])}, {speed}"
    )


def scenario(dataset):
    """The scenario as it was written, a dictionary; empty when the result holds none."""
    try:
        found = json.loads(attribute(dataset, "scenario") or "{}")
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}

"""Reading the result of a sizing: places, the weakest one of each side, shares and margins in human units."""

from typing import NamedTuple

import numpy as np

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR
from seaload.report.shared.result_reading import line

SIDES = ("reverse", "normal")
KILO = 1e3
LOADED = 2e-3  # [-] of the given limit: a place that needs less is said to be hardly loaded


class Weakest(NamedTuple):
    """The place of one side whose given limit is least beside the one needed."""

    point: int
    material: float  # [m]
    given: float  # [kN m]
    needed: tuple  # (value, low, high) [kN m]
    margin: tuple  # (value, low, high) [-]
    by_wear: bool  # the wear asks for more than the odds
    situation: str
    share: float  # [-] of that situation
    sea: str  # of the usage, "" for none


def three(dataset, name, *where):
    """(value, low, high) of a name at some numbers of its dimensions; three times itself where it has no bounds."""
    names = [f"{name}{end}" if f"{name}{end}" in dataset else name for end in ("", "_low", "_high")]
    return tuple(float(dataset[each].values[where]) for each in names)


def loaded(dataset, k):
    """Numbers of the places that a side loads at all."""
    needed, given = dataset["limit_needed"].values[k], dataset["limit_given"].values[k]
    return [p for p in range(len(needed)) if needed[p] > LOADED * given[p]]


def weakest(dataset, k):
    """`Weakest` of side number `k`, 0 reverse; None where nothing loads it."""
    places = loaded(dataset, k)
    if not places:
        return None
    margin = dataset["limit_margin"].values[k]
    p = min(places, key=lambda p: margin[p])
    needed = tuple(each / KILO for each in three(dataset, "limit_needed", k, p))
    sea = int(dataset["governing_sea"].values[k, p])
    return Weakest(
        p, float(dataset["sized_material"].values[p]), float(dataset["limit_given"].values[k, p]) / KILO, needed,
        three(dataset, "limit_margin", k, p),
        bool(dataset["limit_wear"].values[k, p] > dataset["limit_all_told"].values[k, p]),
        situation(dataset, dataset["governing_situation"].values[k, p]),
        float(dataset["governing_share"].values[k, p]), sea_words(dataset, sea) if sea >= 0 else "",
    )  # fmt: skip


def situation(dataset, number):
    """Name of a situation by its number, "" for none."""
    return line(dataset["situation_name"].values[int(number)], 60) if number >= 0 else ""


def sea_words(dataset, j):
    """A sea of the usage: "3.4 m, 8.4 s, 45° off the bow"."""
    hs, tp = (float(dataset[f"usage_{name}"].values[j]) for name in ("hs", "tp"))
    angle = float(dataset["usage_waves_from_bow"].values[j]) / DEGREE
    return f"{hs:.1f} m, {tp:.1f} s, {abs(angle):.0f}° off the bow"


def place_words(dataset, material):
    """A place in words: "1.2 m from the root (station 2)"."""
    stations = dataset["place_material"].values[1:]
    text = f"{material:.1f} m from the root"
    if len(stations):
        near = int(np.argmin(np.abs(stations - material)))
        if abs(stations[near] - material) < 0.2:
            text += f", at station {near + 1}"
    return text


def station_name(dataset, k):
    """ "bearing" or "station 2"."""
    n = int(dataset["station"].values[k])
    return "bearing" if n == 0 else f"station {n}"


def season_hours(dataset):
    """Hours of the season."""
    return float(dataset["season_time"]) / HOUR


def wear_cycles(dataset):
    """((value, low, high) full-load cycles of the season at the place that wears most, its number, the target)."""
    p = int(np.argmax(dataset["season_wear"].values))
    worn = tuple(each / FULL_LOAD_SHARE for each in three(dataset, "season_wear", p))
    return worn, p, float(dataset["wear_target"]) / FULL_LOAD_SHARE

"""The deepest events of a run and the motions on board, in words: for the table and for the page."""

import math
from typing import NamedTuple

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.units import DEGREE, HOUR, KNOT, TONNE_FORCE
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import hours_sailed, number, number_if_held, place_names
from seaload.report.shared.text_table import wrapped

FEW = 5  # events in the table of the command line
MOST = 20  # on the page
AT = 0.005  # [m] from a station, and it is that station
HEADS = ("time, s", "realisation", "load", "place", "lasted, s", "cause", "wave, m", "speed, kn", "pitch, deg")


class Event(NamedTuple):
    """One event, human units."""

    time_s: float  # since the start of its realisation, run-in included
    realisation: int
    reverse: bool
    share_percent: float  # of the limit at the place
    place: str
    material_m: float
    duration_s: float
    cause: str
    speed_knots: float
    pitch_deg: float
    wave_m: float  # water amidships above still water
    number: int  # in the result


def events_of(dataset, setting, sea):
    """`Event`s of one setting and sea, the deepest share of a limit first; none when the result holds none."""
    if "event_depth" not in dataset:
        return []
    at = lambda name: dataset[f"event_{name}"].values  # noqa: E731
    causes = str(dataset["event_cause"].attrs.get("flag_meanings", "")).split()
    mine = np.flatnonzero((at("setting") == setting) & (at("sea") == sea))
    return [
        Event(
            time_s=float(at("time")[i]),
            realisation=int(at("realisation")[i]),
            reverse=bool(at("side")[i] < 0),
            share_percent=100.0 * float(at("depth")[i]),
            place=place_words(dataset, setting, float(at("material")[i])),
            material_m=float(at("material")[i]),
            duration_s=float(at("duration")[i]),
            cause=cause_words(causes, int(at("cause")[i])),
            speed_knots=float(at("speed")[i]) / KNOT,
            pitch_deg=float(at("pitch")[i]) / DEGREE,
            wave_m=float(at("elevation")[i]),
            number=int(i),
        )
        for i in mine[np.argsort(-at("depth")[mine], kind="stable")]
    ]


def deepest_each_way(events, count):
    """So many of `events`, the deepest first: half of them reverse where there are as many, since each way has its own
    limit and one of them would otherwise fill the list."""
    reverse, normal = ([e for e in events if e.reverse == way] for way in (True, False))
    first = min(len(reverse), max(-(-count // 2), count - len(normal)))
    shown = reverse[:first] + normal[: count - first]
    return sorted(shown, key=lambda event: (-event.share_percent, event.number))


def cause_words(causes, number):
    """The cause of that `number` among the words of a result."""
    return causes[number].replace("_", " ") if 0 <= number < len(causes) else "unknown"


def place_words(dataset, setting, material):
    """ "bearing", "station 3", or "2.7 m" of the material from the root."""
    known = dataset["place_material"].isel(setting=setting).values
    nearest = int(np.argmin(np.abs(known - material)))
    return place_names(dataset)[nearest] if abs(known[nearest] - material) < AT else f"{material:.1f} m"


def event_cells(event):
    """Cells of one event, as `HEADS` has them."""
    return (
        f"{event.time_s:.1f}",
        str(event.realisation + 1),
        f"{event.share_percent:.0f} % {'down' if event.reverse else 'up'}",
        event.place,
        f"{event.duration_s:.2f}",
        event.cause,
        f"{event.wave_m:+z.1f}",
        f"{event.speed_knots:.1f}",
        f"{event.pitch_deg:z.1f}",
    )


def count_words(dataset, setting, sea):
    """How many events there were, and past which share they count; "" when the result does not tell."""
    if "event_count_reverse" not in dataset:
        return ""
    parts = []
    for side in ("reverse", "normal"):
        count, level = (dataset[f"event_{kind}_{side}"].isel(setting=setting, sea=sea).values
                        for kind in ("count", "level"))  # fmt: skip
        if not np.any(np.isfinite(count)):
            return ""
        parts.append(f"{np.nansum(count):.0f}" if np.nansum(count) else "none")
        parts[-1] += f" past {100.0 * np.nanmean(level):.0f} % of the {side} limit"
    return f"{' and '.join(parts)} in {say.hours_words(hours_sailed(dataset, setting, sea))} simulated"


NOTE = (
    "Time since the start of the realisation, run-in included; lasted: time past that share. Cause: the largest "
    "part of the inflow that loads the foil so (her own motion, the waves, lost lift). Wave: the water amidships."
)


def event_lines(dataset, setting, sea):
    """The few deepest events as lines of plain characters; none when the result does not tell them."""
    counts = count_words(dataset, setting, sea)
    if not counts:
        return []
    lines = wrapped(f"EVENTS  {counts}.")
    cells = [HEADS, *(event_cells(event) for event in deepest_each_way(events_of(dataset, setting, sea), FEW))]
    if len(cells) == 1:
        return lines
    widths = [max(len(row[i]) for row in cells) for i in range(len(HEADS))]
    lines += ["  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)) for row in cells]
    return [*lines, *wrapped(NOTE)]


def motion_rows(dataset, setting, sea):
    """(name, value) lines of what the crew feels and what the foil's root carries; none in results from before."""
    if "acceleration_rms" not in dataset:
        return []
    rows = [
        (f"acceleration, {place}", f"+-{rms:.2f} g, highest tenth {tenth:.1f} g, worst {worst:.1f} g")
        for place, rms, tenth, worst in accelerations(dataset, setting, sea)
    ]
    least = number(dataset, "slam_speed")
    slams = number(dataset, "slam_rate", setting, sea) * HOUR
    spread = number_if_held(dataset, "thrust_std", setting, sea) / 1e3
    rows += [
        ("forefoot back in the water", f"{say.significant(slams)} times an hour at {least:.1f} m/s or faster"),
        ("sail thrust", f"+-{spread:.1f} kN"),
        ("shear, most along the foil", either_way(dataset, "shear", setting, sea, "t", "up", "down")),
        ("twist, most along the foil", either_way(dataset, "torsion", setting, sea, "t m", "nose up", "nose down")),
    ]
    return rows


def accelerations(dataset, setting, sea):
    """[(place, rms, mean of the highest tenth, worst)] of the vertical accelerations on board, in g."""
    names = [str(name) for name in dataset["boat_place_name"].values]
    columns = [
        dataset[f"acceleration_{kind}"].isel(setting=setting, sea=sea).values / STANDARD_GRAVITY
        for kind in ("rms", "highest_tenth", "worst")
    ]
    return list(zip(names, *columns, strict=True))


def either_way(dataset, name, setting, sea, unit, up, down):
    """The highest and lowest of a load along the span: "2.9 t up, 1.1 t down"."""
    most = float(dataset[f"{name}_max"].isel(setting=setting, sea=sea).max()) / TONNE_FORCE
    least = float(dataset[f"{name}_min"].isel(setting=setting, sea=sea).min()) / TONNE_FORCE
    if not (math.isfinite(most) and math.isfinite(least)):
        return "not known"
    return f"{max(most, 0.0):.1f} {unit} {up}, {max(-least, 0.0):.1f} {unit} {down}"

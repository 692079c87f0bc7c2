"""Reading the result of a log: days, places, settings and times in human units; the judgement as it was written."""

import json
import math

import numpy as np

from seaload.basis.units import DEGREE, FULL_LOAD_SHARE, HOUR, KNOT, MICROSTRAIN, PERCENT
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line

PEOPLES_UNITS = {
    "strain": ("microstrain", MICROSTRAIN), "load_share": ("%", PERCENT), "extension": ("%", PERCENT),
    "heave": ("m", 1.0), "speed": ("knots", KNOT),
    **dict.fromkeys(("pitch", "roll", "heel", "rake", "cant"), ("deg", DEGREE)),
    **dict.fromkeys(("pitch_rate", "roll_rate"), ("deg/s", DEGREE)),
    **dict.fromkeys(("acceleration_x", "acceleration_y", "acceleration_z"), ("m/s2", 1.0)),
}  # fmt: skip
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def seconds_of(values):
    """Times of a result as seconds since 1970-01-01 UTC (n,), nan where there is none."""
    values = np.asarray(values)
    if values.dtype.kind != "M":
        return values.astype(float)
    return np.where(np.isnat(values), np.nan, values.astype("datetime64[us]").astype(np.int64) / 1e6)


def day_words(seconds):
    """A day (UTC): "13 Mar 1996"."""
    year, month, day = (int(part) for part in str(np.datetime64(int(seconds // 86400), "D")).split("-"))
    return f"{day} {MONTHS[month - 1]} {year}"


def moment_words(seconds, *, with_day=True):
    """A moment (UTC): "13 Mar 1996 04:05:06"."""
    if not math.isfinite(seconds):
        return "unknown"
    whole = int(round(seconds))
    clock = f"{whole % 86400 // 3600:02d}:{whole % 3600 // 60:02d}:{whole % 60:02d}"
    return f"{day_words(whole)} {clock}" if with_day else clock


def channel_words(channel, value):
    """An SI value of a channel in the unit people use for it: "24.2 microstrain"; "nothing" where there is none."""
    if value is None or not math.isfinite(value):
        return "nothing"
    unit, size = PEOPLES_UNITS.get(channel.rstrip("0123456789").rstrip("_"), ("SI", 1.0))
    shown = value / size
    return f"{shown:,.0f} {unit}" if abs(shown) >= 100.0 else f"{shown:.3g} {unit}"


def stations(dataset):
    """Numbers of the strain stations, in the order of the places."""
    return [int(n) for n in dataset["station"].values]


def cycles_words(damage):
    """Wear as full-load cycles, three digits: "1,330", "0.021", "under 0.001"."""
    cycles = damage / FULL_LOAD_SHARE
    if cycles == 0.0 or cycles >= 0.001:
        return say.significant(cycles, 3)
    return "under 0.001"


def by_day(dataset):
    """[(day as seconds, [h] recorded, [h] under load, wear of every place (places,))]; hours of the longest place."""
    rows = []
    for i, day in enumerate(seconds_of(dataset["day"].values)):
        at = dataset.isel(day=i)
        hours, loaded = (
            float(np.nansum(at[name].values, axis=0).max(initial=0.0)) / HOUR
            for name in ("ledger_duration", "ledger_duration_loaded")
        )
        rows.append((day, hours, loaded, np.nansum(at["ledger_damage"].values, axis=0)))
    return rows


def by_setting(dataset):
    """[(setting in human units, [h] recorded, wear at the place that wore most)], most hours first."""
    rows = []
    for i in range(dataset.sizes["setting"]):
        hours = float(np.nansum(dataset["ledger_duration"].values[:, i], axis=0).max(initial=0.0)) / HOUR
        wear = float(np.nansum(dataset["ledger_damage"].values[:, i], axis=0).max(initial=0.0))
        rows.append((human_setting(dataset, i), hours, wear))
    return sorted(rows, key=lambda row: -row[1])


def human_setting(dataset, i):
    """{edge name: value} of what is known of a setting."""
    units = {
        "extension": ("extension_percent", 0.01), "rake": ("rake_deg", DEGREE), "cant": ("cant_deg", DEGREE),
        "heel": ("heel_deg", DEGREE), "ballast_shift": ("ballast_shift_m", 1.0),
    }  # fmt: skip
    known = {}
    for name, (edge, unit) in units.items():
        value = float(dataset[name].values[i])
        if math.isfinite(value):
            known[edge] = value / unit
    if sails := line(dataset["sails"].values[i], 60):
        known["sails"] = sails
    return known


def setting_words(known):
    """A setting as far as it is known: "80 % out, rake 2 deg"."""
    words = {
        "extension_percent": "{:.0f} % out", "rake_deg": "rake {:.1f} deg", "cant_deg": "keel canted {:.0f} deg",
        "heel_deg": "heel {:.0f} deg", "ballast_shift_m": "ballast {:+.2f} m", "sails": "sails: {}",
    }  # fmt: skip
    return ", ".join(words[name].format(value) for name, value in known.items()) or "not known"


def page_hours(dataset):
    """([h] recorded, [h] under load) in the ledger's page, of the place recorded longest."""
    totals = [
        np.nansum(dataset[name].values, axis=(0, 1)).max(initial=0.0) / HOUR
        for name in ("ledger_duration", "ledger_duration_loaded")
    ]
    return float(totals[0]), float(totals[1])


def wear_of_places(dataset, name="ledger_damage"):
    """Wear of every place in the ledger's page (places,)."""
    return np.nansum(dataset[name].values, axis=(0, 1))


def judgement(dataset):
    """The judgement as a dictionary."""
    return json.loads(attribute(dataset, "judgement") or "{}")


def curve(dataset):
    """Limits and slopes as a dictionary."""
    return json.loads(attribute(dataset, "curve") or "{}")

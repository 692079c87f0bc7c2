"""The answer of a boat file in sentences, tiles and rows; the page and the terminal say the same."""

import math

import numpy as np

from seaload.basis.units import DEGREE, PERCENT, TONNE_FORCE
from seaload.report.boat import reading as read
from seaload.report.shared.answer_words import display_unit
from seaload.report.shared.result_reading import number
from seaload.report.shared.wording import significant


def answer_sentences(dataset):
    """Two or three sentences: what she does, and how much is to mend."""
    found = read.findings(dataset)
    counts = [f"{len(found[level])} {words}" for level, words in
              (("mend", "to mend"), ("look", "to look at"), ("know", "to know"))]  # fmt: skip
    opening = "Do not trust this file yet" if found["mend"] else "Nothing here speaks against this file"
    k = read.reference(dataset)
    best = read.attainable_knots(dataset)[k]
    held = f"holds {best:.1f} kn" if math.isfinite(best) else "holds no speed"
    points = np.asarray(dataset["balanced"].values)
    balance = "balances at every speed looked at" if points.all() else balanced_words(dataset, points)
    return (
        f"{opening}: {', '.join(counts)}. She {balance}, and with "
        f"{read.extensions(dataset)[k]} of the foil out {held} in her reference wind ({read.wind_words(dataset)})."
    )


def balanced_words(dataset, points):
    """The stretch of speeds round the racing one at which every extension balances, in words."""
    speed, every = read.speeds(dataset), points.all(axis=0)
    near = int(np.argmin(np.abs(speed - read.racing_knots(dataset))))
    if not every[near]:
        return f"balances at {points.sum()} of {points.size} points of speed and extension"
    lost = np.flatnonzero(~every)
    first = max([i + 1 for i in lost if i < near], default=0)
    last = min([i - 1 for i in lost if i > near], default=len(speed) - 1)
    return f"balances from {speed[first]:.0f} to {speed[last]:.0f} kn at every extension"


def tiles(dataset):
    """What a designer looks at first."""
    k, knots = read.reference(dataset), f"{read.racing_knots(dataset):.3g} kn"
    pitch = read.at_racing(dataset, "calm_pitch", DEGREE)[k]
    shares = [read.at_racing(dataset, name, PERCENT)[k] for name in ("foil_lift_share", "hull_lift_share")]
    vanishing = number(dataset, "vanishing_heel") / DEGREE
    up = f"vanishes at {vanishing:.0f}°" if math.isfinite(vanishing) else "positive to the end of the curve"
    period = dataset["motion_period"].values[:, list(dataset["freedom"].values).index("roll")]
    load = read.worst_load(dataset)[0][k]
    speed, best = read.speeds(dataset), read.attainable_knots(dataset)[k]
    slow = read.curve(dataset, "motion_speed")[0] / read.KNOT
    out = read.extensions(dataset)[k]
    return [
        {"head": "Attainable speed", "big": knots_words(best),
         "more": [f"{out} out, {read.wind_words(dataset)}"]},
        {"head": f"Trim at {knots}", "big": signed(pitch, 1, "°"),
         "more": ["bow up; usual is 0 to 2°", f"at rest {signed(number(dataset, 'trim_at_rest') / DEGREE, 1, '°')}"]},
        {"head": f"Carried at {knots}", "big": f"foil {plain(shares[0])} %",
         "more": [f"hull {plain(shares[1])} %, fins and sails the rest"]},
        {"head": "Stability at rest", "big": f"GM {number(dataset, 'metacentric_height'):.2f} m",
         "more": [f"righting {up}"]},
        {"head": "Roll period, slow", "big": f"{period[0]:.1f} s" if math.isfinite(period[0]) else "none",
         "more": [f"at {slow:.2g} kn, roll alone"]},
        {"head": "Foil bends at", "big": f"{dataset['bending_frequency_wet'].values[k]:.1f} Hz",
         "more": [f"under water; {dataset['bending_frequency_dry'].values[k]:.1f} Hz in air, {out} out"]},
        {"head": "Calm load of the foil", "big": f"{plain(np.interp(read.racing_knots(dataset), speed, load))} %",
         "more": [f"of the normal limit, worst place, {knots}"]},
        {"head": "Limit at the tip", "big": f"{tip_words(dataset, k)} t",
         "more": ["up / down at the tip, to the first limit"]},
    ]  # fmt: skip


def plain(value):
    """A whole number, or "unknown"."""
    return f"{value:z.0f}" if math.isfinite(value) else "unknown"


def signed(value, digits, unit):
    """A number with its sign, or "unknown"."""
    return f"{value:+z.{digits}f}{unit}" if math.isfinite(value) else "unknown"


def knots_words(value):
    """A speed in words; "none" where nothing holds."""
    return f"{value:.1f} kn" if math.isfinite(value) else "none"


def tip_words(dataset, k):
    """Forces at the tip to the first limit, up and down [t]."""
    up, down = (float(dataset[f"tip_force_{side}"].values[k]) / TONNE_FORCE for side in ("normal", "reverse"))
    return f"{significant(up)} / {significant(down)}"


EXTENSION_HEADS = (
    ("foil out", ""), ("attainable", "kn"), ("trim", "° bow up"), ("leeway", "°"), ("foil lift", "% weight"),
    ("hull", "% weight"), ("righting", "kN m"), ("calm load", "% normal"), ("bends dry", "Hz"), ("bends wet", "Hz"),
    ("tip up", "t to limit"), ("tip down", "t to limit"),
)  # fmt: skip


def extension_rows(dataset):
    """One row an extension, at the racing speed; columns as EXTENSION_HEADS."""
    load = read.worst_load(dataset)[0]
    rows = []
    for k, name in enumerate(read.extensions(dataset)):
        at = lambda key, unit=1.0: read.at_racing(dataset, key, unit)[k]  # noqa: B023, E731
        best = read.attainable_knots(dataset)[k]
        rows.append((
            name, f"{best:.1f}" if math.isfinite(best) else "none", signed(at("calm_pitch", DEGREE), 1, ""),
            signed(at("leeway", DEGREE), 1, ""),
            plain(at("foil_lift_share", PERCENT)), plain(at("hull_lift_share", PERCENT)),
            plain(at("righting_calm", 1e3)),
            plain(np.interp(read.racing_knots(dataset), read.speeds(dataset), load[k])),
            *(f"{float(dataset[f'bending_frequency_{way}'].values[k]):.1f}" for way in ("dry", "wet")),
            *tip_words(dataset, k).split(" / "),
        ))  # fmt: skip
    return rows


def gauge_table(dataset):
    """(heads, rows): what each station's gauge shows for one tonne up and down at the tip, and for the weight."""
    scale, unit, digits = display_unit(dataset)
    digits = max(digits, 1)
    numbers, inside = read.stations(dataset), np.asarray(dataset["place_inside"].values)
    heads = ("Foil out, load", *(f"gauge {n}" for n in numbers))
    rows = []
    for k, name in enumerate(read.extensions(dataset)):
        for key, words in (("gauge_up", "1 t up"), ("gauge_down", "1 t down"), ("gauge_weight", "own weight")):
            values = dataset[key].values[k, 1:]
            cells = [
                f"{scale * v:+z.{digits}f}{' (inside)' if within else ''}" if abs(scale * v) >= 0.5 * 10**-digits
                else f"0{' (inside)' if within else ''}"
                for v, within in zip(values, inside[k, 1:], strict=True)
            ]
            rows.append((f"{name}, {words}", *cells))
    return heads, rows, unit


def station_rows(dataset):
    """(place, material, chord, thickness, EI, limits) of every station, and of the bearing at each extension."""
    grid = read.curve(dataset, "material")
    at = lambda name, s, unit: float(np.interp(s, grid, read.curve(dataset, name, unit)))  # noqa: E731
    places = [(f"station {n}", float(dataset["place_material"].values[0, n])) for n in read.stations(dataset)]
    places += [
        (f"bearing, {name} out", float(dataset["place_material"].values[k, 0]))
        for k, name in enumerate(read.extensions(dataset))
    ]
    return [
        (name, f"{s:.2f}", f"{at('chord', s, 1e-3):.0f}", f"{at('thickness', s, 1e-3):.0f}",
         significant(at("bending_stiffness", s, 1e3), 3), significant(at("grid_normal_limit", s, 1e3), 3),
         significant(at("grid_reverse_limit", s, 1e3), 3))
        for name, s in sorted(places, key=lambda place: place[1])
    ]  # fmt: skip


def at_rest_rows(dataset):
    """How she floats at rest, as rows of a plain table."""
    vanishing = number(dataset, "vanishing_heel") / DEGREE
    end = read.curve(dataset, "heel_at_rest", DEGREE)[-1]
    return (
        ("Draught of the hull, upright", f"{number(dataset, 'draught_at_rest'):.2f} m"),
        ("Waterline, upright and level", f"{number(dataset, 'floating_length'):.1f} m"),
        ("Buoyancy, gravity from the transom",
         f"{number(dataset, 'buoyancy_at_rest'):.2f} m, {number(dataset, 'gravity_from_transom'):.2f} m"),
        ("Trim at rest", signed(number(dataset, "trim_at_rest") / DEGREE, 1, "°, + bow up")),
        ("Metacentric height, keel upright", f"{number(dataset, 'metacentric_height'):.2f} m"),
        ("Righting vanishes at", f"{vanishing:.0f}°" if math.isfinite(vanishing) else f"not up to {end:.0f}°"),
        ("Least freeboard at the stated heel", f"{number(dataset, 'freeboard_least'):.2f} m"),
    )  # fmt: skip

"""board.html: the risk board for the skipper, one file with its response data inside."""

import math

import numpy as np

from seaload.basis.cautions import NOT_MODELLED
from seaload.basis.units import DEGREE, HOUR, KNOT, PERCENT
from seaload.report.board.chart import board_chart
from seaload.report.board.data import board_data
from seaload.report.board.gauge import gauge_data
from seaload.report.board.margins import held_out, sea_spans
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import exposure_words, time_words
from seaload.report.shared.charts import library
from seaload.report.shared.page_layout import SIZE, asset, colour_rules, embedded_json, environment, sized, trusted
from seaload.report.shared.result_reading import attribute, line, number, sea_words
from seaload.report.shared.told_points import told_points

# name: (label, unit, gap before it, digits shown, slider step, how it stands in a sentence)
AXES = {
    "sea": ("Sea", "", "", 0, 1, "sea #"),
    "hs_m": ("Wave height Hs", "m", " ", 1, 0.1, "Hs #"),
    "tp_s": ("Peak period", "s", " ", 1, 0.1, "period #"),
    "waves_from_bow_deg": ("Wave angle off the bow", "°", "", 0, 1, "waves # from the bow"),
    "extension_percent": ("Extension", "%", " ", 0, 1, "# out"),
    "rake_deg": ("Rake", "°", "", 1, 0.1, "rake #"),
    "heel_deg": ("Heel", "°", "", 0, 0.5, "heel #"),
    "cant_deg": ("Keel cant", "°", "", 0, 1, "cant #"),
    "ballast_shift_m": ("Ballast, forward +", "m", " ", 2, 0.05, "ballast #"),
    "speed_knots": ("Speed", "kn", " ", 1, 0.1, "#"),
}
SEA_AXES = ("sea", "hs_m", "tp_s", "waves_from_bow_deg")
AXIS_OF = {  # what a move changes: (axis, its unit, how it is called when the board cannot move it)
    "extension": ("extension_percent", PERCENT, "extension"), "rake": ("rake_deg", DEGREE, "rake"),
    "heel": ("heel_deg", DEGREE, "heel"), "cant": ("cant_deg", DEGREE, "cant"),
    "ballast_shift": ("ballast_shift_m", 1.0, "ballast"), "speed": ("speed_knots", KNOT, "speed"),
    "waves_from_bow": ("waves_from_bow_deg", DEGREE, "wave angle"),
}  # fmt: skip
HINTS = {"waves_from_bow_deg": "; 0° is ahead, 90° abeam, 180° astern, + from windward"}
STEPS = {  # of the buttons of an axis that no move changes
    "hs_m": 0.5, "tp_s": 1.0, "waves_from_bow_deg": 15.0, "speed_knots": 1.0, "rake_deg": 0.5, "cant_deg": 2.0,
    "extension_percent": 5.0, "ballast_shift_m": 0.1,
}  # fmt: skip
OWN_HOURS = 12
SEEN = "The worst moment simulated; this result tells no worst load to expect"
SCRIPTS = (
    "board/words.js", "shared/charts.js",
    *(f"board/{name}.js" for name in ("elements", "judge", "state", "chart", "controls", "times", "answer", "compare",
      "moves", "curve", "along", "rose", "builds", "gauge", "odds", "tiles", "foil", "strip", "page")),
)  # fmt: skip
ROWS = (  # of A and B beside each other
    ("setting", "Setting"), ("act", "To do"), ("reverse", "Worst reverse load, of its limit"),
    ("normal", "Worst normal load, of its limit"), ("odds", "Reverse odds"), ("speed", "Speed"),
    ("wear", "Wear, full-load cycles"),
)  # fmt: skip
SPANS = {"hs_m": "wave height", "tp_s": "wave period", "waves_from_bow_deg": "wave angle"}


def board_page(dataset, answer, *, along_the_foil=True):
    """board.html of a sweep, as text. Without `along_the_foil` the shares along the foil are left out."""
    data = board_data(dataset, answer)
    if not along_the_foil:
        data.update(material_m=[], up=[], down=[])
    steps = steps_of(answer)
    data["axes"] = [described(axis, steps.get(axis["name"], 1.0)) for axis in data["axes"]]
    data["seas"] = [{"words": sea_words(dataset, sea), "wind": wind_words(dataset, sea)} for sea in seas(dataset)]
    stations = dataset["station"].values.astype(int) > 0
    data["stations_m"] = [float(s) for s in np.round(dataset["place_material"].isel(setting=0).values[stations], 3)]
    data["moves"] = moves(answer, {axis["name"]: axis for axis in data["axes"]})
    data["levels"] = levels(answer)
    data["windward"] = "right" if attribute(dataset, "foil") == "port" else "left"  # the working foil is to leeward
    data["exposure_h"], data["told_points"] = answer.exposure / HOUR, round(told_points(answer), 3)
    expected = any(found.worst["reverse"].one_in_twenty is not None for found in answer.settings.values())
    data["gauge"], data["own_hours"] = gauge_data(dataset, answer), OWN_HOURS
    data["key"] = "seaload board " + " ".join(line(attribute(dataset, name), 40) for name in ("study", "seed", "boat"))
    return sized(
        environment("board/page.html")
        .get_template("board/page.html")
        .render(
            study=line(attribute(dataset, "study"), 80),
            boat=line(attribute(dataset, "boat"), 80),
            foil=line(attribute(dataset, "foil")),
            limits=say.limit_words(attribute(dataset, "limit_basis")),
            interval=interval_words(answer),
            left_out=f"Not modelled: {NOT_MODELLED}.",
            command=line(attribute(dataset, "command")),
            seed=line(attribute(dataset, "seed")),
            version=f"sources {line(attribute(dataset, 'source_fingerprint'))[:12]}",
            cautions=[line(text) for text in attribute(dataset, "cautions").splitlines()],
            own_hours=OWN_HOURS,
            rows=ROWS,
            expected=expected,
            load=f"The load that 1 in 20 spells of {exposure_words(answer)} passes" if expected else SEEN,
            load_head="Worst load, 1 in 20" if expected else "Worst load seen",
            spell=exposure_words(answer),
            told=f"Differences under {points_of(data['told_points'])} are told as about the same.",
            held_out=held_out_words(held_out(data)),
            spans=span_words(sea_spans(data)),
            gauge_unit=data["gauge"]["unit"],
            gauge_minutes=say.significant(data["gauge"]["minutes"]),
            colours=trusted(colour_rules()),
            style=trusted(asset("shared/style.css") + asset("board/page.css")),
            data=embedded_json(data),
            chart=embedded_json(board_chart()),
            library=trusted(library()),
            size=SIZE,
            scripts=trusted("".join(asset(path) for path in SCRIPTS)),
        )
    )


def seas(dataset):
    """Numbers of all seas."""
    return range(dataset.sizes["sea"])


def steps_of(answer):
    """{axis: one step of its buttons}: that of the moves which change it alone, so that a step has one size."""
    steps = {}
    for move in answer.moves:
        if len(move.changes) == 1:
            ((name, change),) = move.changes.items()
            axis, unit, _ = AXIS_OF[name]
            steps.setdefault(axis, round(abs(change) / unit, 6))
    return {**STEPS, **steps}


def described(axis, step):
    """An axis with its label, unit, step and where its slider starts: the point in the middle."""
    label, unit, gap, digits, slide, short = AXES[axis["name"]]
    values = axis["values"]
    return {
        **axis, "label": label, "unit": unit, "gap": gap, "digits": digits, "slide": slide, "short": short,
        "step": step, "hint": HINTS.get(axis["name"], ""),
        "sea": axis["name"] in SEA_AXES, "start": values[(len(values) - (axis["name"] in SEA_AXES)) // 2],
    }  # fmt: skip


def wind_words(dataset, sea):
    """The wind that belongs to a sea."""
    speed, angle = number(dataset, "true_wind_speed", sea=sea), number(dataset, "true_wind_angle", sea=sea)
    return f"true wind {speed / KNOT:.0f} kn at {angle / DEGREE:.0f}°"


def points_of(value):
    """ "1 point", "2.4 points"."""
    text = say.significant(value)
    return f"{text} point{'' if text == '1' else 's'}"


def held_out_words(found):
    """How far off the reading is at points that were left out."""
    if found is None:
        return "No point lies between two others, so nothing can be held out to try this."
    factor = f", their odds by a factor under {say.upwards(found['factor'])}" if found["factor"] else ""
    return (
        f"Held-out points, with their neighbours at twice the distance: in 9 of 10 the worst load was off by less than "
        f"{say.upwards(found['points'])} points{factor} ({found['count']} tried)."
    )


def span_words(spans):
    """What of the sea moves the worst load most, the most first."""
    told = [f"{SPANS[name]} {say.significant(by)} points" for name, by in sorted(spans.items(), key=lambda s: -s[1])]
    return f"Over what was simulated the worst reverse load moves by: {', '.join(told)}." if told else ""


def interval_words(answer):
    """What the error bars hold."""
    if any(found.odds["reverse"].all_told is not None for found in answer.settings.values()):
        return (
            "Odds are all told: forecast, model and strengths are drawn once an exposure. Error bars are 90 % "
            "intervals from the limited sample of simulated waves."
        )
    return "Error bars are 90 % intervals from the limited sample of waves; forecast and model error come on top."


def moves(answer, axes):
    """Ways of backing off, fastest first, for the axes that the board can move along."""
    found = []
    for move in answer.moves:
        changes, held = {}, []
        for name, change in move.changes.items():
            axis, unit, words = AXIS_OF[name]
            if axis in axes and len(axes[axis]["values"]) > 1:
                changes[axis] = round(change / unit, 6)
            else:
                held.append(words)
        if changes:
            below = move.only_below / KNOT if math.isfinite(move.only_below) else 0.0
            found.append(
                {
                    "changes": changes,
                    "hours": round(move.time / HOUR, 6),
                    "words": move.words + (f" ({' and '.join(held)} as set)" if held else ""),
                    "takes": takes_words(move.time, below),
                    "only_below": round(below, 3),
                }
            )
    return found


def takes_words(time, below):
    """How long a move takes [s], and the speed [kn] it can be made under, 0 = any."""
    condition = f", only below {say.significant(below)} kn" if below else ""
    return time_words(time) + condition


def levels(answer):
    """What the study accepts, both ways: [{"side", "odds", "hours", "words"}]."""
    hours = answer.exposure / HOUR
    return [
        {"side": side, "odds": odds, "hours": hours, "words": f"Your risk limit, {side} load:"}
        for side, odds in answer.accepted.items()
    ]

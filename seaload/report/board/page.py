"""board.html: the risk board for the skipper, one file with its response data inside."""

import math

import numpy as np

from seaload.basis.cautions import NOT_MODELLED
from seaload.report.board.chart import board_chart
from seaload.report.board.data import board_data
from seaload.report.shared import wording as say
from seaload.report.shared.accepted_levels import levels
from seaload.report.shared.charts import library
from seaload.report.shared.page_layout import SIZE, asset, colour_rules, embedded_json, environment, sized, trusted
from seaload.report.shared.result_reading import attribute, line, number, scenario, sea_words

# name: (label, unit, gap before it, digits shown, slider step, how it stands in a sentence)
AXES = {
    "sea": ("Sea", "", "", 0, 1, "sea #"),
    "hs_m": ("Wave height Hs", "m", " ", 1, 0.1, "Hs #"),
    "tp_s": ("Peak period", "s", " ", 1, 0.1, "period #"),
    "waves_from_bow_deg": ("Waves from the bow", "°", "", 0, 1, "waves # from the bow"),
    "extension_percent": ("Extension", "%", " ", 0, 1, "# out"),
    "rake_deg": ("Rake", "°", "", 1, 0.1, "rake #"),
    "heel_deg": ("Heel", "°", "", 0, 0.5, "heel #"),
    "cant_deg": ("Keel cant", "°", "", 0, 1, "cant #"),
    "ballast_shift_m": ("Ballast, forward +", "m", " ", 2, 0.05, "ballast #"),
    "speed_knots": ("Speed", "kn", " ", 1, 0.1, "#"),
}
SEA_AXES = ("sea", "hs_m", "tp_s", "waves_from_bow_deg")
# name in the boat file: (axis, [(change, words)])
MOVES = {
    "ease_sheets": ("speed_knots", [(-2.0, "Ease the sheets: 2 kn less")]),
    "bear_away": ("waves_from_bow_deg", [(10.0, "Bear away 10°"), (-10.0, "Head up 10°")]),
    "rake": ("rake_deg", [(-1, "Rake {step}° less"), (1, "Rake {step}° more")]),
    "cant": ("cant_deg", [(-1, "Cant {step}° less"), (1, "Cant {step}° more")]),
    "extension": ("extension_percent", [(-1, "Extension {step} % less"), (1, "Extension {step} % more")]),
    "ballast": ("ballast_shift_m", [(1, "Ballast {step} m forward"), (-1, "Ballast {step} m aft")]),
    "reef": ("speed_knots", [(-3.0, "Reef: about 3 kn less")]),
}
SEA_STEPS = {"hs_m": 0.5, "tp_s": 1.0, "waves_from_bow_deg": 15.0, "speed_knots": 1.0}  # of the buttons
HINTS = {"waves_from_bow_deg": "; 0° is ahead, 90° abeam, 180° astern, + from windward"}
STEPS = {"rake_deg": 0.5, "cant_deg": 2.0, "extension_percent": 5.0, "ballast_shift_m": 0.1}
OWN_HOURS = 12


def board_page(dataset, *, along_the_foil=True):
    """board.html of a sweep, as text. Without `along_the_foil` the shares along the foil are left out."""
    data = board_data(dataset)
    if not along_the_foil:
        data.update(material_m=[], up=[], down=[])
    data["axes"] = [described(axis, step_of(dataset, axis["name"])) for axis in data["axes"]]
    data["seas"] = [{"words": sea_words(dataset, sea), "wind": wind_words(dataset, sea)} for sea in seas(dataset)]
    stations = dataset["station"].values.astype(int) > 0
    data["stations_m"] = [float(s) for s in np.round(dataset["place_material"].isel(setting=0).values[stations], 3)]
    data["moves"] = moves(dataset, {axis["name"]: axis for axis in data["axes"]})
    data["levels"] = levels(dataset)
    return sized(
        environment("board/page.html")
        .get_template("board/page.html")
        .render(
            study=line(attribute(dataset, "study"), 80),
            boat=line(attribute(dataset, "boat"), 80),
            foil=line(attribute(dataset, "foil")),
            limits=say.limit_words(attribute(dataset, "limit_basis")),
            interval=interval_words(dataset),
            left_out=f"Not modelled: {NOT_MODELLED}.",
            command=line(attribute(dataset, "command")),
            seed=line(attribute(dataset, "seed")),
            version=f"sources {line(attribute(dataset, 'source_fingerprint'))[:12]}",
            cautions=[line(text) for text in attribute(dataset, "cautions").splitlines()],
            own_hours=OWN_HOURS,
            colours=trusted(colour_rules()),
            style=trusted(asset("shared/style.css") + asset("board/page.css")),
            data=embedded_json(data),
            chart=embedded_json(board_chart()),
            library=trusted(library()),
            size=SIZE,
            words=trusted(asset("board/words.js") + asset("shared/charts.js") + asset("board/chart.js")),
            script=trusted(asset("board/page.js")),
        )
    )


def seas(dataset):
    """Numbers of all seas."""
    return range(dataset.sizes["sea"])


def step_of(dataset, axis):
    """One step of an axis, of the slider's buttons and of the moves: as the boat file says, else a round number."""
    worked = scenario(dataset).get("boat", {}).get("worked", {})
    step = SEA_STEPS.get(axis, STEPS.get(axis, 1.0))
    if axis not in SEA_STEPS and isinstance(worked, dict) and isinstance(worked.get(axis), dict):
        step = float(worked[axis].get("step", step))
    return step


def described(axis, step):
    """An axis with its label, unit, step and where its slider starts: the point in the middle."""
    label, unit, gap, digits, slide, short = AXES[axis["name"]]
    values = axis["values"]
    return {
        **axis, "label": label, "unit": unit, "gap": gap, "digits": digits, "slide": slide, "short": short,
        "step": step, "hint": HINTS.get(axis["name"], ""),
        "sea": axis["name"] in SEA_AXES, "start": values[len(values) // 2] if axis["name"] != "sea" else 0,
    }  # fmt: skip


def wind_words(dataset, sea):
    """The wind that belongs to a sea."""
    from seaload.basis.units import DEGREE, KNOT

    speed, angle = number(dataset, "true_wind_speed", sea=sea), number(dataset, "true_wind_angle", sea=sea)
    return f"true wind {speed / KNOT:.0f} kn at {angle / DEGREE:.0f}°"


def interval_words(dataset):
    """What the error bars hold."""
    if "reverse_odds_all" in dataset:
        return (
            "Error bars are 90 % intervals that hold sampling, forecast and model error together; their thick part is "
            "the luck of the waves alone."
        )
    return "Error bars are 90 % intervals from the luck of the waves; forecast and model error come on top."


def moves(dataset, axes):
    """Ways of backing off, fastest first, for the axes that the board can move along."""
    times = scenario(dataset).get("boat", {}).get("moves", {})
    found = []
    for name, (axis, variants) in MOVES.items():
        if axis not in axes or len(axes[axis]["values"]) < 2 or not isinstance(times.get(name), dict):
            continue
        step = step_of(dataset, axis)
        for change, words in variants:
            found.append(
                {
                    "axis": axis,
                    "change": change * step if axis in STEPS else change,
                    "words": words.format(step=say.significant(step, 3)),
                    "minutes": float(times[name].get("minutes", math.inf)),
                    "takes": takes_words(times[name]),
                    "only_below": float(times[name].get("only_below_knots", 0.0)),
                }
            )
    return sorted(found, key=lambda move: move["minutes"])


def takes_words(move):
    """How long a move takes, and its condition."""
    minutes = float(move.get("minutes", math.nan))
    if minutes < 1.0:
        words = f"{max(round(minutes * 60.0), 1)} seconds"
    else:
        words = f"{say.significant(minutes)} minute{'' if minutes == 1.0 else 's'}"
    if "only_below_knots" in move:
        words += f", only below {say.significant(float(move['only_below_knots']))} kn"
    return words

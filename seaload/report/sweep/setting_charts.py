"""Charts of a sweep to point at, one sea at a time: odds over speed with error bars, map of extension and rake."""

import math

from seaload.basis.units import HOUR, KNOT
from seaload.report.shared import charts as draw
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import act_words, exposure_words
from seaload.report.shared.page_layout import embedded_json
from seaload.report.shared.result_reading import line, setting_words
from seaload.report.shared.risk_shade import risk_shade
from seaload.report.shared.wording import full_load_cycles
from seaload.report.sweep.drawings import map_slice

HEIGHT = 380  # [pixels]
MOST_POINTS = 6000  # settings times seas that a page carries
MARKERS = {"within": "circle", "undecided": "circle", "outside": "triangle", "not_shown": "x"}
SIGNS = {"within": "", "undecided": " ?", "outside": " !", "not_shown": " \u00d7"}
KINDS = ("odds, upper bound", "odds, best estimate", "wear, full-load cycles an hour")
SPREAD = 0.5  # of the distance between speeds that points of one speed are drawn apart over
EMPTY = {"x": [], "odds": [], "low": [], "high": [], "says": [], "mark": []}
CELL = {"rake": [], "extension": [], "colour": [], "ink": [], "written": [], "says": []}


def chart_blocks(dataset, answer):
    """Blocks of the interactive charts; none for a sweep too large for a page."""
    if dataset.sizes["setting"] * dataset.sizes["sea"] > MOST_POINTS:
        return []
    seas = [sea_rows(dataset, answer, sea) for sea in range(dataset.sizes["sea"])]
    data = {"seas": seas, "accepted": answer.accepted.get("reverse", 0.0)}
    blocks = [speed_block(answer, data)]
    cells = [cell for sea in seas for cell in sea["cells"]]
    if len({(cell["rake"], cell["extension"]) for cell in cells}) > 1:
        blocks.append(map_block(answer, cells))
    return blocks


def sea_rows(dataset, answer, sea):
    """Points and cells of one sea, plain numbers and words."""
    found = {n: point(dataset, answer, n, sea) for n in range(dataset.sizes["setting"])}
    points = [p for p in found.values() if p is not None]
    for speed in {p["set"] for p in points}:
        group = [p for p in points if p["set"] == speed]
        for i, p in enumerate(group):
            p["x"] = round(p["set"] + SPREAD * ((i + 0.5) / len(group) - 0.5) * step_of(points), 3)
    cells, held = map_slice(dataset, answer, sea)
    shown = [
        {"extension": say.significant(ext, 4), "rake": say.significant(rake, 3), "sign": SIGNS[found[n]["decision"]],
         "values": map_values(answer.settings[n, sea], found[n], answer.accepted.get("reverse")),
         "says": found[n]["says"]}
        for (ext, rake), n in sorted(cells.items()) if found[n] is not None
    ]  # fmt: skip
    return {"name": line(dataset["sea_name"].values[sea], 80), "points": points, "cells": shown, "held": held}


def map_values(told, found, accepted):
    """[[what the colour shows, what is written]] of a cell, one a kind of map: steps of the ramp for odds, wear itself.

    `accepted` [-] the crew's limit of reverse odds.
    """
    wear = full_load_cycles(told.wear.best) * HOUR
    best = say.one_in(found["odds"]) if found["odds"] > 0.0 else "none seen"
    written = [say.one_in(found["high"], "risk"), best, say.significant(wear)]
    shades = [risk_shade(found[name], accepted) for name in ("high", "odds")]
    numbers = [*shades, float(f"{wear:.4g}") if math.isfinite(wear) else 0.0]
    return [list(each) for each in zip(numbers, written, strict=True)]


def step_of(points):
    """Distance between neighbouring speeds [kn], one when there is a single speed."""
    speeds = sorted({p["set"] for p in points})
    return min((b - a for a, b in zip(speeds, speeds[1:], strict=False)), default=1.0)


def point(dataset, answer, setting, sea):
    """A setting as a point; None where it was not sailed."""
    found = answer.settings[setting, sea]
    bounds, speed, asked = found.odds["reverse"].deciding, found.speed / KNOT, found.speed_set / KNOT
    odds, low, high = bounds.best, bounds.low, bounds.high
    if not math.isfinite(odds + speed):
        return None
    code, best = found.decision, answer.seas[sea].chosen == setting
    high = high if math.isfinite(high) else 1.0
    words = f"{setting_words(dataset, setting, sea)}: {say.odds_short(odds, high)}, {act_words(found)}"
    return {
        "set": round(asked if math.isfinite(asked) else speed, 2), "decision": code, "best": best,
        "odds": float(f"{odds:.4g}"), "low": float(f"{low:.4g}"), "high": float(f"{high:.4g}"),
        "mark": MARKERS.get(code, "x") if odds > 0.0 else draw.NONE_SEEN,
        "says": words + (", suggested" if best else ""),
    }  # fmt: skip


def speed_block(answer, data):
    """Odds over speed, one point a setting."""
    from bokeh.core.properties import field
    from bokeh.models import ColumnDataSource, HoverTool, Range1d

    speeds = [p["set"] for sea in data["seas"] for p in sea["points"]] or [0.0]
    reach = Range1d(min(speeds) - 1.0, max(speeds) + 1.0)
    reach.name = "speed-range"
    made = draw.chart(
        "speed", draw.Axis(reach, "speed [kn]"),
        draw.Axis((0.8 * draw.LEAST_ODDS, 1.25), log=True),
        height=HEIGHT, tools=("xpan",),
    )  # fmt: skip
    draw.odds_axis(made.yaxis[0])
    made.xaxis[0].ticker = sorted(set(speeds))
    for code in MARKERS:
        source = ColumnDataSource(dict(EMPTY), name=f"speed-{code}")
        colour = {"within": draw.NORMAL, "outside": draw.REVERSE}.get(code, draw.INK)
        bar = draw.drawn(
            made, "segment", source, x0="x", x1="x", y0="low", y1="high", line_width=1.5, line_color=colour
        )
        dot = draw.drawn(
            made, "scatter", source, x="x", y="odds", marker=field("mark"), size=10, line_width=2, line_color=colour,
            fill_color=colour if code == "within" else draw.PAPER,
        )  # fmt: skip
        made.add_tools(HoverTool(renderers=[dot, bar], tooltips="@says"))
    best = ColumnDataSource(dict(EMPTY), name="speed-best")
    draw.drawn(
        made, "scatter", best, x="x", y="odds", marker="circle", size=22, line_width=3, line_color=draw.INK,
        fill_alpha=0.0,
    )  # fmt: skip
    draw.level_line(made, data["accepted"] or 1e-9, "width", draw.MUTED, dash="dotted")
    hours = exposure_words(answer)
    return {
        "what": "chart", "name": "speed", "zoom": "speed-range",
        "choice": "Sea", "options": [sea["name"] for sea in data["seas"]],
        "height": HEIGHT, "item": embedded_json(draw.as_json(made)[0]), "data": embedded_json(data),
        "description": f"Odds of reverse load past the limit in {hours} over speed, one point a setting; "
        "the table of all settings below holds the same numbers",
        "caption": f"Odds of reverse load past the limit in {hours} over speed, one point a setting: point at it to "
        "read it. Full circle: within the limits; open circle: can't tell yet; triangle: outside; cross: not shown to "
        "be within; "
        "ring: suggested. Bars are error bars, the dotted line is your risk limit. Settings of one speed stand beside "
        "one another; odds under 1 in 10,000 are drawn at the lower edge, and where none was seen \u25bd stands there.",
    }  # fmt: skip


def map_block(answer, cells):
    """The map of extension and rake through the suggested setting of the sea."""
    from bokeh.core.properties import value
    from bokeh.models import ColumnDataSource, HoverTool

    rakes, extensions = (sorted({cell[key] for cell in cells}, key=float) for key in ("rake", "extension"))
    made = draw.chart("map", draw.Axis(rakes, "rake [\u00b0]"), draw.Axis(extensions, "extension [%]"), height=HEIGHT)
    made.grid.visible = False
    source = ColumnDataSource(dict(CELL), name="map-cells")
    cell = made.rect(x="rake", y="extension", width=0.98, height=0.98, fill_color="colour", line_color=None,
                     source=source)  # fmt: skip
    made.text(x="rake", y="extension", text="written", text_color="ink", text_align="center", text_baseline="middle",
              text_font_size=draw.TYPE, text_font=value(draw.FONT), source=source)  # fmt: skip
    made.add_tools(HoverTool(renderers=[cell], tooltips="@says"))
    hours = exposure_words(answer)
    return {
        "what": "chart", "name": "map", "choice": "Map of", "options": KINDS, "height": HEIGHT,
        "item": embedded_json(draw.as_json(made)[0]), "data": "",
        "description": f"Map of the odds of reverse load past the limit in {hours} by extension and rake, in the sea "
        "chosen above; the table of all settings below holds the same numbers",
        "caption": f"Reverse load past the limit in {hours}, or wear at the worst place, in the sea chosen above; the "
        "rest as in the setting suggested there (or the closest). ? can't tell yet, ! outside, \u00d7 not shown to be "
        "within. The lighter half of the colours is within your risk limit; for wear they go over what there "
        "is.",
    }  # fmt: skip

"""The report of a sweep: for each sea the suggestion first, then pictures, settings, moves, readings,
doubts, inputs."""

import math

from seaload.basis.units import HOUR, KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.act_words import WHY
from seaload.report.shared.answer_words import (
    DECISION_WORDS,
    act_words,
    bearing_words,
    display_rows,
    exposure_words,
    factor_of,
    factor_words,
    known,
    off_words,
    points_words,
    ranked_settings,
    readings_words,
    speed_words,
    suggestion_sentences,
    time_words,
)
from seaload.report.shared.doubt_blocks import doubt_blocks
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.origins import counted_origin, odds_origin
from seaload.report.shared.page_blocks import input_blocks, method_blocks, tile
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.prescribed_words import TITLE, motion_blocks
from seaload.report.shared.result_reading import attribute, line, sea_words, setting_words
from seaload.report.shared.text_table import wear_cell, worst_cell
from seaload.report.sweep.drawings import sweep_drawings
from seaload.report.sweep.setting_charts import chart_blocks

HEADINGS = {
    "settings-map": "Maps of the settings",
    "speed-risk": "Speed against risk",
    "tail": "The tails that carry the odds",
    "wave-angle": "Wave angle",
}
ON_PAPER = ("settings-map", "speed-risk")  # drawn sea by sea when printed; on the screen the charts show the same
CHOICE_METHOD = (
    "All settings meet the same waves. The odds are all told: forecast, model and strengths are drawn once an "
    "exposure. A setting is within the limits when the upper end of their interval, which is that of a limited "
    "sample of waves, is below your risk limit, both ways. The fastest of those is suggested, of equals the one "
    "with the larger margin, "
    "after it is simulated again on fresh waves, with every actuator off by its tolerance, and with the sea "
    "growing while "
    "the slowest move is made. A setting with any case that ended early is not shown to be within the limits."
)
MOST_ROWS = 400


def sweep_page(dataset, answer):
    """report.html of a sweep, as text."""
    each = lambda blocks: [b for sea in range(len(answer.seas)) for b in blocks(dataset, answer, sea)]  # noqa: E731
    method = method_blocks(dataset, CHOICE_METHOD)
    sections = [
        {"id": "answer", "head": "The answer", "blocks": [*overview(answer), *each(answer_blocks)]},
        {"id": "pictures", "head": "Pictures", "blocks": picture_blocks(dataset, answer)},
        {"id": "backing-off", "head": "Backing off, and what the display shows",
         "blocks": each(move_blocks)},
        {"id": "settings", "head": "All settings", "blocks": each(setting_blocks)},
        {"id": "motions", "head": TITLE, "blocks": motion_blocks(dataset, answer)},
        {"id": "doubts", "head": "What drives the uncertainty", "blocks": doubt_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": method},
        {"id": "inputs", "head": "Inputs and assumptions", "blocks": input_blocks(dataset)},
    ]  # fmt: skip
    return render_page(
        title=f"{line(attribute(dataset, 'study'), 80)}: settings report",
        heading=line(attribute(dataset, "study"), 80),
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}, {line(attribute(dataset, 'foil'))} foil: "
        f"{dataset.sizes['setting']} settings in {dataset.sizes['sea']} seas. Your risk limit: "
        f"{level_words(answer)}.",
        sections=[part for part in sections if part["blocks"]],
        cautions=[line(text) for text in attribute(dataset, "cautions").splitlines()],
        scripts=("sweep/setting_charts.js",),
    )


def overview(answer):
    """One sentence over all seas, where there are several."""
    seas = len(answer.seas)
    if seas < 2:
        return []
    found = sum(found.chosen is not None for found in answer.seas)
    text = f"In {found} of {seas} seas a setting is shown to be within the limits, with everything uncertain together."
    return [{"what": "lead", "text": text}]


def level_words(answer):
    """The accepted levels in words."""
    said = [f"{side} load past the limit {say.one_in(odds)}" for side, odds in answer.accepted.items()]
    return f"{' and '.join(said)}, in {exposure_words(answer)}"


def answer_blocks(dataset, answer, sea):
    """The suggestion for one sea and its main numbers."""
    found = answer.settings[answer.seas[sea].shown, sea]
    label = "suggested" if answer.seas[sea].chosen is not None else "closest"
    said = lambda what: counted_origin(dataset, found, what)  # noqa: E731
    act, wear = found.act or DECISION_WORDS[found.decision], "Rainflow cycles at the worst place."
    tiles = [
        {"head": f"To do ({label})", "big": act, "more": [WHY.get(found.act, "")]},
        *(margin_tile(dataset, answer, found, side) for side in ("reverse", "normal")),
        tile("Wear, full-load cycles an hour", wear_cell(found.wear), origin=said(wear)),
        {"head": "Speed", "big": f"{found.speed / KNOT:.1f} kn", "more": [speed_words(found)],
         "origin": said("Mean while it was simulated.")},
    ]  # fmt: skip
    blocks = [
        {"what": "subhead", "text": sea_words(dataset, sea)},
        {"what": "lead", "text": suggestion_sentences(dataset, answer, sea)},
        {"what": "tiles", "tiles": tiles},
    ]
    bearing = bearing_words(answer, sea)
    return [*blocks, {"what": "text", "kind": "", "text": bearing}] if bearing else blocks


def margin_tile(dataset, answer, found, side):
    """The margin of a side first, then its odds."""
    odds, worst = found.odds[side].deciding, found.worst[side]
    said = f"{say.one_in(odds.best)} past it in {exposure_words(answer)}, at worst {say.one_in(odds.high, 'risk')}"
    origin = odds_origin(dataset, answer, found, side)
    if not known(worst.one_in_twenty):
        return {"head": f"Past the {side} limit", "big": say.one_in(odds.best), "more": [said], "origin": origin}
    head = f"Worst {side} load of {exposure_words(answer)}"
    more = [f"of its limit; 1 in 20: {100.0 * worst.one_in_twenty:z.0f} %", said]
    return {"head": head, "big": f"{100.0 * worst.median:z.0f} %", "more": more, "origin": origin}


def picture_blocks(dataset, answer):
    """All figures, one heading a kind."""
    blocks, seen = [], set()
    charts = chart_blocks(dataset, answer)
    if charts:
        blocks = [{"what": "subhead", "text": "Explore settings"}, *charts]
    drawn = sweep_drawings(dataset, answer)
    for kind, heading in HEADINGS.items():
        for name, figure, caption in drawn:
            if not name.startswith(kind):
                continue
            if kind not in seen:
                blocks.append({"what": "subhead", "text": heading, "paper": bool(charts) and kind in ON_PAPER})
                seen.add(kind)
            svg = trusted(inline_svg(figure, name, caption))
            paper = bool(charts) and kind in ON_PAPER
            blocks.append({"what": "figure", "svg": svg, "caption": caption, "paper": paper})
    return blocks


def move_blocks(dataset, answer, sea):
    """Ways of backing off and display readings of one sea."""
    name = line(dataset["sea_name"].values[sea], 80)
    blocks, told = [], answer.seas[sea]
    if told.moves:
        rows = [
            (found.move.words,
             time_words(found.move.time) + ("" if found.possible else "; slow down first"),
             (found.valid and points_words(found.worst_change["reverse"])) or "not known", factor_of(found),
             say.one_in(found.odds_after, "risk") if math.isfinite(found.odds_after) else "unknown",
             say.one_in(found.odds_during, "risk"), f"{found.speed_change / KNOT:+.1f} kn")
            for found in told.moves
        ]  # fmt: skip
        heads = (
            "Move",
            "Takes",
            "Worst reverse load, 1 in 20",
            "Reverse rate",
            "Odds after it, upper bound",
            "Odds while it is made",
            "Speed",
        )
        caption = f"Ways of backing off, fastest first: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": True})
    blocks += neighbour_blocks(name, told)
    readings = display_rows(dataset, told.readings)
    if readings:
        heads = ("Station", "Mean", "Lowest in the window", "Highest in the window")
        caption = f"What the boat's own display should read: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": readings, "plain": True})
        blocks.append({"what": "text", "kind": "", "text": readings_words(dataset, told)})
    return blocks


def neighbour_blocks(name, told):
    """What is left of the margin where the suggested setting is set one tolerance wrong; `told` a `SeaAnswer`."""
    rows = [
        (found.name.replace("_", " "), *(off_words(found.worst_change[side]) for side in ("reverse", "normal")),
         "too few hours to compare" if math.isnan(found.factor) else factor_words(found.factor))
        for found in told.neighbours
    ]  # fmt: skip
    if not rows:
        return []
    heads = ("Off by its tolerance", "Worst reverse load, 1 in 20", "Worst normal load, 1 in 20", "Reverse rate")
    caption = f"What a setting that is not quite set does to the worst load, in % of its limit: {name}"
    return [{"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": True}]


def setting_blocks(dataset, answer, sea):
    """Every setting of one sea in a table, the suggested one first."""
    rows = []
    ranked = ranked_settings(answer, sea)
    for found in ranked[:MOST_ROWS]:
        odds = [found.odds[side].deciding for side in ("reverse", "normal")]
        decided = act_words(found)
        if found.decision == "undecided" and known(found.time_to_decide):
            decided += f" (about {say.significant(found.time_to_decide / HOUR)} h would decide)"
        rows.append(
            (setting_words(dataset, found.setting, sea), decided, *(say.odds_short(o.best, o.high) for o in odds),
             worst_cell(found), wear_cell(found.wear),
             say.significant(found.time / HOUR) if math.isfinite(found.time) else "none")
        )  # fmt: skip
    heads = (
        "Setting",
        "To do",
        "Reverse odds (bound)",
        "Normal odds (bound)",
        "Worst load both ways, 1 in 20, % of its limit",
        "Wear, full-load cycles an hour",
        "Hours",
    )
    caption = f"Settings in {line(dataset['sea_name'].values[sea], 80)}"
    blocks = [{"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": True}]
    if len(ranked) > MOST_ROWS:
        text = f"{len(ranked) - MOST_ROWS} more settings are in the result file."
        blocks.append({"what": "text", "kind": "note", "text": text})
    return blocks

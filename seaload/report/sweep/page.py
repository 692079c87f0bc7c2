"""The report of a sweep: for each sea the suggestion first, then pictures, settings, moves, readings,
doubts, inputs."""

import math

import numpy as np

from seaload.basis.units import KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_blocks import input_blocks, method_blocks, tile
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.result_reading import attribute, hours_sailed, line, number, sea_words, setting_words
from seaload.report.shared.sweep_reading import (
    DECISION_WORDS,
    all_odds,
    bearing_words,
    decision,
    display_rows,
    exposure_words,
    move_rows,
    ranked_settings,
    shown_setting,
    speed_words,
    suggested,
    suggestion_sentences,
    trigger_words,
)
from seaload.report.shared.text_table import wear_cell
from seaload.report.sweep.drawings import sweep_drawings
from seaload.report.sweep.setting_charts import chart_blocks

HEADINGS = {
    "settings-map": "Maps of the settings",
    "speed-risk": "Speed against risk",
    "wave-angle": "Wave angle",
}
ON_PAPER = ("settings-map", "speed-risk")  # drawn sea by sea when printed; on the screen the charts show the same
CHOICE_METHOD = (
    "All settings meet the same waves. A setting is within the limits when the upper bound of its odds, "
    "with sampling, "
    "forecast and model error together, is below the accepted level, both ways. The fastest of those is "
    "suggested "
    "after it is sailed again on fresh waves, with every actuator off by its tolerance, and with the sea "
    "growing while "
    "the slowest move is made. A setting with any case that ended early is not shown to be within the limits."
)
MOST_ROWS = 400


def sweep_page(dataset, levels):
    """report.html of a sweep, as text; levels : {"reverse": accepted odds, "normal": ...}."""
    each = lambda blocks: [b for sea in range(dataset.sizes["sea"]) for b in blocks(dataset, sea)]  # noqa: E731
    method = method_blocks(dataset, CHOICE_METHOD)
    sections = [
        {"id": "answer", "head": "The answer", "blocks": [*overview(dataset), *each(answer_blocks)]},
        {"id": "pictures", "head": "Pictures", "blocks": picture_blocks(dataset, levels)},
        {"id": "backing-off", "head": "Backing off, and what the display shows",
         "blocks": each(move_blocks)},
        {"id": "settings", "head": "All settings", "blocks": each(setting_blocks)},
        {"id": "doubts", "head": "What the doubt is made of", "blocks": doubt_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": method},
        {"id": "inputs", "head": "Inputs and assumptions", "blocks": input_blocks(dataset)},
    ]  # fmt: skip
    return render_page(
        title=f"{line(attribute(dataset, 'study'), 80)}: settings report",
        heading=line(attribute(dataset, "study"), 80),
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}, {line(attribute(dataset, 'foil'))} foil: "
        f"{dataset.sizes['setting']} settings in {dataset.sizes['sea']} seas. Accepted: "
        f"{level_words(dataset, levels)}.",
        sections=[part for part in sections if part["blocks"]],
        cautions=[line(text) for text in attribute(dataset, "cautions").splitlines()],
        scripts=("sweep/setting_charts.js",),
    )


def overview(dataset):
    """One sentence over all seas, where there are several."""
    seas = dataset.sizes["sea"]
    if seas < 2:
        return []
    found = sum(suggested(dataset, sea)[0] is not None for sea in range(seas))
    text = f"In {found} of {seas} seas a setting is shown to be within the limits, with everything uncertain together."
    return [{"what": "lead", "text": text}]


def level_words(dataset, levels):
    """The accepted levels in words."""
    said = [f"{side} load past the limit {say.one_in(odds)}" for side, odds in levels.items()]
    return f"{' and '.join(said)}, in {exposure_words(dataset)}"


def answer_blocks(dataset, sea):
    """The suggestion for one sea and its main numbers."""
    setting = shown_setting(dataset, sea)
    chosen = suggested(dataset, sea)[0]
    label = "suggested" if chosen is not None else "nearest"
    odds = {side: all_odds(dataset, setting, sea, side) for side in ("reverse", "normal")}
    tiles = [
        {"head": f"Reverse past the limit ({label})", "big": say.one_in(odds["reverse"][0]),
         "more": [f"could be {say.one_in(odds['reverse'][2], 'risk')}"]},
        {"head": f"Past the normal limit ({label})", "big": say.one_in(odds["normal"][0]),
         "more": [f"could be {say.one_in(odds['normal'][2], 'risk')}"]},
        tile("Wear, swings an hour", wear_cell(dataset, "damage_rate_worst", setting, sea)),
        {"head": "Speed", "big": f"{number(dataset, 'speed_mean', setting, sea) / KNOT:.1f} kn",
         "more": [speed_words(dataset, setting, sea)]},
    ]  # fmt: skip
    blocks = [
        {"what": "subhead", "text": sea_words(dataset, sea)},
        {"what": "lead", "text": suggestion_sentences(dataset, sea)},
        {"what": "tiles", "tiles": tiles},
    ]
    bearing = bearing_words(dataset, sea)
    return [*blocks, {"what": "text", "kind": "", "text": bearing}] if bearing else blocks


def picture_blocks(dataset, levels):
    """All figures, one heading a kind."""
    blocks, seen = [], set()
    charts = chart_blocks(dataset, levels)
    if charts:
        blocks = [{"what": "subhead", "text": "Settings of one sea, to point at"}, *charts]
    drawn = sweep_drawings(dataset, levels)
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


def move_blocks(dataset, sea):
    """Ways of backing off and display readings of one sea."""
    name = line(dataset["sea_name"].values[sea], 80)
    blocks = []
    moves = move_rows(dataset, sea)
    if moves:
        rows = [
            (row["name"],
             row["takes"] + ("" if row["possible"] else "; slow down first"),
             row["factor_words"],
             say.one_in(row["reverse_odds"], "risk") if math.isfinite(row["reverse_odds"]) else "unknown",
             say.one_in(row["odds_during"], "risk"), f"{row['speed_change'] / KNOT:+.1f} kn")
            for row in moves
        ]  # fmt: skip
        heads = (
            "Move",
            "Takes",
            "Reverse rate",
            "Odds after it, upper bound",
            "Odds while it is made",
            "Speed",
        )
        caption = f"Ways of backing off, fastest first: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": True})
    readings = display_rows(dataset, sea)
    if readings:
        heads = ("Station", "Mean", "Lowest in the window", "Highest in the window")
        caption = f"What the boat's own display should read: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": readings, "plain": True})
        blocks.append({"what": "text", "kind": "", "text": trigger_words(dataset, sea)})
    return blocks


def setting_blocks(dataset, sea):
    """Every setting of one sea in a table, the suggested one first."""
    rows = []
    ranked = ranked_settings(dataset, sea)
    for setting in ranked[:MOST_ROWS]:
        odds = [say.odds_short(*all_odds(dataset, setting, sea, side)[::2]) for side in ("reverse", "normal")]
        sailed = hours_sailed(dataset, setting, sea)
        decided = DECISION_WORDS[decision(dataset, setting, sea)]
        needed = number(dataset, "sea_to_decide", setting, sea) / 3600.0
        if decision(dataset, setting, sea) == "undecided" and math.isfinite(needed):
            decided += f" (about {say.significant(needed)} h would decide)"
        rows.append(
            (setting_words(dataset, setting, sea), decided, *odds,
             wear_cell(dataset, "damage_rate_worst", setting, sea),
             say.significant(sailed) if math.isfinite(sailed) else "none")
        )  # fmt: skip
    heads = (
        "Setting",
        "Decision",
        "Reverse odds (bound)",
        "Normal odds (bound)",
        "Wear, swings an hour",
        "Hours",
    )
    caption = f"Settings in {line(dataset['sea_name'].values[sea], 80)}"
    blocks = [{"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": True}]
    if len(ranked) > MOST_ROWS:
        text = f"{len(ranked) - MOST_ROWS} more settings are in the result file."
        blocks.append({"what": "text", "kind": "note", "text": text})
    return blocks


def doubt_blocks(dataset):
    """Which uncertain input does how much."""
    if "uncertain_name" not in dataset:
        return []
    names = [line(name).replace("_", " ") for name in dataset["uncertain_name"].values]
    blocks = []
    for sea in range(dataset.sizes["sea"]):
        shares = dataset["uncertain_share_reverse"].isel(sea=sea).values
        spread = number(dataset, "load_spread_reverse", sea=sea)
        order = np.argsort(-np.nan_to_num(shares), kind="stable")
        rows = [(names[i], f"{100.0 * shares[i]:.0f} %") for i in order if math.isfinite(shares[i])]
        caption = f"Share of the doubt about the reverse load: {line(dataset['sea_name'].values[sea], 80)}"
        blocks.append({"what": "table", "caption": caption, "heads": ("Input", "Share"), "rows": rows, "plain": False})
        if math.isfinite(spread):
            text = f"Forecast and model together: rare loads to {100.0 * spread:.0f} % of the limit (one deviation)."
            blocks.append({"what": "text", "kind": "note", "text": text})
    return blocks

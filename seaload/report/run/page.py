"""The report of a run: the answer first, then the pictures, the tables, the method, the inputs."""

from seaload.report.run.drawings import run_drawings
from seaload.report.run.equivalent import NOTE as EQUIVALENT_NOTE
from seaload.report.run.equivalent import equivalent_heads, equivalent_rows
from seaload.report.run.events import (
    HEADS,
    MOST,
    NOTE,
    count_words,
    deepest_each_way,
    event_cells,
    events_of,
    motion_rows,
)
from seaload.report.run.replay_data import can_replay, replay_data, replay_step
from seaload.report.run.table import (
    boat_rows,
    gust_lines,
    inside_words,
    place_cells,
    sailed_words,
)
from seaload.report.run.trace_chart import trace_block
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import (
    bears_words,
    deciding_words,
    exposure_words,
    if_right_words,
    simulated_words,
    worst_words,
)
from seaload.report.shared.doubt_blocks import doubt_blocks
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.origins import counted_origin, odds_origin
from seaload.report.shared.page_blocks import input_blocks, method_blocks, tile
from seaload.report.shared.page_layout import asset, embedded_json, render_page, trusted
from seaload.report.shared.prescribed_words import TITLE, motion_blocks
from seaload.report.shared.result_reading import (
    attribute,
    line,
    number,
    place_names,
    sea_words,
    setting_words,
)
from seaload.report.shared.text_table import rate_cell, wear_cell

HEADINGS = {
    "worst-minute": "The worst minute",
    "events": "The deepest events",
    "gallery": "The ten deepest, one by one",
    "load-envelope": "Load along the foil",
    "tail": "The tail that carries the odds",
    "load-cycles": "Load cycles",
    "moment-spectrum": "The spectrum of the moment",
    "sea-spectrum": "The sea",
}


def run_page(dataset, answer):
    """report.html of a run, as text."""
    sections = [
        {"id": "answer", "head": "The answer", "blocks": answer_blocks(dataset, answer)},
        {"id": "pictures", "head": "Pictures", "blocks": picture_blocks(dataset)},
        {"id": "tables", "head": "Tables", "blocks": table_blocks(dataset, answer)},
        {"id": "doubts", "head": "What drives the uncertainty", "blocks": doubt_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": method_blocks(dataset)},
        {"id": "inputs", "head": "Inputs and assumptions", "blocks": input_blocks(dataset)},
    ]
    if blocks := motion_blocks(dataset, answer):
        sections.insert(3, {"id": "motions", "head": TITLE, "blocks": blocks})
    if can_replay(dataset):
        sections.insert(1, {"id": "worst", "head": "The worst ten seconds", "blocks": worst_blocks(dataset)})
    return render_page(
        title=f"{line(attribute(dataset, 'study'), 80)}: report",
        heading=line(attribute(dataset, "study"), 80),
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}, {line(attribute(dataset, 'foil'))} foil. "
        f"{setting_words(dataset, 0)}.",
        sections=[part for part in sections if part["blocks"]],
        cautions=[line(text) for text in attribute(dataset, "cautions").splitlines()],
        scripts=("run/trace.js",) if can_replay(dataset) else (),
    )


def answer_blocks(dataset, answer):
    """Two sentences and four numbers for each sea."""
    blocks = []
    for sea in range(dataset.sizes["sea"]):
        blocks.append({"what": "text", "kind": "muted", "text": f"Sea: {sea_words(dataset, sea)}."})
        blocks.append({"what": "lead", "text": answer_sentences(answer, answer.settings[0, sea])})
        blocks += [
            {"what": "origin", "head": f"Where the {side} odds and loads come from",
             "text": odds_origin(dataset, answer, answer.settings[0, sea], side)}
            for side in ("reverse", "normal")
        ]  # fmt: skip
        blocks.append({"what": "tiles", "tiles": answer_tiles(dataset, answer.settings[0, sea])})
        sailed = sailed_words(dataset, 0, sea)
        blocks.append({"what": "text", "kind": "mark" if "NOT SHOWN" in sailed else "", "text": sailed})
    blocks.append({"what": "text", "kind": "note", "text": say.limit_words(attribute(dataset, "limit_basis"))})
    return blocks


def answer_sentences(answer, found):
    """The odds both ways and the worst load, all told where the result tells that; how near both limits came."""
    told = found.odds["reverse"].all_told is not None
    said = deciding_words if told else simulated_words
    worst = [100.0 * found.worst[side].seen for side in ("reverse", "normal")]
    words = (
        f"Odds of reverse load past the limit in {exposure_words(answer)}: {said(found, 'reverse')}; of load past the "
        f"normal limit: {said(found, 'normal')}. "
    )
    if told:  # the margin leads
        words = f"{worst_words(answer, found)} {words}{bears_words(answer, found.sea)} {if_right_words(found)} "
    return words + (
        f"The worst moment simulated reached {worst[0]:.0f} % of the reverse limit and {worst[1]:.0f} % of the normal "
        "one."
    )


def answer_tiles(dataset, found):
    """Tiles with one number each, its range beneath."""
    carries, _, of_weight = dict(boat_rows(dataset, found.setting, found.sea))["foil carries"].partition(", ")
    said = lambda what: counted_origin(dataset, found, what)  # noqa: E731
    events = "Excursions at any place less than 10 s apart, counted as one; exact Poisson interval."
    wear = "Rainflow cycles with their mean by [foil.NAME.fatigue] of the boat; interval by resampling realisations."
    return [
        tile("Reverse events past the limit, an hour", rate_cell(found.event_rate), origin=said(events)),
        tile("Reverse events past half the limit, an hour", rate_cell(found.half_rate), origin=said(events)),
        tile("Wear", wear_cell(found.wear), "full-load cycles (0 to 100 %) an hour, worst place", origin=said(wear)),
        {"head": "The foil carries", "big": carries, "more": [of_weight],
         "origin": said("Mean over all steps that were kept.")},
    ]  # fmt: skip


def worst_blocks(dataset):
    """The replay of the worst ten seconds, and their trace."""
    port = attribute(dataset, "foil") == "port"
    data = {**replay_data(dataset), "seen_from": "seen from ahead" if port else "seen from astern"}
    return [replay_block(data), trace_block(data)]


def replay_block(data):
    """The replay with its data and script."""
    return {
        "what": "replay",
        "data": embedded_json(data),
        "script": trusted(asset("run/replay.js")),
        "description": "The foil's front view with its load, the boat from the side, and the water.",
        "caption": (
            "Drawn from the kept series; the camera moves with the boat. The water is known amidships and "
            "at the tip and "
            "drawn straight between. Not shown: the bending of the foil, spray, the windward foil, rig and "
            "keel."
        ),
    }


def picture_blocks(dataset):
    """All figures, the most telling first."""
    drawn = run_drawings(dataset)
    order = list(HEADINGS)
    kind = lambda name: next(key for key in order if name.startswith(key))  # noqa: E731
    blocks = []
    for name, figure, caption in sorted(drawn, key=lambda item: order.index(kind(item[0]))):
        blocks.append({"what": "subhead", "text": HEADINGS[kind(name)]})
        blocks.append({"what": "figure", "svg": trusted(inline_svg(figure, name, caption)), "caption": caption})
    return blocks


PLACE_HEADS = (
    "Place", "Mean, % of limit", "Highest, %", "Lowest, %", "Reversed, % of time",
    "Reverse past 50 %, an hour",
    "Reverse past 100 %, an hour", "Wear, full-load cycles an hour",
)  # fmt: skip


def table_blocks(dataset, answer):
    """Places, boat, gust and estimates for each sea."""
    blocks = []
    for sea in range(dataset.sizes["sea"]):
        name = line(dataset["sea_name"].values[sea], 80)
        found, rows, inside = answer.settings[0, sea], [], []
        for place, word in enumerate(place_names(dataset)):
            if number(dataset, "place_inside", 0, place=place) > 0:
                inside.append(inside_words(dataset, 0, sea, place, word))
            else:
                rows.append(place_cells(dataset, 0, sea, place, word))
        any_place = rate_cell(found.half_rate), rate_cell(found.event_rate), wear_cell(found.wear)
        rows.append(("any place, events", "", "", "", "", *any_place))
        caption = f"Places on the foil: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": PLACE_HEADS, "rows": rows, "plain": False})
        blocks += [{"what": "text", "kind": "note", "text": text} for text in inside]
        blocks.append({"what": "text", "kind": "note", "text": PLACE_NOTE})
        blocks.append({"what": "table", "caption": f"The boat: {name}", "heads": (), "plain": True,
                       "rows": boat_rows(dataset, 0, sea)})  # fmt: skip
        if felt := motion_rows(dataset, 0, sea):
            blocks.append({"what": "table", "caption": f"On board and along the foil: {name}", "heads": (),
                           "plain": True, "rows": felt})  # fmt: skip
        if rows := equivalent_rows(dataset, 0, sea):
            caption = f"Damage-equivalent moment: {name}"
            blocks.append({"what": "table", "caption": caption, "heads": equivalent_heads(dataset), "rows": rows,
                           "plain": False})  # fmt: skip
            blocks.append({"what": "text", "kind": "note", "text": EQUIVALENT_NOTE})
        blocks += event_blocks(dataset, sea, name)
        said = counted_origin(dataset, found, "Counted at every step, without keeping the series.")
        blocks.append({"what": "origin", "head": "Where the numbers of these tables come from", "text": said})
        blocks += [{"what": "text", "kind": "", "text": " ".join(gust_lines(dataset, found))}]
    return blocks


def event_blocks(dataset, sea, name):
    """How many events a sea held and the deepest of them, one a row."""
    counts = count_words(dataset, 0, sea)
    if not counts:
        return []
    shown = deepest_each_way(events_of(dataset, 0, sea), MOST)
    steps = [replay_step(dataset, sea, event) for event in shown]
    rows = [event_cells(event) for event in shown]
    heads = HEADS
    if any(step is not None for step in steps):
        heads = (*HEADS, "replay")
        rows = [(*row, "" if step is None else opener(step)) for row, step in zip(rows, steps, strict=True)]
    blocks = [{"what": "text", "kind": "", "text": f"Events: {counts}."}]
    if rows:
        caption = f"The deepest events: {name}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": False})
        blocks.append({"what": "text", "kind": "note", "text": NOTE})
    return blocks


def opener(step):
    """The button that opens the replay at a step of the kept minute."""
    return trusted(f'<button type="button" data-replay="{int(step)}">Open</button>')


PLACE_NOTE = (
    "Up is a share of the place's normal limit, down of its reverse limit. In brackets the 90 % interval "
    "from a limited "
    "sample of waves. A full-load cycle goes from 0 to 100 % of the normal limit. +- is one "
    "standard deviation."
)

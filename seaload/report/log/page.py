"""The page of a log: the answer, the ledger, events, quality, hours by setting, how it was made."""

import json

import numpy as np

from seaload.basis.units import HOUR
from seaload.report.log import figures as draw
from seaload.report.log import reading as read
from seaload.report.log import words
from seaload.report.log.table import finding_words
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_blocks import shortened, versions
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.result_reading import attribute, line, number, scenario

MOST_ROWS = 60
METHOD = (
    "Every sample is judged by tests after the QARTOD manuals (gap, range, spike, rate of change, frozen, clipped, "
    "zero, companion channels). What fails is left out; what is repaired is listed. Nothing is repaired silently.",
    "Strain over the stated strain limit is the share of the limit. Rainflow cycles (ASTM E1049) are counted while "
    "the log streams past, with range and mean; wear follows the stated constant-life curve. What a stretch of record "
    "leaves open is joined with the stretches before and after, in the order of time, whatever the order of files.",
    "An excursion passes a share of the limit until it is back by 5 % of it; excursions at any station less than 10 s "
    "apart are one event. A foil is under load from a tenth of the normal limit on, either way. Days are UTC.",
    "The ledger knows which moments it has counted of each foil: a file read twice, or two that overlap, count once.",
)


def log_page(dataset):
    """report.html of a log, as text."""
    sections = [
        {"id": "answer", "head": "The answer", "blocks": answer_blocks(dataset)},
        {"id": "ledger", "head": "Ledger", "blocks": ledger_blocks(dataset)},
        {"id": "events", "head": "Reverse load", "blocks": event_blocks(dataset)},
        {"id": "quality", "head": "Quality of the record", "blocks": quality_blocks(dataset)},
        {"id": "settings", "head": "Hours by setting", "blocks": setting_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": [text(part) for part in METHOD]},
        {"id": "inputs", "head": "Inputs", "blocks": input_blocks(dataset)},
    ]
    study = line(attribute(dataset, "study"), 80)
    return render_page(
        title=f"{study}: log",
        heading=study,
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}, {line(attribute(dataset, 'foil'))} foil "
        f"{line(attribute(dataset, 'foil_id'), 40)}, ledger page '{line(attribute(dataset, 'ledger_page'), 60)}'.",
        sections=sections,
        cautions=[line(caution) for caution in attribute(dataset, "cautions").splitlines()],
    )


def text(words_, kind=""):
    """A paragraph."""
    return {"what": "text", "text": words_, "kind": kind}


def answer_blocks(dataset):
    """Two sentences, the numbers, what is new, what the limits mean."""
    wear, places = read.wear_of_places(dataset), read.stations(dataset)
    hours, loaded = read.page_hours(dataset)
    blocks = []
    if words.made_data(dataset):
        blocks.append(text("Made data: simulated, not recorded at sea.", "mark"))
    blocks.append({"what": "lead", "text": words.answer_sentences(dataset)})
    if len(places):
        worst = int(np.argmax(wear))
        past, over = (int(number(dataset, f"{way}_events")) for way in ("reverse", "normal"))
        blocks.append({"what": "tiles", "tiles": [
            {"head": "Recorded", "big": say.hours_words(hours), "more": [f"{say.hours_words(loaded)} under load"]},
            {"head": f"Wear, station {places[worst]}", "big": f"{read.cycles_words(wear[worst])} cycles",
             "more": [f"full-load; {words.share_words(wear[worst])} of what the stated curve allows"]},
            {"head": "Reverse events past the limit", "big": f"{past:,}",
             "more": [f"{int(dataset['reverse_excursions'].sum()):,} excursions at all stations"]},
            {"head": "Highest normal load", "big": f"{100.0 * float(dataset['load_ratio_max'].max()):.0f} %",
             "more": ["of the limit", f"passed {words.times(over)}" if over else "never passed"]},
        ]})  # fmt: skip
    blocks.append(text(words.new_time_sentence(dataset)))
    limits = say.limit_words(attribute(dataset, "limit_basis"))
    return [*blocks, text(words.curve_sentence(dataset), "note"), text(limits, "note")]


def ledger_blocks(dataset):
    """By day and place, by place, by page."""
    places, rows = read.stations(dataset), read.by_day(dataset)
    shown = [
        (read.day_words(day), say.significant(hours, 3), say.significant(loaded, 3), *map(read.cycles_words, wear))
        for day, hours, loaded, wear in rows[-MOST_ROWS:]
    ]
    if len(rows) > 1:
        total = [np.sum([row[i] for row in rows], axis=0) for i in (1, 2, 3)]
        both = (say.significant(total[0], 3), say.significant(total[1], 3))
        shown.append(("all days", *both, *map(read.cycles_words, total[2])))
    blocks = [{
        "what": "table", "plain": False, "caption": "Wear by day and station, full-load cycles", "rows": shown,
        "heads": ("Day (UTC)", "Recorded, h", "Under load, h", *(f"Station {n}" for n in places)),
    }]  # fmt: skip
    if len(rows) > MOST_ROWS:
        blocks.append(text(f"Not shown: the {len(rows) - MOST_ROWS} days before; result.nc holds them.", "note"))
    blocks += [place_table(dataset), text(words.gaps_sentence(dataset))]
    if dataset.sizes["page"] > 1:
        blocks.append({
            "what": "table", "plain": False, "caption": "Pages of this foil",
            "heads": ("Page", "Recorded, h", "Wear at the station that wore most, full-load cycles"),
            "rows": [
                (line(name, 60), say.significant(seconds / HOUR, 3), read.cycles_words(damage))
                for name, seconds, damage in zip(
                    dataset["page_name"].values, dataset["page_duration"].values, dataset["page_damage"].values,
                    strict=True,
                )
            ],
        })  # fmt: skip
    return blocks


def place_table(dataset):
    """What each station has been through."""
    steep, wear = read.wear_of_places(dataset, "ledger_damage_steep"), read.wear_of_places(dataset)
    slopes = read.curve(dataset)
    when = {name: read.seconds_of(dataset[f"load_ratio_{name}_time"].values) for name in ("max", "min")}
    rows = []
    for k, place in enumerate(read.stations(dataset)):
        high, low = (100.0 * float(dataset[f"load_ratio_{name}"].values[k]) for name in ("max", "min"))
        rows.append((
            f"station {place}", f"{high:.0f} %", read.moment_words(when["max"][k]),
            f"{-low:.0f} %" if low < 0 else "none", read.moment_words(when["min"][k]) if low < 0 else "",
            *(f"{int(dataset[f'{name}'].values[k]):,}" for name in
              ("reverse_excursions_half", "reverse_excursions", "normal_excursions")),
            read.cycles_words(wear[k]), read.cycles_words(steep[k]),
        ))  # fmt: skip
    return {
        "what": "table", "plain": False, "rows": rows, "caption": "By station",
        "heads": (
            "Station", "Highest, of the normal limit", "when (UTC)", "Deepest, of the reverse limit", "when (UTC)",
            "Excursions past half reverse", "past reverse", "past normal",
            f"Wear, slope {slopes.get('slope', 0):g}", f"slope {slopes.get('steep_slope', 0):g}",
        ),
    }  # fmt: skip


def event_blocks(dataset):
    """The deepest events of the ledger, and this log's ten deepest moments with their traces."""
    rows = [
        (read.moment_words(start), f"{100.0 * depth:.0f} %", f"{duration:.1f} s")
        for start, depth, duration in zip(
            read.seconds_of(dataset["event_start"].values), dataset["event_depth"].values,
            dataset["event_duration"].values, strict=True,
        )
    ]  # fmt: skip
    half, full = (int(number(dataset, f"reverse_events{end}")) for end in ("_half", ""))
    blocks = [text(f"Events in the ledger: {full:,} past the reverse limit, {half:,} past half of it.")]
    if half < full:
        blocks[0]["text"] += " Past half of it more excursions run together to one event."
    if rows:
        caption = "Deepest events in the ledger" if len(rows) > 10 else "Events in the ledger, deepest first"
        heads = ("Began (UTC)", "Deepest, of the reverse limit", "From first to last excursion")
        blocks.append({"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": rows[:10]})
    if dataset.sizes["moment"] == 0:
        return [*blocks, text("No reverse load of 5 % of its limit or more in this log.")]
    return [*blocks, moments_block(dataset)]


def moments_block(dataset):
    """The traces of the deepest moments."""
    count, slopes = len(read.stations(dataset)), read.curve(dataset)
    when, depth = read.seconds_of(dataset["moment_time"].values), dataset["moment_depth"].values
    moments = []
    for i in range(dataset.sizes["moment"]):
        title = (
            f"{i + 1}. {read.moment_words(when[i])}, station {int(dataset['moment_place'].values[i])}: "
            f"{100.0 * depth[i]:.0f} %"
        )
        kept = np.isfinite(dataset["moment_offset"].values[i])
        trace = dataset["moment_trace"].values[i][kept]
        moments.append((dataset["moment_offset"].values[i][kept], trace[:, :count], title))
    ratio = slopes["strain_reverse"] / slopes["strain_normal"]
    names = [f"station {n}" for n in read.stations(dataset)]
    said = f"Load at every station round the {len(moments)} deepest reverse loads; first {moments[0][2][3:]}."
    return {
        "what": "figure",
        "svg": trusted(inline_svg(draw.moments_figure(moments, names, ratio), "moments", said)),
        "caption": "The deepest moments of this log, ten seconds or more apart, times in UTC. Up: share of the normal "
        "limit (100 % blue line); down: share of the reverse limit (-100 % orange line, dashed half of it).",
    }


def quality_blocks(dataset):
    """The ribbon, what the judging noticed, the repairs, what was left out."""
    told = read.judgement(dataset)
    channels = [line(name, 40) for name in dataset["channel"].values]
    meanings = ["good", "not_evaluated", "suspect", "fail", "missing"]
    blocks = [text(words.repairs_sentences(dataset))]
    if dataset.sizes["span_start"]:
        start = read.seconds_of(dataset["span_start"].values)
        counts, length = dataset["quality_count"].values, number(dataset, "span_length")
        ribbon = draw.ribbon_figure(start, length, counts, channels, meanings)
        blocks.append({
            "what": "figure",
            "svg": trusted(inline_svg(ribbon, "ribbon", "Quality of every channel over the time of this log.")),
            "caption": "Quality of every channel over the recorded time of this log (UTC). Dashed lines stand where "
            "time without any record is left out.",
        })  # fmt: skip
    if overlap := words.overlap_sentence(dataset):
        blocks.append(text(overlap))
    return [*blocks, *finding_blocks(told), *repair_blocks(told), *clock_blocks(told)]


def finding_blocks(told):
    """What the judging noticed, and what was left out."""
    findings = sorted(told.get("findings", []), key=lambda f: (-f["flag"], f["start"]))
    blocks = []
    if findings:
        blocks.append({"what": "subhead", "text": f"Noticed ({told['findings_in_all']:,})"})
        blocks.append({"what": "bullets", "items_": [finding_words(f) for f in findings[:MOST_ROWS]]})
    skipped = [f"{line(s['file'], 60)}: {line(s['reason'])}" for s in told.get("skipped", [])]
    if skipped:
        blocks += [{"what": "subhead", "text": "Left out"}, {"what": "bullets", "items_": skipped[:MOST_ROWS]}]
    return blocks


def repair_blocks(told):
    """The repairs one by one."""
    repairs = told.get("repairs", [])
    if not repairs:
        return []
    rows = [
        (line(r["channel"], 40) or "all", r["kind"], read.moment_words(r["start"]), lasted(r), *before_after(r))
        for r in repairs[:MOST_ROWS]
    ]
    heads = ("Channel", "Repair", "At (UTC)", "Over", "As read", "Repaired")
    caption = f"Repairs ({told['repairs_in_all']:,}, the first {len(rows)} shown)"
    return [{"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": rows}]


def lasted(repair):
    """How much of the record a repair touched."""
    if repair["kind"] == "zero":
        return say.hours_words((repair["end"] - repair["start"]) / HOUR)
    return f"{repair['samples']:,} sample{'' if repair['samples'] == 1 else 's'}"


def before_after(repair):
    """What was read and what was given on, in the units people use."""
    channel, before, after = repair["channel"], repair["before"], repair["after"]
    if repair["kind"] == "zero":
        ends = dict.fromkeys(read.channel_words(channel, value) for value in (before, after))
        return f"zero at {' to '.join(ends)}", "taken off"
    if not channel:
        return "no row", "counted on"
    return read.channel_words(channel, before), read.channel_words(channel, after)


def clock_blocks(told):
    """Clocks that were matched."""
    return [
        text(
            f"Clock of {line(c['file'], 60)} shifted by {c['shift']:+.2f} s to that of {line(c['reference'], 60)} "
            f"(correlation {c['correlation']:.2f}, drift {c['drift']:+.2f} s)."
        )
        for c in told.get("clock_shifts", [])
    ]


def setting_blocks(dataset):
    """The map of hours and the table of settings."""
    rows = read.by_setting(dataset)
    blocks = []
    if (figure := draw.hours_figure(rows)) is not None:
        blocks.append({
            "what": "figure",
            "svg": trusted(inline_svg(figure, "hours", "Recorded hours over rake and extension.")),
            "caption": "Recorded time in the ledger over rake and extension; darker is more.",
        })  # fmt: skip
    heads = ("Setting", "Recorded, h", "Wear, full-load cycles", "Cycles an hour")
    table = [
        (read.setting_words(known), say.significant(hours, 3), read.cycles_words(wear),
         read.cycles_words(wear / hours) if hours else "")
        for known, hours, wear in rows[:MOST_ROWS]
    ]  # fmt: skip
    caption = "By setting, wear at the station that wore most"
    return [*blocks, {"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": table}]


def input_blocks(dataset):
    """How this page was made, and the description as it was written."""
    told = read.judgement(dataset)
    made = (
        ("Command", line(attribute(dataset, "command"))),
        ("Samples", f"{told.get('samples', 0):,} at {say.significant(told.get('sample_rate') or 0.0, 3)} a second"),
        ("From, to (UTC)", f"{read.moment_words(told.get('start'))} to {read.moment_words(told.get('end'))}"),
        ("Files in the ledger's page", attribute(dataset, "ledger_files")),
        ("Versions", ", ".join(versions(dataset))),
        ("Sources", line(attribute(dataset, "source_fingerprint"))),
    )
    written = json.dumps(scenario(dataset), indent=1, ensure_ascii=False, sort_keys=True)
    return [
        {"what": "table", "caption": "How this result was made", "heads": (), "plain": True, "rows": made},
        {"what": "code", "summary": "Log and boat as they were written", "text": shortened(written)},
    ]

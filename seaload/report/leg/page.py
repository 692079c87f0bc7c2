"""The page of a leg: the answer, the plan by stretch, why, when to leave it, its check, how it was made."""

import json

from seaload.report.leg import figures as draw
from seaload.report.leg import gauge_words as gauge
from seaload.report.leg import reading as read
from seaload.report.leg import words
from seaload.report.leg.table import fixed_words
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_blocks import shortened, versions
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.result_reading import attribute, line, number, scenario

METHOD = (
    "The way is cut into pieces of five nautical miles, each with one sea. Every setting's rate of load past the "
    "limits, its wear and its speed in every sea that may be met come from the boat's library, by the sea's "
    "height, period and angle; nothing is told outside the library's points. Since speed changes when each sea is "
    "met, the plan is a way through a network of pieces and moments.",
    "Odds of the leg are the mean, over the forecast's members and the doubt, of 1 - exp(-sum of expected "
    "events): what is uncertain is drawn once a leg. The plan is the fastest that keeps the budget, or of those "
    "within a minute of it one that spends less; the search keeps a straight bound that lies above the odds, taken "
    "again at each plan until nothing is gained. Wear is added for each physical foil: the leeward one works.",
    "The check marches the plan again in pieces of 20 minutes, in the forecast's own wave systems, each in a "
    "member drawn by lot and with what is uncertain of the boat drawn anew, and counts past 50 and 70 % of the "
    "reverse limit, where events are plenty. It rejects the plan where so many events, or more, had odds under 1 in "
    "100 by what the library tells of those draws and by its own error.",
)


def leg_page(dataset):
    """leg.html, as text."""
    sections = [
        {"id": "answer", "head": "The answer", "blocks": answer_blocks(dataset)},
        {"id": "plan", "head": "The plan", "blocks": plan_blocks(dataset)},
        {"id": "why", "head": "Why, and what more would buy", "blocks": why_blocks(dataset)},
        {"id": "check", "head": "Marched again", "blocks": check_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": [text(part) for part in METHOD]},
        {"id": "inputs", "head": "Inputs", "blocks": input_blocks(dataset)},
    ]
    study = line(attribute(dataset, "study"), 80)
    miles = words.miles_words(number(dataset, "passage_distance"))
    start = read.moment_words(float(read.seconds_of(dataset["start_time"].values)))
    return render_page(
        title=f"{study}: leg",
        heading=study,
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}: a leg of {miles}, from {start} UTC.",
        sections=sections,
        cautions=[line(part) for part in attribute(dataset, "cautions").splitlines()],
    )


def unbroken(words_):
    """Words that stay on one line of a table."""
    return words_.replace(" ", "\u00a0")


def short(setting, differ):
    """A setting for a narrow column: "80 %, 2°, 16 kn"."""
    return read.setting_words(setting, differ).replace(" out, rake", ",")


def rate_words(hourly):
    """Events an hour, short."""
    return say.significant(hourly, 2) if hourly >= 1e-4 else unbroken("under 0.0001")


def text(words_):
    """A paragraph."""
    return {"what": "text", "text": words_, "kind": ""}


def answer_blocks(dataset):
    """Whether the plan is suggested, what it takes and spends."""
    first, *rest = words.answer_sentences(dataset)
    told = map(text, [*rest, words.where_sentence(dataset)])
    return [{"what": "lead", "text": first}, *told, figure_block(dataset)]


def figure_block(dataset):
    """The figure of the plan."""
    said = "Waves, settings, and what is spent of odds and wear over time under way."
    svg = inline_svg(draw.plan_figure(dataset), "plan", said)
    return {"what": "figure", "svg": trusted(svg), "caption": draw.CAPTION}


def plan_blocks(dataset):
    """The plan by stretch."""
    rows, settings = read.stretches(dataset), read.settings(dataset)
    differ = read.varying(settings)
    shown = [
        (
            f"{row.number}{' *' if row.changed else ''}", unbroken(read.moment_words(row.start)),
            f"{row.heading % 360.0:03.0f}°", unbroken(f"{row.hs:.1f} ({row.hs_least:.1f} to {row.hs_most:.1f})"),
            f"{row.tp:.1f}", f"{row.waves_from_bow:.0f}°", row.foil,
            unbroken(short(settings[row.setting], differ)), unbroken(f"{100.0 * row.share:.0f} %"),
            unbroken(words.leave_short(row)),
        )
        for row in rows
    ]  # fmt: skip
    heads = (
        "Stretch", "From (UTC)", "Course", "Hs, m (members)", "Tp, s", "Off bow", "Foil", "Out, rake, speed",
        "Odds", "Leave over Hs, under Tp",
    )  # fmt: skip
    fixed = fixed_words(settings)
    note = f"{fixed.capitalize()} throughout. " * bool(fixed) + (
        "A star: change the setting here. Off bow: waves, + from windward. Odds: share of the reverse ones. "
        "Leave the plan: were the sea so high, or so short, from there to the end, the odds of the leg would pass the "
        "budget; then take the slower setting named below."
    )
    table = {"what": "table", "plain": False, "caption": "The plan by stretch", "heads": heads, "rows": shown}
    return [table, text(note), *gauge_blocks(dataset)]


def gauge_blocks(dataset):
    """What a gauge reads along the plan, and when to step down by it; nothing where none is told."""
    read_ = gauge.readings(dataset)
    if read_ is None:
        return []
    shown = [
        (f"{k}", unbroken(gauge.ordinary_words(dataset, row)), unbroken(gauge.leave_words(dataset, row) or "none"))
        for k, row in enumerate(read_, 1)
    ]
    heads = ("Stretch", f"Ordinary: {gauge.gauge_head(dataset)}", "Step down")
    caption = "What the display reads, and when to step down by it"
    table = {"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": shown}
    return [*map(text, gauge.gauge_sentences(dataset)), table]


def why_blocks(dataset):
    """What the next faster and the next slower setting would change, what binds, later starts."""
    rows, settings = read.stretches(dataset), read.settings(dataset)
    differ = read.varying(settings)
    shown = []
    for row in rows:
        cells = [f"{row.number}", rate_words(row.hazard), unbroken(words.cycles(row.wear)),
                 unbroken(short(settings[row.setting], differ))]  # fmt: skip
        for setting, minutes, odds, sign in ((*row.faster, 1.0), (*row.slower, -1.0)):
            if setting < 0:
                cells += [unbroken("none open"), ""]
            else:
                time = f"{'-' if sign > 0 else '+'}{abs(minutes):.0f} min"
                points = words.percent_points(sign * odds)
                cells += [unbroken(short(settings[setting], differ)), unbroken(f"{time}, {points}")]
        shown.append(tuple(cells))
    heads = (
        "Stretch", "Reverse events an hour, mean of settings", "Wear, cycles", "Out, rake, speed", "Next faster",
        "it changes", "Next slower", "it changes",
    )  # fmt: skip
    caption = "What the next faster and the next slower setting would change: time, and reverse odds of the leg"
    told = [words.same_sentence(dataset), *words.binding_sentences(dataset), *words.later_sentences(dataset)]
    return [*map(text, told), {"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": shown}]


def check_blocks(dataset):
    """The check."""
    return [{"what": "bullets", "items_": words.check_sentences(dataset)}]


def input_blocks(dataset):
    """Notes, how this page was made, and the description as it was written."""
    notes = [line(part) for part in attribute(dataset, "notes").splitlines() if part.strip()]
    defaults = ", ".join(line(part) for part in attribute(dataset, "defaults_used").splitlines())
    made = (
        ("Command", line(attribute(dataset, "command"))),
        ("Versions", ", ".join(versions(dataset))),
        ("Sources", line(attribute(dataset, "source_fingerprint"))),
        ("Odds", line(attribute(dataset, "interval"))),
        ("Limits", say.limit_words(attribute(dataset, "limit_basis"))),
    )
    written = json.dumps(scenario(dataset), indent=1, ensure_ascii=False, sort_keys=True)
    return [
        {"what": "bullets", "items_": notes},
        {"what": "text", "kind": "note", "text": f"Defaults used: {defaults or 'none'}."},
        {"what": "table", "caption": "How this result was made", "heads": (), "plain": True, "rows": made},
        {"what": "code", "summary": "Leg and boat as they were written", "text": shortened(written)},
    ]

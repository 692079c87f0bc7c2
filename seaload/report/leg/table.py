"""The answer of a leg in plain characters, for the command line."""

from seaload.report.leg import gauge_words as gauge
from seaload.report.leg import reading as read
from seaload.report.leg import words
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, number
from seaload.report.shared.text_table import in_columns, wrapped

HEADS = (
    ("", ""), ("from", "UTC"), ("nm", ""), ("course", ""), ("sea", "Hs Tp off bow"), ("wind", "kn"), ("foil", "works"),
    ("setting", "out rake kn"), ("odds", "share"), ("leave", "over Hs, under Tp"),
)  # fmt: skip


def leg_table(dataset):
    """Sentences, the plan by stretch, why, the check."""
    lines = []
    for sentence in words.answer_sentences(dataset):
        lines += wrapped(sentence)
    lines += ["", *plan_lines(dataset), ""]
    for sentence in (
        words.where_sentence(dataset), *words.binding_sentences(dataset), words.same_sentence(dataset),
        *words.later_sentences(dataset),
    ):  # fmt: skip
        lines += wrapped(sentence)
    lines += ["", *gauge_lines(dataset)]
    lines += ["", "WHY: the next faster setting on each stretch"]
    lines += why_lines(dataset)
    lines.append("")
    for sentence in words.check_sentences(dataset):
        lines += wrapped(sentence)
    lines += ["", "ASSUMED"]
    for note in attribute(dataset, "notes").splitlines():
        lines += wrapped(f"- {line(note)}", "  ")
    return "\n".join(lines)


def plan_lines(dataset):
    """The plan, one line a stretch."""
    rows, settings = read.stretches(dataset), read.settings(dataset)
    shown = [plan_row(row, settings[row.setting]) for row in rows]
    fixed = fixed_words(settings)
    last = ("", read.moment_words(rows[-1].start + 60.0 * rows[-1].minutes),
            f"{sum(row.miles for row in rows):.0f}", "", "", "", "", "", "100 %", "")  # fmt: skip
    title = "PLAN" + (f", {fixed} throughout" if fixed else "") + "; * = change the setting"
    return [title, *in_columns(HEADS, shown, last)]


def plan_row(row, setting):
    """Cells of one stretch."""
    mark = "*" if row.changed else " "
    return (
        f"{row.number}{mark}", read.moment_words(row.start), f"{row.miles:.0f}", f"{row.heading % 360.0:03.0f}°",
        f"{row.hs:.1f} {row.tp:4.1f} {row.waves_from_bow:4.0f}°", f"{row.wind_knots:.0f}", row.foil,
        f"{setting['extension_percent']:.0f} % {read.trimmed(setting['rake_deg'])}° "
        f"{read.trimmed(setting['speed_knots'])}",
        f"{100.0 * row.share:.0f} %", words.leave_short(row),
    )  # fmt: skip


def fixed_words(settings):
    """What is the same in all settings and no column tells: "heel 18°, keel 30°"."""
    differ = read.varying(settings)
    named = (("heel_deg", "heel", "°"), ("cant_deg", "keel", "°"))
    parts = [f"{word} {read.trimmed(settings[0][key])}{unit}" for key, word, unit in named if key not in differ]
    if "ballast_shift_m" not in differ:
        parts.append(say.ballast_words(settings[0]["ballast_shift_m"]))
    return ", ".join(parts)


def gauge_lines(dataset):
    """What a gauge reads along the plan, and when to step down by it; stretches in a row that read alike together."""
    read_ = gauge.readings(dataset)
    if read_ is None:
        return ["No gauge is told: the boat file has no [sensors], or the library no readings."]
    lines, found = [], []
    for sentence in gauge.gauge_sentences(dataset):
        lines += wrapped(sentence)
    for number_, row in enumerate(read_, 1):
        said = f"ordinary {gauge.ordinary_words(dataset, row) or 'not told'}"
        said += f", step down {gauge.leave_words(dataset, row)}" if gauge.leaves(row) else ""
        if found and found[-1][1] == said:
            found[-1][0][1] = number_
        else:
            found.append([[number_, number_], said])
    title = f"GAUGE: {gauge.gauge_head(dataset)}"
    return [*lines, title, *(f"{a if a == b else f'{a} to {b}':>8}  {said}" for (a, b), said in found)]


def why_lines(dataset):
    """Why each setting is what it is; stretches in a row with the same words stand together."""
    rows, settings, found = read.stretches(dataset), read.settings(dataset), []
    for row in rows:
        said = words.why(row, settings)
        if found and found[-1][1] == said:
            found[-1][0][1] = row.number
        else:
            found.append([[row.number, row.number], said])
    return [f"{a if a == b else f'{a} to {b}':>8}  {said}" for (a, b), said in found]


def suggested(dataset):
    """Whether the plan is one to suggest."""
    return number(dataset, "suggested") > 0.5

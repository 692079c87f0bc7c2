"""The answer of a log in plain characters, for the command line."""

import numpy as np

from seaload.report.log import reading as read
from seaload.report.log import words
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line
from seaload.report.shared.text_table import in_columns, wrapped

MOST_DAYS = 14


def log_table(dataset):
    """Sentences, the ledger by day and place, what the judging noticed."""
    lines = ["MADE DATA, simulated, not recorded at sea"] if words.made_data(dataset) else []
    lines += [*wrapped(words.answer_sentences(dataset)), ""]
    lines += day_lines(dataset)
    lines += ["", *wrapped(words.new_time_sentence(dataset))]
    for text in (words.repairs_sentences(dataset), words.gaps_sentence(dataset), words.overlap_sentence(dataset)):
        lines += wrapped(text) if text else []
    lines += finding_lines(dataset)
    lines += wrapped(words.curve_sentence(dataset))
    return "\n".join(lines)


def day_lines(dataset):
    """The ledger by day and place."""
    rows = read.by_day(dataset)
    if not rows:
        return []
    places = read.stations(dataset)
    heads = [("day", "(UTC)"), ("recorded", "h"), ("loaded", "h"), *((f"station {n}", "cycles") for n in places)]
    shown = [
        (read.day_words(day), say.significant(hours, 3), say.significant(loaded, 3), *map(read.cycles_words, wear))
        for day, hours, loaded, wear in rows[-MOST_DAYS:]
    ]
    total = [np.sum([row[i] for row in rows], axis=0) for i in (1, 2, 3)]
    last = (
        "all days", say.significant(total[0], 3), say.significant(total[1], 3), *map(read.cycles_words, total[2]),
    )  # fmt: skip
    page = line(attribute(dataset, "ledger_page"), 60)
    title = f"LEDGER of foil {line(attribute(dataset, 'foil_id'), 40)}, page '{page}': wear in full-load cycles"
    left_out = [f"(the {len(rows) - MOST_DAYS} days before are on the page)"] if len(rows) > MOST_DAYS else []
    return [title, *in_columns(heads, shown, last), *left_out]


def finding_lines(dataset):
    """What the judging noticed, worst first, a dozen lines at most."""
    findings = read.judgement(dataset).get("findings", [])
    if not findings:
        return ["The judging noticed nothing."]
    ordered = sorted(findings, key=lambda f: -f["flag"])
    lines = [f"The judging noticed {len(findings)} thing{'' if len(findings) == 1 else 's'}:"]
    for finding in ordered[:12]:
        lines += wrapped(f"- {finding_words(finding)}", "  ")
    if len(ordered) > 12:
        lines.append(f"- and {len(ordered) - 12} more, on the page")
    return lines


def finding_words(finding):
    """A finding in one line."""
    channel = f"{line(finding['channel'], 40)}: " if finding["channel"] else ""
    return f"{channel}{line(finding['words'])} ({read.moment_words(finding['start'])} UTC)"

"""The answer of a boat file in plain characters, for the command line."""

from seaload.report.boat import reading as read
from seaload.report.boat import words
from seaload.report.shared.result_reading import attribute
from seaload.report.shared.text_table import basis_part, wrapped
from seaload.report.shared.wording import limit_words


def boat_table(dataset):
    """Sentences, findings, the extensions at the racing speed, motions, gauges, what was assumed."""
    lines = [*wrapped(words.answer_sentences(dataset)), ""]
    for level, rows in read.findings(dataset).items():
        if rows:
            lines.append(read.LEVELS[level].upper())
            lines += [part for row in rows for part in wrapped(f"- {read.finding_words(row)}", "  ")]
    title = f"BY EXTENSION at {read.racing_knots(dataset):.3g} kn, {read.setting_words(dataset)}"
    heads = [tuple(head) for head in words.EXTENSION_HEADS]
    lines += ["", title, *columns(heads, words.extension_rows(dataset))]
    slow, fast = read.curve(dataset, "motion_speed") / read.KNOT
    lines += ["", "NATURAL MOTIONS, undamped period and damping"]
    lines += columns([("", ""), ("", f"at {slow:.2g} kn"), ("", f"at {fast:.3g} kn")], read.motion_rows(dataset))
    heads, rows, unit = words.gauge_table(dataset)
    lines += ["", f"GAUGES, foil in the shed, 1 t at the tip, in {unit}"]
    lines += columns([tuple(head.split(", ")) if ", " in head else (head, "") for head in heads], rows)
    lines += ["", *wrapped(limit_words(attribute(dataset, "limit_basis")))]
    used = read.defaults(dataset)
    lines += wrapped(f"Defaults used: {', '.join(used) or 'none'}", "  ")
    return "\n".join([*lines, basis_part(dataset)])


def columns(heads, rows):
    """Lines of a table: two of heads, a rule, the rows; first column to the left."""
    body = [tuple(head[0] for head in heads), tuple(head[1] for head in heads), *map(tuple, rows)]
    widths = [max(len(row[i]) for row in body) for i in range(len(heads))]
    lines = [
        "  ".join(c.rjust(w) if i else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True))).rstrip()
        for row in body
    ]
    heading = [text for text in lines[:2] if text.strip()]
    return [*heading, "-" * max(map(len, lines)), *lines[2:]]

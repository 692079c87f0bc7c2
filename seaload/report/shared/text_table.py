"""Tables in plain characters: columns, rates in a cell, and what every table ends with; 100 columns wide."""

import math

from seaload.basis.units import HOUR
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line

COLUMNS = 100


def wrapped(text, hang=""):
    """Lines of at most COLUMNS columns."""
    import textwrap

    return textwrap.wrap(text, COLUMNS, subsequent_indent=hang) or [""]


def in_columns(heads, rows, last):
    """Lines of a table: two of heads, a rule, the rows, a rule, the last row; first column to the left."""
    body = [tuple(head[0] for head in heads), tuple(head[1] for head in heads), *rows, last]
    widths = [max(len(row[i]) for row in body) for i in range(len(heads))]
    gap = "  " if sum(widths) + 2 * (len(widths) - 1) <= COLUMNS else " "
    lines = [
        gap.join(
            cell.rjust(width) if i else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in body
    ]
    rule = "-" * max(map(len, lines))
    return [*lines[:2], rule, *lines[2:-1], rule, lines[-1]]


def rate_cell(rate):
    """A rate [1/s] per hour with its interval, short: "0.33 (0.02-1.6)", "none (< 1)"."""
    hourly = rate.times(HOUR)
    if not math.isfinite(hourly.best):
        return "unknown"
    if hourly.best == 0.0:
        return f"none (< {say.upwards(hourly.high)})" if math.isfinite(hourly.high) else "none or more"
    return f"{say.significant(hourly.best)} ({short_interval(hourly.low, hourly.high)})"


def wear_cell(damage_rate):
    """Wear [1/s] in full-load cycles an hour with its interval."""
    hourly = damage_rate.times(HOUR)
    best, low, high = (say.full_load_cycles(end) for end in (hourly.best, hourly.low, hourly.high))
    if not math.isfinite(best):
        return "unknown"
    if best == 0.0:
        return "none"
    if high < 0.01:
        return "under 0.01"
    return f"{say.significant(best)} ({short_interval(low, high)})"


def worst_cell(found):
    """Worst load in 1 of 20 exposures both ways, in % of the limit: "-62 +80"; empty where it is not known."""
    shares = [found.worst[side].one_in_twenty for side in ("reverse", "normal")]
    if any(share is None or not math.isfinite(share) for share in shares):
        return ""
    return "-{:.0f} +{:.0f}".format(*(100.0 * max(share, 0.0) for share in shares))


def short_interval(low, high):
    """Two bounds with a hyphen, "or more" when open."""
    return f"{say.downwards(low)}-{say.upwards(high)}" if math.isfinite(high) else f"{say.downwards(low)} or more"


def basis_part(dataset):
    """What is assumed and how the result can be made again."""
    lines = ["ASSUMED"]
    notes = [line(note) for note in attribute(dataset, "notes").splitlines() if note.strip()]
    for note in dict.fromkeys(notes):
        lines += wrapped(f"- {note}", "  ")
    if not notes:
        lines.append("- nothing beyond the study file")
    lines += wrapped(f"Made by: {line(attribute(dataset, 'command'))}", "  ")
    return "\n".join(lines)

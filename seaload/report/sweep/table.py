"""The table of a sweep in plain characters: for each sea the suggestion, the settings, the moves, the
readings."""

from seaload.basis.units import DEGREE, KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, number, sea_words, setting_values
from seaload.report.shared.sweep_reading import (
    all_odds,
    bearing_words,
    decision_words,
    display_rows,
    exposure_words,
    move_rows,
    ranked_settings,
    suggested,
    suggestion_sentences,
    trigger_words,
)
from seaload.report.shared.text_table import basis_part, in_columns, wear_cell, wrapped

MOST_ROWS = 12
HEADS = (
    ("", "setting"), ("", "out %"), ("rake", "deg"), ("ballast", "m"), ("", "kn"),
    ("reverse odds", "could be"), ("normal odds", "could be"),
    ("wear", "swings an hour"), ("", "decision"),
)  # fmt: skip


def sweep_table(dataset):
    """Text of the whole table."""
    study, boat, foil = (line(attribute(dataset, name)) for name in ("study", "boat", "foil"))
    parts = ["\n".join(wrapped(f"{study}: {boat}, {foil} foil, {dataset.sizes['setting']} settings"))]
    parts += ["\n".join(sea_lines(dataset, sea)) for sea in range(dataset.sizes["sea"])]
    basis = say.limit_words(attribute(dataset, "limit_basis"))
    interval = "Odds hold sampling, forecast and model error together where the study worked them out."
    undecided = (
        "Undecided (40 h): 40 hours of sea in all would decide it; undecided (doubt): forecast and model are too "
        "uncertain for any amount of sea."
    )
    parts.append("\n".join(wrapped(f"{basis} {interval} Odds are for {exposure_words(dataset)}. {undecided}")))
    parts.append(basis_part(dataset))
    return "\n\n".join(parts)


def sea_lines(dataset, sea):
    """Lines of one sea."""
    lines = [*wrapped(f"SEA  {sea_words(dataset, sea)}"), *wrapped(suggestion_sentences(dataset, sea))]
    bearing = bearing_words(dataset, sea)
    lines += wrapped(bearing) if bearing else []
    ranked = ranked_settings(dataset, sea)
    rows = [setting_cells(dataset, setting, sea) for setting in ranked[:MOST_ROWS]]
    lines += ["", *in_columns(HEADS, rows[:-1], rows[-1])[:-2], in_columns(HEADS, rows[:-1], rows[-1])[-1]]
    if len(ranked) > MOST_ROWS:
        lines.append(f"... and {len(ranked) - MOST_ROWS} more; the report shows them all")
    moves = move_rows(dataset, sea)
    if moves:
        lines += ["", "Ways of backing off, fastest first:"]
        lines += [move_line(row) for row in moves]
    readings = display_rows(dataset, sea)
    if readings:
        lines += ["", *wrapped(trigger_words(dataset, sea))]
        lines += [reading_line(*row) for row in readings]
    return lines


def reading_line(name, mean, low, high):
    """What the display of one station shows."""
    return f"  {name}: mean {mean}, lowest {low}, highest {high}" if low else f"  {name}: {mean}"


def setting_cells(dataset, setting, sea):
    """One row of the settings table."""
    v = setting_values(dataset, setting, sea)
    chosen, _ = suggested(dataset, sea)
    return (
        f"{setting}{' suggested' if setting == chosen else ''}",
        f"{v['extension_percent']:.0f}",
        say.significant(number(dataset, "rake", setting) / DEGREE, 3),
        f"{v['ballast_shift_m']:+.1f}",
        f"{number(dataset, 'speed_set', setting, sea) / KNOT:.1f}",
        *(say.one_in(all_odds(dataset, setting, sea, side)[2], "risk") for side in ("reverse", "normal")),
        wear_cell(dataset, "damage_rate_worst", setting, sea),
        decision_words(dataset, setting, sea),
    )


def move_line(row):
    """One way of backing off."""
    change = row["speed_change"] / KNOT
    speed = f", {change:+.1f} kn" if abs(change) >= 0.05 else ""
    cannot = "" if row["possible"] else "; slow down first"
    return f"  {row['name']:<32}{row['takes']:<12} reverse rate {row['factor_words']}{speed}{cannot}"

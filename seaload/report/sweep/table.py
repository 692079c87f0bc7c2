"""The table of a sweep in plain characters: for each sea the suggestion, the settings, the moves, the
readings."""

from seaload.basis.units import KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import (
    bearing_words,
    decision_words,
    display_rows,
    exposure_words,
    factor_of,
    points_words,
    ranked_settings,
    readings_words,
    suggestion_sentences,
    time_words,
)
from seaload.report.shared.prescribed_words import motion_lines
from seaload.report.shared.result_reading import attribute, line, sea_words, setting_values
from seaload.report.shared.text_table import basis_part, in_columns, wear_cell, worst_cell, wrapped

MOST_ROWS = 12
HEADS = (
    ("", "setting"), ("", "out %"), ("rake", "deg"), ("ballast", "m"), ("", "kn"),
    ("worst", "1 in 20 %"), ("reverse", "at worst"), ("normal", "at worst"),
    ("full-load", "cycles/h"), ("", "to do"),
)  # fmt: skip


def sweep_table(dataset, answer):
    """Text of the whole table."""
    study, boat, foil = (line(attribute(dataset, name)) for name in ("study", "boat", "foil"))
    parts = ["\n".join(wrapped(f"{study}: {boat}, {foil} foil, {dataset.sizes['setting']} settings"))]
    parts += ["\n".join(sea_lines(dataset, answer, sea)) for sea in range(dataset.sizes["sea"])]
    basis = say.limit_words(attribute(dataset, "limit_basis"))
    interval = (
        "Odds are all told: forecast, model and strengths are drawn once an exposure; at worst is the upper end of "
        "the 90 % interval from a limited sample of waves. Worst: the load that 1 exposure in 20 passes, reverse (-) "
        "and normal (+), in % of its limit."
    )
    undecided = (
        "Keep: within your risk limit, also at worst; watch: within by the best estimate alone; back off: past it. "
        "(40 h): can't tell yet, 40 simulated hours in all would decide it; (too close): no amount would."
    )
    parts.append("\n".join(wrapped(f"{basis} {interval} Odds are for {exposure_words(answer)}. {undecided}")))
    parts += ["\n".join(lines)] if (lines := motion_lines(answer)) else []
    parts.append(basis_part(dataset))
    return "\n\n".join(parts)


def sea_lines(dataset, answer, sea):
    """Lines of one sea."""
    lines = [*wrapped(f"SEA  {sea_words(dataset, sea)}"), *wrapped(suggestion_sentences(dataset, answer, sea))]
    bearing = bearing_words(answer, sea)
    lines += wrapped(bearing) if bearing else []
    ranked = ranked_settings(answer, sea)
    rows = [setting_cells(dataset, found, found.setting == answer.seas[sea].chosen) for found in ranked[:MOST_ROWS]]
    lines += ["", *in_columns(HEADS, rows[:-1], rows[-1])[:-2], in_columns(HEADS, rows[:-1], rows[-1])[-1]]
    if len(ranked) > MOST_ROWS:
        lines.append(f"... and {len(ranked) - MOST_ROWS} more; the report shows them all")
    told = answer.seas[sea]
    if told.moves:
        lines += ["", "Ways of backing off, fastest first:", *map(move_line, told.moves)]
    if told.readings:
        lines += ["", *wrapped(readings_words(dataset, told))]
        lines += [reading_line(*row) for row in display_rows(dataset, told.readings)]
    return lines


def reading_line(name, mean, low, high):
    """What the display of one station shows."""
    return f"  {name}: mean {mean}, lowest {low}, highest {high}" if low else f"  {name}: {mean}"


def setting_cells(dataset, found, suggested):
    """One row of the settings table."""
    v = setting_values(dataset, found.setting, found.sea)
    return (
        f"{found.setting}{' suggested' if suggested else ''}",
        f"{v['extension_percent']:.0f}",
        say.significant(v["rake_deg"], 3),
        f"{v['ballast_shift_m']:+.1f}",
        f"{v['speed_knots']:.1f}",
        worst_cell(found),
        *(say.one_in(found.odds[side].deciding.high, "risk") for side in ("reverse", "normal")),
        wear_cell(found.wear),
        short_decision(found),
    )


def short_decision(found):
    """The word to act on of a `SettingAnswer` for a narrow column: "keep", "watch (5 h)", "not shown within"."""
    decided = decision_words(found)
    if found.act is None:
        return decided.replace("shown to be", "shown").removesuffix(" the limits")
    return found.act.lower() + decided.removeprefix("can't tell") * (found.decision == "undecided")


def move_line(found):
    """One way of backing off: the margin first, then the rate."""
    change = found.speed_change / KNOT
    speed = f", {change:+.1f} kn" if abs(change) >= 0.05 else ""
    cannot = "" if found.possible else "; slow down first"
    points = points_words(found.worst_change["reverse"]) if found.valid else ""
    told = f"{points}, rate {factor_of(found)}" if points else f"reverse rate {factor_of(found)}"
    line_ = f"  {found.move.words:<32}{time_words(found.move.time):<12} {told}{speed}{cannot}"
    return "\n".join(wrapped(line_, " " * 47)) if len(line_) > 100 else line_

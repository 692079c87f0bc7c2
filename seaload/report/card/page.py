"""The settings card: one A4 page to laminate, large type, black on white; short sentences, one number at a
time."""

import math
import textwrap

from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import (
    exposure_words,
    known,
    often_words,
    past_words,
    reading_words,
    share_words,
)
from seaload.report.shared.figure_style import plain
from seaload.report.shared.result_reading import angle_deg, attribute, line, number, sea_name, setting_values

LEFT_END = 0.54
PAPER = (8.27, 11.69)  # [in] A4
LEFT, MIDDLE, RIGHT = 0.07, 0.56, 0.93
SEAS_A_PAGE = 4
NAMED_FROM = 0.8  # [-] of the full type: with more seas a sea is told by its numbers alone
FOOT = 0.085  # of the page, kept for the lines at its foot
WIDEST = 10.0  # [-] between the least and the most that a move does in the seas of a page, to be said as a range
SMALLEST = 9.0  # [points] type on the card
CLASSES = (("Seconds", 59.0), ("A minute or two", 150.0), ("Ten minutes", math.inf))
CAUTION_LINES = ("A model, not a warrant.", "Designer's limits and the skipper's judgement rule.")
STYLE = {"font.family": ["DejaVu Sans"], "pdf.fonttype": 42, "text.color": "black"}


def save_card(dataset, answer, path):
    """Writes the card as PDF: one page for up to SEAS_A_PAGE seas, further pages for more; gives the path."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import PdfPages

    seas = list(range(dataset.sizes["sea"]))
    each = math.ceil(len(seas) / math.ceil(len(seas) / SEAS_A_PAGE))
    groups = [seas[i : i + each] for i in range(0, len(seas), each)]
    with mpl.rc_context(STYLE), PdfPages(path, metadata={"CreationDate": None, "ModDate": None}) as pages:
        for number_, group in enumerate(groups, start=1):
            pages.savefig(card_page(dataset, answer, group, number_, len(groups)))
    return path


def card_page(dataset, answer, seas, page, pages):
    """One page of the card as a figure."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=PAPER, facecolor="white")
    write = Writer(figure)
    more = f"  {page}/{pages}" if pages > 1 else ""
    write.line(f"SETTINGS CARD{more}", 22, weight="bold")
    write.line(f"{line(attribute(dataset, 'study'), 40)}: {line(attribute(dataset, 'boat'), 30)}, "
               f"{line(attribute(dataset, 'foil'))} foil", 12)  # fmt: skip
    if "reverse" in answer.accepted:
        odds = say.one_in(answer.accepted["reverse"])
        write.line(f"Your risk limit, reverse load: {odds} in {exposure_words(answer)}.", 12)
    scale = min(1.2, 3.9 / len(seas))
    for sea in seas:
        write.rule()
        sea_block(write, dataset, answer, sea, scale)
    write.rule()
    moves_block(write, answer, seas)
    write.bottom(CAUTION_LINES)
    return figure


class Writer:
    """Lines of type from the top of a page downward."""

    def __init__(self, figure):
        self.figure, self.y = figure, 0.955

    def line(self, text, size, *, weight="normal", x=LEFT, gap=1.42, columns=None, until=None):
        """One line, or several when wider than the page; with `until` in type small enough to fit."""
        each = 0.70 if weight == "bold" else 0.615  # mean width of a letter over its size
        if until is not None:
            size = min(size, (until - x) * PAPER[0] * 72.0 / (each * max(len(text), 1)))
        width = columns or int(((until or RIGHT) - x) * PAPER[0] * 72.0 / (each * size)) + 1
        for part in textwrap.wrap(text, width) or [""]:
            self.figure.text(x, self.y, plain(part), fontsize=size, fontweight=weight, va="top", ha="left")
            self.y -= gap * size / (PAPER[1] * 72.0)

    def rule(self):
        """A thick line across the page."""
        from matplotlib.lines import Line2D

        self.y -= 0.004
        self.figure.add_artist(Line2D([LEFT, RIGHT], [self.y, self.y], color="black", linewidth=1.6))
        self.y -= 0.010

    def bottom(self, lines):
        """Small lines at the foot of the page."""
        for i, text in enumerate(reversed(lines)):
            self.figure.text(LEFT, 0.03 + 0.017 * i, text, fontsize=10, va="bottom", ha="left")


def sea_block(write, dataset, answer, sea, scale):
    """One sea in a row: left what it is and the setting, right the odds and when to act."""
    told = answer.seas[sea]
    chosen = told.chosen
    setting = chosen if chosen is not None else told.closest
    top = write.y
    head = (
        f"Hs {number(dataset, 'sea_hs', sea=sea):.1f} m, {say.significant(number(dataset, 'sea_tp', sea=sea))} s, "
        f"{angle_deg(dataset, sea):.0f}° from the bow"
    )
    write.line(head, 14 * scale, weight="bold", until=LEFT_END)
    if scale > NAMED_FROM:
        write.line(sea_name(dataset, sea), max(9.5 * scale + 1.0, SMALLEST), until=LEFT_END)
    if setting is None:
        write.line("No setting can be suggested.", 20 * scale, weight="bold", until=RIGHT)
        return
    v = setting_values(dataset, setting, sea)
    write.line(f"{v['extension_percent']:.0f} % out", 28 * scale, weight="bold", gap=1.25, until=LEFT_END)
    write.line(f"rake {say.significant(v['rake_deg'])}°   {v['speed_knots']:.1f} kn", 22 * scale, weight="bold")
    write.line(
        f"heel {v['heel_deg']:.0f}°   keel {v['cant_deg']:.0f}°   {say.ballast_words(v['ballast_shift_m'])}",
        max(12 * scale, SMALLEST),
    )
    lowest, write.y = write.y, top
    if chosen is None:
        write.line("NO SETTING PASSES; closest:", 13 * scale, weight="bold", x=MIDDLE, until=RIGHT)
    odds = answer.settings[setting, sea].odds["reverse"].deciding
    said = "none seen" if odds.best == 0.0 else say.one_in(odds.best)
    write.line(f"Reverse odds, {exposure_words(answer)}", max(12 * scale, SMALLEST), x=MIDDLE, until=RIGHT)
    write.line(said, 22 * scale, weight="bold", x=MIDDLE, until=RIGHT, gap=1.3)
    write.line(f"At worst {say.one_in(odds.high, 'risk')}.", 13 * scale, x=MIDDLE, until=RIGHT)
    worst = answer.settings[setting, sea].worst["reverse"]
    if known(worst.one_in_twenty):
        write.line(f"Worst {share_words(worst)}", max(11 * scale, SMALLEST), x=MIDDLE, until=RIGHT)
    if told.trigger is not None:
        act = f"BACK OFF: gauge {told.trigger.station} {past_words(told.trigger)}"
        reading = f"{reading_words(dataset, told.trigger.threshold)} {often_words(told.trigger)}"
        write.line(act, 13.5 * scale, weight="bold", x=MIDDLE, until=RIGHT)
        write.line(reading, 16 * scale, weight="bold", x=MIDDLE, until=RIGHT)
    write.y = min(lowest, write.y)


def moves_block(write, answer, seas):
    """The moves in three columns by how long they take, and what each does to the rate of reverse events."""
    found = moves_of([answer.seas[sea] for sea in seas])
    if not found:
        return
    columns, before = [], 0.0
    for head, most in CLASSES:
        columns.append((head, [line for row in found if before < row["seconds"] <= most for line in move_lines(row)]))
        before = most
    room = (write.y - FOOT) * PAPER[1] * 72.0 - 1.42 * 12.5
    size = min(16.0, *(room / (2.0 + sum(gap for _, gap in lines)) for _, lines in columns))
    told = any(row["points"] for row in found)
    head = "worst reverse load, points of its limit" if told else "reverse rate after them (1 = now), or odds"
    write.line(f"MOVES: {head}", 12.5, weight="bold")
    top, width = write.y, (RIGHT - LEFT) / len(CLASSES)
    for i, (head, lines) in enumerate(columns):
        write.y = top
        x = LEFT + i * width
        write.line(head, size * 1.1, weight="bold", x=x, until=x + 0.95 * width)
        for text, gap in lines:
            write.line(text, size, x=x, until=x + 0.95 * width, gap=gap)


def move_lines(row):
    """[(line, gap after it)] of one move: its name, what it does, what it needs."""
    lines = [(row["name"], 1.2), ("   " + move_words_of(row), 1.5)]
    if not row["possible"]:
        lines[-1] = lines[-1][0], 1.2
        lines.append(("   slow down first", 1.5))
    return lines


def move_words_of(row):
    """What a move does, over all seas of the card: to the worst load; else small odds, a factor, or the most the odds
    can be after it.
    """
    if row["points"]:
        return points_range(row["points"])
    if row["small"]:
        return "odds small"
    if row["factors"] or not math.isfinite(row["most"]):
        return factor_range(row["factors"])
    return "not known" if row["most"] > say.CERTAIN else f"at worst {say.one_in(row['most'], 'risk')}"


def moves_of(told):
    """Moves of several `SeaAnswer`s put together, fastest first; possible only where possible in all."""
    found = {}
    for move in (move for sea in told for move in sea.moves):
        new = {"name": move.move.words, "seconds": move.move.time, "possible": True, "factors": [], "small": True,
               "most": 0.0, "points": []}  # fmt: skip
        row = found.setdefault(move.move.name, new)
        small = move.odds_after < say.NEVER_SEEN
        if move.valid and math.isfinite(move.factor) and not small:
            row["factors"].append(move.factor)
        row["small"], row["possible"] = row["small"] and small, row["possible"] and move.possible
        row["most"] = max(row["most"], move.odds_after)
        change = move.worst_change["reverse"]
        if move.valid and change is not None and math.isfinite(change.best):
            row["points"].append(100.0 * change.best)
    return sorted(found.values(), key=lambda row: (row["seconds"], row["name"]))


def points_range(points):
    """ "12 less", "3 to 12 less", "5 less to 4 MORE": points of the limit over the seas of a page."""
    low, high = round(min(points)), round(max(points))
    if low == high:
        return "as now" if low == 0 else f"{abs(low)} {'less' if low < 0 else 'MORE'}"
    if high <= 0 or low >= 0:
        ends = sorted((abs(low), abs(high)))
        return f"{ends[0]} to {ends[1]} {'less' if high <= 0 else 'MORE'}"
    return f"{-low} less to {high} MORE"


def factor_range(factors):
    """ "x 0.4", "x 0.3 to 0.5", or that it leaves the validity."""
    if not factors:
        return "not known"
    low, high = min(factors), max(factors)
    if high > WIDEST * low:
        return "differs from sea to sea"
    first, last = (
        f"{'under 0.01' if f < 0.01 else 'over 100' if f > 100 else say.significant(f)}" for f in (low, high)
    )
    return f"× {first}" if first == last else f"× {first} to {last}"

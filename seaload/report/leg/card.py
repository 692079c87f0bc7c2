"""The card of a leg: a landscape A4 for each watch to laminate, black on white: what to set when, when to leave it."""

import textwrap

from seaload.basis.cautions import NOT_MODELLED
from seaload.report.leg import gauge_words as gauge
from seaload.report.leg import reading as read
from seaload.report.leg import words
from seaload.report.leg.table import fixed_words
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import plain
from seaload.report.shared.result_reading import attribute, line, number

PAPER = (11.69, 8.27)  # [in] A4 on its side
LEFT, RIGHT, TOP, FOOT = 0.035, 0.965, 0.80, 0.13
WATCH = 4.0 * 3600.0  # [s]
ROWS_A_PAGE = 12
CAUTION = "A model, not a warrant. The designer's limits and the skipper's judgement rule."
STYLE = {"font.family": ["DejaVu Sans"], "pdf.fonttype": 42, "text.color": "black"}
COLUMNS = (  # (head, left end)
    ("UTC", 0.035), ("course", 0.165), ("Hs, Tp, off bow", 0.23), ("foil", 0.40), ("SET", 0.472),
    ("leave when the sea is", 0.73), ("odds", 0.925),
)  # fmt: skip


def save_leg_card(dataset, path):
    """Writes the card as PDF, a page for each watch of four hours; gives the path."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import PdfPages

    watches = list(watches_of(read.stretches(dataset)))
    with mpl.rc_context(STYLE), PdfPages(path, metadata={"CreationDate": None, "ModDate": None}) as pages:
        for page, rows in enumerate(watches, 1):
            pages.savefig(card_page(dataset, rows, page, len(watches)))
    return path


def watches_of(rows):
    """The stretches that each watch begins, in lists of ROWS_A_PAGE at most."""
    found = {}
    for row in rows:
        found.setdefault(int((row.start - rows[0].start) // WATCH), []).append(row)
    for some in found.values():
        for first in range(0, len(some), ROWS_A_PAGE):
            yield some[first : first + ROWS_A_PAGE]


def card_page(dataset, rows, page, pages):
    """One watch as a figure."""
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D

    figure = Figure(figsize=PAPER, facecolor="white")
    settings, readings = read.settings(dataset), gauge.readings(dataset)
    end = rows[-1].start + 60.0 * rows[-1].minutes
    write(figure, LEFT, 0.965, f"LEG CARD  {page}/{pages}", 17, fontweight="bold")
    span = f"{read.moment_words(rows[0].start)} to {read.moment_words(end)} UTC"
    write(figure, 0.31, 0.963, f"{line(attribute(dataset, 'study'), 40)}: {span}", 14, fontweight="bold")
    write(figure, LEFT, 0.918, head_words(dataset), 9)
    fixed = fixed_words(settings)
    write(figure, LEFT, 0.89, f"{fixed.capitalize()} throughout. " * bool(fixed) + "Thick: change the setting.", 10)
    for head, left in COLUMNS:
        write(figure, left, TOP + 0.035, head, 10, fontweight="bold")
    height = min((TOP - FOOT) / len(rows), 0.15)
    for k, row in enumerate(rows):
        y = TOP - k * height
        rule = {"color": "black", "linewidth": 2.6 if row.changed else 0.6}
        figure.add_artist(Line2D([LEFT, RIGHT], [y, y], **rule))
        reads = gauge.card_words(dataset, readings[row.number - 1]) if readings else ""
        cells(figure, row, settings, y - 0.5 * height, reads)
    y = TOP - len(rows) * height
    figure.add_artist(Line2D([LEFT, RIGHT], [y, y], color="black", linewidth=0.6))
    for k, part in enumerate(textwrap.wrap(f"Not modelled: {NOT_MODELLED}. {CAUTION}", 150)):
        write(figure, LEFT, 0.115 - 0.022 * k, part, 8)
    write(figure, LEFT, 0.06, "PENCIL  sea met, what the gauge read, what was changed:", 9)
    return figure


def head_words(dataset):
    """Whether the plan is suggested, and what it spends."""
    state = "SUGGESTED" if number(dataset, "suggested") > 0.5 else "NOT SUGGESTED"
    parts = [f"{name} {say.one_in(spent)} of {say.one_in(allowed)}" for name, (spent, allowed) in
             read.budgets(dataset).items() if "odds" in name]  # fmt: skip
    return f"{state}. Whole leg: {'; '.join(parts) or 'no budget of odds'}. Odds below: share of the reverse ones."


def cells(figure, row, settings, y, reads):
    """The cells of one stretch; `reads` : what a gauge reads there."""
    setting = settings[row.setting]
    slower = row.slower[0]
    leave = words.leave_words(row)
    texts = [
        (read.moment_words(row.start), 13, True), (f"{row.heading % 360.0:03.0f}°", 13, False),
        (f"{row.hs:.1f} m, {row.tp:.1f} s, {row.waves_from_bow:.0f}°", 12, False), (row.foil, 12, False),
        (read.setting_words(setting, ()), 13, True),
        (leave, 11, False), (f"{100.0 * row.share:.0f} %", 11, False),
    ]  # fmt: skip
    for (_, left), (words_, size, bold) in zip(COLUMNS, texts, strict=True):
        write(figure, left, y, words_, size, va="center", fontweight="bold" if bold else "normal")
    if reads:
        write(figure, COLUMNS[5][1], y + 0.02 if leave else y, reads, 8.5, va="center")
    if leave and slower >= 0:
        write(figure, COLUMNS[5][1], y - 0.02, f"then {read.setting_words(settings[slower], ())}", 8.5, va="center")


def write(figure, x, y, text, size, **more):
    """One line of type; x, y as shares of the page."""
    more = {"va": "top", "ha": "left", **more}
    return figure.text(x, y, plain(text), fontsize=size, **more)

"""The settings card: one landscape A4 a foil to laminate, black on white. Wave heights down, wave angles across."""

import io
import math
import textwrap

from seaload.basis.cautions import NOT_MODELLED
from seaload.report.card.grid import card_grid, fixed_axes
from seaload.report.card.ladder import LEGEND, LEGEND_OF_FACTOR, ladder, rung_words, unequal_words
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import (
    alarm_words,
    exposure_words,
    often_words,
    past_words,
    reading_words,
)
from seaload.report.shared.figure_style import plain
from seaload.report.shared.result_reading import attribute, line, sea_name
from seaload.report.shared.told_points import told_points
from seaload.report.shared.write_file import written

PAPER = (11.69, 8.27)  # [in] A4 on its side
LEFT, RIGHT = 0.035, 0.965
ROWS_A_PAGE, COLUMNS_A_PAGE = 5, 7
ROW_HEADS, TRIGGERS = 0.085, 0.215  # of the page's width
GRID_TOP, GRID_BOTTOM = 0.845, 0.37  # of its height
LARGEST, SMALLEST = 19.0, 8.5  # [points] type in the cells, on the card
NOTE = 9.0  # [points]
LETTER = 0.56  # mean width of a letter over its size
BORDERS = {"Keep": ("-", 2.6), "Watch": ((0, (4, 2)), 1.8), "Back off": ("-", 1.0), None: ((0, (1, 3)), 0.8)}
MOST_LETTERS = 150  # in a line
CAUTION = "A model, not a warrant. The designer's limits and the skipper's judgement rule."
STYLE = {"font.family": ["DejaVu Sans"], "pdf.fonttype": 42, "text.color": "black"}


def save_card(dataset, answer, path):
    """Writes the card as PDF: one page for up to ROWS_A_PAGE heights and COLUMNS_A_PAGE angles, further pages for more;
    gives the path."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import PdfPages

    grid, out = card_grid(dataset, answer), io.BytesIO()
    parts = [(rows, columns) for rows in split(len(grid.rows), ROWS_A_PAGE)
             for columns in split(len(grid.columns), COLUMNS_A_PAGE)]  # fmt: skip
    with mpl.rc_context(STYLE), PdfPages(out, metadata={"CreationDate": None, "ModDate": None}) as pages:
        for number, part in enumerate(parts, start=1):
            pages.savefig(card_page(dataset, answer, grid, *part, page=number, pages=len(parts)))
    return written(path, out.getvalue())


def split(count, most):
    """Ranges of nearly equal length that share out `count`, none longer than `most`."""
    each = math.ceil(count / math.ceil(count / most))
    return [range(i, min(i + each, count)) for i in range(0, count, each)]


def card_page(dataset, answer, grid, rows, columns, *, page=1, pages=1):
    """One page of the card, these rows and columns of its `Grid`, as a figure."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=PAPER, facecolor="white")
    head_block(figure, dataset, answer, f"  {page}/{pages}" if pages > 1 else "")
    grid_block(figure, dataset, answer, grid, rows, columns)
    shown = [answer.seas[grid.cells[key].sea] for key in sorted(grid.cells) if key[0] in rows and key[1] in columns]
    moves_block(figure, answer, shown)
    foot_block(figure)
    return figure


def write(figure, x, y, text, size, **more):
    """One line of type; x, y as shares of the page."""
    more = {"va": "top", "ha": "left", **more}
    return figure.text(x, y, plain(text), fontsize=size, **more)


def paragraph(figure, x, y, text, size, right, **more):
    """Lines of type from y down, as wide as the room up to `right`; gives the height after them."""
    columns = min(max(int((right - x) * PAPER[0] * 72.0 / (LETTER * size)), 8), MOST_LETTERS)
    for part in textwrap.wrap(text, columns):
        write(figure, x, y, part, size, **more)
        y -= 1.3 * size / (PAPER[1] * 72.0)
    return y


def head_block(figure, dataset, answer, more):
    """Title, foil, your risk limit, what is alike in all cells, and what the borders say."""
    study, boat, foil = (line(attribute(dataset, name), 40) for name in ("study", "boat", "foil"))
    write(figure, LEFT, 0.965, f"SETTINGS CARD{more}", 17, fontweight="bold")
    name = f"{study}: {boat}, {foil.upper()} FOIL"
    write(figure, 0.31, 0.961, name, min(13.0, fitting(RIGHT - 0.31, 1.25 * len(name))), fontweight="bold")
    odds = [f"{side} load {say.one_in(level)}" for side, level in answer.accepted.items()]
    risk = f"Your risk limit in {exposure_words(answer)}: {', '.join(odds)}. " if odds else ""
    fixed = fixed_axes(dataset)
    alike = [
        f"heel {fixed['heel_deg']:.0f}°" if "heel_deg" in fixed else "",
        f"keel {fixed['cant_deg']:.0f}°" if "cant_deg" in fixed else "",
        say.ballast_words(fixed["ballast_shift_m"]) if "ballast_shift_m" in fixed else "",
    ]
    same = ", ".join(part for part in alike if part)
    text = (
        f"{risk}{f'In every cell: {same}. ' if same else ''}A cell: foil out, rake, top speed, and the load that 1 in "
        f"20 spells of {exposure_words(answer)} passes, or the worst seen."
    )
    y = paragraph(figure, LEFT, 0.925, text, NOTE, RIGHT)
    borders = "Thick border: KEEP. Dashed: WATCH, cannot tell yet. Blank, thin: BACK OFF. Dotted: not shown."
    paragraph(figure, LEFT, y, borders, NOTE, RIGHT)


def grid_block(figure, dataset, answer, grid, rows, columns):
    """The cells, one size of type in all of them, with the rows' readings at which to back off."""
    left, right = LEFT + ROW_HEADS, RIGHT - TRIGGERS
    width, height = (right - left) / len(columns), (GRID_TOP - 0.03 - GRID_BOTTOM) / len(rows)
    size = cell_size([grid.cells.get((i, j)) for i in rows for j in columns], width, height)
    for n, j in enumerate(columns):
        middle = left + (n + 0.5) * width
        write(figure, middle, GRID_TOP, f"{grid.columns[j]}°", 13, ha="center", fontweight="bold")
    write(figure, LEFT, GRID_TOP, "off the bow:", NOTE, fontweight="bold")
    write(figure, right + 0.012, GRID_TOP, "Back off when", NOTE + 1.0, fontweight="bold")
    for m, i in enumerate(rows):
        top = GRID_TOP - 0.03 - m * height
        hs, tp, again = grid.rows[i]
        write(figure, LEFT, top - 0.25 * height, f"Hs {hs:.1f} m", 13, fontweight="bold")
        write(figure, LEFT, top - 0.25 * height - 0.03, f"{tp:.1f} s", 11)
        if again:
            cell = next(grid.cells[i, j] for j in columns if (i, j) in grid.cells)
            write(figure, LEFT, top - 0.25 * height - 0.055, sea_name(dataset, cell.sea)[:14], SMALLEST)
        for n, j in enumerate(columns):
            draw_cell(figure, grid.cells.get((i, j)), (left + n * width, top - height, width, height), size)
        there = [(grid.columns[j], grid.cells[i, j]) for j in columns if (i, j) in grid.cells]
        trigger_block(figure, dataset, answer, there, (right + 0.012, top), height)


def fitting(width, letters):
    """Size of type [points] in which so many letters fit a width, a share of the page's."""
    return width * PAPER[0] * 72.0 / (LETTER * letters)


def cell_size(cells, width, height):
    """The one size of type of all cells [points]: the largest that the fullest of them bears."""
    lines = [cell.lines for cell in cells if cell is not None and cell.lines]
    if not lines:
        return LARGEST
    longest, most = max(len(text) for cell in lines for text in cell), max(len(cell) for cell in lines)
    return max(min(LARGEST, fitting(0.94 * width, longest), 0.88 * height * PAPER[1] * 72.0 / (1.25 * most)), SMALLEST)


def draw_cell(figure, cell, box, size):
    """One cell: its border says what to do, its lines how to set the foil."""
    from matplotlib.patches import Rectangle

    x, y, width, height = box
    gap = 0.004
    stroke, thick = BORDERS[cell.act if cell else None]
    figure.add_artist(Rectangle((x + gap, y + gap), width - 2 * gap, height - 2 * gap, fill=False, edgecolor="black",
                                linestyle=stroke, linewidth=thick))  # fmt: skip
    if cell is None or not cell.lines:
        words = "" if cell is None else "back off" if cell.act == "Back off" else "not shown"
        write(figure, x + width / 2, y + height / 2, words, NOTE, ha="center", va="center")
        return
    step = 1.25 * size / (PAPER[1] * 72.0)
    top = y + height / 2 + step * (len(cell.lines) - 1) / 2
    for k, text in enumerate(cell.lines):
        write(figure, x + width / 2, top - k * step, text, size, ha="center", va="center")


def trigger_block(figure, dataset, answer, cells, corner, height):
    """The reading of a row at which to back off, with its miss rate; one for all angles where they agree."""
    said = {}
    for angle, cell in cells:
        said.setdefault(trigger_line(dataset, answer.seas[cell.sea].trigger), []).append(angle)
    x, y = corner
    texts = [words if len(said) == 1 else f"{', '.join(f'{a}°' for a in angles)}: {words}"
             for words, angles in said.items()]  # fmt: skip
    letters = sum(map(len, texts)) + 8 * len(texts)
    room = (RIGHT - x) * PAPER[0] * height * 0.95 * PAPER[1] * 72.0**2
    size = max(min(NOTE + 2.0, math.sqrt(room / (LETTER * 1.45 * letters))), 7.5)
    y -= 0.008
    for text in texts:
        y = paragraph(figure, x, y, text, size, RIGHT)


def trigger_line(dataset, trigger):
    """A `Trigger` for a row: "gauge 3 below -12 % 2 times in 20 minutes; missed 1 in 3"."""
    if trigger is None:
        return "no reading tells in time"
    return (
        f"gauge {trigger.station} {past_words(trigger)} {reading_words(dataset, trigger.threshold)}, "
        f"{often_words(trigger)}; missed {alarm_words(trigger.missed_alarm)}"
    )


def moves_block(figure, answer, seas):
    """The ladder of moves that help, fastest first, and one line of those that make it worse."""
    rungs = ladder(seas, told_points(answer))
    if not rungs:
        return
    points = any(c is not None for sea in seas for m in sea.moves for c in m.worst_change.values())
    write(figure, LEFT, GRID_BOTTOM - 0.012, "MOVES THAT HELP, fastest first", NOTE + 2.0, fontweight="bold")
    write(figure, 0.36, GRID_BOTTOM - 0.012, LEGEND if points else LEGEND_OF_FACTOR, NOTE)
    helping = [rung_words(each) for each in rungs if each.arrows] or ["None of those tried helps in every sea shown."]
    top, each = GRID_BOTTOM - 0.048, math.ceil(len(helping) / 2)
    size = min(12.0, 0.125 * PAPER[1] * 72.0 / (1.35 * each), fitting(0.46, max(map(len, helping))))
    for k, text in enumerate(helping):
        column, row = divmod(k, each)
        y = top - row * 1.35 * size / (PAPER[1] * 72.0)
        write(figure, LEFT + column * 0.475, y, text, max(size, 7.5))
    y = top - each * 1.35 * size / (PAPER[1] * 72.0) - 0.006
    for text in filter(None, unequal_words(rungs)):
        y = paragraph(figure, LEFT, y, text, NOTE, RIGHT)


def foot_block(figure):
    """What is not modelled, and room for a pencil."""
    from matplotlib.lines import Line2D

    figure.add_artist(Line2D([LEFT, RIGHT], [0.128, 0.128], color="black", linewidth=0.8))
    y = paragraph(figure, LEFT, 0.12, f"Not modelled: {NOT_MODELLED}. {CAUTION}", 8.0, RIGHT)
    write(figure, LEFT, y - 0.008, "PENCIL  date, sails, tanks, what the gauge read, what was felt:", NOTE)
    for height in (0.028, 0.052):
        if height < y - 0.03:
            stroke = {"color": "black", "linewidth": 0.5, "linestyle": (0, (1, 3))}
            figure.add_artist(Line2D([LEFT, RIGHT], [height, height], **stroke))

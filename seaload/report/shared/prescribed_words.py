"""Prescribed motions on table and page: what each did to the foil, in words and cells. Beside the waves, in no odds."""

from seaload.basis.units import PERCENT, TONNE_FORCE
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_layout import trusted
from seaload.report.shared.prescribed_figure import motion_figure
from seaload.report.shared.result_reading import line
from seaload.report.shared.text_table import in_columns, wrapped

TITLE = "Prescribed motions"
NOTE = (
    "Written in the study and led through flat water from the calm trim, beside the waves: no odds, rates or wear hold "
    "them. Highest share of the normal limit (up) and of the reverse limit (down) at any place outside the hull, when, "
    "and where in the material from the root. Not modelled: spray and air drawn down by the hull, and what the boat "
    "would make of these loads. No trim: the setting has no balance in calm water to start from."
)
HEADS = (
    ("", "motion"), ("up %", "of limit"), ("at", "s"), ("place", "m"), ("down %", "of limit"), ("at", "s"),
    ("place", "m"), ("past a", "limit, s"), ("line", "t"),
)  # fmt: skip
PAGE_HEADS = (
    "Motion", "Foil", "Up, % of the normal limit", "at, s", "place, m", "Down, % of the reverse limit", "at, s",
    "place, m", "Past a limit, s", "Hold-down line, t",
)  # fmt: skip
NO_TRIM = "no trim"  # in calm water that the motion could start from
NAME_SHOWN = 30  # characters of a motion's name in a row


def shown_seas(answer):
    """Numbers of the seas whose motions differ from those of the seas before them: flat water has no sea."""
    seen, shown = [], []
    for found in answer.seas:
        if found.prescribed and found.prescribed not in seen:
            seen.append(found.prescribed)
            shown.append(found.sea)
    return shown


def motion_cells(motion):
    """Cells of one motion: name, then numbers; the last ones empty where there was no calm trim."""
    if motion.share is None:
        return (line(motion.name, NAME_SHOWN), NO_TRIM, *("",) * 7)
    cells = [line(motion.name, NAME_SHOWN)]
    for side in ("normal", "reverse"):
        if motion.time[side] is None:
            cells += ["never", "", ""]
        else:
            cells += [
                f"{motion.share[side] / PERCENT:.0f}", f"{motion.time[side]:.1f}", f"{motion.material[side]:.1f}"
            ]  # fmt: skip
    beyond = sum(motion.beyond.values())
    return (*cells, say.significant(beyond) if beyond > 0.0 else "never", f"{motion.hold_down / TONNE_FORCE:.1f}")


def motion_lines(answer):
    """Lines of the block on the terminal; none for a study without motions."""
    lines = []
    for sea in shown_seas(answer):
        rows = [motion_cells(motion) for motion in answer.seas[sea].prescribed]
        table = in_columns(HEADS, rows[:-1], rows[-1])
        several = f", sea {sea + 1}" if len(shown_seas(answer)) > 1 else ""
        lines += [f"{TITLE.upper()} (flat water, beside the odds{several})", *table[:-2], table[-1]]
    return [*lines, *wrapped(NOTE)] if lines else []


def motion_blocks(dataset, answer):
    """Blocks of the page: a table and a figure of each motion; none for a study without motions."""
    blocks = []
    for sea in shown_seas(answer):
        motions = answer.seas[sea].prescribed
        rows = [(cells[0], line(motion.foil, 20), *cells[1:])
                for cells, motion in ((motion_cells(motion), motion) for motion in motions)]  # fmt: skip
        caption = TITLE if len(shown_seas(answer)) == 1 else f"{TITLE}, from the setting of sea {sea + 1}"
        blocks.append({"what": "table", "caption": caption, "heads": PAGE_HEADS, "rows": rows, "plain": False})
        blocks.append({"what": "text", "kind": "note", "text": NOTE})
        for number, motion in enumerate(motions):
            if motion.share is None:
                continue
            figure, words = motion_figure(dataset, sea, number)
            blocks.append({"what": "subhead", "text": line(motion.name, 60)})
            if motion.note:
                blocks.append({"what": "text", "kind": "", "text": line(motion.note, 300)})
            svg = trusted(inline_svg(figure, f"motion-{sea + 1}-{number + 1}", words))
            blocks.append({"what": "figure", "svg": svg, "caption": words})
    return blocks

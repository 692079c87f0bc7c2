"""All pages of a sweep: report, settings card, risk board, figures."""

from seaload.basis.errors import CannotRun
from seaload.report.board import board_page, levels
from seaload.report.card import save_card
from seaload.report.sweep_drawings import save_sweep_figures
from seaload.report.sweep_page import sweep_page

LARGEST_BOARD = 6_000_000  # [bytes]


def write_sweep_pages(dataset, folder):
    """report.html, card.pdf, board.html and the figures; gives the paths written."""
    from seaload.report.write_pages import written

    accepted = {level["side"]: level["odds"] for level in levels(dataset)}
    board = board_page(dataset)
    if len(board.encode()) > LARGEST_BOARD:
        board = board_page(dataset, along_the_foil=False)
    if len(board.encode()) > LARGEST_BOARD:
        raise CannotRun(
            f"{folder / 'board.html'}: {len(board) / 1e6:.1f} MB is over the 6 MB a board may have: split the study"
        )
    return [
        written(folder / "report.html", sweep_page(dataset, accepted)),
        save_card(dataset, folder / "card.pdf", accepted),
        written(folder / "board.html", board),
        *save_sweep_figures(dataset, folder, accepted),
    ]

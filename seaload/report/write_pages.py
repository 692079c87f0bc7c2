"""`seaload report`: from a saved result to its pages."""

from pathlib import Path

from seaload.basis.errors import CannotRun
from seaload.files.result_file import read_result
from seaload.report.shared.accepted_levels import levels
from seaload.report.shared.result_reading import attribute, open_result
from seaload.report.shared.write_file import written

LARGEST_BOARD = 6_000_000  # [bytes]


def report_result(path, out=None):
    """Writes the pages of the result at `path` beside it, or into folder `out`; gives the list of paths
    written.

    A run becomes report.html and its figures; a sweep also the settings card and the risk board. InputError
    for a file that is no result, CannotRun when the folder refuses.
    """
    path = Path(path)
    dataset = read_result(path)
    if attribute(dataset, "kind") != "log":
        dataset = open_result(path)
    folder = Path(out) if out is not None else path.parent
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if attribute(dataset, "kind") == "log":
            return write_log_pages(dataset, folder)
        if attribute(dataset, "kind") == "sweep":
            return write_sweep_pages(dataset, folder)
        return write_run_pages(dataset, folder)
    except OSError as error:
        raise CannotRun(f"{folder}: cannot be written to: {error.strerror or error}") from None


write_pages = report_result


def write_log_pages(dataset, folder):
    """report.html of a log."""
    from seaload.report.log.page import log_page

    return [written(folder / "report.html", log_page(dataset))]


def write_run_pages(dataset, folder):
    """report.html and the figures of a run."""
    from seaload.report.run.drawings import save_run_figures
    from seaload.report.run.page import run_page

    return [written(folder / "report.html", run_page(dataset)), *save_run_figures(dataset, folder)]


def write_sweep_pages(dataset, folder):
    """report.html, card.pdf, board.html and the figures; gives the paths written."""
    from seaload.report.board.page import board_page
    from seaload.report.card.page import save_card
    from seaload.report.sweep.drawings import save_sweep_figures
    from seaload.report.sweep.page import sweep_page

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

"""`seaload report`: from a saved result to its pages."""

from pathlib import Path

from seaload.basis.errors import CannotRun, InputError
from seaload.files.result_file import read_result
from seaload.report.read_answer import read_answer
from seaload.report.shared.result_reading import attribute, check_result
from seaload.report.shared.write_file import written

KINDS = ("run", "sweep", "log", "boat", "leg", "size")
OWN = ("log", "boat", "leg", "size")  # kinds that hold no odds of settings in seas
LARGEST_BOARD = 6_000_000  # [bytes]


def report_result(path, out=None):
    """Writes the pages of the result at `path` beside it, or into folder `out`; gives the list of paths
    written.

    A run becomes report.html and its figures; a sweep also the settings card and the risk board. InputError
    for a file that is no result, CannotRun when the folder refuses.
    """
    path = Path(path)
    dataset = read_result(path)
    kind = attribute(dataset, "kind")
    folder = Path(out) if out is not None else path.parent
    writers = {
        "log": write_log_pages, "boat": write_boat_pages, "sweep": write_sweep_pages, "leg": write_leg_pages,
        "size": write_size_pages,
    }  # fmt: skip
    if kind not in KINDS:
        raise InputError(path.name, "kind", kind[:40], f"no pages are known for it; known are {', '.join(KINDS)}")
    if kind not in OWN:
        check_result(dataset, path)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return writers.get(kind, write_run_pages)(dataset, folder)
    except OSError as error:
        raise CannotRun(f"{folder}: cannot be written to: {error.strerror or error}") from None
    except (LookupError, ValueError, TypeError, AttributeError, ArithmeticError) as error:
        if isinstance(error, InputError):
            raise
        why = " ".join(f"{type(error).__name__}: {error}".split())[:100]
        said = f"holds what no page can be made of ({why}): damaged, or made by another version; --verbose shows where"
        raise InputError(path.name, "RESULT", path.name, said) from error


def write_log_pages(dataset, folder):
    """report.html of a log."""
    from seaload.report.log.page import log_page

    return [written(folder / "report.html", log_page(dataset))]


def write_boat_pages(dataset, folder):
    """boat.html of a boat file."""
    from seaload.report.boat.page import boat_page

    return [written(folder / "boat.html", boat_page(dataset))]


def write_size_pages(dataset, folder):
    """report.html of a sizing."""
    from seaload.report.size.page import size_page

    return [written(folder / "report.html", size_page(dataset))]


def write_leg_pages(dataset, folder):
    """leg.html, the card of every watch and the figure of a leg."""
    from seaload.report.leg.card import save_leg_card
    from seaload.report.leg.figures import save_leg_figures
    from seaload.report.leg.page import leg_page

    page = written(folder / "leg.html", leg_page(dataset))
    return [page, save_leg_card(dataset, folder / "card.pdf"), *save_leg_figures(dataset, folder)]


def write_run_pages(dataset, folder):
    """report.html and the figures of a run."""
    from seaload.report.run.drawings import save_run_figures
    from seaload.report.run.page import run_page

    page = run_page(dataset, read_answer(dataset))
    return [written(folder / "report.html", page), *save_run_figures(dataset, folder)]


def write_sweep_pages(dataset, folder):
    """report.html, card.pdf, board.html and the figures; gives the paths written."""
    from seaload.report.board.page import board_page
    from seaload.report.card.page import save_card
    from seaload.report.sweep.drawings import save_sweep_figures
    from seaload.report.sweep.page import sweep_page

    answer = read_answer(dataset)
    board = board_page(dataset, answer)
    if len(board.encode()) > LARGEST_BOARD:
        board = board_page(dataset, answer, along_the_foil=False)
    if len(board.encode()) > LARGEST_BOARD:
        raise CannotRun(
            f"{folder / 'board.html'}: {len(board) / 1e6:.1f} MB is over the 6 MB a board may have: split the study"
        )
    return [
        written(folder / "report.html", sweep_page(dataset, answer)),
        save_card(dataset, answer, folder / "card.pdf"),
        written(folder / "board.html", board),
        *save_sweep_figures(dataset, answer, folder),
    ]

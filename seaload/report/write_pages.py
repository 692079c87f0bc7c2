"""`seaload report`: from a saved result to its pages."""

from pathlib import Path

from seaload.basis.errors import CannotRun
from seaload.report.result_reading import attribute, open_result


def report_result(path, out=None):
    """Writes the pages of the result at `path` beside it, or into folder `out`; gives the list of paths
    written.

    A run becomes report.html and its figures; a sweep also the settings card and the risk board. InputError
    for a file that is no result, CannotRun when the folder refuses.
    """
    path = Path(path)
    dataset = open_result(path)
    folder = Path(out) if out is not None else path.parent
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if attribute(dataset, "kind") == "sweep":
            from seaload.report.sweep_pages import write_sweep_pages

            return write_sweep_pages(dataset, folder)
        return write_run_pages(dataset, folder)
    except OSError as error:
        raise CannotRun(f"{folder}: cannot be written to: {error.strerror or error}") from None


write_pages = report_result


def write_run_pages(dataset, folder):
    """report.html and the figures of a run."""
    from seaload.report.run_drawings import save_run_figures
    from seaload.report.run_page import run_page

    return [written(folder / "report.html", run_page(dataset)), *save_run_figures(dataset, folder)]


def written(path, text):
    """Writes a page whole or not at all; gives its path."""
    part = path.with_name(f".{path.name}.part")
    part.write_text(text, encoding="utf-8")
    part.replace(path)
    return path

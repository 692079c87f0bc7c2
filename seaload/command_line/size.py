"""`seaload size`: a foil for a season: limits, loads, spectra, and the page that tells them."""

import sys
import time

from seaload.basis.cautions import CAUTIONS


def size_command(path, how, *, yes):
    """Load, simulate, size and tell; gives the exit code, 1 when cases of the usage or a situation failed."""
    began = time.perf_counter()
    from seaload.command_line.summary import as_json, summary
    from seaload.command_line.work import printable, ready, unless_broken, watched
    from seaload.studies.size.load_size import load_size
    from seaload.studies.size.size import size_study

    sized = load_size(path, seed=how.seed, allow_large=yes)
    ready(sized.study, how)
    outcome = watched(lambda _, **options: size_study(sized, **options), sized.study, how)
    code = 1 if outcome.failed else 0
    from seaload.report.size.table import answer_tree, size_table
    from seaload.report.write_pages import write_size_pages

    pages, broken = unless_broken(lambda: write_size_pages(outcome.dataset, outcome.result_path.parent))
    missing = [*outcome.missing, *([f"the page beside the result ({broken})"] if broken else [])]
    for failed in outcome.failed:
        print(f"failed: {failed}", file=sys.stderr)
    for what in missing:
        print(f"missing: {printable(what)}", file=sys.stderr)
    if how.json:
        answers, wall = {"settings": [], "size": answer_tree(outcome.dataset)}, time.perf_counter() - began
        told = summary("size", outcome, answers, missing=missing, exit_code=code, wall_s=wall)
        print(as_json({**told, "page": str(pages[0]) if pages else None}))
        return code
    print(size_table(outcome.dataset))
    if not how.quiet:
        print()
        print(*CAUTIONS)
        print(f"result: {outcome.result_path}, tables (CSV) beside it")
        if pages:
            print(f"page: {pages[0]}")
    return code

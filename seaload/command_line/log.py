"""`seaload log`: recorded loads into the ledger of their foil, and the page that tells it."""

import sys
import time

from seaload.basis.cautions import CAUTIONS


def log_command(log, files, *, out, json, quiet):
    """Read, judge, count and tell; gives the exit code, 1 when files had to be left out."""
    began = time.perf_counter()
    from seaload.command_line.summary import as_json, summary
    from seaload.command_line.work import printable, unless_broken
    from seaload.report.log.table import log_table
    from seaload.report.write_pages import write_log_pages
    from seaload.studies.log.read_log import log_files

    outcome = log_files(log, files, out=out)
    code = 1 if outcome.failed else 0
    pages, broken = unless_broken(lambda: write_log_pages(outcome.dataset, outcome.result_path.parent))
    page = pages[0] if pages else None
    missing = [f"the page beside the result ({broken})"] if broken else []
    for what in missing:
        print(f"missing: {printable(what)}", file=sys.stderr)
    for failed in outcome.failed:
        print(f"left out: {failed}", file=sys.stderr)
    if json:
        answers = {"settings": outcome.settings}
        wall = time.perf_counter() - began
        told = summary("log", outcome, answers, missing=missing, exit_code=code, wall_s=wall)
        print(as_json({**told, "page": str(page) if page else None}))
        return code
    print(log_table(outcome.dataset))
    if not quiet:
        print()
        print(*CAUTIONS)
        print(f"ledger: {outcome.result_path.parent.parent / 'ledger.sqlite'}")
        print(f"result: {outcome.result_path}")
        if page:
            print(f"page: {page}")
    return code

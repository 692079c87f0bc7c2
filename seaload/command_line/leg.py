"""`seaload leg`: a setting for every stretch of a leg, within a budget of odds and wear."""

import sys
import time

from seaload.basis.cautions import CAUTIONS


def leg_command(leg, how, march_missing=False):
    """Plan, check and tell; gives the exit code, 1 when the plan is not one to suggest."""
    began = time.perf_counter()
    from seaload.command_line.progress import drawn
    from seaload.command_line.summary import as_json, summary
    from seaload.command_line.work import printable, sayer, unless_broken
    from seaload.report.leg.table import leg_table
    from seaload.report.write_pages import write_leg_pages
    from seaload.sailing.executor import refuse_both
    from seaload.sailing.sail_cases import Account
    from seaload.studies.leg.plan_leg import leg_file

    refuse_both(how.workers, how.scheduler)
    with drawn(how.quiet) as progress:
        account = Account(progress, sayer(how.quiet))
        outcome = leg_file(leg, account=account, seed=how.seed, march_missing=march_missing, **how.sailing)
    code = 1 if outcome.failed else 0
    pages, broken = unless_broken(lambda: write_leg_pages(outcome.dataset, outcome.result_path.parent))
    missing = [f"the pages beside the result ({broken})"] if broken else []
    for what in missing:
        print(f"missing: {printable(what)}", file=sys.stderr)
    for failed in outcome.failed:
        print(f"failed: {failed}", file=sys.stderr)
    if how.json:
        wall = time.perf_counter() - began
        answers = {"settings": outcome.settings, "stretches": outcome.stretches, "leg": outcome.leg}
        told = summary("leg", outcome, answers, missing=missing, exit_code=code, wall_s=wall)
        print(as_json({**told, "pages": [str(page) for page in pages or []]}))
        return code
    print(leg_table(outcome.dataset))
    if not how.quiet:
        print()
        print(*CAUTIONS)
        print(f"result: {outcome.result_path}")
        if pages:
            print(f"pages beside it: {', '.join(page.name for page in pages)}")
    return code

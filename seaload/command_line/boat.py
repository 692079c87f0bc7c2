"""`seaload boat`: one page from a boat file, before anyone trusts it."""

import sys
import time

from seaload.basis.cautions import CAUTIONS


def boat_command(boat, *, foil, angles, out, json, quiet):
    """Look at the boat file, write result.nc and boat.html, tell the answer; gives the exit code.

    angles : {"rake_deg", "heel_deg", "cant_deg"} in place of the rig's reference setting, or None.
    """
    began = time.perf_counter()
    from seaload.command_line.summary import as_json, summary
    from seaload.command_line.work import prepare_folder, printable, sayer, unless_broken
    from seaload.report.boat.reading import findings
    from seaload.report.boat.table import boat_table
    from seaload.report.write_pages import write_boat_pages
    from seaload.studies.boat.check import FOLDER, check_boat
    from seaload.studies.boat.question import read_question

    question = read_question(boat, foil=foil, **angles)
    prepare_folder(out, FOLDER.format(question.name))
    outcome = check_boat(question, out=out, say=sayer(quiet))
    pages, broken = unless_broken(lambda: write_boat_pages(outcome.dataset, outcome.result_path.parent))
    page = pages[0] if pages else None
    missing = [f"the page beside the result ({broken})"] if broken else []
    for what in missing:
        print(f"missing: {printable(what)}", file=sys.stderr)
    if json:
        answers = {"settings": outcome.settings, "findings": findings(outcome.dataset)}
        answers["page"] = str(page) if page else None
        wall = time.perf_counter() - began
        print(as_json(summary("boat", outcome, answers, missing=missing, exit_code=0, wall_s=wall)))
        return 0
    print(boat_table(outcome.dataset))
    if not quiet:
        print()
        print(*CAUTIONS)
    print(f"result: {outcome.result_path}")
    if page:
        print(f"page: {page}")
    return 0

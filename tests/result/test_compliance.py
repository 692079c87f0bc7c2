"""Every kind of result before the community's checker of CF 1.11 and ACDD 1.3 (compliance-checker, by IOOS): no error
against CF, nothing that ACDD highly recommends left out but standard names that the CF table does not have.

Skipped where the checker is not installed (`pip install seaload[compliance]`): it brings 200 MB with it.
"""

import functools
import inspect
import json

import pytest

from tests.small_study import STUDIES

pytestmark = [pytest.mark.slow, pytest.mark.timeout(1800)]
pytest.importorskip("compliance_checker")
NO_NAME = "standard_name"  # given only where the CF table has one of the same meaning, see basis/vocabulary.py
ASIDE = {  # what is asked for and not given: why
    "units": "of moment_trace alone, whose channels have their own",
}


def known(function):
    """The function of an open file with its answers kept: the checker asks the same of every variable again."""
    answers = {}

    @functools.wraps(function)
    def asked(ds, *more, **named):
        try:
            key = id(ds), more, tuple(sorted(named.items()))
            if key not in answers:
                answers[key] = function(ds, *more, **named)
            return answers[key]
        except TypeError:  # an argument without a hash
            return function(ds, *more, **named)

    return asked


@pytest.fixture(scope="module")
def checked(tmp_path_factory):
    """Function: {checker: {priority: [(name, messages)]}} of a result file, without network."""
    import requests
    from compliance_checker.cf import util
    from compliance_checker.runner import CheckSuite, ComplianceChecker

    def offline(*_, **__):
        raise requests.exceptions.ConnectionError("no network")

    patch = pytest.MonkeyPatch()
    patch.setattr(requests, "get", offline)
    for name, function in list(vars(util).items()):
        ours = inspect.isfunction(function) and function.__module__ == util.__name__
        ours = ours and name.startswith(("get_", "is_"))
        if ours and next(iter(inspect.signature(function).parameters), "") in ("ds", "nc"):
            patch.setattr(util, name, known(function))
    CheckSuite.load_all_available_checkers()

    def check(path):
        told = tmp_path_factory.mktemp("told") / "told.json"
        ComplianceChecker.run_checker(
            ds_loc=str(path), verbose=2, criteria="strict", checker_names=["cf:1.11", "acdd:1.3"],
            output_filename=str(told), output_format="json",
        )  # fmt: skip
        return json.loads(told.read_text())

    yield check
    patch.undo()


def logged(out):
    """Outcome of the example's morning."""
    from seaload.studies.log.read_log import log_files

    logs = STUDIES.parent / "logs"
    return log_files(logs / "morning.toml", [logs / "morning-1.csv", logs / "morning-2.csv"], out=out)


def swept(out):
    """Outcome of a small sweep."""
    from seaload.studies.sweep import sweep_study
    from tests.studies.sweep_script import few_realisations, small_sweep

    few_realisations()
    return sweep_study(small_sweep(2), out=out, workers=1)


def planned(out):
    """Outcome of a leg on an invented library, with hours of sea, so that it holds what its check told."""
    from seaload.studies.leg.plan_leg import leg_file
    from tests.studies.leg.invented_leg import TABLES, made_library

    made_library(out)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("seaload.scenario.leg_spec.read_tables", lambda _: {**TABLES, "check": {"marches": 1}})
        leg = leg_file(out / "leg.toml", out=out)
    assert "check_told" in leg.dataset
    return leg


MADE = {"log": logged, "sweep": swept, "leg": planned}  # those that no other test leaves behind
KINDS = ("run", "sweep", "boat", "log", "leg", "size", "library")


def result_of(kind, out, request):
    """File of this version's result of a kind; `out` an empty folder."""
    if kind in MADE:
        return MADE[kind](out).result_path
    if kind == "library":
        from tests.studies.leg.invented_leg import made_library

        return made_library(out)
    if kind == "boat":
        return request.getfixturevalue("demo_check").folder / "result.nc"
    return request.getfixturevalue({"run": "small_run", "size": "small_sizing"}[kind]).result_path


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_of_high_priority_is_found(kind, checked, tmp_path, request):
    told = checked(result_of(kind, tmp_path, request))
    cf, acdd = told["cf:1.11"]["high_priorities"], told["acdd:1.3"]["high_priorities"]
    assert len(cf) > 5 and len(acdd) > 30  # checks were made
    wrong = [(each["name"], said) for each in (*cf, *acdd) for said in each["msgs"] if said != NO_NAME]
    assert [found for found in wrong if found[1] not in ASIDE] == []
    assert all("moment_trace" in name for name, said in wrong if said == "units")

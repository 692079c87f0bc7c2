"""Every kind of result before the community's checker of CF 1.11 and ACDD 1.3 (compliance-checker, by IOOS): no error
against CF, nothing that ACDD highly recommends left out but standard names that the CF table does not have.

Skipped where the checker is not installed (`pip install seaload[compliance]`): it brings 200 MB with it.
"""

import functools
import inspect
import json

import pytest

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


@pytest.fixture(scope="module")
def results(tmp_path_factory, small_run, demo_check):
    """{kind: file} of this version's results."""
    from seaload.studies.log.read_log import log_files
    from seaload.studies.sweep import sweep_study
    from tests.small_study import STUDIES
    from tests.studies.sweep_script import few_realisations, small_sweep

    few_realisations()
    logs, out = STUDIES.parent / "logs", tmp_path_factory.mktemp("results")
    log = log_files(logs / "morning.toml", [logs / "morning-1.csv", logs / "morning-2.csv"], out=out)
    sweep = sweep_study(small_sweep(2), out=out, workers=1)
    return {
        "run": small_run.result_path, "sweep": sweep.result_path, "boat": demo_check.folder / "result.nc",
        "log": log.result_path,
    }  # fmt: skip


@pytest.mark.parametrize("kind", ["run", "sweep", "boat", "log"])
def test_nothing_of_high_priority_is_found(kind, results, checked):
    told = checked(results[kind])
    cf, acdd = told["cf:1.11"]["high_priorities"], told["acdd:1.3"]["high_priorities"]
    assert len(cf) > 5 and len(acdd) > 30  # checks were made
    wrong = [(each["name"], said) for each in (*cf, *acdd) for said in each["msgs"] if said != NO_NAME]
    assert [found for found in wrong if found[1] not in ASIDE] == []
    assert all("moment_trace" in name for name, said in wrong if said == "units")

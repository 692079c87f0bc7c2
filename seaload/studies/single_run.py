"""One setting through every sea of a study: the main job."""

import time
from dataclasses import replace
from pathlib import Path

from seaload.basis.errors import InputError
from seaload.files.result_file import fetch_files, write_result
from seaload.result.assemble_dataset import assemble_dataset
from seaload.result.outcome import outcome_of
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.gust_event import gust_answer, gust_tasks
from seaload.sailing.kept_series import begin_series
from seaload.sailing.sail_cases import Account, CaseSailer, Earlier, finish, under_way
from seaload.scenario.records import Study
from seaload.studies.attainable import settle_later
from seaload.studies.attainable_in_sea import FreeRuns, earn_speeds
from seaload.studies.library.grow import grow_library, refuse_other_library
from seaload.studies.load_study import load_study
from seaload.studies.prescribed_motions import begin_motions
from seaload.studies.run_told import Told

GUST_REALISATIONS = 16


def run(study, *, out="results", seed=None, workers=None, scheduler=None):
    """Sail one setting through its seas and give the result as an xarray Dataset; `result.nc` is saved too.

    study : path of a study file, or a loaded `Study`. out : parent folder of the results. InputError for
    a study with a list of settings.
    """
    if not isinstance(study, Study):
        study = load_study(study, seed=seed, one_setting=True)
    elif seed is not None:
        study = replace(study, sampling=replace(study.sampling, seed=seed))
    return run_study(study, out=out, workers=workers, scheduler=scheduler).dataset


def run_study(
    study,
    *,
    out,
    workers=None,
    scheduler=None,
    account=None,
    model=None,
    rates_only=False,
    meanwhile=lambda: None,
):
    """`Outcome` of one setting in every sea of a loaded study; `result.nc` is saved in out/NAME.

    account : `Account` that is told how far the work is. model : {name: choice or number} that go before the study's
    own choices of the physics, for a comparison. rates_only : neither the gust nor the deepest minute, nor what is
    uncertain. meanwhile() is called while the blocks march. Cases of an earlier run are reused.
    """
    if len(study.settings) != 1:
        allowed = "run takes one setting; for a grid use: seaload sweep"
        raise InputError(study.path, "settings", len(study.settings), allowed)
    began = time.perf_counter()
    refuse_other_library(study, out)
    model = {**study.model, **(model or {})}
    folder = Path(out) / study.name
    with CaseStore(folder) as store, crew(workers, scheduler) as hands:
        account = account or Account()
        pairs, speeds = settle_later(study, model, account)
        sailer = CaseSailer(study, pairs, store, hands, account, model=model, deepest=not rates_only)
        earlier, earned = Earlier(store, sailer), {}
        if study.settings[0].attainable:
            pairs, earned = earn_speeds(FreeRuns(sailer), pairs, speeds())
            refuse_no_speed(study, pairs)
            sailer = CaseSailer(study, pairs, store, hands, account, model=model, deepest=not rates_only)
        wanted = [(i, j, r) for i, j in pairs for r in range(study.sampling.realisations)]
        waiting = under_way([(sailer, wanted)])
        fetch_files()
        meanwhile()
        free = None
        if not study.settings[0].attainable:
            earned = speeds()
            free = None if rates_only else FreeRuns(sailer)
            waiting += under_way(free.jobs(pairs, earned)) if free else []
        gusts = {} if rates_only else gust_marches(sailer, pairs)  # last: of two cores, one is the first block's alone
        motions = dict if rates_only else begin_motions(sailer, {j: (i, setting) for (i, j), setting in pairs.items()})
        told = None if rates_only else Told(sailer, pairs)
        finish(waiting)
        earned = free.earned(pairs, earned)[1] if free else earned
        if line := earlier.line(account):
            account.say(line)
        kept = dict if rates_only else begin_series(sailer)
        gusts = {pair: gust_answer(*(each.result()[0] for each in futures)) for pair, futures in gusts.items()}
        records = {case: sailer.records[case] for case in wanted}
        dataset = assemble_dataset(
            study,
            records,
            verb="run",
            settings=pairs,
            gusts=gusts,
            kept=kept,
            missing=account.missing,
            further={**earned, **motions(), **(told.parts(records) if told else {})},
            named_model=model,
        )
    if model == study.model:
        counts = dict.fromkeys(pairs, study.sampling.realisations)
        grow_library(study, sailer, counts, earned["speed_attainable"][1], out)
    return outcome_of(dataset, write_result(dataset, folder), sailer, began)


def refuse_no_speed(study, pairs):
    """InputError where the thrust holds no speed in a sea; `pairs` {(setting, sea): Setting} as settled."""
    for (_, j), setting in pairs.items():
        if setting.speed != setting.speed:
            allowed = f"no speed can be held with this setting in sea '{study.seas[j].name}'"
            raise InputError(study.path, "settings.speed_knots", "attainable", allowed)


def gust_marches(sailer, pairs):
    """{(setting, sea): futures of its gust marches}, under way behind the main ones."""
    sailer.compile_first()
    study, futures = sailer.study, {}
    for pair, setting in pairs.items():
        tasks = gust_tasks(study, setting, study.seas[pair[1]], sailer.model, GUST_REALISATIONS)
        futures[pair] = [sailer.crew.submit(task) for task in tasks]
    return futures

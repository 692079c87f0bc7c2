"""A grid of settings in several seas: every setting meets the same waves, and for each sea one is
suggested, or none.
"""

import time
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.deciding.choice import choose_all, look_around
from seaload.deciding.rounds import State, sail_rounds, speed_rank, whole
from seaload.deciding.triggers import watch_all
from seaload.files.result_file import write_result
from seaload.result.assemble_dataset import assemble_dataset, table_of
from seaload.result.duration_parts import duration_parts
from seaload.result.outcome import outcome_of
from seaload.result.sweep_parts import (
    choice_parts,
    decision_codes,
    decision_rows,
    doubt_parts,
    move_parts,
    tail_parts,
    tolerance_parts,
    trigger_parts,
)
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.gust_event import begin_calm_gusts
from seaload.sailing.sail_cases import Account, CaseSailer, Earlier
from seaload.scenario.records import Study
from seaload.studies.attainable import settle_all
from seaload.studies.attainable_in_sea import FreeRuns, earn_speeds, usable_speed
from seaload.studies.library.fill import fill_study
from seaload.studies.library.grow import grow_library, refuse_other_library
from seaload.studies.load_study import load_study
from seaload.studies.prescribed_motions import begin_motions


def sweep(study, *, out="results", seed=None, workers=None, scheduler=None):
    """Sail a grid of settings and give the result as an xarray Dataset; `result.nc` is saved too.

    study : path of a study file, or a loaded `Study`. out : parent folder of the results. workers : threads;
    scheduler : address of a Dask cluster.
    """
    if not isinstance(study, Study):
        study = load_study(study, seed=seed)
    elif seed is not None:
        study = replace(study, sampling=replace(study.sampling, seed=seed))
    return sweep_study(study, out=out, workers=workers, scheduler=scheduler).dataset


def sweep_study(study, *, out, workers=None, scheduler=None, account=None, clean=False):
    """`Outcome` of a loaded grid study; `result.nc` is saved in out/NAME.

    account : `Account` that is told how far the work is. Cases of an earlier run are reused, also after an
    interruption. clean : delete stored cases that this study did not need.
    """
    if study.fill is not None:
        return fill_study(study, out=out, workers=workers, scheduler=scheduler, account=account, clean=clean)
    refuse_other_library(study, out)
    began = time.perf_counter()
    account = account or Account()
    folder = Path(out) / study.name
    with CaseStore(folder) as store, crew(workers, scheduler) as hands:
        sailer = CaseSailer(study, {}, store, hands, account)
        free = FreeRuns(sailer)
        settled, reach = settle_all(study, study.model, account, free.reached)
        earlier = Earlier(store, CaseSailer(study, settled, store, hands, account))
        settled, reach = earn_speeds(free, settled, reach)
        pairs = sorted(pair for pair in settled if reach["reachable"][1][pair])
        if not pairs:
            allowed = (
                "a speed that heel, cant, foil and thrust can hold in one of the seas; none of the grid is"
            )
            raise InputError(study.path, "settings", len(study.settings), allowed)
        sailer.settings.update({pair: settled[pair] for pair in pairs})
        speeds = {pair: usable_speed(reach, pair) for pair in pairs}
        rank = {pair: speed_rank(study, settled, speeds, pair) for pair in pairs}
        gusts = begin_calm_gusts(sailer, pairs)
        answers = sailer.blocks.in_turns([
            partial(answer_of, sailer, [pair for pair in pairs if pair[1] == sea], rank)
            for sea in sorted({j for _, j in pairs})
        ])  # fmt: skip
        found = Found(
            whole(study, [answer.state for answer in answers]),
            {sea: choice for answer in answers for sea, choice in answer.choices.items()},
            {sea: reading for answer in answers for sea, reading in answer.readings.items()},
            gusts(),
        )
        motions = begin_motions(sailer, shown_settings(found.choices, sailer.settings))()
        if line := earlier.line(account):
            account.say(line)
        if clean:
            store.delete_others(account.keys_used)
    grid = Grid(settled, reach, rank, speeds)
    grow_library(study, sailer, found.state.counts, reach["speed_attainable"][1], out)
    dataset = sweep_dataset(sailer, grid, found, motions)
    return outcome_of(dataset, write_result(dataset, folder), sailer, began)


def answer_of(sailer, pairs, rank):
    """`Found` of one sea, without calm gusts: its rounds, the choice, what is around it, the readings."""
    state = sail_rounds(sailer, pairs, rank)
    choices = choose_all(sailer, state, rank)
    watches = watch_all(sailer, choices)  # begun first: no core waits while the moves are marched
    look_around(sailer, state, choices)
    for watch in watches.values():
        watch.begin_worse()
    for pair in state.verdicts:  # worked out while that is marched, and kept
        state.worst(pair, sailer.study.risk)
    readings = {sea: watch.readings() for sea, watch in watches.items()}
    return Found(state, choices, readings, {})


class Grid(NamedTuple):
    """What was settled before anything was sailed, {(setting, sea) numbers: ...} unless said."""

    settled: dict  # Setting as sailed
    reach: dict  # {name: (dims, values)} of speeds and what can be held
    rank: dict  # speed that the settings are compared by [m/s]
    speeds: dict  # attainable speed [m/s]


class Found(NamedTuple):
    """What a sweep found."""

    state: State  # of the rounds
    choices: dict  # {sea: SeaChoice}
    readings: dict  # {sea: Readings}
    gusts: dict  # {(setting, sea): gust numbers}


def shown_settings(choices, settings):
    """{sea: (number, Setting)} of the suggested setting, or the nearest to the levels; none where there is neither.

    choices : {sea: SeaChoice}. settings : {(setting, sea) numbers: Setting}.
    """
    numbers = {sea: choice.setting for sea, choice in choices.items()}
    return {sea: (number, settings[number, sea]) for sea, number in numbers.items() if (number, sea) in settings}


def sweep_dataset(sailer, grid, found, motions):
    """The Dataset of a finished sweep: the grid's own cases, what was decided from them, and the `motions` beside."""
    study, (state, choices, readings, gusts) = sailer.study, found
    cases = {
        (i, j, r): sailer.records[i, j, r] for (i, j), n in sorted(state.counts.items()) for r in range(n)
    }
    gusts = gusts | {(answer.setting, sea): answer.gust for sea, answer in choices.items() if answer.gust}
    further = {**grid.reach, **motions}
    further.update(table_of(study, decision_rows(sailer, state, choices, grid.rank, grid.speeds)))
    further.update(decision_codes(study, state, grid.reach["unreachable_reason"][1]))
    further.update(choice_parts(study, choices, state))
    further.update(doubt_parts(study, state, choices))
    further.update(tail_parts(study, state))
    further.update(duration_parts(study, state))
    further.update(move_parts(sailer, state, choices))
    further.update(tolerance_parts(study, state, choices))
    further.update(trigger_parts(study, readings))
    further["chosen"] = (("setting", "sea"), np.nan_to_num(further["chosen"][1]).astype(np.int8))
    return assemble_dataset(study, cases, verb="sweep", settings=grid.settled, gusts=gusts, further=further)

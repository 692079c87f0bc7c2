"""`seaload size`: least limits of a foil for what it is to stand in a season, and loads to design and test it by."""

import time
from pathlib import Path

import numpy as np

from seaload.deciding.size.envelope import KINDS, governing, hold_down, return_values, span_envelope
from seaload.deciding.size.extremes import extremes
from seaload.deciding.size.limits import Sizing
from seaload.deciding.size.model_doubt import spreads, with_crests
from seaload.deciding.size.spectra import Spectra, rig_programme, slopes_of
from seaload.deciding.size.tail_figures import tail_figures
from seaload.deciding.size.usage_changes import usage_changes
from seaload.evidence.verdict import SIDES
from seaload.files.result_file import write_result
from seaload.result.outcome import Outcome
from seaload.result.size_dataset import Found, size_dataset
from seaload.result.size_tables import write_tables
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account
from seaload.scenario.size_records import SizeStudy
from seaload.studies.size.compare import Comparing, by_height
from seaload.studies.size.load_size import load_size
from seaload.studies.size.sail_season import Sailed

HOUR, DAY = 3600.0, 86400.0


def size(study, *, out="results", seed=None, workers=None, scheduler=None):
    """Size a foil and give the result as an xarray Dataset; `result.nc` and its tables are saved too.

    study : path of a study file, or a loaded `SizeStudy`. out : parent folder of the results.
    """
    sized = study if isinstance(study, SizeStudy) else load_size(study, seed=seed)
    return size_study(sized, out=out, workers=workers, scheduler=scheduler).dataset


def size_study(sized, *, out, workers=None, scheduler=None, account=None):
    """`Outcome` of a loaded `SizeStudy`; `result.nc` and tables are saved in out/NAME. Cases of an earlier run are
    reused, also after an interruption.
    """
    began, account = time.perf_counter(), account or Account()
    folder = Path(out) / sized.study.name
    with CaseStore(folder) as store, crew(workers, scheduler) as hands:
        sailed = Sailed(sized, store, hands, account)
        season = sailed.season()
        first = Sizing(season, sized.targets)
        comparing = Comparing(sailed, first)
        failed = sailed.sailer.failed()
    dataset = size_dataset(sized, found_of(sailed, season, first, comparing))
    path = write_result(dataset, folder)
    write_tables(dataset, folder)
    return Outcome(
        dataset, path, account.done, account.reused, failed, tuple(account.missing), account.real_time_factor,
        account.compile_s, time.perf_counter() - began,
    )  # fmt: skip


def found_of(sailed, season, first, comparing):
    """`Found`: all that the result holds, worked out from finished cases."""
    sized, told = sailed.sized, comparing.told()
    doubt = comparing.doubt()
    effects = {side: doubt.effects(side) for side in SIDES}
    names, effects = with_crests(doubt.names, effects, sized.study, by_height(told))
    spread = spreads(effects)
    sizing = Sizing(season, sized.targets, spread)
    times = (HOUR, 3.0 * DAY, sized.targets.season)
    damage = sizing.damage()
    spectra, slopes = Spectra(season), slopes_of(season.foil.fatigue, sized.rig)
    cycles = spectra.season_cycles()
    returns = {side: return_values(sizing, side, times) for side in SIDES}
    return Found(
        chosen=tuple(sailed.chosen),
        season=season,
        sizing=sizing,
        intervals={side: sizing.limit_interval(side) for side in SIDES},
        damage=damage,
        damage_interval=sizing.interval(sizing.damage),
        times=times,
        returns=returns,
        return_intervals={
            side: sizing.interval(lambda number, side=side: return_values(sizing, side, times, number))
            for side in SIDES
        },
        governing={side: governing(sizing, side, sizing.needed[side].all_told, factored=True) for side in SIDES},
        governing_moment={side: governing(sizing, side, returns[side][-1], factored=False) for side in SIDES},
        spans={(kind, side): span_envelope(season, kind, side) for kind in KINDS for side in SIDES},
        hold_down=hold_down(season),
        extremes=tuple(extremes(season)),
        slopes=slopes,
        cycles=np.asarray(cycles),
        equivalents=spectra.equivalents(slopes, sizing.picks),
        programme=rig_programme(cycles[sized.rig.place], sized.rig),
        changes=tuple(told),
        uncertain=(names, effects),
        usage_changes=tuple(usage_changes(sizing, [sea.hs for sea in sized.study.seas])),
        tails={side: tail_figures(sizing, side) for side in SIDES},
    )

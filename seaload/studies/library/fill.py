"""Fills a library: seas within a range, the settings of a grid in each, round by round until it holds the hours asked
for. A round hangs on nothing but what the library holds, so an interrupted one goes on as if it had never stopped.
"""

import time
from dataclasses import replace
from math import ceil
from pathlib import Path

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, NAMES, PERIOD, SEA
from seaload.deciding.library.emulator import recipes_of
from seaload.deciding.library.next_seas import AT_ONCE, Round, at_once, first_seas, next_seas
from seaload.deciding.library.point import point_of, unreachable_point
from seaload.deciding.library.shelf import WAVES
from seaload.result.outcome import Outcome
from seaload.sailing.block_task import load_kernels
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account, CaseSailer, sail_together
from seaload.simulation.layout import LANES
from seaload.simulation.sea_table import GROUP
from seaload.studies.attainable import Reach
from seaload.studies.library.designed import DesignedRuns, is_designed, settings_at_once
from seaload.studies.library.seas import kind_of_sea, sea_like, setting_row, span_of, wave_number
from seaload.studies.library.shelf_file import keep_shelf, shelf_for, writing

FEWEST_SETTINGS = 2  # marched in each sea; others of the grid have their turn in other seas


def fill_study(study, *, out, workers=None, scheduler=None, account=None, clean=False):
    """`Outcome` of a loaded study with [fill]; its Dataset is the library, saved in `out`.

    account : `Account` that is told how far the work is. clean : delete stored cases that this study did not need.
    """
    began, account = time.perf_counter(), account or Account()
    filling = Filling(study)
    folder = Path(out) / study.name
    with writing(out, study.library), CaseStore(folder) as store, crew(workers, scheduler) as hands:
        shelf, failed = shelf_for(study, out), []
        filling.load_kernels(account)
        while shelf.hours < study.fill.time:
            points, ended = filling.march(shelf, filling.next_round(shelf), (store, hands, account))
            shelf, failed = shelf.with_points(points), failed + ended
            keep_shelf(shelf, study, out)
        shelf = replace(shelf, surfaces=recipes_of(shelf))
        path, dataset = keep_shelf(shelf, study, out)
        if clean:
            store.delete_others(account.keys_used)
    return Outcome(
        dataset=dataset, result_path=path, done=account.done, reused=account.reused, failed=tuple(failed), missing=(),
        real_time_factor=account.real_time_factor, compile_s=account.compile_s, wall_s=time.perf_counter() - began,
    )  # fmt: skip


class Filling:
    """What a study asks of its library, and how a round of it is marched."""

    def __init__(self, study):
        self.study = study
        self.written, self.like = kind_of_sea(study)
        self.foil = study.boat.foils[study.foil_side]
        self.span = span_of(study)
        self.settings = np.array([setting_row(setting) for setting in study.settings])
        self.reach = Reach(study.boat, self.foil, study.model)

    def load_kernels(self, account):
        """Have machine code there before anything is settled."""
        study = self.study
        sailer = CaseSailer(study, {(0, 0): study.settings[0]}, None, None, account)
        account.compile_s += load_kernels(sailer.task([(0, 0, 0)]), account.say)

    def next_round(self, shelf):
        """`Round` of what is marched next."""
        own = [self.like[name] for name in SEA[:3]]
        first = np.concatenate([[own], first_seas(self.span)])
        known = set(map(tuple, shelf.coordinates[:, [HEIGHT, PERIOD, ANGLE]])) if len(shelf) else set()
        left = [sea for sea in first if tuple(sea) not in known][:AT_ONCE]
        if left:
            return Round(np.array(left), np.ones((len(left), len(self.settings))))
        question = np.array([*self.settings[0], *(self.like[name] for name in SEA)])
        return next_seas(shelf, self.span, question, self.settings, at_once(len(known)))

    def first_realisation(self, shelf):
        """Number of the first realisation that no sea of the library has met."""
        if not len(shelf):
            return 0
        name, seed, first = (shelf.columns[wave] for wave in WAVES)
        mine = (name == self.stream) & (seed == self.study.sampling.seed)
        return int(first[mine].max()) + self.stride if mine.any() else 0

    @property
    def stream(self):
        """Number of the name that the waves of all points follow, the written sea's; each has realisations of its own.
        """
        return wave_number(self.study.seas[0].name)

    @property
    def stride(self):
        """Realisations from sea to sea: whole groups of them."""
        return GROUP * ceil(self.study.sampling.realisations / GROUP)

    def march(self, shelf, asked, means):
        """([{name: value}] points, [names of cases that ended early]) of a `Round`.

        means : the case store, the crew and the account.
        """
        (store, hands, account), seas = means, asked.seas
        records = [sea_like(self.study, self.written, sea) for sea in seas]
        study = replace(self.study, seas=tuple(records))
        first = [self.first_realisation(shelf) + n * self.stride for n in range(len(seas))]
        settled = {
            (i, j): self.reach.settle(setting, sea)
            for j, sea in enumerate(records) for i, setting in enumerate(study.settings)
        }
        sailer = CaseSailer(study, {pair: found[0] for pair, found in settled.items()}, store, hands, account)
        marched = [pair for j in range(len(seas)) for pair in self.chosen(settled, j, first[j], asked.interest[j])]
        cases = {(i, j): range(first[j], first[j] + study.sampling.realisations) for i, j in marched}
        further = DesignedRuns(
            sailer, [pair for pair in marched if is_designed(first[pair[1]] // self.stride)], cases,
            {pair: speed for pair, (_, speed, _) in settled.items()},
        )  # fmt: skip
        sail_together([(sailer, [(*pair, r) for pair in marched for r in cases[pair]]), *further.jobs()])
        points = []
        for (i, j), (setting, speed, why) in settled.items():
            if why:
                found = unreachable_point(1 + len(self.foil.stations))
            elif (i, j) in cases:
                found = further.told((i, j), point_of([sailer.records[i, j, r] for r in cases[i, j]]))
            else:
                continue
            place = {**self.like, **dict(zip(SEA[:3], map(float, seas[j]), strict=True))}
            place |= dict(zip(NAMES, setting_row(setting), strict=False))
            waves = dict(zip(WAVES, (self.stream, study.sampling.seed, first[j]), strict=True))
            points.append({**found, **place, **waves, "speed_attainable": float(speed)})
        return points, list(sailer.failed())

    def chosen(self, settled, sea, number, interest):
        """Pairs (setting, sea) of a `sea` to march: of those that can be sailed as many as fill a block with all their
        realisations, drawn by lot of the sea's `number`: many seas with few settings tell more than few with many.

        interest : (settings,) [-] > 0, how likely each is drawn.
        """
        able = [pair for pair, (_, _, why) in settled.items() if pair[1] == sea and not why]
        name, seed = self.study.seas[0].name, self.study.sampling.seed
        draws = random_stream(seed, name, number, "settings").random(len(self.settings))
        turns = np.log(draws) / interest  # the largest are a weighted sample (Efraimidis & Spirakis 2006)
        realisations = self.study.sampling.realisations
        fill = settings_at_once if is_designed(number // self.stride) else lambda each: LANES // each
        count = max(fill(realisations), FEWEST_SETTINGS)
        return sorted(sorted(able, key=lambda pair: -turns[pair[0]])[:count])

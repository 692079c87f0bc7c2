"""Sails a season: settings chosen sea by sea, the usage and the situations marched, gusts and motions beside them."""

from dataclasses import replace

from seaload.basis.errors import InputError
from seaload.deciding.size.choose import chosen_setting
from seaload.deciding.size.season import Part, Season
from seaload.sailing.block_task import PrescribedTask
from seaload.sailing.fine_cases import FineSailer
from seaload.sailing.gust_event import gust_length, gust_pulls
from seaload.sailing.sail_cases import CaseSailer
from seaload.scenario.records import other_side
from seaload.scenario.size_records import FATIGUE, ULTIMATE
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of
from seaload.studies.attainable import settle_all


class Sailed:
    """Everything that is sailed for one sizing, and what it was chosen by."""

    def __init__(self, sized, store, hands, account):
        self.sized, self.study, self.account = sized, sized.study, account
        self.store, self.hands = store, hands
        self.chosen = self.choose()
        pairs = {(c.setting, j): self.settled[c.setting, j] for j, c in enumerate(self.chosen)}
        pairs.update({(one.setting, one.sea): self.study.settings[one.setting] for one in self.steady()})
        self.sailer = FineSailer(self.study, pairs, store, hands, account)

    def steady(self):
        """Situations that are a share of the time in a sea of their own."""
        return [one for one in self.sized.situations if one.sea is not None and one.gust is None]

    def choose(self):
        """[`Chosen`] of every sea of the usage: the grid sailed for the hours of the choice."""
        sized, study = self.sized, self.study
        grid = replace(study, settings=study.settings[: sized.grid], seas=study.seas[: len(sized.usage)])
        self.settled, reach = settle_all(grid, study.model, self.account)
        open_to = reach["reachable"][1]
        for j in range(len(grid.seas)):
            if not open_to[:, j].any():
                allowed = f"a setting whose heel, cant, foil and thrust balance in '{grid.seas[j].name}'; none does"
                raise InputError(study.path, "settings", sized.grid, allowed)
        pairs = [pair for pair in sorted(self.settled) if open_to[pair]]
        sailer = CaseSailer(grid, {pair: self.settled[pair] for pair in pairs}, self.store, self.hands, self.account)
        sailer.sail([(*pair, r) for pair in pairs for r in range(sized.choosing)])
        found = []
        for j in range(len(grid.seas)):
            mine = [i for i, sea in pairs if sea == j]
            groups = {i: [sailer.records[i, j, r] for r in range(sized.choosing)] for i in mine}
            found.append(chosen_setting(groups, {i: self.settled[i, j].speed for i in mine}, study.risk))
        return found

    def season(self):
        """`Season` of the usage and all situations, sailed."""
        study, sized, sailer = self.study, self.sized, self.sailer
        count = study.sampling.realisations
        wanted = [(c.setting, j, r) for j, c in enumerate(self.chosen) for r in range(count)]
        wanted += [(one.setting, one.sea, r) for one in self.steady() for r in range(one.realisations)]
        gusts, motions = self.begin_gusts(), self.begin_motions()
        sailer.sail(wanted)
        factors, usage = model_factors(study.model), sized.situations[0]
        foil = study.boat.foils[study.foil_side]
        seas, geometries = [], {}

        def part(situation, sea, pair, realisations, share):
            setting, one = sailer.settings[pair], sized.situations[situation]
            if setting.extension not in geometries:
                geometries[setting.extension] = geometry_of(foil, setting.extension, factors)
            records = tuple(sailer.records[*pair, r] for r in range(realisations))
            return Part(
                situation, sea, setting, geometries[setting.extension], records, share, 0.0, one.factor,
                one.counts_for(ULTIMATE), one.counts_for(FATIGUE),
            )  # fmt: skip

        for j, chosen in enumerate(self.chosen):
            seas.append(part(0, j, (chosen.setting, j), count, usage.share * sized.usage[j].share))
        for one in self.steady():
            number = sized.situations.index(one)
            seas.append(part(number, -1, (one.setting, one.sea), one.realisations, one.share))
        events = []
        for number, records in [*gusts(), *motions()]:
            one = sized.situations[number]
            setting = study.settings[one.setting]
            geometry = geometry_of(foil, setting.extension, factors)
            rate = one.times / sized.targets.season
            events.append(Part(number, -1, setting, geometry, tuple(records), 0.0, rate, one.factor))
        return Season(foil, seas, events, sized.targets.season)

    def begin_gusts(self):
        """Function that gives [(situation number, cases)] of the situations with a gust, under way."""
        study, waiting = self.study, []
        self.sailer.compile_first()
        for number, one in enumerate(self.sized.situations):
            if one.gust is None:
                continue
            setting, sea = study.settings[one.setting], study.seas[one.sea]
            sampling = replace(study.sampling, realisation_time=gust_length(one.gust))
            times = sampling.run_in, sampling.step, sampling.realisation_time
            pulls = gust_pulls(one.gust, sea, [setting.speed], *times)
            for first in range(0, one.realisations, LANES):
                some = range(first, min(first + LANES, one.realisations))
                plain = CaseSailer(
                    study, {(one.setting, one.sea): setting}, self.store, self.hands, self.account
                )  # of the ordinary count: a gust wears nothing
                task = plain.task([(one.setting, one.sea, r) for r in some], sampling, gust=pulls)
                waiting.append((number, self.hands.submit(task)))

        def found():
            rows = {}
            for number, future in waiting:
                rows.setdefault(number, []).extend(future.result()[0])
            return sorted(rows.items())

        return found

    def begin_motions(self):
        """Function that gives [(situation number, motions' records)] of the situations with a motion, under way."""
        study, waiting = self.study, []
        windward = study.boat.foils.get(other_side(study.foil_side))
        for number, one in enumerate(self.sized.situations):
            if one.motion is None:
                continue
            setting = study.settings[one.setting]
            plain = CaseSailer(study, {(one.setting, 0): setting}, self.store, self.hands, self.account)
            block = plain.task([(one.setting, 0, 0)])
            task = PrescribedTask(block, setting, windward, (study.prescribed[one.motion],))
            waiting.append((number, self.hands.submit(task)))

        def found():
            rows = [(number, future.result()) for number, future in waiting]
            for number, records in rows:
                if any(record is None for record in records):
                    one = self.sized.situations[number]
                    allowed = "a setting that balances in calm water, where the motion begins"
                    raise InputError(study.path, "situation", one.name, allowed)
            return rows

        return found

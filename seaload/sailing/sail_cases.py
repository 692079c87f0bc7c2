"""Gets cases done: takes what the store has, marches the rest in blocks, stores each block as it comes
back.
"""

from dataclasses import replace

from seaload.basis.records import STATUS_DONE, STATUS_NAMES
from seaload.basis.units import HOUR
from seaload.sailing.block_task import BlockTask, load_kernels
from seaload.sailing.case_key import CaseKeys
from seaload.sailing.under_way import UnderWay
from seaload.simulation.layout import LANES
from seaload.simulation.sea_table import GROUP


class Account:
    """How the work of a whole study goes: cases, seconds, and whom to tell: progress(done, total, hours) how far it is,
    say(line) remarks.
    """

    def __init__(self, progress=None, say=None):
        self.progress = progress or (lambda done, total, hours=0.0: None)
        self.say = say or (lambda line: None)
        self.done = self.reused = self.total = 0
        self.busy_s = self.simulated_s = self.compile_s = self.sea_s = 0.0
        self.keys_used, self.keys_counted = set(), set()
        self.missing = []  # what only illustrates and could not be made, in plain words

    def expect(self, more):
        """So many more cases are wanted."""
        self.total += more

    def found(self, key, time):
        """A case was in the store: of an earlier run, or counted in this one already for another purpose."""
        if key in self.keys_counted:
            self.total -= 1
            return
        self.keys_counted.add(key)
        self.reused += 1
        self.sea_s += time

    def show(self):
        """Tell the progress."""
        self.progress(self.done + self.reused, self.total, self.sea_s / HOUR)

    def add_times(self, times):
        """Add a block's processor time."""
        self.busy_s += times.march + times.count
        self.simulated_s += times.simulated

    @property
    def real_time_factor(self):
        """Simulated seconds over processor seconds in wave field, march and counting; nan when none was
        marched.
        """
        return self.simulated_s / self.busy_s if self.busy_s > 0.0 else float("nan")


class CaseSailer:
    """All finished cases of one study, or of a variant of its model.

    settings : {(setting, sea) numbers: Setting} as sailed. `records` holds
    {(setting, sea, realisation): CaseRecord}. deepest : whether the deepest reverse load of each block can be
    marched again. blocks : `UnderWay` of the whole study, shared with its variants.
    """

    def __init__(self, study, settings, store, crew, account, *, model=None, deepest=False, blocks=None):
        self.study, self.settings, self.store, self.crew = study, settings, store, crew
        self.account, self.blocks = account, blocks or UnderWay()
        self.model = study.model if model is None else model
        self.keys, self.deepest = CaseKeys(study, self.model), deepest
        self.records = {}
        self._known = {}

    def variant(self, settings=None, **changes):
        """A sailer of other settings and of a model with `changes`; store, crew and account are shared."""
        settings = self.settings if settings is None else settings
        model = {**self.model, **changes}
        return CaseSailer(self.study, settings, self.store, self.crew, self.account, model=model, blocks=self.blocks)

    def of_length(self, time):
        """A sailer of the same settings and model over realisations of `time` [s]; store, crew, account are shared."""
        study = replace(self.study, sampling=replace(self.study.sampling, realisation_time=time))
        return CaseSailer(
            study, self.settings, self.store, self.crew, self.account, model=self.model, blocks=self.blocks
        )  # fmt: skip

    def sail(self, wanted):
        """Have all these cases, (setting, sea, realisation) numbers, finished in `records`."""
        sail_together([(self, wanted)])

    def submit(self, wanted, held=None):
        """Have those cases marched that are neither in `records` nor in the store nor under way.

        held : a list to which (sailer, case) of each is added, for `begin_blocks`, instead.
        """
        missing = [case for case in dict.fromkeys(wanted) if case not in self.records]
        self.account.expect(len(missing))
        missing = self._reuse(missing)
        mine = [case for case in missing if self.blocks.first(self.name_of(case), self, case)]
        self.account.expect(len(mine) - len(missing))  # another has them marched
        if held is None:
            begin_blocks([(self, case) for case in mine])
        else:
            held += [(self, case) for case in mine]

    def name_of(self, case):
        """What a case is called while it is under way: its key, and whether it is marched for its deepest load."""
        return self.key_of(case), self.deepest

    def task(self, cases, sampling=None, **options):
        """`BlockTask` of cases that share a sea; `sampling` where it is not the study's."""
        return self.task_of([(self, case) for case in cases], sampling, **options)

    def task_of(self, asked, sampling=None, **options):
        """The same of (sailer, case), whose sailers march the same model; options as of a `BlockTask`."""
        study = self.study
        lanes = tuple((sailer.settings[i, j], r) for sailer, (i, j, r) in asked)
        foil, sea = study.boat.foils[study.foil_side], study.seas[asked[0][1][1]]
        options = {"deepest": self.deepest, **options}
        return BlockTask(study.boat, foil, sea, lanes, sampling or study.sampling, self.model, **options)

    def compile_first(self):
        """Have machine code there before the work is shared out."""
        self.account.compile_s += load_kernels(self.task([(*min(self.settings), 0)]), self.account.say)

    def failed(self):
        """Names of cases that ended early or left the validity, with the reason."""
        lines = []
        for i, j, r in sorted(self.records):
            record = self.records[i, j, r]
            if record.status != STATUS_DONE:
                reason = STATUS_NAMES[record.status]
                when = f" at {record.stopped_at:.0f} s" if record.stopped_at == record.stopped_at else ""
                lines.append(f"setting {i}, sea '{self.study.seas[j].name}', realisation {r}: {reason}{when}")
        return tuple(lines)

    def key_of(self, case):
        """Key of a case, (setting, sea, realisation) numbers."""
        if case not in self._known:
            i, j, r = case
            self._known[case] = self.keys.key(self.settings[i, j], j, r)
        return self._known[case]

    def inputs_in_use(self):
        """{input: set of hashes} of all settings in all seas."""
        used = {}
        for (_, j), setting in self.settings.items():
            for name, value in self.keys.inputs(setting, j).items():
                used.setdefault(name, set()).add(value)
        return used

    def take(self, cases, records, times=None):
        """Store what a block gave; `times` that it took, None where another has them counted."""
        rows = []
        for (i, j, r), record in zip(cases, records, strict=True):
            rows.append((self.key_of((i, j, r)), self.keys.inputs(self.settings[i, j], j), record))
        self.store.add(rows)
        self.account.keys_counted.update(key for key, *_ in rows)
        self.records.update(zip(cases, records, strict=True))
        self.account.done += len(cases)
        self.account.sea_s += len(cases) * self.study.sampling.realisation_time
        if times is not None:
            self.account.add_times(times)

    def _reuse(self, missing):
        keys = {case: self.key_of(case) for case in missing}
        self.account.keys_used.update(keys.values())
        found = self.store.find(keys.values())
        for case, key in keys.items():
            if key in found:
                self.records[case] = found[key]
                self.account.found(key, self.study.sampling.realisation_time)
        return [case for case in missing if keys[case] not in found]


def blocks_of(cases, of=lambda case: case):
    """Groups of up to LANES cases of one sea and one set of wave components, realisation by realisation.

    of : function giving the (setting, sea, realisation) numbers of what stands for a case.
    """
    for sea, group in sorted({(of(case)[1], of(case)[2] // GROUP) for case in cases}):
        mine = [case for case in cases if of(case)[1] == sea and of(case)[2] // GROUP == group]
        mine.sort(key=lambda case: (of(case)[2], of(case)[0]))
        for first in range(0, len(mine), LANES):
            yield mine[first : first + LANES]


def begin_blocks(asked):
    """Have (sailer, case) marched, those of the same model and length of realisations side by side: a block costs the
    same half full.

    A case has the same bits in any company.
    """
    alike = {}
    for sailer, case in asked:
        length = sailer.study.sampling.realisation_time
        alike.setdefault((tuple(sorted(sailer.model.items())), length, sailer.deepest), []).append((sailer, case))
    for some in alike.values():
        first = some[0][0]
        first.compile_first()
        for block in blocks_of(some, of=lambda each: each[1]):
            first.blocks.begin(first.crew.submit(first.task_of(block)), block)


def sail_together(jobs):
    """Have the cases of several sailers finished, all marched at once; `jobs` is a list of (sailer,
    wanted).
    """
    finish(under_way(jobs))


def under_way(jobs):
    """[(sailer, case)] of everything that was asked for, its blocks begun, for `finish`; jobs as in `sail_together`."""
    held = []
    for sailer, wanted in jobs:
        sailer.submit(wanted, held)
    begin_blocks(held)
    if jobs:
        jobs[0][0].account.show()
    return [(sailer, case) for sailer, wanted in jobs for case in wanted]


def finish(waiting):
    """Take blocks as they come back until all that is waited for is in the records of its sailer."""
    for sailer, case in waiting:
        while case not in sailer.records:
            sailer.blocks.land()


class Earlier:
    """What a store held before the work began, for one line of remark."""

    def __init__(self, store, sailer):
        self.count = store.count()
        self.changed = store.changed_inputs(sailer.inputs_in_use()) if self.count else []

    def line(self, account):
        """One line on what was used, what was not and why; empty when there was nothing."""
        if self.count == 0:
            return ""
        line = f"earlier cases: {account.reused} reused, {self.count - account.reused} not needed"
        return f"{line}; changed since: {', '.join(self.changed)}" if self.changed else line

"""Gets cases done: takes what the store has, marches the rest in blocks, stores each block as it comes
back.
"""

from concurrent.futures import FIRST_COMPLETED, wait

from seaload.basis.records import STATUS_DONE, STATUS_NAMES
from seaload.basis.units import HOUR
from seaload.simulation.layout import LANES
from seaload.studies.block_task import BlockTask, load_kernels
from seaload.studies.case_key import CaseKeys


class CaseSailer:
    """All finished cases of one study so far, and how the work went.

    settings : {(setting, sea) numbers: Setting} as sailed. `records` holds {(setting, sea, realisation):
    CaseRecord}.
    """

    def __init__(self, study, settings, store, crew, *, model=None, progress=None, say=None):
        self.study, self.settings, self.store, self.crew = study, settings, store, crew
        self.model = study.model if model is None else model
        self.progress = progress or (lambda done, total, hours=0.0: None)
        self.say = say or (lambda line: None)
        self.keys = CaseKeys(study, self.model)
        self.records = {}
        self.done = self.reused = 0
        self.busy_s = self.simulated_s = self.compile_s = 0.0
        self.total = 0
        self.earlier = store.count() if store is not None else 0
        self.changed = store.changed_inputs(self._inputs_in_use()) if self.earlier else []

    def expect(self, cases):
        """Tell how many cases there will be, for the progress."""
        self.total = max(self.total, cases)

    def sail(self, wanted):
        """Have all these cases, (setting, sea, realisation) numbers, finished in `records`."""
        missing = [case for case in dict.fromkeys(wanted) if case not in self.records]
        missing = self._reuse(missing)
        self.expect(len(self.records) + len(missing))
        self._show()
        if not missing:
            return
        self.compile_first()
        waiting = {}
        for cases in self._blocks(missing):
            waiting[self.crew.submit(self.task(cases))] = cases
        while waiting:
            for future in wait(waiting, return_when=FIRST_COMPLETED).done:
                records, times = future.result()
                self._take(waiting.pop(future), records, times)

    def task(self, cases, **options):
        """`BlockTask` of cases that share a sea."""
        study = self.study
        lanes = tuple((self.settings[i, j], r) for i, j, r in cases)
        foil, sea = study.boat.foils[study.foil_side], study.seas[cases[0][1]]
        return BlockTask(study.boat, foil, sea, lanes, study.sampling, self.model, **options)

    def compile_first(self):
        """Have machine code there before the work is shared out."""
        self.compile_s += load_kernels(self.task([(*min(self.settings), 0)]), self.say)

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

    @property
    def real_time_factor(self):
        """Simulated seconds over processor seconds in wave field, march and counting; nan when nothing
        was marched.
        """
        return self.simulated_s / self.busy_s if self.busy_s > 0.0 else float("nan")

    def key_of(self, case):
        """Key of a case, (setting, sea, realisation) numbers."""
        i, j, r = case
        return self.keys.key(self.settings[i, j], j, r)

    def _inputs_in_use(self):
        used = {}
        for (_, j), setting in self.settings.items():
            for name, value in self.keys.inputs(setting, j).items():
                used.setdefault(name, set()).add(value)
        return used

    def _reuse(self, missing):
        if self.store is None:
            return missing
        keys = {case: self.key_of(case) for case in missing}
        found = self.store.find(keys.values())
        for case, key in keys.items():
            if key in found:
                self.records[case] = found[key]
                self.reused += 1
        return [case for case in missing if keys[case] not in found]

    def _blocks(self, missing):
        """Groups of up to LANES cases of one sea, realisation by realisation."""
        for sea in sorted({j for _, j, _ in missing}):
            mine = sorted((case for case in missing if case[1] == sea), key=lambda case: (case[2], case[0]))
            for first in range(0, len(mine), LANES):
                yield mine[first : first + LANES]

    def _take(self, cases, records, times):
        if self.store is not None:
            rows = []
            for (i, j, r), record in zip(cases, records, strict=True):
                rows.append((self.key_of((i, j, r)), self.keys.inputs(self.settings[i, j], j), record))
            self.store.add(rows)
        self.records.update(zip(cases, records, strict=True))
        self.done += len(cases)
        self.add_times(times)
        self._show()

    def add_times(self, times):
        """Add a block's processor time to the account."""
        self.busy_s += times.march + times.count
        self.simulated_s += times.simulated

    def _show(self):
        hours = len(self.records) * self.study.sampling.realisation_time / HOUR
        self.progress(len(self.records), max(self.total, len(self.records)), hours)


def reuse_line(sailer):
    """One line on what of earlier runs was used, what was not and why; empty when there were none."""
    if sailer.earlier == 0:
        return ""
    line = f"earlier cases: {sailer.reused} reused, {sailer.earlier - sailer.reused} not needed"
    return f"{line}; changed since: {', '.join(sailer.changed)}" if sailer.changed else line

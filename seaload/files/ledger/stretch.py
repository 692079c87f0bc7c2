"""One stretch of one place: recorded load counted as it streams past, and what is kept of it.

A stretch has one setting, one day (UTC) and no missing time worth the name. It keeps what it closed by itself and what
it left open, so that stretches found in any order join to the whole history.
"""

from dataclasses import dataclass

import numpy as np

from seaload.fatigue.cycle_bins import MEAN_BINS, RANGE_BINS
from seaload.fatigue.excursion_list import (
    BEGAN,
    DEPTH,
    HEAD,
    HEAD_OVER,
    HIGHEST,
    HIGHEST_TIME,
    LOADED,
    LOWEST,
    LOWEST_TIME,
    RUNNING,
    extremes_chunk,
    list_excursions,
    new_extreme_state,
    new_list_state,
)
from seaload.fatigue.excursions import RELEASE_MARGIN
from seaload.fatigue.rainflow import LENGTH, STATE_SIZE, count_on, residue_loads
from seaload.files.ledger.intervals import merged, not_counted

LEVELS = {"reverse_half": 0.5, "reverse": 1.0, "normal": 1.0}  # shares of their limit
UNDER_LOAD = 0.1  # [-] of the normal limit, either way: from here on a foil is under load
STACK = 4096  # open reversals; a stretch ends before its stack is full, so that nothing is ever closed early
LEAST_ROOM = 1024
DAY = 86400.0  # [s]


@dataclass(frozen=True)
class Stretch:
    """What is kept of a stretch; loads are shares of the normal limit."""

    place: int  # station number from the root outward
    start: float  # [s] since 1970-01-01 UTC, first sample
    stop: float  # [s] last sample
    step: float  # [s] between samples
    day: int  # since 1970-01-01 UTC
    setting: str  # as text, "" = not known
    anew: bool  # the zero changed here: nothing joins it to what came before
    seconds: float  # [s] counted
    loaded: float  # [s] of these under load
    highest: float
    highest_time: float
    lowest: float
    lowest_time: float
    damage: np.ndarray  # (2,) of the cycles closed, both slopes
    cycles: np.ndarray  # (RANGE_BINS, MEAN_BINS) closed
    residue: np.ndarray  # (k,) loads left open, in the order of time
    excursions: dict  # {name of LEVELS: (rows (m, 3), runs on at the end, head [s], head over)}


class StretchCounter:
    """Counts one stretch while it streams past."""

    def __init__(self, place, curve, step, day, setting, anew):
        self.place, self.curve, self.step, self.day, self.setting, self.anew = place, curve, step, day, setting, anew
        self.stack, self.state = np.zeros(STACK), np.zeros(STATE_SIZE)
        self.closed = np.empty((2 * STACK, 3))
        self.cycles, self.damage = np.zeros((RANGE_BINS, MEAN_BINS)), np.zeros(2)
        self.extremes = new_extreme_state()[0]
        self.running, self.rows = new_list_state(len(LEVELS)), {name: [] for name in LEVELS}
        self.start = self.stop = np.nan
        self.samples = 0

    def room(self):
        """Samples that can be added before the stretch must end."""
        return STACK - 1 - int(self.state[LENGTH])

    def add(self, times, load):
        """Count samples, at most `room()` of them: times (n,) [s], load (n,) shares of the normal limit, finite."""
        if self.samples == 0:
            self.start = float(times[0])
        self.stop = float(times[-1])
        self.samples += len(times)
        rules = self.curve.rules(self.cycles, self.damage)
        count_on(load, self.closed, self.stack, self.state, *rules)
        extremes_chunk(load, times, UNDER_LOAD, self.extremes)

    def look_for_excursions(self, times, load):
        """The same samples again, any number of them: where they pass a level."""
        highest, lowest = float(load.max()), float(load.min())
        for state, (name, level) in zip(self.running, LEVELS.items(), strict=True):
            factor = 1.0 if name == "normal" else self.curve.reverse_factor
            worst = max(factor * highest, factor * lowest)
            if worst < level - RELEASE_MARGIN and state[RUNNING] == 0.0:
                state[HEAD_OVER] = 1.0
                continue
            found = np.empty((len(load) // 2 + 1, 3))
            count = list_excursions(load, times, factor, level, RELEASE_MARGIN, state, found)
            self.rows[name].append(found[:count])

    def ended(self):
        """The `Stretch`."""
        excursions = {}
        for state, name in zip(self.running, LEVELS, strict=True):
            rows = [*self.rows[name]]
            if state[RUNNING] > 0.0:
                rows.append(state[None, BEGAN : DEPTH + 1])
            kept = np.concatenate(rows) if rows else np.empty((0, 3))
            excursions[name] = (kept, bool(state[RUNNING]), float(state[HEAD]), bool(state[HEAD_OVER]))
        return Stretch(
            place=self.place,
            start=self.start,
            stop=self.stop,
            step=self.step,
            day=self.day,
            setting=self.setting,
            anew=self.anew,
            seconds=self.samples * self.step,
            loaded=float(self.extremes[LOADED]) * self.step,
            highest=float(self.extremes[HIGHEST]),
            highest_time=float(self.extremes[HIGHEST_TIME]),
            lowest=float(self.extremes[LOWEST]),
            lowest_time=float(self.extremes[LOWEST_TIME]),
            damage=self.damage,
            cycles=self.cycles,
            residue=residue_loads(self.stack, self.state),
            excursions=excursions,
        )


def missing_time(step):
    """Time between two samples [s] from which on some is missing and a stretch ends."""
    return max(1.0, 3.5 * step)


class PlaceCounter:
    """Cuts the recorded load of one place into stretches and counts them, leaving out time that is counted already."""

    def __init__(self, place, curve, counted=()):
        """counted : (k, 2) first and last samples [s] of stretches that are there already."""
        self.place, self.curve, self.counted = place, curve, counted
        self.known, self.known_step = np.empty((0, 2)), None  # `counted` for the step that was last asked for
        self.now = None
        self.ended = []  # of Stretch, since they were last taken

    def add(self, times, load, step, setting="", anew=False):
        """Count the next samples: times (n,) [s] rising, load (n,) shares of the normal limit, finite."""
        if len(times) == 0:
            return
        if anew:
            self.end()
        if step != self.known_step:
            self.known, self.known_step = merged(self.counted, step), step
        new = not_counted(times, self.known, step)
        if new.all():
            self.add_new(times, load, step, setting, anew)
            return
        edges = np.flatnonzero(np.diff(np.concatenate([[False], new, [False]]).astype(np.int8)))
        for first, last in edges.reshape(-1, 2):
            if first > 0:
                self.end()
            self.add_new(times[first:last], load[first:last], step, setting, anew and first == 0)
        if not new[-1]:
            self.end()

    def add_new(self, times, load, step, setting, anew):
        """Count samples none of which is counted yet, nor any between them."""
        days = np.floor(times / DAY)
        cuts = np.flatnonzero((np.diff(times) > missing_time(step)) | (np.diff(days) != 0)) + 1
        for first, last in zip([0, *cuts], [*cuts, len(times)], strict=True):
            self.add_run(times[first:last], load[first:last], step, int(days[first]), setting, anew and first == 0)

    def add_run(self, times, load, step, day, setting, anew):
        """Count samples of one day without missing time among them."""
        now = self.now
        if now is not None and (
            day != now.day or setting != now.setting or times[0] - now.stop > missing_time(step)
        ):
            self.end()
        first = 0
        while first < len(times):
            if self.now is None or self.now.room() < LEAST_ROOM:
                self.end()
                self.now = StretchCounter(self.place, self.curve, step, day, setting, anew and first == 0)
            here = slice(first, first + self.now.room())
            self.now.add(times[here], load[here])
            self.now.look_for_excursions(times[here], load[here])
            first = here.stop

    def end(self):
        """End the stretch under way, if there is one."""
        if self.now is not None and self.now.samples:
            self.ended.append(self.now.ended())
        self.now = None

    def take(self):
        """End the stretch under way and hand over all that ended since the last time."""
        self.end()
        ended, self.ended = self.ended, []
        return ended

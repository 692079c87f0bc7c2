"""What a library tells of a leg's settings in any sea, remembered at the nodes of a grid of seas and read between them.

Rates are read by their logarithm, over the corners that the library tells. A sea of which too little is told about it
is asked for itself.
"""

from typing import NamedTuple

import numpy as np

from seaload.deciding.leg.leg_doubt import CASES, Lead, cases_of, columns_at, ln_rates_in
from seaload.deciding.leg.sea_grid import cells_of, seas_at
from seaload.deciding.library.coordinates import ANGLE, HEIGHT, NAMES, PERIOD, SETTING, covered
from seaload.deciding.library.rates import rates_of
from seaload.evidence.verdict import SIDES

AT_ONCE = 4000  # questions: what a library answers together fits the processor's memory
ROWS_AT_ONCE = 400  # seas that are read between nodes together
LEAST_TOLD = 0.25  # [-] of the corners' weight: with less a sea is asked for itself
KINDS = {"log_wear": 0, "log_wear_error": 1, "speed": 2, "speed_most": 3}
NUMBERS = len(KINDS) + len(SIDES) * CASES


class Entry(NamedTuple):
    """What is told of r seas and j settings."""

    numbers: np.ndarray  # (r, j, NUMBERS) KINDS, then ln(rate) of each side in each case of the doubt; where told
    told: np.ndarray  # (r, j) bool: covered, held by the thrust
    at_least: np.ndarray  # (r, j) bool: cases about it ended or left the validity
    unreachable: np.ndarray  # (r, j) bool: faster than the thrust holds
    outside: np.ndarray  # (r, j) bool: not covered

    def of(self, kind):
        """One of KINDS, (r, j)."""
        return self.numbers[..., KINDS[kind]]

    def ln_rates(self):
        """ln(rate) (r, j, sides, d) [ln 1/s]."""
        return self.numbers[..., len(KINDS) :].reshape(*self.numbers.shape[:-1], len(SIDES), CASES)


class SeaTable:
    """Answers of one library about one row of settings, which it remembers."""

    def __init__(self, emulator, settings, inputs, error_at=None, correlation=0.0):
        """`settings` (j, SETTING names) [SI]; `inputs` : `Inputs`, what is uncertain of the boat; error_at : function
        of lead times (k,) [s] giving one deviation of the forecast's (height [-], period [-], angle [rad]), or None
        where members tell it.
        """
        self.emulator, self.settings, self.inputs = emulator, np.asarray(settings, dtype=float), inputs
        self.error_at, self.correlation = error_at, correlation
        self.lowest, self.longest = emulator.cover.low[HEIGHT], emulator.cover.high[PERIOD]
        self.cases, self.unknown = None, ()
        shape = 0, len(self.settings)
        nothing = [np.zeros(shape, dtype=bool) for _ in range(4)]
        self._rows, self._entry = {}, Entry(np.zeros((*shape, NUMBERS)), *nothing)

    def questions(self, seas):
        """Questions (r, j, names) [SI] of all settings in `seas` (r, 4), as of `sea_grid`; lower seas as the lowest,
        longer ones as the longest that are covered.
        """
        rows = np.empty((len(seas), len(self.settings), len(NAMES)))
        rows[..., : len(SETTING)] = self.settings
        rows[..., len(SETTING) :] = self.emulator.cover.low[len(SETTING) :]
        clamped = self.clamped(seas)
        for column, values in zip((HEIGHT, PERIOD, ANGLE), clamped.T, strict=False):
            rows[..., column] = values[:, None]
        return rows

    def clamped(self, seas):
        """`seas` (r, 4) with lower ones as the lowest, longer ones as the longest."""
        seas = np.array(seas, dtype=float)
        seas[:, 0], seas[:, 1] = np.maximum(seas[:, 0], self.lowest), np.minimum(seas[:, 1], self.longest)
        seas[:, 3] = seas[:, 3] if self.error_at is not None else 0.0
        return seas

    def read(self, seas):
        """`Entry` of `seas` (r, 4): height [m], period [s], angle [rad], lead time [s]."""
        seas = self.clamped(seas)
        cells = cells_of(seas, self.lowest, self.longest)
        nodes = self.numbers_of(cells.nodes)
        found = [self.between(nodes[cells.corner[part]], cells.weight[part]) for part in parts(len(seas), ROWS_AT_ONCE)]
        entry, weight = Entry(*map(np.concatenate, zip(*(e for e, _ in found), strict=True))), np.concatenate(
            [w for _, w in found])  # fmt: skip
        inside = covered(self.emulator.cover, self.questions(seas)[:, 0])[:, None]
        entry = entry._replace(outside=np.broadcast_to(~inside, weight.shape).copy(), told=entry.told & inside,
                               unreachable=entry.unreachable & inside)  # fmt: skip
        alone = inside & (weight < LEAST_TOLD)
        if alone.any():
            row, setting = np.nonzero(alone)
            exact = self.asked(self.questions(seas)[row, setting], seas[row, 3])
            for name in ("numbers", "told", "at_least", "unreachable"):
                getattr(entry, name)[row, setting] = getattr(exact, name)
        return entry

    def between(self, corner, weight):
        """(`Entry` read between nodes, weight (r, j) of what is told of the corners); `corner`, `weight` (r, 16)."""
        nodes, shape = self._entry, (len(corner), len(self.settings))
        numbers, told = np.zeros((*shape, NUMBERS)), np.zeros(shape)
        flags, reach, known = np.zeros(shape), np.zeros(shape), np.zeros(shape)
        for at, share in zip(corner.T, weight.T, strict=True):
            own = share[:, None] * nodes.told[at]
            numbers += own[..., None] * nodes.numbers[at]
            told += own
            flags += own * nodes.at_least[at]
            known += share[:, None] * ~nodes.outside[at]
            reach += share[:, None] * nodes.unreachable[at]
        numbers /= np.maximum(told, 1e-12)[..., None]
        unreachable = reach > 0.5 * np.maximum(known, 1e-12)
        is_told = (told > 0.0) & ~unreachable
        whole = np.where(unreachable, known, told)
        return Entry(numbers, is_told, flags > 0.5 * np.maximum(told, 1e-12), unreachable, known <= 0.0), whole

    def numbers_of(self, nodes):
        """Rows (k,) in what is remembered of whole numbers `nodes` (k, 4); those that are new are asked for."""
        keys = list(map(tuple, nodes.tolist()))
        new = [key for key in keys if key not in self._rows]
        if new:
            self.remember(new)
        return np.array([self._rows[key] for key in keys])

    def remember(self, new):
        """Ask for nodes that are not known."""
        seas, j = seas_at(new, self.lowest, self.longest), len(self.settings)
        questions = self.questions(seas).reshape(-1, len(NAMES))
        told = self.asked(questions, np.repeat(seas[:, 3], j))
        entry = Entry(*(part.reshape(len(new), j, *part.shape[1:]) for part in told))
        first = len(self._rows)
        self._rows |= {key: first + k for k, key in enumerate(new)}
        self._entry = Entry(*(np.concatenate(pair) for pair in zip(self._entry, entry, strict=True)))

    def asked(self, questions, lead):
        """`Entry`, without its axis of settings, of `questions` (k, names) [SI] so long ahead, `lead` (k,) [s]."""
        rates, columns = [], []
        for part in parts(len(questions), AT_ONCE):
            told, found = self.told_at(questions[part], lead[part])
            rates.append(told)
            columns.append(found)
        cases = self.cases
        if cases is None:
            cases = cases_of(np.concatenate([
                c.moved(r.load_mean)[r.told].reshape(-1, len(c.names)) for c, r in zip(columns, rates, strict=True)
            ]))  # fmt: skip
        self.cases = cases
        self.unknown = tuple(dict.fromkeys((*self.unknown, *(name for c in columns for name in c.unknown))))
        return Entry(*map(np.concatenate, zip(*map(self.entry_of, rates, columns), strict=True)))

    def told_at(self, questions, lead):
        """(`Rates`, `Columns`) of the library itself at `questions` (k, names) [SI] so long ahead, `lead` (k,) [s]."""
        rates = rates_of(self.emulator, questions)
        return rates, columns_at(self.emulator, questions, rates, self.inputs, self.error_there(lead))

    def entry_of(self, rates, columns):
        """`Entry`, without its axis of settings, of `Rates` with their `Columns`."""
        numbers = np.zeros((len(rates.told), NUMBERS))
        for kind, column in KINDS.items():
            numbers[:, column] = np.nan_to_num(getattr(rates, kind))
        numbers[:, len(KINDS) :] = ln_rates_in(self.cases, columns, rates).reshape(len(numbers), -1)
        numbers[~rates.told] = 0.0
        return Entry(numbers, rates.told, rates.at_least & rates.told, rates.unreachable, rates.outside)

    def error_there(self, lead):
        """The forecast's error so long ahead, `lead` (k,) [s], as `Lead` with (k,) each, or None."""
        return None if self.error_at is None else Lead(*self.error_at(lead), self.correlation)


def parts(count, size):
    """Slices of `size` that make up `count`."""
    return [slice(first, first + size) for first in range(0, count, size)]

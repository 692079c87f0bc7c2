"""Numbers of a saved result by the names of the vocabulary: a misspelt name raises."""

import math
from dataclasses import dataclass

from seaload.basis.vocabulary import entry_of

SIDES = ("reverse", "normal")
# names that results of earlier versions hold, retired since
RETIRED = {
    f"{side}_{name}{end}"
    for side in SIDES for name in ("odds_all", "event_rate_deciding") for end in ("", "_low", "_high")
} | {"hs_most", "tp_least", "tp_most"}  # fmt: skip
# rates of events that carry the odds, the first that a result holds
RATES = {
    side: tuple(f"{side}_event_rate{end}" for end in ("_joined", "_deciding", "")) for side in SIDES
}


@dataclass(frozen=True)
class Bounds:
    """A number with the ends of its 90 % interval; nan where unknown."""

    best: float
    low: float
    high: float

    def times(self, factor):
        """The same in another unit."""
        return Bounds(self.best * factor, self.low * factor, self.high * factor)


class Names:
    """Variables of a Dataset by name: what is misspelt raises, what is not held is None."""

    def __init__(self, dataset):
        self.dataset, self.kept = dataset, {}

    def holds(self, name):
        """Whether the result holds a variable; KeyError when no result of any version could."""
        if name not in RETIRED:
            entry_of(name)
        return name in self.dataset.variables

    def __call__(self, name, **at):
        """The value there (float, or text); KeyError when the result does not hold it."""
        if not self.holds(name):
            raise KeyError(f"{name} is not in this result")
        if name not in self.kept:
            self.kept[name] = self.dataset[name].dims, self.dataset[name].values
        dims, values = self.kept[name]
        value = values[tuple(at[dim] for dim in dims)]
        return str(value) if isinstance(value, str) else float(value)

    def maybe(self, name, **at):
        """The same, None when the result does not hold it."""
        return self(name, **at) if self.holds(name) else None

    def flag(self, name, **at):
        """A 0/1 flag as bool; None when the result does not hold it, or it is unknown there."""
        value = self.maybe(name, **at)
        return None if value is None or not value >= 0.0 else value > 0.5

    def bounds(self, name, **at):
        """`Bounds` of X, X_low, X_high; an interval that the result does not hold is nan."""
        ends = (self.maybe(name + end, **at) for end in ("_low", "_high"))
        return Bounds(self(name, **at), *(math.nan if end is None else end for end in ends))

    def maybe_bounds(self, name, **at):
        """The same, None when the result does not hold it."""
        return self.bounds(name, **at) if self.holds(name) else None

    def first_bounds(self, names, **at):
        """`Bounds` of the first of several names that this result holds; None when it holds none."""
        return next((self.bounds(name, **at) for name in names if self.holds(name)), None)

    def first(self, names, **at):
        """The value of the first of several names that this result holds; None when it holds none."""
        return next((self(name, **at) for name in names if self.holds(name)), None)

    def absent(self, sources):
        """Fields of which this result holds no variable; `sources` is {field: names}."""
        return tuple(field for field, names in sources.items() if not any(map(self.holds, names)))

"""`[moves]` of the boat file: the ways of backing off, each with its size, its words, its time and its condition.

Size and words of a move stand here alone: what is simulated, and what tables, pages, card and board print, follows.
"""

from math import inf
from typing import Annotated

from pydantic import Field

from seaload.basis.units import DEGREE, KNOT, MINUTE, PERCENT
from seaload.scenario.crew_records import Move, Way
from seaload.scenario.written import Written, number

STEPS = 2.0  # steps of an actuator that one move is when the file does not say its size
EITHER_WAY = "either way; two steps of [worked] when not said"
Words = Annotated[str, Field(min_length=1, max_length=24, description="what the order is called, 1 to 24 letters")]


class MoveSpec(Written):
    """What every way of backing off says: how long it takes, when it can be done, how it is called."""

    minutes: number(0.01, 240, "minutes from the order until done")
    only_below_knots: number(0.01, 60, "knots above which it cannot be done") | None = None
    words: Words | None = None

    def si(self, name, worked):
        """The move as a record; `worked` is {name of a setting in the file: its range as written}."""
        fastest = inf if self.only_below_knots is None else self.only_below_knots * KNOT
        return Move(name, self.minutes * MINUTE, fastest, tuple(self.ways(name, worked)))

    def ways(self, name, worked):
        """The `Way`s of it, each way an actuator can move; arguments as in `si`."""
        raise NotImplementedError


class EaseSpec(MoveSpec):
    """`[moves.ease_sheets]`: less thrust."""

    knots: number(0.01, 20, "knots slower") = 2.0

    def ways(self, name, worked):
        """One way."""
        return [Way(name, f"{self.words or 'Ease sheets'}: {self.knots:g} kn less", (("speed", -self.knots * KNOT),))]


class ReefSpec(MoveSpec):
    """`[moves.reef]`: less thrust and less heel."""

    knots: number(0.01, 20, "knots slower") = 2.0
    heel_degrees: number(0.01, 20, "degrees less heel") = 2.0

    def ways(self, name, worked):
        """One way."""
        words = f"{self.words or 'Reef'}: {self.knots:g} kn, {self.heel_degrees:g}° heel less"
        return [Way(name, words, (("speed", -self.knots * KNOT), ("heel", -self.heel_degrees * DEGREE)))]


class BearAwaySpec(MoveSpec):
    """`[moves.bear_away]`: waves on either bow come from further aft; `words_back` names the turn the other way."""

    degrees: number(0.01, 90, "degrees turned away from the wind") = 15.0
    words_back: Words | None = None

    def ways(self, name, worked):
        """Away, and back: that is not simulated of itself, only read where another wave angle is."""
        turn = self.degrees * DEGREE
        return [
            Way(name, f"{self.words or 'Bear away'} {self.degrees:g}°", (("waves_from_bow", turn),)),
            Way("head_up", f"{self.words_back or 'Head up'} {self.degrees:g}°", (("waves_from_bow", -turn),), False),
        ]


def both_ways(name, setting, unit, size, shown, words, less="less", more="more"):
    """An actuator less and more by `size` in the written unit; none without a size."""
    if size is None:
        return []
    said = shown.format(f"{size:g}")
    return [
        Way(f"{name} {word}", f"{words} {said} {told}", ((setting, sign * size * unit),))
        for sign, word, told in ((-1.0, "less", less), (1.0, "more", more))
    ]


def stated(size, worked, name):
    """The size as written, else so many steps of the actuator; None when neither is said."""
    if size is None and name in worked and worked[name].step is not None:
        return STEPS * worked[name].step
    return size


class TurnSpec(MoveSpec):
    """`[moves.rake]`, `[moves.cant]`: an actuator in degrees, either way."""

    degrees: number(0.01, 60, f"degrees, {EITHER_WAY}") | None = None

    def ways(self, name, worked):
        """Less and more."""
        size = stated(self.degrees, worked, f"{name}_deg")
        return both_ways(name, name, DEGREE, size, "{}°", self.words or name.capitalize())


class ExtensionMoveSpec(MoveSpec):
    """`[moves.extension]`: the foil drawn in or let out."""

    percent: number(0.01, 100, f"percent of the outside length, {EITHER_WAY}") | None = None

    def ways(self, name, worked):
        """Less and more."""
        size = stated(self.percent, worked, "extension_percent")
        return both_ways(name, name, PERCENT, size, "{} %", self.words or "Extension")


class BallastMoveSpec(MoveSpec):
    """`[moves.ballast]`: the centre of gravity moved by pumping water."""

    metres: number(0.01, 4, f"metres the centre of gravity moves, {EITHER_WAY}") | None = None

    def ways(self, name, worked):
        """Aft and forward."""
        size = stated(self.metres, worked, "ballast_shift_m")
        return both_ways(name, "ballast_shift", 1.0, size, "{} m", self.words or "Ballast", "aft", "forward")


class MovesSpec(Written):
    """`[moves]`: the ways of backing off that this boat has."""

    ease_sheets: EaseSpec | None = None
    bear_away: BearAwaySpec | None = None
    rake: TurnSpec | None = None
    cant: TurnSpec | None = None
    ballast: BallastMoveSpec | None = None
    extension: ExtensionMoveSpec | None = None
    reef: ReefSpec | None = None

    def si(self, worked):
        """The moves as records; `worked` is {name of a setting in the file: its range as written}."""
        found = {name: getattr(self, name) for name in type(self).model_fields}
        return tuple(move.si(name, worked) for name, move in found.items() if move is not None)

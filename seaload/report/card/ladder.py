"""The ladder of moves on the card: those that help in every sea shown, fastest first, with arrows for how much; one
line of those that make it worse."""

import math
from typing import NamedTuple

from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import time_words

ARROWS = ((20.0, "↓↓↓"), (10.0, "↓↓"), (0.0, "↓"))  # points of the limit, the least over the seas
ARROWS_OF_FACTOR = ((0.25, "↓↓↓"), (0.5, "↓↓"), (1.0, "↓"))  # where a result tells rates alone
LEGEND = "↓ less load, ↓↓ 10 points of the limit or more, ↓↓↓ 20 or more"
LEGEND_OF_FACTOR = "↓ fewer events, ↓↓ half or less, ↓↓↓ a quarter or less"


class Rung(NamedTuple):
    """A move over all seas of a card."""

    words: str
    seconds: float
    condition: str  # what it needs; empty for nothing
    arrows: str  # empty where it does not help in every sea
    worse: bool  # worse in every sea
    told: str  # by how much


def ladder(seas, told):
    """`Rung`s of the moves of several `SeaAnswer`s, fastest first; told : least points [% of the limit] that count."""
    found = {}
    for move in (move for sea in seas for move in sea.moves):
        found.setdefault(move.move.name, []).append(move)
    rungs = [rung(moves, told) for moves in found.values()]
    return sorted(rungs, key=lambda each: (each.seconds, each.words))


def rung(moves, told):
    """The `Rung` of one move from its `MoveAnswer` in each sea; its side is the worse of reverse and normal."""
    move = moves[0].move
    condition = "" if all(each.possible for each in moves) else "slow down first"
    same = {"words": move.words, "seconds": move.time, "condition": condition}
    points = [worse_side(each) for each in moves]
    if any(not each.valid for each in moves):
        return Rung(**same, arrows="", worse=False, told="leaves the model's validity")
    if all(value is not None for value in points):
        low, high = min(points), max(points)
        arrows = next(a for least, a in ARROWS if -high >= least) if high <= -told else ""
        return Rung(**same, arrows=arrows, worse=low >= told, told=points_range(low, high))
    factors = [each.factor for each in moves if math.isfinite(each.factor)]
    if len(factors) < len(moves):
        return Rung(**same, arrows="", worse=False, told="too few hours to compare")
    arrows = next(a for most, a in ARROWS_OF_FACTOR if max(factors) <= most) if max(factors) < 0.95 else ""
    ends = sorted({say.significant(f) for f in (min(factors), max(factors))}, key=float)
    return Rung(**same, arrows=arrows, worse=min(factors) > 1.05, told=f"× {' to '.join(ends)}")


def worse_side(found):
    """Points [% of the limit] that a `MoveAnswer` adds to the worst load of 1 exposure in 20, of the side that it
    treats worse; None where it is not known."""
    known = [100.0 * c.best for c in found.worst_change.values() if c is not None and math.isfinite(c.best)]
    return max(known) if known else None


def points_range(low, high):
    """ "12 less", "3 to 12 less", "5 less to 4 MORE": points of the limit over the seas of a card."""
    low, high = round(low), round(high)
    if low == high:
        return "as now" if low == 0 else f"{abs(low)} {'less' if low < 0 else 'MORE'}"
    if high <= 0 or low >= 0:
        ends = sorted((abs(low), abs(high)))
        return f"{ends[0]} to {ends[1]} {'less' if high <= 0 else 'MORE'}"
    return f"{-low} less to {high} MORE"


def rung_words(each):
    """A rung in one line: "↓↓ Ease sheets: 2 kn less, 6 seconds, 12 less"."""
    condition = f"; {each.condition}" if each.condition else ""
    return f"{each.arrows} {each.words}, {time_words(each.seconds)}{condition}: {each.told}".strip()


def unequal_words(rungs):
    """One line of the moves that make it worse, one of those that do not help everywhere; empty without any."""
    worse = [each.words for each in rungs if each.worse]
    open_ = [f"{each.words} ({each.told})" for each in rungs if not each.worse and not each.arrows]
    return (
        f"WORSE: {'; '.join(worse)}." if worse else "",
        f"Not shown to help: {'; '.join(open_)}." if open_ else "",
    )

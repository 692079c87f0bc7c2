"""How things are timed and how a benchmark row is written: medians of alternating repeats, processor time, ratios."""

import statistics
import time

REPEATS = 5


def seconds(action, clock=time.process_time):
    """Processor seconds of one call."""
    began = clock()
    action()
    return clock() - began


def alternating(actions, repeats=REPEATS, clock=time.process_time):
    """Median seconds of each action; they take turns, so that a busy machine is busy for all of them."""
    taken = [[] for _ in actions]
    for _ in range(repeats):
        for found, action in zip(taken, actions, strict=True):
            found.append(seconds(action, clock))
    return [statistics.median(found) for found in taken]


def row(name, ours, other, goal, sense, bound="", ratio=None):
    """One benchmark row; `ratio` is other over ours unless given, `sense` ">=" or "<="; no goal = stated only."""
    if ratio is None:
        ratio = other / ours
    met = None if goal is None else (ratio >= goal if sense == ">=" else ratio <= goal)
    plain = lambda value: None if value is None else float(f"{value:.4g}")  # noqa: E731
    return {
        "name": name, "ours": plain(ours), "other": plain(other), "ratio": plain(ratio),
        "goal": goal, "sense": sense, "met": met, "bound": bound,
    }  # fmt: skip

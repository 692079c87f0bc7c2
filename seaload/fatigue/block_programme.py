"""A block programme for a test rig: few steps of load that do the damage of a whole usage at one place and slope.

Steps are even in range; each stands for the cycles within it by the range that does their damage at the stated slope,
with the mean their damage leans on. Small ranges are left out while they hold less than a stated share of the damage,
and what they held is told. The programme is run in repeats, low to high to low; the few highest cycles are not smeared:
each keeps its own range and mean and stands at the top of a repeat, the highest in the middle one. In which order the
sea brought them is not kept. Common practice of block tests (Gassner 1939; rules on repeats and omission from memory).
"""

from typing import NamedTuple

import numpy as np

OMITTED = 0.01  # [-] of the damage at the stated slope that small ranges left out may hold
HIGHEST = 20  # single cycles that keep their own range and mean


class Step(NamedTuple):
    """One step of a programme."""

    load_range: float  # [load]
    mean: float  # [load]
    cycles: float  # [-] in the whole programme
    single: bool  # of the highest cycles, with a range and mean of its own


def programme(ranges, means, counts, slope, steps=8, repeats=10):
    """[`Step`] of a block programme from cycles of `ranges` and `means` [load] and their `counts` [-], (k,) each.

    `slope` [-] of the S-N curve it is to do the same damage by; `steps` of even range; `repeats` [-] that the whole is
    run in, so that every step but the highest has a multiple of them. Every step keeps its sum n S^m (Miner 1945).
    """
    order = np.argsort(ranges)[::-1]
    ranges, means, counts = (np.asarray(each, dtype=float)[order] for each in (ranges, means, counts))
    used = counts > 0.0
    ranges, means, counts = ranges[used], means[used], counts[used]
    if len(ranges) == 0:
        return []
    largest = ranges[0]
    single, (ranges, means, counts) = highest_cycles(ranges, means, counts, slope)
    damage = counts * (ranges / largest) ** slope
    total = damage.sum() + sum(step.cycles * (step.load_range / largest) ** slope for step in single)
    kept = np.cumsum(damage[::-1])[::-1] > OMITTED * total if len(ranges) else np.zeros(0, dtype=bool)
    ranges, means, counts, damage = (each[kept] for each in (ranges, means, counts, damage))
    found = list(single)
    if len(ranges):
        edges = np.linspace(ranges.min(), ranges.max() * (1.0 + 1e-12), steps + 1)
        for low, high in zip(edges[-2::-1], edges[:0:-1], strict=True):
            inside = (ranges >= low) & (ranges < high)
            if inside.any():
                found.append(whole_step(ranges[inside], means[inside], counts[inside], slope, repeats))
    return found


def highest_cycles(ranges, means, counts, slope):
    """([`Step`] of the HIGHEST largest cycles one by one, (ranges, means, counts) of the rest) [load].

    `ranges` falling, `means` [load], `counts` [-] (k,), `slope` [-]. What is left of one cycle is joined with the next
    bin until they make a whole one, its range by the damage of both (Miner 1945).
    """
    left, single, held = counts.copy(), [], np.zeros(3)  # held: cycles, damage, damage times mean
    scale = ranges[0]
    for i in range(len(ranges)):
        while left[i] > 0.0 and len(single) < HIGHEST:
            part = min(left[i], 1.0 - held[0])
            worth = part * (ranges[i] / scale) ** slope
            held += (part, worth, worth * means[i])
            left[i] -= part
            if held[0] >= 1.0 - 1e-9:
                load_range = scale * held[1] ** (1.0 / slope)
                single.append(Step(float(load_range), float(held[2] / held[1]), 1.0, True))
                held[:] = 0.0
        if len(single) == HIGHEST:
            break
    if held[0] > 0.0 and len(single) < HIGHEST:  # all that there is makes no whole cycle more
        single.append(Step(float(scale * held[1] ** (1.0 / slope)), float(held[2] / held[1]), 1.0, True))
    rest = left > 1e-9
    return single, (ranges[rest], means[rest], left[rest])


def whole_step(ranges, means, counts, slope, repeats):
    """One `Step` of cycles of `ranges`, `means` [load] and `counts` [-], (k,), its number a multiple of `repeats` [-].

    The range makes up for what rounding takes, by the `slope` [-]: n S^m is kept (Miner 1945).
    """
    largest = ranges.max()
    worth = counts * (ranges / largest) ** slope
    cycles = max(round(counts.sum() / repeats), 1) * repeats
    load_range = largest * (worth.sum() / cycles) ** (1.0 / slope)
    return Step(float(load_range), float(np.average(means, weights=worth)), float(cycles), False)


def sequence(found, repeats=10):
    """[(repeat, step number, cycles)] in the order of the test: each repeat goes from low to high and back.

    `found` [`Step`] as `programme` gives them, `repeats` [-]. Half of a step's cycles stand on the way up, half on the
    way down; single cycles stand at the top of the repeats in turn, the highest in the middle one (common practice, no
    source).
    """
    single = [i for i, step in enumerate(found) if step.single]
    others = sorted((i for i, step in enumerate(found) if not step.single), key=lambda i: found[i].load_range)
    turn = sorted(range(repeats), key=lambda r: abs(r - repeats // 2))
    tops = {r: [i for n, i in enumerate(single) if turn[n % repeats] == r] for r in range(repeats)}
    rows = []
    for r in range(repeats):
        each = {i: found[i].cycles / repeats for i in others}
        rows += [(r, i, np.ceil(each[i] / 2.0)) for i in others]
        rows += [(r, i, 1.0) for i in tops[r]]
        rows += [(r, i, np.floor(each[i] / 2.0)) for i in others[::-1] if each[i] >= 2.0]
    return rows

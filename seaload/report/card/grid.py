"""What stands in each cell of the card: wave heights down, wave angles across, one setting a cell at most.

A cell holds the suggested setting, or, where none passes, one that cannot be told yet; where neither is there it stays
blank: a setting to back off from is no advice.
"""

import math
from typing import NamedTuple

from seaload.basis.units import KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import angle_deg, number, setting_values
from seaload.report.shared.told_points import told_points

SAME_SPEED = 0.05 * KNOT  # [m/s]
MOST_TIED = 3  # settings told beside each other in a cell


class Cell(NamedTuple):
    """One sea on the card."""

    sea: int
    act: str | None  # the word to act on; None where nothing is shown to go by
    settings: tuple  # numbers of the settings told, equals beside each other; none where the cell stays blank
    lines: tuple  # what is printed


class Grid(NamedTuple):
    """The card's seas: rows of (Hs [m], Tp [s], how many seas of that kind stand before), columns of angles [deg]."""

    rows: tuple
    columns: tuple
    cells: dict  # {(row, column): Cell}


def card_grid(dataset, answer):
    """The `Grid` of a result."""
    places, told = {}, told_points(answer) / 100.0
    for sea in range(dataset.sizes["sea"]):
        hs, tp = (round(number(dataset, name, sea=sea), 1) for name in ("sea_hs", "sea_tp"))
        angle, again = round(angle_deg(dataset, sea)), 0
        while ((hs, tp, again), angle) in places:
            again += 1
        places[(hs, tp, again), angle] = sea
    rows, columns = sorted({row for row, _ in places}), sorted({angle for _, angle in places})
    fixed = fixed_axes(dataset)
    cells = {
        (rows.index(row), columns.index(angle)): card_cell(dataset, answer, sea, told, fixed)
        for (row, angle), sea in places.items()
    }
    return Grid(tuple(rows), tuple(columns), cells)


def fixed_axes(dataset):
    """{name of heel, cant, ballast: their value} where all settings have the same."""
    values = [setting_values(dataset, setting) for setting in range(dataset.sizes["setting"])]
    return {
        name: values[0][name]
        for name in ("heel_deg", "cant_deg", "ballast_shift_m")
        if max(abs(v[name] - values[0][name]) for v in values) < 1e-6
    }


def card_cell(dataset, answer, sea, told, fixed):
    """The `Cell` of one sea."""
    found = answer.seas[sea]
    act = first = None
    if found.chosen is not None:
        act, first = "Keep", found.chosen
    elif found.closest is not None:
        first = found.closest
        act = answer.settings[first, sea].act
        act = "Watch" if act == "Keep" else act  # within by the odds, but refused on fresh waves or by its tolerance
    if first is None or act not in ("Keep", "Watch"):
        return Cell(sea, act, (), ())
    settings = beside_each_other(dataset, first, equals(answer, first, sea, told))[:MOST_TIED]
    return Cell(sea, act, settings, cell_lines(dataset, answer, settings, sea, fixed))


def equals(answer, first, sea, told):
    """Settings that neither speed nor worst load tells from the first: the larger margin first, then by number."""
    mine = answer.settings[first, sea]
    same = [
        other for (setting, j), other in answer.settings.items()
        if j == sea and setting != first and other.act == mine.act and abs(other.speed - mine.speed) < SAME_SPEED
        and all(abs(loads(other)[side] - loads(mine)[side]) < told for side in mine.worst)
    ]  # fmt: skip
    return [each.setting for each in sorted(same, key=lambda each: (max(loads(each).values()), each.setting))]


def beside_each_other(dataset, first, others):
    """The `first` setting and those of the `others` that a cell can tell with it: all that differ from it as the first
    of them does, where that is in one thing; else that one alone, so that no line of one setting reads with another's.
    """
    mine = setting_values(dataset, first)

    def apart(other):
        theirs = setting_values(dataset, other)
        return {name for name, value in mine.items() if name != "speed_knots" and abs(theirs[name] - value) > 1e-9}

    if not others:
        return (first,)
    how = apart(others[0])
    alike = [other for other in others if len(how) == 1 and apart(other) == how]
    return (first, *(alike or others[:1]))


def loads(found):
    """{side: the load that 1 exposure in 20 passes, or the worst seen} as shares of the limit."""
    return {side: w.seen if w.one_in_twenty is None else w.one_in_twenty for side, w in found.worst.items()}


def cell_lines(dataset, answer, settings, sea, fixed):
    """Extension, rake, top speed, the worst load of 1 exposure in 20 and what is not alike on the card; equals beside
    each other, in one order on every line."""
    values = [setting_values(dataset, setting, sea) for setting in settings]
    for v, setting in zip(values, settings, strict=True):
        if not math.isfinite(v["speed_knots"]):
            v["speed_knots"] = answer.settings[setting, sea].speed / KNOT

    def either(name, said):
        texts = [said(v[name]) for v in values]
        return texts[0] if len(set(texts)) == 1 else " or ".join(texts)

    whole = lambda value: f"{value:.0f}"  # noqa: E731
    worst = max(max(loads(answer.settings[setting, sea]).values()) for setting in settings)
    lines = [
        f"{either('extension_percent', whole)} % out",
        f"rake {either('rake_deg', say.significant)}°",
        f"{either('speed_knots', lambda value: f'{value:.1f}')} kn",
    ]
    if "heel_deg" not in fixed:
        lines.append(f"heel {either('heel_deg', whole)}°")
    if "cant_deg" not in fixed:
        lines.append(f"keel {either('cant_deg', whole)}°")
    if "ballast_shift_m" not in fixed:
        lines.extend(either("ballast_shift_m", say.ballast_words).replace(" or ", "\nor ").split("\n"))
    told = any(w.one_in_twenty is not None for s in settings for w in answer.settings[s, sea].worst.values())
    return (*lines, f"{'1 in 20' if told else 'worst seen'}: {100.0 * worst:z.0f} %")

"""The figures of a sweep, one function each: plain arrays in human units in, (figure, caption) out."""

import math
from typing import NamedTuple

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.charts import LEAST_ODDS
from seaload.report.shared.figure_style import label_line, new_figure, plain, styled
from seaload.report.shared.risk_shade import risk_shade
from seaload.report.shared.wording import one_in, significant

MOST_TEXT_CELLS = 60  # above this the cells of a map carry no text
RISK_SCALE = (0.0, float(look.RAMP_LEVELS))  # of the steps of `risk_shade`
SIDE_WORDS = {"reverse": "reverse load", "normal": "normal load"}
MARKS = {"within": "", "undecided": "?", "outside": "", "not_shown": "×", "unreachable": "–"}


class SettingGrid(NamedTuple):
    """What is known of every setting of a grid."""

    rakes: list  # (m,) [deg] rising
    extensions: list  # (n,) [%] rising
    odds: dict  # {side: (2, n, m) best estimate and upper bound [-]}
    wear: np.ndarray  # (n, m) [full-load cycles/h]
    decisions: list  # (n, m) names


@styled
def settings_map(grid, *, accepted, chosen, where, hours):
    """Maps of the odds both ways and of wear over a `grid`, with the accepted levels and the suggestion.

    accepted {side: level [-]}; chosen : (row, column) or None; where : words; hours [h].
    """
    rakes, extensions, odds, wear, decisions = grid
    figure, axes = new_figure(1, 3, width=11.5, height=4.4, sharey=True)
    for axis, (side, words) in zip(axes, SIDE_WORDS.items(), strict=False):
        best, high = odds[side]
        cells = [[one_in(float(bound), "risk") for bound in row] for row in high]
        title = f"{words} past its limit in {hours:g} h: at worst"
        shades = [[risk_shade(float(v), accepted.get(side)) + 0.5 if v == v else np.nan for v in row] for row in high]
        _map_panel(axis, (rakes, extensions), np.array(shades), cells, decisions, title, RISK_SCALE)
        _level_lines(axis, best, high, accepted.get(side))
    wear_words = [[significant(float(v)) for v in row] for row in wear]
    title = "wear, full-load cycles an hour at the worst place"
    _map_panel(axes[2], (rakes, extensions), np.where(wear > 0, wear, np.nan), wear_words, decisions, title)
    for axis in axes:
        axis.set_xlabel("rake [°]")
        if chosen is not None:
            _outline(axis, *chosen)
    axes[0].set_ylabel("extension [% of the outside length]")
    figure.suptitle(plain(where), x=0.015, ha="left", fontsize=9.5, fontweight="bold")
    said = " and ".join(f"{one_in(level)} {side}" for side, level in accepted.items())
    caption = (
        "Each cell is a setting that was simulated; cells are of one size whatever their step. Odds are all told, "
        f"at worst; the lighter half of the colours is within your risk limit ({said}), the same in every map. Frame: "
        "suggested. Lines: the limit, broken by the upper bound, solid by the best estimate. "
        "? can't tell yet, × not shown to be within the limits, – unreachable. Not shown: the other settings of "
        "the grid."
    )
    return figure, caption


def _map_panel(axis, grid, values, words, decisions, title, ends=None):
    """One map over the `grid` (rakes, extensions); colours even from the first to the last of `ends`, else by the
    logarithm over what there is.
    """
    from matplotlib.colors import LogNorm, Normalize

    rakes, extensions = grid
    shown = np.ma.masked_invalid(values)
    low, high = (float(shown.min()), float(shown.max())) if shown.count() else (0.1, 1.0)
    norm = Normalize(*ends) if ends else LogNorm(low, max(high, 1.05 * low))
    cells = {"cmap": look.stepped_ramp(reverse=True), "norm": norm}
    edges = [np.arange(len(points) + 1) - 0.5 for points in (rakes, extensions)]
    axis.pcolormesh(*edges, shown, edgecolor=look.PAPER, linewidth=0.8, **cells)
    axis.grid(False)
    axis.set_xticks(range(len(rakes)), [significant(v, 3) for v in rakes])
    axis.set_yticks(range(len(extensions)), [significant(v, 3) for v in extensions])
    axis.set_title(title, fontsize=8.5, fontweight="normal")
    if shown.size > MOST_TEXT_CELLS:
        return
    for i in range(len(extensions)):
        for j in range(len(rakes)):
            mark = MARKS.get(decisions[i][j], "")
            text = f"{words[i][j]}\n{mark}".strip() if np.isfinite(values[i][j]) else mark or "–"
            look.label_cell(axis, j, i, text)


def _level_lines(axis, odds, high, accepted):
    if min(odds.shape) < 2 or accepted is None:
        return
    for values, stroke in ((odds, "solid"), (high, (0, (4, 2)))):
        logs = np.log(np.clip(values, LEAST_ODDS, 1.0))
        if np.nanmin(logs) < math.log(accepted) < np.nanmax(logs):
            axis.contour(logs, levels=[math.log(accepted)], colors=[look.REVERSE], linestyles=[stroke],
                         linewidths=2.0)  # fmt: skip


def _outline(axis, row, column):
    """A frame round the cell of the suggested setting."""
    from matplotlib.patches import Rectangle

    axis.add_patch(
        Rectangle((column - 0.47, row - 0.47), 0.94, 0.94, fill=False, edgecolor=look.INK, linewidth=2.6, zorder=6)
    )


@styled
def speed_risk_figure(points, *, accepted, where, hours):
    """Speed against reverse odds with error bars, every setting of a sea.

    points : list of {"speed_knots", "odds", "low", "high", "extension_percent", "decision", "chosen"}.
    """
    figure, axis = new_figure(height=4.4)
    extensions = sorted({round(p["extension_percent"], 3) for p in points})
    colours = dict(zip(extensions, look.place_colours(len(extensions)), strict=True))
    strokes = {e: ("o", "s", "D", "^", "h", "P", "X")[i % 7] for i, e in enumerate(extensions)}
    finite = [p["low"] for p in points if p["low"] > 0] + [p["odds"] for p in points if p["odds"] > 0]
    floor = 10.0 ** math.floor(math.log10(max(min([*finite, accepted]) * 0.5, LEAST_ODDS)))
    for p, x in zip(points, side_by_side([p["speed_knots"] for p in points]), strict=True):
        e = round(p["extension_percent"], 3)
        axis.plot([x, x], [max(p["low"], floor), min(p["high"], 1.0)], color=colours[e], linewidth=1.3, alpha=0.75)
        best = max(p["odds"], floor)
        hollow = p["decision"] in ("not_shown", "undecided")
        stroke = strokes[e] if p["odds"] > 0.0 else look.NONE_SEEN
        axis.plot([x], [best], stroke, color=colours[e], markersize=6,
                  markerfacecolor=look.PAPER if hollow else colours[e])  # fmt: skip
        if p["decision"] == "not_shown":
            axis.plot([x], [best], "x", color=look.INK, markersize=8)
        if p["chosen"]:
            axis.plot([x], [best], "s", color=look.INK, fillstyle="none", markersize=15, markeredgewidth=2)
            label_line(axis, x, best, "suggested", look.INK, fontweight="bold", offset=(11, 0))
    axis.set(yscale="log", ylim=(0.7 * floor, 1.2), xlabel="speed through the water [kn]")
    axis.set_ylabel(f"odds of reverse load past the limit in {hours:g} h")
    axis.yaxis.set_major_formatter(odds_tick)
    axis.axhline(accepted, color=look.REVERSE, linewidth=1.4)
    middle, span = np.mean(axis.get_xlim()), max(1.3 * np.ptp(axis.get_xlim()), 1.0)
    axis.set_xlim(middle - 0.5 * span, middle + 0.5 * span)
    label_line(axis, axis.get_xlim()[0], accepted, f"your risk limit: {one_in(accepted)}", look.REVERSE, va="bottom",
               offset=(3, 2))  # fmt: skip
    for e in extensions:
        axis.plot([], [], strokes[e], color=colours[e], label=f"{e:.0f} % out")
    axis.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0), handletextpad=0.2, fontsize=8.5)
    axis.set_title(plain(f"Speed against risk: {where}"))
    caption = (
        "Bars: 90 % interval that holds sampling, forecast and model together. Hollow: can't tell yet; ▽ at the "
        "foot: none seen; crossed: not shown to be within the limits. Settings of one speed are set a little apart. "
        "Not shown: wear."
    )
    return figure, caption


def odds_tick(value, _=None):
    """An axis label of odds."""
    if value >= 1.0:
        return "certain"
    return "1 in 10,000 or less" if value < 1.01 * LEAST_ODDS else one_in(value)


def side_by_side(speeds):
    """Places on the axis: settings within a tenth of a knot of each other stand in a row, none on top of
    another."""
    speeds = np.asarray(speeds, dtype=float)
    groups = np.unique(np.round(speeds, 1))
    gap = float(np.min(np.diff(groups))) if len(groups) > 1 else 1.0
    places = np.empty(len(speeds))
    for group in groups:
        mine = np.flatnonzero(np.round(speeds, 1) == group)
        step = min(0.7 * gap / max(len(mine), 1), 0.06)
        places[mine] = speeds[mine] + step * (np.arange(len(mine)) - 0.5 * (len(mine) - 1))
    return places


@styled
def wave_angle_figure(points, *, accepted, setting, hours):
    """Risk by wave angle of one setting, seas joined by height.

    points : list of {"angle_deg", "hs_m", "odds", "low", "high"}; setting : words.
    """
    figure, axis = new_figure(height=3.8)
    heights, ends = sorted({round(p["hs_m"], 1) for p in points}), []
    colours = dict(zip(heights, look.place_colours(len(heights)), strict=True))
    finite = [v for p in points for v in (p["low"], p["odds"]) if v > 0]
    floor = 10.0 ** math.floor(math.log10(max(min([*finite, accepted]) * 0.5, LEAST_ODDS)))
    for i, height in enumerate(heights):
        mine = sorted((p for p in points if round(p["hs_m"], 1) == height), key=lambda p: p["angle_deg"])
        x = np.array([p["angle_deg"] for p in mine]) + 0.8 * (i - 0.5 * (len(heights) - 1))
        best, low, high = (np.array([p[key] for p in mine], dtype=float) for key in ("odds", "low", "high"))
        axis.vlines(x, np.maximum(low, floor), np.minimum(high, 1.0), color=colours[height], linewidth=1.4)
        axis.plot(x, np.maximum(best, floor), color=colours[height], linestyle=look.PLACE_STROKES[i % 6])
        for mark, kind in (("o", best > 0.0), (look.NONE_SEEN, best <= 0.0)):
            axis.plot(x[kind], np.maximum(best, floor)[kind], mark, color=colours[height])
        ends.append((max(best[-1], floor), x[-1], f"Hs {height:g} m", colours[height]))
    above = {}  # seas whose points fall together: their names one above the other
    for value, at, words, colour in ends:
        step = round(6.0 * math.log10(value))
        label_line(axis, at, value, words, colour, offset=(8, 12 * above.get(step, 0)))
        above[step] = above.get(step, 0) + 1
    axis.set(yscale="log", ylim=(0.7 * floor, 1.2), xlabel="where the waves come from, from the bow [°]")
    axis.set_ylabel(f"reverse odds in {hours:g} h")
    axis.yaxis.set_major_formatter(odds_tick)
    axis.margins(x=0.15)
    axis.axhline(accepted, color=look.REVERSE, linewidth=1.4)
    label_line(axis, axis.get_xlim()[0], accepted, f"your risk limit: {one_in(accepted)}", look.REVERSE, va="bottom",
               offset=(3, 2))  # fmt: skip
    axis.set_title(plain(f"Risk by wave angle: {setting}"))
    caption = (
        "One setting in every sea of the study; 0° is from dead ahead. Bars: 90 % interval, sampling, "
        "forecast and model together; ▽ at the foot: none seen. Lines only lead the eye between seas that were "
        "simulated. Not shown: periods, which may differ."
    )
    return figure, caption

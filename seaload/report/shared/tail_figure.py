"""The figure of the tails that carry the odds: how often each share of a limit is passed, counted and fitted."""

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, styled
from seaload.report.shared.wording import significant

SIDES = (("reverse", "down", look.REVERSE, look.BAND_REVERSE), ("normal", "up", look.NORMAL, look.BAND_NORMAL))
LATEST = 20  # highest blocks drawn each by itself


@styled
def tail_figure(tails, words=""):
    """Both sides; tails : {"reverse" | "normal": `TailRead`}; words : what of, for the title."""
    figure, axes = new_figure(1, 2, height=4.1, sharey=True)
    hours, seconds = tails["reverse"].hours, tails["reverse"].block_seconds
    lowest = [r for tail in tails.values() for r in tail.at_limit[::2] if np.isfinite(r) and r > 0.0]
    least = max(min([0.2 / hours, *(0.5 * r for r in lowest)]), 1e-3 / hours)
    top = 1.5 * 3600.0 / seconds
    for axis, (side, way, colour, band) in zip(axes, SIDES, strict=True):
        tail = tails[side]
        axis.set_yscale("log")
        counted_line(axis, tail, colour, band)
        fitted_line(axis, tail, least)
        axis.axvline(100.0, color=colour, linewidth=1.6)
        limit_bar(axis, tail.at_limit, least)
        axis.set_xlim(min(0.0, 100.0 * tail.blocks.min()), max(130.0, 108.0 * tail.blocks.max()))
        axis.set(title=f"{side}, {way}", xlabel=f"share of the {side} limit [%]")
        axis.yaxis.set_major_formatter(lambda value, _: significant(value))
        label_line(axis, 100.0, 0.7 * top, f"{side}\nlimit", colour, ha="right", va="top", offset=(-4, 0))
        axis.axhline(1.0 / hours, color=look.MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
    axes[0].set_ylim(least, top)
    axes[0].set_ylabel(f"times an hour that it is passed\n(counted at most once in {seconds:.3g} s)")
    label_line(axes[0], axes[0].get_xlim()[0], 1.0 / hours, f"once in the {hours:.3g} h simulated", look.MUTED,
               va="bottom", offset=(3, 1), fontsize=8)  # fmt: skip
    if words:
        figure.suptitle(look.plain(words), x=0.015, ha="left", fontsize=9.5, fontweight="bold")
    return figure, caption(tails, seconds)


def caption(tails, seconds):
    """What is drawn, and where there is no fit."""
    without = [side for side, tail in tails.items() if tail.threshold is None]
    none = f" No tail fitted to the {' and '.join(without)} load: too few peaks, or hardly loaded." if without else ""
    return (
        f"Coloured: worst of each {seconds:.3g} s at any place outside the hull as counted, band the 90 % interval of "
        "counting alone. Grey from the dotted threshold on: count and fitted tail joined, with its 90 % interval. "
        f"Crosses: its peaks. Bar at 100 %: the rate that the odds use.{none} Not shown: how long each lasts."
    )


def counted_line(axis, tail, colour, band):
    """The counted blocks with their interval."""
    from seaload.risk.poisson import poisson_interval

    ordered = 100.0 * np.sort(tail.blocks[tail.blocks > 0.0])
    if len(ordered) == 0:
        axis.text(0.5, 0.4, "none", transform=axis.transAxes, ha="center", color=look.MUTED)
        return
    count = np.arange(len(ordered), 0, -1)
    shown = np.unique(np.round(np.geomspace(1, len(ordered), 120)).astype(int))[::-1]  # even on the axis, light
    at = len(ordered) - shown
    bounds = np.array([poisson_interval(int(k)) for k in count[at]])
    axis.fill_between(ordered[at], bounds[:, 0] / tail.hours, bounds[:, 1] / tail.hours, color=band, linewidth=0,
                      step="pre")  # fmt: skip
    axis.plot(ordered[at], count[at] / tail.hours, color=colour, linewidth=1.0)
    axis.plot(ordered[-LATEST:], count[-LATEST:] / tail.hours, ".", color=colour, markersize=5)


def fitted_line(axis, tail, least):
    """The threshold, the peaks over it, and the joined fit with its interval."""
    if tail.threshold is None:
        return
    x = 100.0 * tail.levels
    rate, low, high = np.maximum(tail.rates, 1e-3 * least).T
    axis.fill_between(x, low, high, color=look.HULL, alpha=0.28, linewidth=0, zorder=2)
    axis.plot(x, rate, color=look.INK, linewidth=1.5, linestyle=(0, (5, 1.5)), zorder=3)
    axis.axvline(100.0 * tail.threshold, color=look.MUTED, linewidth=1.0, linestyle=(0, (1, 1.5)))
    axis.plot(100.0 * tail.peaks, np.full(len(tail.peaks), 1.6 * least), "x", color=look.MUTED, markersize=3.5,
              markeredgewidth=0.8)  # fmt: skip
    words = f"{len(tail.peaks)} peaks over {100.0 * tail.threshold:.0f} %"
    label_line(axis, 100.0 * tail.threshold, 4.0 * least, words, look.MUTED, offset=(4, 0), fontsize=8)


def limit_bar(axis, at_limit, least):
    """The rate at the limit that the odds use, with its interval; none seen is drawn as its upper end alone."""
    rate, low, high = at_limit
    if not (np.isfinite(high) and high > 0.0):
        return
    axis.plot([100.0, 100.0], [max(low, 1e-3 * least), high], color=look.INK, linewidth=4, alpha=0.9, zorder=4)
    if rate > 0.0:
        axis.plot([100.0], [rate], "D", color=look.PAPER, markeredgecolor=look.INK, markersize=6, zorder=5)

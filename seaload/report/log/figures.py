"""Figures of a log: the quality ribbon, the deepest moments, hours by setting."""

import numpy as np

from seaload.report.log import reading as read
from seaload.report.shared import figure_style as look

QUALITY = (  # worst first: (words, colour)
    ("over a tenth failed or missing", look.REVERSE),
    ("some failed or missing", look.BAND_REVERSE),
    ("some suspect", look.HULL),
    ("good", look.BAND_NORMAL),
)
MOST_COLUMNS = 240
BAD, SUSPECT = ("fail", "missing"), "suspect"


def quality_classes(counts, meanings):
    """Number in QUALITY of every span and channel; counts (k, channels, flags), meanings: names of the flags."""
    total = np.maximum(counts.sum(axis=2), 1)
    bad = sum(counts[:, :, meanings.index(name)] for name in BAD) / total
    suspect = counts[:, :, meanings.index(SUSPECT)] > 0
    return np.where(bad > 0.1, 0, np.where(bad > 0.0, 1, np.where(suspect, 2, 3)))


def runs(values):
    """(first, number) of every run of equal values."""
    edges = np.flatnonzero(np.concatenate([[True], values[1:] != values[:-1], [True]]))
    return zip(edges[:-1], np.diff(edges), strict=True)


@look.styled
def ribbon_figure(start, length, counts, channels, meanings):
    """How good every channel was, span by span; times without any record are left out and marked."""
    classes = quality_classes(counts, meanings)
    fold = -(-len(start) // MOST_COLUMNS)
    firsts = np.arange(0, len(start), fold)
    classes = np.minimum.reduceat(classes, firsts, axis=0)
    figure, axis = look.new_figure(width=7.4, height=0.9 + 0.24 * len(channels))
    for row, _ in enumerate(channels):
        for first, number in runs(classes[:, row]):
            colour = QUALITY[classes[first, row]][1]
            axis.broken_barh([(first, number)], (row - 0.38, 0.76), facecolors=colour, linewidth=0)
    broken = np.flatnonzero(np.diff(start[firsts]) > 1.5 * fold * length) + 1
    for x in broken:
        axis.axvline(x, color=look.INK, linewidth=0.8, linestyle=(0, (2, 2)))
    marks = spread_marks(np.concatenate([[0], broken]), len(firsts))
    named = [read.moment_words(start[firsts][i])[:-3] for i in marks]
    axis.set_xticks(marks, named, ha="left")
    axis.set_yticks(range(len(channels)), [look.plain(c.replace("_", " ")) for c in channels])
    axis.set(xlim=(0, len(firsts)), ylim=(len(channels) - 0.4, -0.6))
    axis.grid(False)
    handles = [axis.broken_barh([(0, 0)], (0, 0), facecolors=colour, label=words) for words, colour in QUALITY[::-1]]
    figure.legend(handles=handles, loc="outside upper left", ncols=4, fontsize=8)
    return figure


def spread_marks(marks, count, most=4):
    """Marks far enough apart for their labels."""
    kept = []
    for mark in marks:
        if not kept or mark - kept[-1] > count / most:
            kept.append(int(mark))
    return kept


@look.styled
def moments_figure(moments, names, reverse_ratio):
    """Load at every place round each of the deepest moments, as shares of the limits.

    moments : [(offset [s] (n,), loads (n, places) shares of the normal limit, title)].
    """
    rows = -(-len(moments) // 2)
    size = {"width": 7.4, "height": 0.6 + 1.55 * rows}
    figure, axes = look.new_figure(rows, 2, sharex=True, sharey=True, squeeze=False, **size)
    colours = look.place_colours(len(names))
    for axis, moment in zip(axes.ravel(), moments, strict=False):
        offset, loads, title = moment
        share = 100.0 * np.where(loads >= 0.0, loads, loads / reverse_ratio)
        for level, colour, stroke in (
            (100, look.NORMAL, "-"), (-50, look.REVERSE, (0, (4, 2))), (-100, look.REVERSE, "-"), (0, look.MUTED, "-"),
        ):  # fmt: skip
            axis.axhline(level, color=colour, linestyle=stroke, linewidth=0.9)
        for k, name in enumerate(names):
            stroke = look.PLACE_STROKES[k % len(look.PLACE_STROKES)]
            axis.plot(offset, share[:, k], color=colours[k], linestyle=stroke, linewidth=1.2, label=look.plain(name))
        axis.set_title(look.plain(title), fontsize=8)
    for axis in axes.ravel()[len(moments) :]:
        axis.set_visible(False)
    for axis in axes[-1]:
        axis.set_xlabel("seconds from the deepest sample")
    for axis in axes[:, 0]:
        axis.set_ylabel("% of the limit")
    figure.legend(*axes[0, 0].get_legend_handles_labels(), loc="outside upper left", ncols=len(names), fontsize=8)
    return figure


@look.styled
def hours_figure(settings):
    """Map of hours over rake and extension; settings : [({edge name: value}, hours, wear)]. None without both."""
    cells = {}
    for known, hours, _ in settings:
        if "extension_percent" in known and "rake_deg" in known:
            at = (round(known["rake_deg"], 1), round(known["extension_percent"]))
            cells[at] = cells.get(at, 0.0) + hours
    if not cells:
        return None
    rakes, outs = sorted({r for r, _ in cells}), sorted({e for _, e in cells})
    table = np.full((len(outs), len(rakes)), np.nan)
    for (rake, out), hours in cells.items():
        table[outs.index(out), rakes.index(rake)] = hours
    figure, axis = look.new_figure(width=min(7.4, 2.2 + 0.9 * len(rakes)), height=1.3 + 0.42 * len(outs))
    axis.pcolormesh(
        np.arange(len(rakes) + 1), np.arange(len(outs) + 1), np.ma.masked_invalid(table),
        cmap=look.stepped_ramp(reverse=True), vmin=0.0, edgecolor=look.PAPER, linewidth=0.8,
    )  # fmt: skip
    for row, column in zip(*np.nonzero(np.isfinite(table)), strict=True):
        look.label_cell(axis, column + 0.5, row + 0.5, f"{hours_short(table[row, column])}")
    axis.set_xticks(np.arange(len(rakes)) + 0.5, [f"{rake:g}" for rake in rakes])
    axis.set_yticks(np.arange(len(outs)) + 0.5, [f"{out:g}" for out in outs])
    axis.set(xlabel="rake [deg]", ylabel="foil out [%]")
    axis.grid(False)
    return figure


def hours_short(hours):
    """Hours for a cell of the map: "4 min", "2.3 h"."""
    return f"{60.0 * hours:.0f} min" if hours < 1.0 else f"{hours:.1f} h"

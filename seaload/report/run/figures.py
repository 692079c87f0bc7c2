"""The figures of a run, one function each: plain arrays in human units in, (figure, caption) out."""

from typing import NamedTuple

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_along, label_ends, label_line, new_figure, plain, styled
from seaload.report.shared.wording import significant

LEFT_OUT = "Breaking waves are not modelled."


@styled
def spectrum_figure(asked, realised, *, sea_name, hs_asked_m, hs_realised_m, realisations=1, tail_from_hz=None):
    """Sea spectrum asked for and as it was realised.

    asked, realised : pairs (frequency [Hz], density [m2/Hz]) at a fixed place in the sea.
    tail_from_hz : where a measured record ends and the stated tail begins, or None.
    """
    figure, axis = new_figure(height=3.4)
    frequency, density = realised
    axis.fill_between(frequency, density, color=look.BAND_NORMAL, linewidth=0, zorder=1)
    axis.plot(frequency, density, color=look.NORMAL, linewidth=0.9, zorder=2)
    axis.plot(*asked, color=look.INK, linewidth=1.6, zorder=3)
    peak = int(np.argmax(asked[1]))
    end = float(np.max(asked[0]))
    axis.set(xlim=(0.0, end), ylim=(0.0, None), xlabel="wave frequency, seen from a fixed place [Hz]")
    axis.set_ylabel("energy density [m²/Hz]")
    top = axis.get_ylim()[1]
    middle = 0.45 * end
    label_line(axis, middle, 0.86 * top, f"asked: Hs {hs_asked_m:.2f} m", look.INK)
    label_line(axis, middle, 0.76 * top, f"realised: Hs {hs_realised_m:.2f} m", look.NORMAL)
    pointer = {"arrowstyle": "-", "linewidth": 0.8, "shrinkA": 2, "shrinkB": 2}
    right = peak + int(np.argmin(np.abs(asked[1][peak:] - 0.8 * asked[1][peak])))
    axis.annotate("", (asked[0][right], asked[1][right]), (middle, 0.86 * top),
                  arrowprops={**pointer, "color": look.INK})  # fmt: skip
    if tail_from_hz is not None and tail_from_hz < end:
        axis.axvline(tail_from_hz, color=look.MUTED, linestyle=(0, (2, 2)), linewidth=0.9)
        label_line(axis, tail_from_hz, 0.5 * top, "record ends here;\ntail assumed", look.MUTED,
                   ha="right", offset=(-4, 0))  # fmt: skip
    _period_axis(axis, end)
    axis.set_title(plain(f"Sea asked for and sea simulated: {sea_name}"))
    caption = (
        "Thick line: the spectrum asked for. Filled: the waves that were simulated, "
        f"mean of {realisations} realisation{'' if realisations == 1 else 's'}. "
        "Not shown: direction and spreading, which the energy does not show. " + LEFT_OUT
    )
    return figure, caption


def _period_axis(axis, end):
    top = axis.secondary_xaxis("top")
    periods = [p for p in (20, 15, 12, 10, 8, 6, 5, 4, 3, 2) if 1.0 / p < end]
    top.set_xticks([1.0 / p for p in periods], [str(p) for p in periods])
    top.set_xlabel("wave period [s]", fontsize=8.5)
    top.tick_params(labelsize=8)


@styled
def worst_minute_figure(time, series, shares, places, *, deepest, sea_name):
    """A minute around the deepest reverse load.

    time (n,) [s]; series : dict of (n,) "elevation_m", "heave_m", "pitch_deg", "speed_knots";
    shares (n, places) [%] of the normal limit upward, of the reverse limit downward (negative);
    places : names; deepest [s].
    """
    heights = [1.15, 0.8, 0.8, 2.3]
    figure, axes = new_figure(4, 1, height=6.8, sharex=True, gridspec_kw={"height_ratios": heights})
    water, pitch, speed, load = axes
    water.axhline(0.0, color=look.GRID, linewidth=0.8)
    water.fill_between(time, series["elevation_m"], np.min(series["elevation_m"]) - 0.2,
                       color=look.BAND_MUTED, linewidth=0)  # fmt: skip
    water.plot(time, series["elevation_m"], color=look.SEA)
    water.plot(time, series["heave_m"], color=look.INK, linestyle=(0, (5, 1.5)))
    water.set_ylabel("up [m]")
    pitch.axhline(0.0, color=look.GRID, linewidth=0.8)
    pitch.plot(time, series["pitch_deg"], color=look.INK)
    pitch.set_ylabel("bow up [°]")
    speed.plot(time, series["speed_knots"], color=look.INK)
    speed.set_ylabel("speed [kn]")
    _load_panel(load, time, shares, places)
    load.set_xlabel("time since the start of this realisation, run-in included [s]")
    for axis in axes:
        axis.axvline(deepest, color=look.REVERSE, linewidth=0.8, linestyle=(0, (1, 1.5)), zorder=0)
        axis.set_xlim(time[0], time[-1])
    label_ends(water, time[-1], [series["elevation_m"][-1], series["heave_m"][-1]], ["wave", "heave"],
               [look.SEA, look.INK], 0.17 * np.ptp(water.get_ylim()))  # fmt: skip
    label_ends(load, time[-1], [float(value) for value in shares[-1]], places,
               look.place_colours(len(places)), 0.068 * np.ptp(load.get_ylim()))  # fmt: skip
    label_line(water, deepest, water.get_ylim()[1], "deepest reverse load", look.REVERSE, ha="center",
               va="bottom", offset=(0, 1))  # fmt: skip
    figure.align_ylabels(axes)
    figure.suptitle(plain(f"The minute round the deepest reverse load: {sea_name}"), x=0.015, ha="left",
                    fontsize=9.5, fontweight="bold")  # fmt: skip
    caption = (
        "Load upward is a share of each place's normal limit, downward of its (smaller) reverse limit. The "
        "wave is taken at the boat's middle, not at the foil. Not shown: roll, gusts, places inside the hull. "
        + LEFT_OUT
    )
    return figure, caption


def _load_panel(axis, time, shares, places):
    colours = look.place_colours(len(places))
    axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
    for i, (name, colour) in enumerate(zip(places, colours, strict=True)):
        axis.plot(time, shares[:, i], color=colour, linestyle=look.PLACE_STROKES[i % 6], label=name,
                  linewidth=1.2 + 0.4 * (i == 0))  # fmt: skip
    low = min(float(np.min(shares)) * 1.15, -30.0)
    high = max(float(np.max(shares)) * 1.15, 60.0)
    for level, word, colour in (
        (100.0, "normal limit", look.NORMAL),
        (-50.0, "half the reverse limit", look.REVERSE),
        (-100.0, "reverse limit", look.REVERSE),
    ):
        if low * 1.35 - 12.0 < level < high * 1.35 + 12.0:
            low, high = min(low, level - 12.0), max(high, level + 12.0)
            axis.axhline(level, color=colour, linewidth=1.0, linestyle="-" if abs(level) > 60 else (0, (4, 2)))
            label_line(axis, time[0], level, word, colour, va="bottom", offset=(3, 1))
    axis.set(ylim=(low, high), ylabel="share of the limit [%]\ndown   |   up")


class Envelope(NamedTuple):
    """Bending moment along the foil's material, and what it bears."""

    material: np.ndarray  # (g,) [m] from the root
    lowest: np.ndarray  # (g,) [kN m]
    mean: np.ndarray
    highest: np.ndarray
    normal: np.ndarray  # (g,) limit [kN m], positive
    reverse: np.ndarray


@styled
def envelope_figure(envelope, *, bearing, stations, extension_percent):
    """Span-wise load `envelope` along the foil's material; bearing [m]; stations (k,) [m]."""
    material, lowest, mean, highest, normal, reverse = envelope
    figure, (load, share) = new_figure(2, 1, height=6.0, sharex=True, gridspec_kw={"height_ratios": [1.25, 1.0]})
    outside = material >= bearing - 1e-9
    for axis in (load, share):
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
        if bearing > material[0] + 1e-9:
            axis.axvspan(material[0], bearing, facecolor=look.BAND_MUTED, edgecolor=look.HULL, hatch="////",
                         linewidth=0, alpha=0.6)  # fmt: skip
        axis.axvline(bearing, color=look.INK, linewidth=1.4)
    m = material[outside]
    load.fill_between(m, np.maximum(lowest, 0)[outside], highest[outside], color=look.BAND_NORMAL, linewidth=0)
    load.fill_between(m, np.minimum(lowest, 0)[outside], 0.0, color=look.BAND_REVERSE, linewidth=0)
    load.plot(m, highest[outside], color=look.NORMAL)
    load.plot(m, mean[outside], color=look.INK, linestyle=(0, (5, 1.5)))
    load.plot(m, lowest[outside], color=look.REVERSE)
    load.plot(material, normal, color=look.NORMAL, linewidth=2.0)
    load.plot(material, -reverse, color=look.REVERSE, linewidth=2.0)
    _envelope_labels(load, m, highest[outside], mean[outside], lowest[outside], material, normal, reverse)
    load.set_ylabel("bending moment [kN m]\nreverse   |   normal")
    _share_panel(share, m, highest[outside], lowest[outside], normal[outside], reverse[outside])
    share.set_xlabel("place in the foil's material, from the root outward to the tip [m]")
    _mark_places(load, bearing, stations, material)
    share.set_xlim(material[0], material[-1])
    figure.suptitle(f"Load along the foil, {extension_percent:.0f} % out", x=0.015, ha="left",
                    fontsize=9.5, fontweight="bold")  # fmt: skip
    caption = (
        "Highest, mean and lowest bending moment at each place over all that was simulated; they do not occur "
        "at the same moment. Hatched: the part inside the hull, whose load lies between the bearings. Not "
        "shown: twist and shear."
    )
    return figure, caption


def _envelope_labels(axis, m, highest, mean, lowest, material, normal, reverse):
    at = int(0.42 * len(m))
    label_line(axis, m[at], highest[at], "highest", look.NORMAL, va="bottom", offset=(2, 2))
    label_line(axis, m[at], mean[at], "mean", look.INK, va="bottom", offset=(2, 1))
    label_line(axis, m[at], lowest[at], "lowest", look.REVERSE, va="top", offset=(2, -2))
    far = int(0.62 * len(material))
    label_line(axis, material[far], normal[far], "normal limit", look.NORMAL, va="bottom", offset=(6, 3))
    label_line(axis, material[far], -reverse[far], "reverse limit", look.REVERSE, va="top", offset=(6, -3))


def _share_panel(axis, m, highest, lowest, normal, reverse):
    up = 100.0 * np.maximum(highest, 0.0) / normal
    down = 100.0 * np.minimum(lowest, 0.0) / reverse
    axis.fill_between(m, up, color=look.BAND_NORMAL, linewidth=0)
    axis.fill_between(m, down, color=look.BAND_REVERSE, linewidth=0)
    axis.plot(m, up, color=look.NORMAL)
    axis.plot(m, down, color=look.REVERSE)
    axis.axhline(100.0, color=look.NORMAL, linewidth=2.0)
    axis.axhline(-100.0, color=look.REVERSE, linewidth=2.0)
    axis.set_ylim(min(-115.0, 1.1 * down.min()), max(125.0, 1.1 * up.max()))
    axis.set_ylabel("share of the limit [%]\ndown   |   up")
    for curve, sign, colour, word in ((up, 1, look.NORMAL, "up"), (down, -1, look.REVERSE, "down")):
        at = int(np.argmax(sign * curve))
        if sign * curve[at] <= 0:
            continue
        axis.plot([m[at]], [curve[at]], "o", color=colour, markersize=4)
        inward = -sign if 70.0 < sign * curve[at] < 130.0 else sign  # keep clear of the limit line
        near_bearing = at < 0.12 * len(m)
        label_line(axis, m[at], curve[at], f"{abs(curve[at]):.0f} % {word} at {m[at]:.1f} m", colour,
                   va="bottom" if inward > 0 else "top", ha="left" if near_bearing else "center",
                   offset=(4 * near_bearing, (5 if inward == sign else 15) * inward))  # fmt: skip


def _mark_places(axis, bearing, stations, material):
    low, high = axis.get_ylim()
    axis.set_ylim(low, high + 0.12 * (high - low))
    top = axis.get_ylim()[1]
    inside = bearing > material[0] + 1e-9
    label_line(axis, bearing, top, "bearing", look.INK, ha="left", va="top", offset=(4, -1), fontweight="bold")
    if inside:
        label_line(axis, 0.5 * (material[0] + bearing), low, "inside\nthe hull", look.MUTED, ha="center",
                   va="bottom", offset=(0, 3))  # fmt: skip
    for number, s in enumerate(stations, start=1):
        axis.plot([s], [0.0], marker="s", color=look.PAPER, markeredgecolor=look.INK, markersize=5, zorder=5)
        label_line(axis, s, 0.0, str(number), look.INK, ha="center", va="top", offset=(0, -5))


@styled
def rainflow_figure(mean_edges, range_edges, per_hour, *, place, reverse_share):
    """Rainflow matrix of one place: cycles per hour by range and mean, both in % of the normal limit.

    mean_edges (m+1,), range_edges (r+1,) [%]; per_hour (r, m); reverse_share [%] reverse over normal limit.
    """
    from matplotlib.colors import LogNorm

    figure, axis = new_figure(height=4.4)
    seen = np.ma.masked_less_equal(per_hour, 0.0)
    if seen.count() == 0:
        axis.text(0.5, 0.5, "no cycles counted", transform=axis.transAxes, ha="center")
        return figure, "No cycles were counted at this place."
    scale = LogNorm(seen.min(), max(seen.max(), 1.01 * seen.min()))
    cells = {"cmap": look.stepped_ramp(reverse=True), "norm": scale, "linewidth": 0.3, "edgecolor": "face"}
    image = axis.pcolormesh(mean_edges, range_edges, seen, **cells)
    bar = figure.colorbar(image, ax=axis, pad=0.02)
    bar.ax.yaxis.set_major_formatter(lambda value, _: significant(value))
    bar.ax.yaxis.set_minor_formatter(lambda value, _: "")
    bar.set_label("cycles per hour in each cell")
    rows, columns = np.nonzero(per_hour > 0.0)
    x = mean_edges[[columns.min(), columns.max() + 1]]
    y = range_edges[[0, rows.max() + 1]]
    span = max(x[1] - x[0], 10.0)
    x = (x[0] - 0.12 * span, x[1] + 0.25 * span)
    y = (0.0, max(y[1] * 1.12, 10.0))
    axis.set(xlim=x, ylim=y, xlabel="mean of the cycle [% of the normal limit]")
    axis.set_ylabel("range of the cycle, low to high [% of the normal limit]")
    _cycle_guides(axis, reverse_share)
    axis.set_title(plain(f"Load cycles counted at {place}, per hour"))
    caption = (
        'Rainflow cycles. Above and left of "lower end touches zero" a cycle dips into reverse; the guide '
        "lines beside it say how far. Empty: none counted. Not shown: the other places, and the order of the "
        "cycles."
    )
    return figure, caption


def _cycle_guides(axis, reverse_share):
    (x0, x1), (y0, y1) = axis.get_xlim(), axis.get_ylim()
    guides = (
        (lambda m: 2.0 * m, "lower end touches zero", look.INK, (0, (5, 2))),
        (lambda m: 2.0 * (m + 0.5 * reverse_share), "half the reverse limit", look.REVERSE, (0, (4, 2))),
        (lambda m: 2.0 * (m + reverse_share), "reverse limit", look.REVERSE, "-"),
        (lambda m: 2.0 * (100.0 - m), "upper end touches the normal limit", look.NORMAL, "-"),
    )
    m = np.linspace(x0, x1, 400)
    for line, word, colour, stroke in guides:
        r = line(m)
        shown = (r >= y0) & (r <= y1)
        if shown.sum() < 40:
            continue
        axis.plot(m[shown], r[shown], color=colour, linestyle=stroke, linewidth=1.0)
        falling = r[-1] < r[0]
        label_along(axis, m[shown], r[shown], word, colour, share=0.55 if falling else 0.74)

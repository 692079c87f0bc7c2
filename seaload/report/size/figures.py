"""Figures of a sizing: limits along the foil, loads along the span, usage, spectra, what changes do."""

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.result_reading import line
from seaload.report.size import reading as read

COLOURS = {"reverse": look.REVERSE, "normal": look.NORMAL}
BANDS = {"reverse": look.BAND_REVERSE, "normal": look.BAND_NORMAL}
FROM_ROOT = "from the root, along the material [m]"
TOP_SITUATIONS = 9


@look.styled
def limits_figure(dataset):
    """Given and least limits along the foil, both ways."""
    figure, axes = look.new_figure(2, 1, width=7.4, height=5.6, sharex=True)
    s = dataset["sized_material"].values
    for k, (axis, side) in enumerate(zip(axes, read.SIDES, strict=True)):
        get = lambda name, k=k: dataset[name].values[k] / read.KILO  # noqa: E731
        axis.fill_between(s, get("limit_needed_low"), get("limit_needed_high"), color=BANDS[side], linewidth=0)
        axis.plot(s, get("limit_given"), color=look.INK, linewidth=1.8, label="given")
        axis.plot(s, get("limit_needed"), color=COLOURS[side], linewidth=1.8, label="least, all told and for wear")
        axis.plot(s, get("limit_if_right"), color=COLOURS[side], linestyle=(0, (4, 2)), label="were the model right")
        axis.plot(s, get("limit_wear"), color=look.MUTED, linestyle=(0, (1, 1.5)), label="for the wear target")
        found = read.weakest(dataset, k)
        if found is not None:
            axis.plot([found.material], [found.needed[0]], "o", color=COLOURS[side])
            share = f"weakest: {found.margin[0] * 100.0:+.0f} %"
            look.label_line(axis, found.material, found.needed[0], share, COLOURS[side], offset=(6, 8))
        axis.set_title(f"{side} limit")
        axis.set_ylabel("bending moment [kN m]")
        axis.set_ylim(bottom=0.0)
        axis.legend(loc="upper right", fontsize=8)
    axes[-1].set_xlabel(FROM_ROOT)
    return figure


@look.styled
def governing_figure(dataset):
    """Which situation governs each place, a strip for each side."""
    figure, axis = look.new_figure(width=7.4, height=2.5)
    s = dataset["sized_material"].values
    step = s[1] - s[0] if len(s) > 1 else 1.0
    numbers = dataset["governing_situation"].values
    used = [n for n in sorted(set(numbers.ravel().tolist())) if n >= 0]
    colours = dict(zip(used, look.place_colours(len(used)), strict=True))
    for k in range(len(read.SIDES)):
        for p in read.loaded(dataset, k):
            by_wear = dataset["limit_wear"].values[k, p] > dataset["limit_all_told"].values[k, p]
            colour = look.BAND_MUTED if by_wear else colours[int(numbers[k, p])]
            axis.barh(k, step * 0.94, left=s[p] - 0.47 * step, height=0.6, color=colour, linewidth=0)
    for n in used[:TOP_SITUATIONS]:
        axis.barh(0, 0.0, color=colours[n], label=look.plain(read.situation(dataset, n)))
    axis.barh(0, 0.0, color=look.BAND_MUTED, label="wear")
    axis.set_yticks(range(len(read.SIDES)), read.SIDES)
    axis.set(xlim=(-0.6 * step, s[-1] + 0.6 * step), ylim=(-0.5, 1.5), xlabel=FROM_ROOT)
    axis.grid(False)
    figure.legend(loc="outside upper left", ncols=4, fontsize=8)
    return figure


@look.styled
def envelope_figure(dataset):
    """Moment, shear and torsion met once in a season, both ways."""
    figure, axes = look.new_figure(1, 3, width=7.4, height=3.0)
    s = dataset["sized_material"].values
    kinds = (("moment", "bending moment [kN m]"), ("shear", "shear [kN]"), ("torsion", "torsion [kN m]"))
    for axis, (kind, words) in zip(axes, kinds, strict=True):
        for k, (side, sign) in enumerate(zip(read.SIDES, (-1.0, 1.0), strict=True)):
            values = sign * dataset[f"envelope_{kind}"].values[k] / read.KILO
            axis.plot(s, values, color=COLOURS[side], label=side)
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
        axis.set_ylabel(words)
        axis.set_xlabel("from the root [m]")
    axes[0].legend(loc="upper right", fontsize=8)
    return figure


@look.styled
def companion_figure(dataset, e):
    """The load of the strips, moment and shear at one extreme."""
    figure, axes = look.new_figure(1, 3, width=7.4, height=2.8)
    edges = dataset["extreme_edge_material"].values[e]
    side = "reverse" if dataset["extreme_side"].values[e] < 0 else "normal"
    width = np.diff(edges)
    load = dataset["extreme_strip_load"].values[e]
    axes[0].bar(edges[:-1], load / width / read.KILO, width=width, align="edge", color=BANDS[side],
                edgecolor=COLOURS[side], linewidth=0.5)  # fmt: skip
    axes[0].set_ylabel("load along the normal [kN/m]")
    for axis, name, words in ((axes[1], "shear", "shear [kN]"), (axes[2], "moment", "bending moment [kN m]")):
        axis.plot(edges, dataset[f"extreme_edge_{name}"].values[e] / read.KILO, color=COLOURS[side])
        axis.set_ylabel(words)
    for axis in axes:
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
        axis.set_xlabel("from the root [m]")
    return figure


@look.styled
def usage_figure(dataset):
    """The scatter table, the seas made of it, the contour of a season."""
    figure, axis = look.new_figure(width=7.4, height=3.8)
    share = dataset["table_share"].values
    hs, tz = dataset["table_hs"].values, dataset["table_tz"].values
    axis.scatter(tz, hs, s=4.0 + 900.0 * share**0.5 * share.max() ** 0.5, color=look.BAND_MUTED, edgecolor=look.HULL,
                 linewidth=0.5, label="hours of the table, by area")  # fmt: skip
    axis.plot(dataset["contour_tz"].values, dataset["contour_hs"].values, color=look.SEA, label="met once in a season")
    told = {}
    for j in range(dataset.sizes["usage_sea"]):
        told[float(dataset["usage_tz"].values[j]), float(dataset["usage_hs"].values[j])] = None
    axis.plot(*zip(*told, strict=True), "x", color=look.INK, label="seas simulated")
    axis.set(xlabel="mean up-crossing period [s]", ylabel="significant wave height [m]", ylim=(0.0, None))
    axis.legend(loc="upper left", fontsize=8)
    return figure


@look.styled
def spectrum_figure(dataset):
    """Cycles of a season that exceed a range, by place, and the block programme."""
    figure, axis = look.new_figure(width=7.4, height=3.6)
    edges = dataset["cycle_range_bounds"].values[:, 0]
    count = dataset.sizes["place"]
    colours = look.place_colours(count)
    for k in range(count):
        beyond = np.cumsum(dataset["season_cycles"].values[k].sum(axis=1)[::-1])[::-1]
        if not beyond.max() > 0.0:
            continue
        shown = beyond > 0.5
        axis.plot(beyond[shown], 100.0 * edges[shown], color=colours[k], linestyle=look.PLACE_STROKES[k % 6],
                  label=read.station_name(dataset, k))  # fmt: skip
    place = int(dataset["programme_place"])
    limit = float(dataset["normal_limit"].values[place])
    order = np.argsort(-dataset["programme_range"].values)
    ranges = dataset["programme_range"].values[order] / limit
    cycles = np.cumsum(dataset["programme_cycles"].values[order])
    if len(ranges):
        axis.step(np.concatenate([[0.5], cycles]), 100.0 * np.concatenate([ranges[:1], ranges]), where="pre",
                  color=look.INK, linewidth=1.0, label="block programme")  # fmt: skip
    axis.set_xscale("log")
    axis.set(xlabel="cycles in a season that exceed the range", ylabel="range [% of the normal limit]")
    axis.set_ylim(bottom=0.0)
    axis.legend(loc="upper right", fontsize=8)
    return figure


@look.styled
def arrows_figure(dataset):
    """What each change and each uncertain input does to the least limits at the weakest places."""
    rows = []
    kinds = (("change", "change_name"), ("usage_change", "usage_change_name"), ("uncertain", "uncertain_name"))
    for kind, dim in kinds:
        for c, name in enumerate(dataset[dim].values if dim in dataset else ()):
            words = line(name, 60).replace("_", " ")
            rows.append((kind, c, f"{words}, one deviation" if kind == "uncertain" else words))
    figure, axes = look.new_figure(1, 2, width=7.4, height=0.9 + 0.27 * len(rows), sharey=True)
    for k, (axis, side) in enumerate(zip(axes, read.SIDES, strict=True)):
        found = read.weakest(dataset, k)
        for row, (kind, c, _) in enumerate(rows):
            if found is None:
                continue
            value, low, high = (100.0 * each for each in read.three(dataset, f"{kind}_limit", c, k, found.point))
            axis.plot([low, high], [row, row], color=BANDS[side], linewidth=6.0, solid_capstyle="butt")
            axis.annotate("", (value, row), (0.0, row), arrowprops={"arrowstyle": "-|>", "color": COLOURS[side]})
        axis.axvline(0.0, color=look.MUTED, linewidth=0.8)
        where = "" if found is None else f", {found.material:.1f} m from the root"
        axis.set_title(f"{side}{where}")
        axis.set_xlabel("change of the least limit [%]")
    axes[0].set_yticks(range(len(rows)), [look.plain(words) for *_, words in rows], fontsize=8)
    axes[0].set_ylim(len(rows) - 0.4, -0.6)
    return figure


@look.styled
def tails_figure(dataset):
    """Mean excess, stability and quantiles of the tails that carry the least limits."""
    figure, axes = look.new_figure(2, 3, width=7.4, height=5.0, squeeze=False)
    for row, side in zip(axes, read.SIDES, strict=True):
        k, colour = read.SIDES.index(side), COLOURS[side]
        get = lambda name, k=k: dataset[name].values[k]  # noqa: E731
        x, mean, error = (get(f"excess_{name}") / read.KILO for name in ("threshold", "mean", "error"))
        row[0].errorbar(x, mean, yerr=1.645 * error, color=colour, ecolor=BANDS[side], linewidth=1.2)
        row[0].set(xlabel="threshold [kN m]", ylabel="mean excess [kN m]", ylim=(0.0, None))
        row[0].set_title(f"{side}: mean excess")
        shares = 100.0 * dataset["stable_threshold"].values
        row[1].plot(shares, get("stable_level") / read.KILO, color=colour)
        row[1].set(xlabel="blocks over the threshold [%]", ylabel="met once a season [kN m]", ylim=(0.0, None))
        row[1].set_title("stability")
        told, met = get("quantile_told"), get("quantile_met")
        row[2].plot(told, met, "o", color=colour, markersize=3.5)
        most = np.nanmax(np.concatenate([told, met, [1.0]]))
        row[2].plot([0.0, most], [0.0, most], color=look.MUTED, linewidth=0.8)
        row[2].set(xlabel="foreseen, excess over scale", ylabel="met")
        row[2].set_title("quantiles")
    return figure

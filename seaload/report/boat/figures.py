"""Figures of a boat file: balance, drag, load and limits of the foil; plain arrays in human units in, figures out."""

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, styled

WIDTH = 6.6  # [in] of every figure: its text is then readable on a phone too
DRAG_PARTS = (  # name, words, colour
    ("drag_hull_friction", "hull friction", look.HULL),
    ("drag_hull_waves", "hull waves", look.BAND_MUTED),
    ("drag_hull_pressure", "hull pressure", look.MUTED),
    ("drag_fins", "keel fin, rudder", look.BAND_NORMAL),
    ("drag_foil_profile", "foil profile", look.SEA),
    ("drag_foil_induced", "foil induced", look.NORMAL),
    ("drag_other", "spray, air, gaps", look.BAND_REVERSE),
)
USUAL_TRIM = (0.0, 2.0)  # [deg] bow up


def extension_lines(axis, x, rows, names):
    """One line an extension, told apart by colour and stroke."""
    colours = look.place_colours(len(names))
    for k, (row, name) in enumerate(zip(rows, names, strict=True)):
        stroke = look.PLACE_STROKES[k % len(look.PLACE_STROKES)]
        axis.plot(x, row, color=colours[k], linestyle=stroke, label=f"{name} out")


def key_on_top(figure, axis, columns):
    """The key of an axis above the whole figure."""
    figure.legend(*axis.get_legend_handles_labels(), loc="outside upper left", ncols=columns, fontsize=8.5)


def mark_lost(axis, x, good):
    """A cross at the foot of the axis at a speed where some extension does not balance; `good` (extensions, speeds)."""
    lost = x[~good.all(axis=0)]
    if len(lost):
        axis.plot(lost, np.zeros(len(lost)) + 0.03, "x", color=look.REVERSE, transform=axis.get_xaxis_transform(),
                  clip_on=False, zorder=5)  # fmt: skip


@styled
def balance_figure(speed, panels, names, *, good, racing):
    """Curves over speed, two panels a row.

    speed (s,) [kn]; panels : [(title, unit, rows (extensions, s), band or None)]; names of the extensions; good
    (extensions, s) bool; racing [kn] is marked.
    """
    rows = -(-len(panels) // 2)
    figure, axes = new_figure(rows, 2, width=WIDTH, height=0.5 + 2.1 * rows, sharex=True, squeeze=False)
    for axis, (title, unit, values, band) in zip(axes.ravel(), panels, strict=False):
        if band is not None:
            axis.axhspan(*band, color=look.BAND_MUTED, linewidth=0, zorder=0)
        extension_lines(axis, speed, values, names)
        axis.axvline(racing, color=look.MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
        mark_lost(axis, speed, good)
        axis.set(title=title, ylabel=unit, xlim=(speed[0], speed[-1]))
    for axis in axes.ravel()[len(panels) :]:
        axis.set_visible(False)
    for axis in axes[-1]:
        axis.set_xlabel("speed [kn]")
    key_on_top(figure, axes[0, 0], len(names))
    return figure


@styled
def righting_figure(rest, sailed, *, heel, knots, vanishing):
    """Righting moment over heel: at rest, and at the racing speed by parts.

    rest : {"heel": [deg], "whole", "hull" [kN m]}; sailed : the same with "keel", "foil", "fins"; heel [deg] the
    stated one; knots of the racing speed; vanishing [deg] or nan.
    """
    figure, (still, moving) = new_figure(1, 2, width=WIDTH, height=3.3)
    still.plot(rest["heel"], rest["whole"], color=look.INK, label="whole")
    still.plot(rest["heel"], rest["hull"], color=look.HULL, linestyle=look.PLACE_STROKES[1], label="keel upright")
    still.set(title="at rest", xlabel="heel [°]", ylabel="righting moment [kN m]", xlim=(0, rest["heel"][-1]))
    if np.isfinite(vanishing):
        still.plot([vanishing], [0.0], "o", color=look.REVERSE)
        label_line(still, vanishing, 0.0, f"{vanishing:.0f}°", look.REVERSE, offset=(3, 9), fontsize=9)
    parts = (
        ("whole", "whole", look.INK, "-"), ("hull", "hull, keel upright", look.HULL, look.PLACE_STROKES[1]),
        ("keel", "canted keel", look.MUTED, look.PLACE_STROKES[2]), ("foil", "foil", look.NORMAL, "-"),
        ("fins", "fin and rudder as wings", look.SEA, look.PLACE_STROKES[4]),
    )  # fmt: skip
    for name, words, colour, stroke in parts:
        moving.plot(sailed["heel"], sailed[name], color=colour, linestyle=stroke, label=words)
    moving.set(title=f"at {knots:.3g} kn", xlabel="heel [°]", xlim=(0, sailed["heel"][-1]))
    for axis in (still, moving):
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
        axis.axvline(heel, color=look.MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
    figure.legend(*moving.get_legend_handles_labels(), loc="outside upper left", ncols=3, fontsize=8.5)
    return figure


@styled
def drag_figure(speed, parts, given, needed, names, *, reference, attainable):
    """Drag by part at the reference extension, and needed against given thrust at every extension.

    speed (s,) [kn]; parts {name: (s,) [kN]}; given, needed (extensions, s) [kN]; reference number of the extension;
    attainable (extensions,) [kn], nan where none.
    """
    figure, (stack, each) = new_figure(1, 2, width=WIDTH, height=3.9, sharey=True)
    rows = np.array([parts[name] for name, _, _ in DRAG_PARTS])
    known = np.isfinite(rows).all(axis=0)
    colours, labels = [colour for *_, colour in DRAG_PARTS], [words for _, words, _ in DRAG_PARTS]
    bands = stack.stackplot(
        speed[known], rows[:, known], colors=colours, labels=labels, edgecolor=look.PAPER, linewidth=0.4
    )
    (line,) = stack.plot(speed, given[reference], color=look.REVERSE, linewidth=1.8, label="thrust the sails give")
    stack.set(title=f"{names[reference]} out, by part", xlabel="speed [kn]", ylabel="drag, thrust [kN]")
    stack.set_xlim(speed[0], speed[-1])
    extension_lines(each, speed, needed, names)
    colours = look.place_colours(len(names))
    for k, best in enumerate(attainable):
        each.plot(speed, given[k], color=look.REVERSE, linewidth=0.9, alpha=0.8)
        if np.isfinite(best):
            each.plot([best], [np.interp(best, speed, needed[k])], "o", color=colours[k], markersize=5)
    each.set(title="drag and thrust, every extension", xlabel="speed [kn]", xlim=(speed[0], speed[-1]))
    top = 1.1 * np.nanmax(needed[:, : max(2, int(0.85 * len(speed)))])
    each.set_ylim(0.0, top)
    each.legend(loc="lower center", fontsize=8.5)
    figure.legend(handles=[*bands[::-1], line], loc="outside upper left", ncols=3, fontsize=8.5)
    return figure


@styled
def load_figure(speed, high, low, demand, names, *, good, racing):
    """Calm-water load of the foil, and how near it is to ventilating.

    speed (s,) [kn]; high, low (extensions, s) [%] of the normal limit, and of the reverse one below zero; demand
    (extensions, s) [%] of the onset; names of the extensions; good (extensions, s) bool; racing [kn].
    """
    figure, (load, flow) = new_figure(1, 2, width=WIDTH, height=3.1, sharex=True)
    extension_lines(load, speed, high, names)
    below = np.where(low < 0.0, low, np.nan)
    if np.isfinite(below).any():
        for k, row in enumerate(below):
            load.plot(speed, row, color=look.place_colours(len(names))[k], linewidth=0.9)
    load.set(title="load of the worst place", ylabel="% of its limit", xlabel="speed [kn]")
    extension_lines(flow, speed, demand, names)
    flow.set(title="lift demanded of the worst strip", ylabel="% of the onset of ventilation", xlabel="speed [kn]")
    for axis in (load, flow):
        axis.axvline(racing, color=look.MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
        axis.axhline(100.0, color=look.REVERSE, linewidth=0.9)
        axis.set(xlim=(speed[0], speed[-1]), ylim=(min(0.0, axis.get_ylim()[0]), max(108.0, axis.get_ylim()[1])))
        mark_lost(axis, speed, good)
    key_on_top(figure, load, len(names))
    return figure


@styled
def limits_figure(material, normal, reverse, chord, thickness, stiffness, *, stations, bearings):
    """Limits, sections and stiffness along the material of the foil.

    material (m,) [m]; normal, reverse (m,) [kN m]; chord, thickness (m,) [mm]; stiffness (m,) [MN m2]; stations [m];
    bearings {name of the extension: material at the bearing [m]}.
    """
    figure, (limit, section, bend) = new_figure(
        3, 1, width=WIDTH, height=6.2, sharex=True, gridspec_kw={"height_ratios": [1.8, 1.0, 1.0]}
    )
    limit.plot(material, normal, color=look.NORMAL)
    limit.plot(material, -reverse, color=look.REVERSE)
    middle = len(material) // 3
    label_line(limit, material[middle], normal[middle], "normal limit", look.NORMAL, offset=(4, 10), fontsize=9)
    label_line(limit, material[middle], -reverse[middle], "reverse limit", look.REVERSE, offset=(4, -10), fontsize=9)
    limit.axhline(0.0, color=look.MUTED, linewidth=0.8)
    limit.set_ylabel("bending moment [kN m]")
    low, high = -1.25 * reverse.max(), 1.25 * normal.max()
    limit.set_ylim(low, high)
    for number, s in enumerate(stations, start=1):
        limit.plot([s], [0.0], "s", color=look.INK, markersize=5)
        label_line(limit, s, 0.0, str(number), look.INK, ha="center", offset=(0, -10), fontsize=9)
    for name, s in bearings.items():
        for axis in (limit, section, bend):
            axis.axvline(s, color=look.MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
        label_line(limit, s, high, name, look.MUTED, ha="center", va="top", offset=(0, 0), fontsize=9)
    section.plot(material, chord, color=look.INK)
    section.plot(material, thickness, color=look.SEA)
    label_line(section, material[middle], chord[middle], "chord", look.INK, offset=(4, 8), fontsize=9)
    label_line(section, material[middle], thickness[middle], "thickness", look.SEA, offset=(4, 8), fontsize=9)
    section.set(ylabel="[mm]", ylim=(0.0, 1.25 * chord.max()))
    bend.plot(material, stiffness, color=look.INK)
    bend.set(yscale="log", ylabel="EI [MN m²]", xlabel="material, from the bearing of the fully extended foil [m]")
    bend.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    bend.set_xlim(material[0] - 0.02 * material[-1], 1.01 * material[-1])
    return figure

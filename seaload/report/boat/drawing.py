"""The boat drawn from her file: from ahead, heeled with the foil at every extension, and from the side."""

from dataclasses import dataclass

import numpy as np

from seaload.report.boat.figures import WIDTH
from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, styled

PLOT = 4.6  # [in] width of a view
FINS = ("foil", "keel", "rudder")


@dataclass(frozen=True)
class Drawn:
    """Lines of the drawing [m]."""

    section: tuple  # (y, z) of the fullest section, from the centre of gravity, heeled
    foils: list  # of (name, y, z), as far out as they go last
    keel: tuple  # (y, z) root, tip
    rudder: tuple
    stations: list  # of (number, y, z), foil all out
    waters: list  # of (words, z) of the water surface, the higher one first
    place: np.ndarray  # (n,) from the transom
    keel_line: np.ndarray
    deck: np.ndarray
    fins: list  # of (name, x, root z, tip z)
    afloat: float  # height of the water above the lowest keel point, at rest
    gravity: tuple  # (x, z)
    buoyancy: float  # x


@styled
def boat_figure(drawn):
    """Front view above, side view below; `drawn` a `Drawn`."""
    (left, right), (low, high) = front = front_limits(drawn)
    (stern, bow), (deep, top) = side = side_limits(drawn)
    heights = [(high - low) / (right - left), (top - deep) / (bow - stern)]
    figure, axes = new_figure(
        2, 1, width=WIDTH, height=1.7 + PLOT * sum(heights), gridspec_kw={"height_ratios": heights}
    )
    draw_front(axes[0], drawn)
    draw_side(axes[1], drawn)
    for axis, (x, y) in zip(axes, (front, side), strict=True):
        axis.set(xlim=x, ylim=y)
        axis.set_aspect("equal")
    return figure


def front_limits(drawn):
    """((left, right), (low, high)) [m] of the front view, with room for the words of the water on the left."""
    y, z = (np.concatenate([drawn.section[k], drawn.keel[k], drawn.rudder[k]]) for k in (0, 1))
    along = np.concatenate([y, *(foil[1] for foil in drawn.foils)])
    up = np.concatenate([z, *(foil[2] for foil in drawn.foils)])
    width = np.ptp(along)
    return (along.min() - 0.28 * width, along.max() + 0.04 * width), (up.min() - 0.4, up.max() + 0.3)


def side_limits(drawn):
    """((stern, bow), (low, high)) [m] of the side view, with room for the names of the fins."""
    length = np.ptp(drawn.place)
    lowest = min(tip for *_, tip in drawn.fins)
    return (
        (drawn.place[0] - 0.04 * length, drawn.place[-1] + 0.04 * length),
        (lowest - 0.05 * length, drawn.deck.max() + 0.03 * length),
    )


def draw_front(axis, drawn):
    """From ahead, leeward to the right."""
    y, z = drawn.section
    axis.fill(y, z, facecolor=look.BAND_MUTED, edgecolor=look.HULL, linewidth=1.2)
    left = front_limits(drawn)[0][0]
    for (words, height), stroke, place in zip(drawn.waters, ("-", (0, (4, 2))), ("bottom", "top"), strict=False):
        axis.axhline(height, color=look.SEA, linewidth=1.0, linestyle=stroke)
        away = 2 if place == "bottom" else -2
        label_line(axis, left, height, words, look.SEA, va=place, offset=(2, away), fontsize=9)
    axis.plot(*drawn.keel, color=look.INK, linewidth=2.0)
    axis.plot(drawn.keel[0][1:], drawn.keel[1][1:], "o", color=look.INK, markersize=9)
    axis.plot(*drawn.rudder, color=look.MUTED, linewidth=2.0)
    colours = look.place_colours(len(drawn.foils))
    for k, (name, along, up) in enumerate(drawn.foils):
        axis.plot(along, up, color=colours[k], linewidth=2.2, linestyle=look.PLACE_STROKES[k % 6], label=f"{name} out")
    for number, along, up in drawn.stations:
        axis.plot([along], [up], "s", color=look.PAPER, markeredgecolor=look.INK, markersize=5)
        label_line(axis, along, up, str(number), look.INK, offset=(6, -7), fontsize=9)
    axis.plot([0.0], [0.0], "+", color=look.REVERSE, markersize=12, markeredgewidth=2)
    axis.set(title="from ahead, heeled, leeward to the right", xlabel="from the centre of gravity [m]", ylabel="[m]")
    axis.legend(loc="center left", bbox_to_anchor=(1.0, 0.5), fontsize=8.5)


def draw_side(axis, drawn):
    """From the side, upright, bow to the right."""
    x = drawn.place
    axis.fill_between(x, drawn.keel_line, drawn.deck, facecolor=look.BAND_MUTED, edgecolor=look.HULL, linewidth=1.2)
    axis.axhline(drawn.afloat, color=look.SEA, linewidth=1.0)
    for name, place, root, tip in drawn.fins:
        axis.plot([place, place], [root, tip], color=look.INK, linewidth=2.0)
        under = {"ha": "center", "va": "top", "offset": (0, -4)}
        beside = {"ha": "left", "offset": (5, 3)}
        label_line(axis, place, tip, name, look.INK, fontsize=9, **(beside if name == "foil" else under))
    axis.plot(*[[value] for value in drawn.gravity], "+", color=look.REVERSE, markersize=12, markeredgewidth=2)
    label_line(axis, drawn.gravity[0], drawn.gravity[1], "gravity", look.REVERSE, ha="right", offset=(-8, 7),
               fontsize=9)  # fmt: skip
    axis.plot([drawn.buoyancy], [drawn.afloat], "v", color=look.SEA, markersize=7)
    label_line(axis, drawn.buoyancy, drawn.afloat, "buoyancy", look.SEA, va="bottom", offset=(4, 5), fontsize=9)
    axis.set(title="from the side, upright at rest, bow to the right", xlabel="from the transom [m]", ylabel="[m]")

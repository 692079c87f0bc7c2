"""The boat drawn from her file: from ahead, heeled with the foil at every extension, and from the side."""

from dataclasses import dataclass

import numpy as np

from seaload.report.boat.figures import WIDTH
from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, styled

FINS = ("foil", "keel", "rudder")


@dataclass(frozen=True)
class Drawn:
    """Lines of the drawing [m]."""

    section: tuple  # (y, z) of the fullest section, from the centre of gravity, heeled
    foils: list  # of (name, y, z), as far out as they go last
    keel: tuple  # (y, z) root, tip
    rudder: tuple
    stations: list  # of (number, y, z), foil all out
    waters: list  # of (words, z) of the water surface
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
    figure, (front, side) = new_figure(2, 1, width=WIDTH, height=7.6, gridspec_kw={"height_ratios": [1.7, 1.0]})
    draw_front(front, drawn)
    draw_side(side, drawn)
    return figure


def draw_front(axis, drawn):
    """From ahead, leeward to the right."""
    y, z = drawn.section
    axis.fill(y, z, facecolor=look.BAND_MUTED, edgecolor=look.HULL, linewidth=1.2)
    for words, height, stroke in zip(*zip(*drawn.waters, strict=True), ("-", (0, (4, 2))), strict=False):
        axis.axhline(height, color=look.SEA, linewidth=1.0, linestyle=stroke)
        low, _ = axis.get_xlim()
        label_line(axis, 0.0, height, words, look.SEA, ha="left", va="bottom" if stroke == "-" else "top", fontsize=9,
                   offset=(2, 1 if stroke == "-" else -1)).set_transform(axis.get_yaxis_transform())  # fmt: skip
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
    axis.set_aspect("equal")
    axis.set(title="from ahead, heeled, leeward to the right", xlabel="from the centre of gravity [m]", ylabel="[m]")
    axis.legend(loc="center left", bbox_to_anchor=(1.0, 0.5), fontsize=8.5)


def draw_side(axis, drawn):
    """From the side, upright, bow to the right."""
    x = drawn.place
    axis.fill_between(x, drawn.keel_line, drawn.deck, facecolor=look.BAND_MUTED, edgecolor=look.HULL, linewidth=1.2)
    axis.axhline(drawn.afloat, color=look.SEA, linewidth=1.0)
    for name, place, root, tip in drawn.fins:
        axis.plot([place, place], [root, tip], color=look.INK, linewidth=2.0)
        label_line(axis, place, tip, name, look.INK, ha="center", va="top", offset=(0, -4), fontsize=9)
    axis.plot(*[[value] for value in drawn.gravity], "+", color=look.REVERSE, markersize=12, markeredgewidth=2)
    label_line(axis, drawn.gravity[0], drawn.gravity[1], "gravity", look.REVERSE, offset=(7, -7), fontsize=9)
    axis.plot([drawn.buoyancy], [drawn.afloat], "v", color=look.SEA, markersize=7)
    label_line(axis, drawn.buoyancy, drawn.afloat, "buoyancy", look.SEA, va="bottom", offset=(4, 5), fontsize=9)
    lowest = min(tip for *_, tip in drawn.fins)
    axis.set(ylim=(lowest - 0.9, drawn.deck.max() + 0.4), xlim=(x[0] - 0.6, x[-1] + 0.6))
    axis.set_aspect("equal")
    axis.set(title="from the side, upright at rest, bow to the right", xlabel="from the transom [m]", ylabel="[m]")

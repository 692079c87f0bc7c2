"""The figure of a prescribed motion: what moves, and the load it makes."""

import numpy as np

from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_ends, label_line, new_figure, styled

ANGLES = (("heel", look.INK, "-"), ("pitch", look.SEA, (0, (5, 1.5))), ("leeway", look.MUTED, (0, (1, 1.2))))
STILL = 1e-6  # of a row that does not move


def samples_of(dataset, sea, number):
    """{name: (samples,)} of a motion in SI, cut where it ends."""
    names = ("time", "heel", "leeway", "speed", "height", "pitch", "normal_share", "reverse_share")
    rows = {name: dataset[f"prescribed_series_{name}"].values[sea, number].astype(float) for name in names}
    there = np.isfinite(rows["time"])
    return {name: values[there] for name, values in rows.items()}


@styled
def motion_figure(dataset, sea, number):
    """(figure, caption) of motion `number` of a sea: panels of what moves, then the load both ways."""
    rows = samples_of(dataset, sea, number)
    moves = {name for name, values in rows.items() if np.ptp(values) > STILL}
    panels = [panel for panel, names in ((angle_panel, {"heel", "pitch", "leeway"}), (height_panel, {"height"}),
                                         (speed_panel, {"speed"})) if names & moves]  # fmt: skip
    heights = [0.9] * len(panels) + [1.6]
    ratios = {"height_ratios": heights}
    figure, axes = new_figure(len(heights), 1, width=5.0, height=0.6 + 1.25 * sum(heights), sharex=True, squeeze=False,
                              gridspec_kw=ratios)  # fmt: skip
    column = axes[:, 0]
    for panel, axis in zip([*panels, load_panel], column, strict=True):
        axis.set_xlim(rows["time"][0], rows["time"][-1])
        panel(axis, rows, moves)
    column[-1].set_xlabel("time from the first row [s]")
    figure.align_ylabels(list(column))
    up, down = (float(rows[f"{side}_share"].max()) / PERCENT for side in ("normal", "reverse"))
    caption = (
        f"What the study prescribes, and the highest load at any place outside the hull: {up:.0f} % of the normal "
        f"limit up, {down:.0f} % of the reverse limit down. What does not move is not drawn. Flat water, no odds."
    )
    return figure, caption


def angle_panel(axis, rows, moves):
    """Heel, pitch and leeway, those that move."""
    drawn = [(name, colour, stroke) for name, colour, stroke in ANGLES if name in moves]
    axis.axhline(0.0, color=look.GRID, linewidth=0.8)
    for name, colour, stroke in drawn:
        axis.plot(rows["time"], rows[name] / DEGREE, color=colour, linestyle=stroke)
    axis.set_ylabel("[°]")
    ends = [rows[name][-1] / DEGREE for name, _, _ in drawn]
    label_ends(axis, rows["time"][-1], ends, [name for name, _, _ in drawn], [colour for _, colour, _ in drawn],
               0.2 * np.ptp(axis.get_ylim()))  # fmt: skip


def height_panel(axis, rows, moves):
    """Height over the calm trim; `moves` names of all rows that move."""
    axis.axhline(0.0, color=look.GRID, linewidth=0.8)
    axis.plot(rows["time"], rows["height"], color=look.INK)
    axis.set_ylabel("height [m]")


def speed_panel(axis, rows, moves):
    """Speed; `moves` names of all rows that move."""
    axis.plot(rows["time"], rows["speed"] / KNOT, color=look.INK)
    axis.set_ylabel("speed [kn]")


def load_panel(axis, rows, moves):
    """Highest share of the limits, up and down; `moves` names of all rows that move."""
    time, up, down = rows["time"], rows["normal_share"] / PERCENT, -rows["reverse_share"] / PERCENT
    axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
    axis.fill_between(time, up, color=look.BAND_NORMAL, linewidth=0)
    axis.fill_between(time, down, color=look.BAND_REVERSE, linewidth=0)
    axis.plot(time, up, color=look.NORMAL)
    axis.plot(time, down, color=look.REVERSE)
    low, high = min(1.15 * down.min(), -25.0), max(1.15 * up.max(), 50.0)
    for level, word, colour in ((100.0, "normal limit", look.NORMAL), (-100.0, "reverse limit", look.REVERSE)):
        if 1.35 * low - 12.0 < level < 1.35 * high + 12.0:
            low, high = min(low, level - 12.0), max(high, level + 12.0)
            axis.axhline(level, color=colour, linewidth=1.6)
            label_line(axis, time[-1], level, word, colour, ha="right", va="bottom", offset=(-3, 1))
    axis.set(ylim=(low, high), ylabel="share of the limit [%]\ndown   |   up")

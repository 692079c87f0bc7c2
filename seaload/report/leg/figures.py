"""The figure of a leg: the sea along it, the settings, and where odds and wear are spent, over one axis of time."""

import numpy as np

from seaload.basis.units import FULL_LOAD_SHARE, HOUR
from seaload.report.leg import reading as read
from seaload.report.shared import figure_style as look

CAPTION = (
    "Over time under way: the waves that the plan meets (line: mean of the forecast's members, band: lowest to "
    "highest); the speed and the foil that are set (dots: the setting is changed); what each stretch spends of "
    "the leg's reverse odds (bars) and wear (line). The plan backs off where a minute gained costs most odds."
)


@look.styled
def plan_figure(dataset):
    """Three panels over hours since the start."""
    rows, settings = read.stretches(dataset), read.settings(dataset)
    start = rows[0].start
    hours = (read.seconds_of(dataset["piece_start"].values) - start) / HOUR
    end = (rows[-1].start + 60.0 * rows[-1].minutes - start) / HOUR
    edges = np.array([(row.start - start) / HOUR for row in rows] + [end])
    figure, (sea, setting, spent) = look.new_figure(3, 1, width=7.4, height=6.4, sharex=True)
    heights = dataset["piece_hs"].values
    sea.fill_between(hours, np.nanmin(heights, axis=1), np.nanmax(heights, axis=1), color=look.BAND_MUTED, linewidth=0)
    sea.plot(hours, np.nanmean(heights, axis=1), color=look.SEA)
    sea.set(ylabel="Hs [m]", ylim=(0, None))
    sea.set_title("Sea")
    steps(setting, edges, [settings[row.setting]["speed_knots"] for row in rows], look.INK, "-")
    changes = [k for k, row in enumerate(rows) if row.changed]
    setting.plot(edges[changes], [settings[rows[k].setting]["speed_knots"] for k in changes], "o", color=look.INK,
                 markersize=4)  # fmt: skip
    setting.set(ylabel="speed set [kn]", ylim=(0, None))
    setting.set_title("Setting")
    foil = setting.twinx()
    steps(foil, edges, [settings[row.setting]["extension_percent"] for row in rows], look.NORMAL, (0, (5, 2)))
    foil.set_ylabel("foil out [%], dashed", color=look.NORMAL)
    foil.set_ylim(0, 112)
    foil.grid(False)
    shares = 100.0 * np.array([row.share for row in rows])
    spent.bar(edges[:-1], shares, width=np.diff(edges), align="edge", color=look.BAND_REVERSE, edgecolor=look.REVERSE,
              linewidth=0.6)  # fmt: skip
    spent.set(ylabel="share of reverse odds [%]", xlabel="hours after the start", xlim=(0, end), ylim=(0, None))
    spent.set_title("Spent")
    wear = spent.twinx()
    whole = np.concatenate([[[0.0, 0.0]], np.cumsum(dataset["piece_wear"].values, axis=0)]) / FULL_LOAD_SHARE
    times = np.concatenate([hours, [end]])
    for k, name in enumerate(dataset["foil_name"].values):
        if whole[-1, k] > 0.0:
            wear.plot(times, whole[:, k], color=look.INK, linestyle=look.PLACE_STROKES[k], label=f"{name} foil")
    wear.set_ylabel("wear [full-load cycles], lines")
    wear.set_ylim(0, None)
    wear.grid(False)
    if wear.lines:
        wear.legend(loc="upper left", fontsize=8)
    return figure


def steps(axis, edges, values, colour, stroke):
    """Values that hold from edge to edge."""
    axis.plot(np.repeat(edges, 2)[1:-1], np.repeat(values, 2), color=colour, linestyle=stroke)


def save_leg_figures(dataset, folder):
    """plan.png beside the result; gives its path in a list."""
    return [look.save_picture(plan_figure(dataset), folder / "plan.png", CAPTION)]

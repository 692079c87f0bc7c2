"""The ten deepest events of a run side by side: how the foil was loaded at the deepest moment of each."""

import numpy as np

from seaload.report.run.events import deepest_each_way
from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import new_figure, plain, styled

SHOWN, COLUMNS = 10, 5


@styled
def gallery_figure(events, place, loads):
    """Small panels, the deepest first; events : `Event`s; place (strips,) [m]; loads (n, strips) [kN/m]."""
    rows = -(-len(events) // COLUMNS)
    figure, axes = new_figure(rows, COLUMNS, width=7.4, height=0.9 + 1.4 * rows, sharex=True, sharey=True,
                              squeeze=False)  # fmt: skip
    panels = axes.ravel()
    for axis, event, load in zip(panels, events, loads, strict=False):
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
        axis.fill_between(place, load, step="mid", color=look.BAND_REVERSE, where=load < 0.0, linewidth=0)
        axis.fill_between(place, load, step="mid", color=look.BAND_NORMAL, where=load >= 0.0, linewidth=0)
        colour = look.REVERSE if event.reverse else look.NORMAL
        axis.plot(place, load, color=colour, drawstyle="steps-mid", linewidth=1.2)
        axis.axvline(event.material_m, color=look.INK, linewidth=0.9, linestyle=(0, (1, 1.5)))
        way = "down" if event.reverse else "up"
        axis.set_title(plain(f"{event.share_percent:.0f} % {way}, {event.cause}"), fontsize=8, color=colour)
        axis.text(0.98, 0.04, f"{event.realisation + 1}: {event.time_s:.0f} s", transform=axis.transAxes, ha="right",
                  fontsize=8, color=look.MUTED)  # fmt: skip
    for axis in panels[len(events) :]:
        axis.set_visible(False)
    axes[0, 0].set_ylabel("load [kN/m]")
    figure.supxlabel("place in the foil's material [m]", fontsize=9)
    caption = (
        f"The {len(events)} deepest events, half of them reverse where there are as many; share of the limit and cause "
        "above each, realisation and time below. Net load of each strip along its normal at the deepest moment, with "
        "inertia and weight. Dotted: the place nearest to its limit. Not shown: what led to each."
    )
    return figure, caption


def gallery_of(dataset, setting, events):
    """`gallery_figure` of the deepest of `events`."""
    strips = dataset.sizes["strip"]
    bearing = float(dataset["place_material"].isel(setting=setting).values[0])
    length = (float(dataset["material"].values[-1]) - bearing) / strips
    place = bearing + length * (np.arange(strips) + 0.5)
    shown = deepest_each_way(events, SHOWN)
    loads = np.array([dataset["event_strip_load"].values[event.number] for event in shown]) / length / 1e3
    return gallery_figure(shown, place, loads)

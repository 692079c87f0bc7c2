"""The figure of a run's deepest events: when each came and how deep, and the load along the foil in the deepest."""

import numpy as np

from seaload.report.run.events import MOST, deepest_each_way
from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, plain, styled


@styled
def event_figure(events, along, sea_name):
    """Depth of `events` (a list of `Event`, the deepest first) over time, and strip loads of the deepest either way.

    along : {"reverse" | "normal": (material (n,) [m], load (n,) [kN/m])} of the deepest, or without it.
    """
    figure, (when, span) = new_figure(1, 2, height=3.3)
    for axis in (when, span):
        axis.axhline(0.0, color=look.MUTED, linewidth=0.8)
    for reverse, colour, marker in ((False, look.NORMAL, "^"), (True, look.REVERSE, "v")):
        mine = [event for event in events if event.reverse == reverse]
        shares = [-event.share_percent if reverse else event.share_percent for event in mine]
        when.plot([event.time_s / 60.0 for event in mine], shares, marker, color=colour, markersize=4.5)
        level = -100.0 if reverse else 100.0
        when.axhline(level, color=colour, linewidth=1.6)
        name = "reverse" if reverse else "normal"
        label_line(when, when.get_xlim()[0], level, f"{name} limit", colour,
                   va="top" if reverse else "bottom", offset=(3, -2 if reverse else 2))  # fmt: skip
        if name in along:
            material, load = along[name]
            span.plot(material, load, color=colour, drawstyle="steps-mid")
            span.text(0.03, 0.03 if reverse else 0.97, f"deepest {'down' if reverse else 'up'}", color=colour,
                      transform=span.transAxes, va="bottom" if reverse else "top")  # fmt: skip
    deepest = max([120.0, *(1.15 * event.share_percent for event in events)])
    when.set(ylim=(-deepest, deepest), xlabel="time in the realisation [min]")
    when.set_ylabel("share of the limit [%]\ndown   |   up")
    span.set(xlabel="place in the foil's material [m]", ylabel="load along its normal [kN/m]")
    when.set_title(plain(f"Deepest events: {sea_name}"))
    caption = (
        f"Left: the {len(events)} deepest events, all realisations together. Right: net load of each strip, inertia "
        "and weight included, at the deepest moment either way. Not shown: shallower events, and what led to each."
    )
    return figure, caption


def events_drawn(dataset, setting, sea, events, sea_name):
    """`event_figure` of the deepest `events` of a setting in a sea; the strips' place from the result."""
    strips = dataset.sizes["strip"]
    material = dataset["place_material"].isel(setting=setting).values
    bearing, tip = float(material[0]), float(dataset["material"].values[-1])
    length = (tip - bearing) / strips
    place = bearing + length * (np.arange(strips) + 0.5)
    along = {}
    for event in reversed(events):
        load = dataset["event_strip_load"].values[event.number] / length / 1e3
        along["reverse" if event.reverse else "normal"] = place, load
    return event_figure(deepest_each_way(events, MOST), along, sea_name)

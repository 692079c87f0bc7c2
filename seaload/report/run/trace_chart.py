"""The trace of a run's worst minute: water and boat, and the load at every place, to zoom and to point at."""

from seaload.report.shared import charts as draw
from seaload.report.shared.page_layout import embedded_json

HEIGHTS = (190, 300)  # [pixels] water, load
DASHES = ("solid", "dashed", "dotdash", "dotted", "dashdot", "solid")
TOOLS = ("xpan",)


def trace_chart(places, span, least, most):
    """The trace without its numbers, as JSON: the page's script fills the source `trace-data` from the replay.

    places : names. span : first and last time of the kept series [s]. least, most : of the load [% of the limit].
    """
    from bokeh.layouts import column
    from bokeh.models import ColumnDataSource, HoverTool, Range1d

    names = ["t", "elevation", "heave", *(f"p{i}" for i in range(len(places)))]
    source = ColumnDataSource({name: [] for name in names}, name="trace-data")
    time = Range1d(*span, bounds=span, min_interval=0.5, name="trace-range")
    water = draw.chart("trace-water", draw.Axis(time), draw.Axis(None, "height [m]"), height=HEIGHTS[0], tools=TOOLS)
    load = draw.chart(
        "trace-load", draw.Axis(time, "time in this realisation [s]"),
        draw.Axis((min(-60.0, least - 8.0), max(110.0, most + 8.0)), "share of the limit [%]"), height=HEIGHTS[1],
    )  # fmt: skip
    lines = [
        draw.drawn(water, "line", source, x="t", y="elevation", line_width=2, line_color=draw.SEA),
        draw.drawn(water, "line", source, x="t", y="heave", line_width=2, line_dash="dashed", line_color=draw.INK),
    ]
    said = [("time", "@t{0.0} s"), ("water", "@elevation{0.0} m"), ("boat (heave)", "@heave{0.0} m")]
    water.add_tools(HoverTool(renderers=lines[:1], tooltips=said, mode="vline"))
    draw.legend(water, [("water", lines[:1]), ("boat (heave)", lines[1:])])
    levels = (
        (100, draw.NORMAL, "solid"),
        (-50, draw.REVERSE, "dashed"),
        (-100, draw.REVERSE, "solid"),
        (0, draw.MUTED, "solid"),
    )
    for level, colour, dash in levels:
        draw.level_line(load, level, "width", colour, dash=dash, width=1.5)
    loads = []
    for i in range(len(places)):
        colour = f"--ramp-{round(8 * i / max(len(places) - 1, 1))}"
        dash, width = DASHES[i % len(DASHES)], 2.5 if i == 0 else 1.6
        loads.append(
            draw.drawn(load, "line", source, x="t", y=f"p{i}", line_width=width, line_dash=dash, line_color=colour)
        )
    said = [("time", "@t{0.0} s"), *((name, f"@p{i}{{0}} %") for i, name in enumerate(places))]
    load.add_tools(HoverTool(renderers=loads[:1], tooltips=said, mode="vline"))
    draw.legend(load, [(name, [line]) for name, line in zip(places, loads, strict=True)])
    load.legend[0].click_policy = "hide"
    for made, name in ((water, "cursor-water"), (load, "cursor-load")):
        draw.level_line(made, span[0], "height", draw.INK, name=name)
    return draw.as_json(column(water, load, sizing_mode="stretch_width"))[0]


def trace_block(data):
    """The block of the trace for a page that holds the replay with `data`."""
    worst, most = min(min(row) for row in data["share"]), max(max(row) for row in data["share"])
    deepest = next(p for row in data["share"] for p, v in zip(data["places"], row, strict=True) if v == worst)
    return {
        "what": "chart",
        "name": "trace",
        "choice": "",
        "zoom": "trace-range",
        "height": sum(HEIGHTS),
        "item": embedded_json(trace_chart(data["places"], (data["time_s"][0], data["time_s"][-1]), worst, most)),
        "data": "",
        "description": (
            "Height of the water and of the boat, and load at every place as a share of its limit, over the kept "
            f"minute; lowest {worst:.0f} % at {deepest}."
        ),
        "caption": (
            "The same seconds as a trace. Press anywhere to take the replay there; drag to move along the minute, "
            "zoom by the buttons, press a name to hide it. Coloured lines across: the limits, "
            "normal at 100 % and reverse at -100 %, dashed half the reverse one."
        ),
    }

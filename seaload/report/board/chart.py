"""The chart of the risk board: odds in the next hour against the one thing that is being moved."""

from seaload.report.shared import charts as draw

EMPTY = {"x": [], "odds": [], "low": [], "high": [], "says": [], "mark": []}
SIDES = (
    ("reverse", draw.REVERSE, "solid", "reverse past its limit"),
    ("normal", draw.NORMAL, "dashed", "past the normal limit"),
)


def board_chart():
    """The chart without its numbers, as JSON: the page's script fills the sources `SIDE-points` and `SIDE-line`."""
    from bokeh.core.properties import field
    from bokeh.models import ColumnDataSource, HoverTool

    made = draw.chart(
        "odds", draw.Axis((0.0, 1.0), " "), draw.Axis((0.8 * draw.LEAST_ODDS, 1.25), log=True), height=330
    )
    made.x_range.name, made.xaxis[0].name = "odds-range", "odds-axis"
    draw.odds_axis(made.yaxis[0])
    found = []
    for side, colour, dash, words in SIDES:
        lines = ColumnDataSource({"x": [], "odds": []}, name=f"{side}-line")
        points = ColumnDataSource(dict(EMPTY), name=f"{side}-points")
        line = draw.drawn(made, "line", lines, x="x", y="odds", line_width=2, line_dash=dash, line_color=colour)
        whisker = draw.drawn(
            made, "segment", points, x0="x", x1="x", y0="low", y1="high", line_width=3, line_color=colour
        )
        dot = draw.drawn(
            made, "scatter", points, x="x", y="odds", marker=field("mark"), size=10, line_width=2, line_color=colour,
            fill_color=draw.PAPER,
        )  # fmt: skip
        made.add_tools(HoverTool(renderers=[dot, whisker], tooltips=[(words, "@says")], point_policy="follow_mouse"))
        found.append((words, [line, dot]))
    draw.level_line(made, 1e-9, "width", draw.MUTED, dash="dotted", name="accepted")
    draw.level_line(made, 0.0, "height", draw.INK, name="here")
    draw.legend(made, found)
    return draw.as_json(made)[0]

"""Interactive charts for the screen: one plotting library, embedded once a page, that asks for nothing outside it.

Bokeh draws what a reader moves or points at; matplotlib draws what is printed. A chart here is a Bokeh figure as plain
JSON; `charts.js` puts it on the page and gives it the page's own colours, light or dark. Colours are therefore
written as names of style variables, in the tags of each part.
"""

import re
from pathlib import Path
from typing import NamedTuple

INK, MUTED, GRID, PAPER, NORMAL, REVERSE, SEA = (
    "--ink", "--muted", "--grid", "--paper", "--normal", "--reverse", "--sea",
)  # fmt: skip
FONT = "system-ui, 'Segoe UI', 'DejaVu Sans', Verdana, sans-serif"
TYPE = "13px"
LEAST_ODDS = 1e-4  # the left end of every axis of odds: no page names smaller ones
NONE_SEEN = "inverted_triangle"  # in place of any other mark, on every page: no event was seen, the bar alone speaks
ODDS_TICKS = {1e-4: "1 in 10,000", 1e-3: "1 in 1,000", 1e-2: "1 in 100", 1e-1: "1 in 10", 1.0: "certain"}
ELSEWHERE = r"https?://(?:docs\.)?(?:bokeh\.org|cdn\.jsdelivr\.net|developers\.google\.com|maps\.googleapis\.com)"


def library():
    """Text of the plotting library, its core alone, to be put once in a page.

    Addresses of places it could load further parts from are taken out; the notices of its authors stay.
    """
    import bokeh

    text = (Path(bokeh.__file__).parent / "server/static/js/bokeh.min.js").read_text(encoding="utf-8")
    return re.sub(ELSEWHERE, "about:blank#", text).replace("</script", "<\\/script").replace("<!--", "<\\!--")


def coloured(part, **colours):
    """The part, told by a tag which of its colours are which style variable: line_color="--ink"."""
    part.tags = [{"colours": colours}]
    return part


class Axis(NamedTuple):
    """One axis of a chart; its range is (first, last), a shared range, a list of words, or None for that of the
    numbers.
    """

    range: object
    label: str | None = None
    log: bool = False


def chart(name, x, y, *, height, tools=()):
    """An empty chart `name` as wide as the page, `x` and `y` an `Axis` each.

    What `tools` do by dragging or by the wheel needs no sign; buttons are the page's own (`charts.js`).
    """
    from bokeh.models import DataRange1d, Range1d
    from bokeh.plotting import figure

    whole = lambda r: Range1d(*r) if isinstance(r, tuple) else DataRange1d() if r is None else r  # noqa: E731
    made = figure(
        name=name, height=height, sizing_mode="stretch_width", tools=list(tools), x_range=whole(x.range),
        y_range=whole(y.range), x_axis_type="log" if x.log else "auto", y_axis_type="log" if y.log else "auto",
        toolbar_location=None, min_border_right=18, min_border_top=6,
    )  # fmt: skip
    coloured(
        made, background_fill_color=PAPER, border_fill_color=PAPER, outline_line_color=GRID,
    )  # fmt: skip
    for axis, label in ((made.xaxis[0], x.label), (made.yaxis[0], y.label)):
        axis.axis_label = label
        axis.axis_label_text_font = axis.major_label_text_font = FONT
        axis.axis_label_text_font_size = axis.major_label_text_font_size = TYPE
        axis.axis_label_text_font_style = "normal"
        axis.minor_tick_line_color = None
        coloured(axis, axis_label_text_color=INK, major_label_text_color=INK, axis_line_color=MUTED,
                 major_tick_line_color=MUTED)  # fmt: skip
    for grid in made.grid:
        grid.minor_grid_line_color = None
        coloured(grid, grid_line_color=GRID)
    return made


def odds_axis(axis):
    """Makes an axis read in odds as people say them."""
    from bokeh.models import FixedTicker

    axis.ticker = FixedTicker(ticks=list(ODDS_TICKS))
    axis.major_label_overrides = dict(ODDS_TICKS)


def drawn(made, glyph, source, **how):
    """Adds a glyph ("line", "scatter", "segment") with its colours as style variables; gives its renderer."""
    colours = {key: value for key, value in how.items() if str(value).startswith("--")}
    plain = {key: value for key, value in how.items() if key not in colours}
    part = getattr(made, glyph)(source=source, **plain, **dict.fromkeys(colours, "#777777"))
    coloured(part.glyph, **colours)
    for other in (part.nonselection_glyph, part.muted_glyph):
        if hasattr(other, "tags"):
            coloured(other, **colours)
    return part


def level_line(made, at, dimension, colour, *, dash="solid", width=2, name=None):
    """A straight line right across the chart."""
    from bokeh.models import Span

    span = Span(location=at, dimension=dimension, line_width=width, line_dash=dash, line_color="#777777", name=name)
    made.add_layout(coloured(span, line_color=colour))
    return span


def legend(made, items, *, place="above"):
    """A legend of [(words, renderers)] beside the plot, in a row."""
    from bokeh.models import Legend, LegendItem

    entries = [LegendItem(label=words, renderers=list(parts)) for words, parts in items]
    box = Legend(items=entries, orientation="horizontal", border_line_alpha=0, padding=0, margin=2, spacing=14,
                 label_text_font=FONT, label_text_font_size=TYPE)  # fmt: skip
    made.add_layout(coloured(box, label_text_color=INK, background_fill_color=PAPER), place)


def as_json(*charts):
    """[chart as plain JSON], for the page's script."""
    from bokeh.embed import json_item

    return [json_item(made) for made in charts]

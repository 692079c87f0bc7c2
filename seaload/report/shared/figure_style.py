"""One look for every figure: ink, colours, fonts, captions; how a figure becomes a file or part of a page.

Colours are told apart by lightness as well as by hue, so they survive a grey printer and the usual kinds of
colour blindness; lines also differ in stroke and carry their own label. In pages every colour becomes a style
variable, so that the same drawing is readable on a light and on a dark ground.
"""

import io
import re
import textwrap

import numpy as np

from seaload.report.shared.write_file import written

INK = "#1a1d21"  # axes, text
MUTED = "#5b626b"  # secondary text and lines
GRID = "#d9dde2"
PAPER = "#fefefe"
NORMAL = "#1c5a9c"  # load the normal way, up
REVERSE = "#b8441b"  # load the wrong way round, down
SEA = "#2f7d7e"  # water
HULL = "#8a8f98"
BAND_NORMAL = "#b9d0ea"
BAND_REVERSE = "#f1c6b4"
BAND_MUTED = "#e3e6ea"
VARIABLES = {
    INK: "--ink",
    MUTED: "--muted",
    GRID: "--grid",
    PAPER: "--paper",
    NORMAL: "--normal",
    REVERSE: "--reverse",
    SEA: "--sea",
    HULL: "--hull",
    BAND_NORMAL: "--band-normal",
    BAND_REVERSE: "--band-reverse",
    BAND_MUTED: "--band-muted",
}
RAMP = "cividis"  # perceptually uniform, the same for most colour-blind eyes
RAMP_LEVELS = 12
PLACE_STROKES = (
    "-",
    (0, (6, 1.5)),
    (0, (3, 1.2)),
    (0, (1, 1)),
    (0, (6, 1.5, 1, 1.5)),
    (0, (3, 1, 1, 1, 1, 1)),
)
NONE_SEEN = "v"  # in place of any other mark, at the foot of the axis: no event was seen, the bar alone speaks
CAPTION_COLUMNS = 124
DOTS_PER_INCH = 160
COMPRESSION = 1  # of a PNG, 0 to 9: files 8 % larger than at the usual 6, a tenth less time for a figure
STYLE = {
    "font.family": ["DejaVu Sans"],
    "font.size": 9.0,
    "axes.edgecolor": MUTED,
    "axes.labelcolor": INK,
    "axes.titlesize": 9.5,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.titlecolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.linewidth": 0.8,
    "axes.grid": True,
    "axes.axisbelow": True,
    "grid.color": GRID,
    "grid.linewidth": 0.6,
    "xtick.color": MUTED,
    "ytick.color": MUTED,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "text.color": INK,
    "lines.linewidth": 1.3,
    "lines.solid_capstyle": "round",
    "hatch.linewidth": 0.5,
    "hatch.color": HULL,
    "legend.frameon": False,
    "figure.facecolor": "none",
    "axes.facecolor": "none",
    "savefig.facecolor": PAPER,
    "svg.fonttype": "none",
    "svg.hashsalt": "seaload",
}


def fetch_drawing():
    """Have the drawing libraries imported: work for a time when others wait for something else."""
    import matplotlib.backends.backend_agg
    import matplotlib.figure
    import matplotlib.font_manager  # noqa: F401


def new_figure(rows=1, columns=1, *, width=7.4, height=4.2, **subplots):
    """(figure, axes) in this look; no global state, so figures may be drawn side by side. Sizes in inches."""
    import matplotlib as mpl
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    with mpl.rc_context(STYLE):
        figure = Figure(figsize=(width, height), layout="constrained")
        FigureCanvasAgg(figure)
        axes = figure.subplots(rows, columns, **subplots)
    return figure, axes


def styled(draw):
    """Decorator: draw with this look, whatever the reader's own settings are."""
    from functools import wraps

    @wraps(draw)
    def drawn(*args, **kwargs):
        import matplotlib as mpl

        with mpl.rc_context(STYLE):
            return draw(*args, **kwargs)

    return drawn


def ramp_colours(*, dark_ground=False):
    """The uniform ramp in RAMP_LEVELS steps as colour codes: dark to light, on a dark ground light to
    dark."""
    import matplotlib as mpl

    ramp = mpl.colormaps[RAMP]
    steps = np.linspace(0.02, 0.98, RAMP_LEVELS)
    return [mpl.colors.to_hex(ramp(1.0 - step if dark_ground else step)) for step in steps]


def place_colours(count):
    """Colours of `count` places from the root outward, along the ramp without its palest steps."""
    ramp, most = ramp_colours(), RAMP_LEVELS - 4
    return [ramp[round(most * i / max(count - 1, 1))] for i in range(count)]


def stepped_ramp(*, reverse=False):
    """The ramp as a colour map of RAMP_LEVELS flat steps."""
    from matplotlib.colors import ListedColormap

    return ListedColormap(ramp_colours()[:: -1 if reverse else 1])


def label_line(axis, x, y, text, colour, *, ha="left", va="center", offset=(4, 0), **kwargs):
    """A direct label beside a line, with a thin halo so that grid and lines do not cross it."""
    from matplotlib.patheffects import withStroke

    kwargs.setdefault("fontsize", 8.5)
    text = "\n".join(plain(line) for line in text.split("\n"))
    return axis.annotate(
        text, (x, y), xytext=offset, textcoords="offset points", ha=ha, va=va, color=colour,
        path_effects=[withStroke(linewidth=2.5, foreground=PAPER)], annotation_clip=False, **kwargs,
    )  # fmt: skip


def label_cell(axis, x, y, text):
    """A label in the middle of a map's cell, on its own small ground so that any cell colour will do."""
    ground = {"boxstyle": "round,pad=0.25", "facecolor": PAPER, "edgecolor": "none", "alpha": 0.86}
    return axis.text(x, y, text, fontsize=8, color=INK, ha="center", va="center", bbox=ground)


def label_along(axis, x, y, text, colour, *, share=0.8, above=True):
    """A label on the line itself, turned with it; `share` of the way along the drawn points."""
    from matplotlib.patheffects import withStroke

    i = min(max(int(share * len(x)), 1), len(x) - 2)
    slope = float(np.degrees(np.arctan2(y[i + 1] - y[i - 1], x[i + 1] - x[i - 1])))
    return axis.text(
        x[i], y[i], plain(text), color=colour, fontsize=8, rotation=slope, rotation_mode="anchor",
        transform_rotates_text=True, ha="center", va="bottom" if above else "top", clip_on=True,
        path_effects=[withStroke(linewidth=2.5, foreground=PAPER)],
    )  # fmt: skip


def label_ends(axis, x, heights, texts, colours, least):
    """Labels right of the last points of lines, moved apart, each tied to its line by a hair."""
    left, _ = axis.get_xlim()
    hair = 0.014 * (x - left)
    for height, moved, text, colour in zip(heights, spread_labels(heights, least), texts, colours, strict=True):
        axis.plot([x, x + hair], [height, moved], color=colour, linewidth=0.7, clip_on=False, scalex=False)
        label_line(axis, x + hair, moved, text, colour, offset=(2, 0))


def spread_labels(heights, least):
    """Heights moved apart, order kept, so that neighbours are at least `least` from each other."""
    order = sorted(range(len(heights)), key=lambda i: heights[i])
    moved = list(heights)
    for before, after in zip(order, order[1:], strict=False):
        moved[after] = max(moved[after], moved[before] + least)
    shift = sum(moved) / len(moved) - sum(heights) / len(heights) if heights else 0.0
    return [height - shift for height in moved]


def plain(text):
    """Text that is never read as mathematics, without anything unprintable, cut to one line."""
    shown = "".join(c if c.isprintable() else " " for c in str(text)).replace("$", r"\$")
    return shown if len(shown) <= 160 else shown[:157] + "..."


def save_picture(figure, path, caption):
    """Writes the figure with its caption underneath, as PNG or SVG by the file's ending; no date inside."""
    import matplotlib as mpl

    with mpl.rc_context(STYLE):
        lines = textwrap.wrap(plain_caption(caption), CAPTION_COLUMNS)
        figure.supxlabel("\n".join(lines), fontsize=8, color=MUTED, ha="left", x=0.015, linespacing=1.35)
        if path.suffix == ".svg":
            return written(path, drawn_svg(figure, PAPER))
        return written(path, drawn_png(figure))


def drawn_png(figure):
    """The figure as bytes of PNG by its own canvas: laid out and drawn once, where `savefig` would go over it twice."""
    before, out = figure.dpi, io.BytesIO()
    figure.set(dpi=DOTS_PER_INCH, facecolor=PAPER)
    figure.canvas.print_png(out, metadata={"Software": None}, pil_kwargs={"compress_level": COMPRESSION})
    figure.set(dpi=before, facecolor="none")
    return out.getvalue()


def drawn_svg(figure, ground):
    """The figure as SVG text that repeats bit for bit: no date, ids numbered in the order they appear."""
    out = io.StringIO()
    figure.savefig(out, format="svg", metadata={"Date": None}, facecolor=ground, transparent=ground == "none")
    svg = out.getvalue()
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg, flags=re.S)
    names = {}
    for name in re.findall(r'\bid="([a-z][0-9a-f]{10})"', svg):
        names.setdefault(name, f"d{len(names)}")
    svg = re.sub(r"(?<=[\"#])[a-z][0-9a-f]{10}(?=[\")])", lambda found: names.get(found[0], found[0]), svg)
    # a hundredth of a point is finer than any screen; only coordinates are cut, never a printed number
    return re.sub(r'\b(d|x|y|points|transform)="[^"]*"', lambda found: re.sub(r"(\.\d\d)\d+", r"\1", found[0]), svg)


def plain_caption(text):
    """A caption of any length without mathematics and control characters."""
    return "".join(c if c.isprintable() else " " for c in text).replace("$", r"\$")


def inline_svg(figure, name, description):
    """The figure as one SVG element for a page: own ids, colours as style variables, a described image.

    `name` becomes the prefix of its ids; `description` is what a screen reader says.
    """
    import matplotlib as mpl
    from markupsafe import escape

    with mpl.rc_context(STYLE):
        svg = drawn_svg(figure, "none")
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r'\bid="', f'id="{name}-', svg)
    svg = re.sub(r'href="#', f'href="#{name}-', svg)
    svg = re.sub(r"url\(#", f"url(#{name}-", svg)
    steps = {colour: f"--ramp-{i}" for i, colour in enumerate(ramp_colours())}
    for colour, variable in {**VARIABLES, **steps}.items():
        svg = re.sub(rf"{colour}\b", f"var({variable}, {colour})", svg)
    head, rest = svg.split(">", 1)
    size = re.search(r'width="([\d.]+)pt"', head)
    head = re.sub(r'\s(width|height)="[^"]*"', "", head)
    head += f' class="figure" role="img" aria-label="{escape(description)}"'
    head += f' style="max-width:{float(size.group(1)) * 1.34:.0f}px"' if size else ""
    return f"{head}>{rest}".strip()

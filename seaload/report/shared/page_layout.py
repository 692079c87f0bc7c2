"""What every page shares: colours for a light and a dark ground, the sheet, and blocks rendered with
escaping.

Text from files reaches a page through jinja2's escaping only; drawings and scripts are ours. A page asks for
nothing outside itself, and its own policy forbids it.
"""

import json
from importlib.resources import files

from seaload.report.shared import figure_style as look

DARK = {
    "--ink": "#e9ebee",
    "--muted": "#a8b0ba",
    "--grid": "#39414b",
    "--paper": "#13161a",
    "--normal": "#82b4ee",
    "--reverse": "#f09a76",
    "--sea": "#66c2bf",
    "--hull": "#868d97",
    "--band-normal": "#20405f",
    "--band-reverse": "#5c3222",
    "--band-muted": "#242a31",
}


NIGHT = {  # dim red on black, for eyes used to the dark; what is apart by hue elsewhere is here by lightness
    "--ink": "#f5473a",
    "--muted": "#dd3a30",
    "--grid": "#4a1310",
    "--paper": "#000000",
    "--normal": "#ff8a7a",
    "--reverse": "#f03024",
    "--sea": "#e0483e",
    "--hull": "#a82c24",
    "--band-normal": "#5a2620",
    "--band-reverse": "#4a0e0a",
    "--band-muted": "#240807",
}


SIZE = "@size of this page@"


def sized(page):
    """The page, its own size written in the place kept for it."""
    return page.replace(SIZE, f"{len(page.encode()) / 1e6:.1f} MB")


def light_colours():
    """{style variable: colour} on a light ground."""
    named = {variable: colour for colour, variable in look.VARIABLES.items()}
    return {**named, **{f"--ramp-{i}": colour for i, colour in enumerate(look.ramp_colours())}}


def dark_colours():
    """{style variable: colour} on a dark ground."""
    return {**DARK, **{f"--ramp-{i}": c for i, c in enumerate(look.ramp_colours(dark_ground=True))}}


def night_colours():
    """{style variable: colour} of red on black; the ramp from dark to bright red."""
    steps = look.RAMP_LEVELS - 1
    ramp = {f"--ramp-{i}": f"#ff{round(0x90 * (1 - i / steps)):02x}{round(0x80 * (1 - i / steps)):02x}"
            for i in range(look.RAMP_LEVELS)}  # fmt: skip
    return {**NIGHT, **ramp}


def colour_rules():
    """Style rules that set every colour: light, dark when the reader's system is, either when a page is
    told, and red on black for the night when told."""
    light, dark, night = (
        ";".join(f"{name}:{colour}" for name, colour in sorted(colours.items()))
        for colours in (light_colours(), dark_colours(), night_colours())
    )
    return (
        f":root{{color-scheme:light;{light}}}"
        "@media screen and "
        f"(prefers-color-scheme:dark){{:root:not([data-ground]){{color-scheme:dark;{dark}}}}}"
        f'@media screen{{:root[data-ground="dark"]{{color-scheme:dark;{dark}}}'
        f':root[data-ground="night"]{{color-scheme:dark;{night}}}}}\n'
    )


def asset(path):
    """Text of a file that belongs to the pages; `path` is "room/file"."""
    return files("seaload.report").joinpath(*path.split("/")).read_text(encoding="utf-8")


def environment(*paths):
    """The environment of these templates: everything escaped, nothing undefined passes silently."""
    from jinja2 import DictLoader, Environment, StrictUndefined

    return Environment(
        loader=DictLoader({path: asset(path) for path in paths}),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )


def embedded_json(tree):
    """A tree as JSON that may stand inside a script element: no character there can end it."""
    from markupsafe import Markup

    text = json.dumps(tree, separators=(",", ":"), allow_nan=False, ensure_ascii=True)
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


def trusted(text):
    """Our own drawing, sheet or script: not escaped. Never for text that came from a file."""
    from markupsafe import Markup

    return Markup(text)


def render_page(*, title, heading, subtitle, sections, cautions, scripts=()):
    """The page as text. sections : list of {"id", "head", "blocks"}; a block is {"what": name of its macro,
    ...}. scripts : files of the charts' own scripts; with any, the plotting library is put into the page."""
    from seaload.report.shared.charts import library

    sheet, blocks = "shared/page.html", "shared/blocks.html"
    place = environment(sheet, blocks)
    macros = place.get_template(blocks).module

    def render_block(block):
        return getattr(macros, block["what"])(block)

    page = place.get_template(sheet).render(
        title=title,
        heading=heading,
        subtitle=subtitle,
        sections=sections,
        cautions=cautions,
        colours=trusted(colour_rules()),
        style=trusted(asset("shared/style.css")),
        render_block=render_block,
        size=SIZE,
        library=trusted(library()) if scripts else "",
        scripts=trusted("".join(asset(name) for name in ("shared/charts.js", *scripts))),
    )
    return sized(page)

"""Figures of the validation page: published points and our lines on labelled axes, as plain vector drawings.

Curves come from curves.json, which the tests write; motions of hulls and coverage of intervals are drawn from the rows
of the logbook. A figure without data is left out, and the page says so.
"""

import math
import re
from html import escape

WIDE, TALL = 396.0, 250.0  # [px] of a figure
LEFT, RIGHT, TOP, BOTTOM = 56.0, 108.0, 10.0, 44.0  # [px] of its margins; line names stand in the right one
COLOURS = ("#1c5a9c", "#b8441b", "#2b7a4b", "#7a4b9c", "#6b6b20", "#1a1d21")
TICKS = 5


def curves_of_rows(rows):
    """Curves (as in curves.json) of hulls in waves and of interval coverage, from the rows of the logbook."""
    found = []
    for hull in ("hull A", "hull B"):
        for name in ("heave", "pitch"):
            pattern = rf"{hull}, wave ([\d.]+) L, {name}, coefficients seaload"
            found += _hull_curves(rows, pattern, f"Planing {hull} of Fridsma, head waves", name)
    for case, title in (("III, speed 0", "Wigley hull III at rest"), ("III, Fn 0.3", "Wigley hull III, Fn 0.3")):
        for name in ("heave", "pitch"):
            found += _hull_curves(rows, rf"Wigley {case}, wave ([\d.]+) L, {name}$", f"{title}, head waves", name)
    intended = _coverage_curve(rows, "damage, slope 10")
    caption = "500 synthetic trials each; the error of a share is 0.027."
    found.append({**intended, "label": "intended", "published": True, "caption": caption,
                  "y": [0.9] * len(intended["x"])})  # fmt: skip
    for name in ("damage, slope 10", "damage, slope 14", "clustered counts", "Pareto index 1.8"):
        found.append(_coverage_curve(rows, name))
    return [curve for curve in found if curve["x"]]


def _matching(rows, pattern):
    pairs = [(re.search(pattern, row["quantity"]), row) for row in rows]
    return sorted((float(match.group(1)), row["published"], row["ours"]) for match, row in pairs if match)


def _hull_curves(rows, pattern, figure, name):
    points = [p for p in _matching(rows, pattern) if p[0] > 1.0 or "Wigley" in pattern]
    axes = {"figure": figure, "x_name": "wave length over hull length [-]",
            "y_name": "amplitude of motion [-]",
            "caption": "Heave over wave amplitude, pitch over wave slope."}  # fmt: skip
    x = [p[0] for p in points]
    return [
        {**axes, "label": f"{name}, tank", "published": True, "x": x, "y": [p[1] for p in points]},
        {**axes, "label": f"{name}, ours", "published": False, "x": x, "y": [p[2] for p in points]},
    ]


def _coverage_curve(rows, name):
    pattern = rf"coverage of 90 % interval: {re.escape(name)}, (\d+) realisations"
    points = _matching(rows, pattern)
    return {
        "figure": "Coverage of 90 % intervals",
        "x_name": "realisations [-]",
        "y_name": "share of trials that hold the truth [-]",
        "label": name,
        "published": False,
        "x": [p[0] for p in points],
        "y": [p[2] for p in points],
    }


class Axis:
    """One axis from data to pixels, linear or logarithmic, with round ticks."""

    def __init__(self, values, start, end, log=False):
        self.log, self.start, self.end = log, start, end
        low, high = min(values), max(values)
        if log:
            low, high = math.floor(math.log10(low) + 1e-9), math.ceil(math.log10(high) - 1e-9)
            self.low, self.high = low, max(high, low + 1)
            self.ticks = [10.0**i for i in range(self.low, self.high + 1)]
            return
        size = (high - low) or abs(high) or 1.0
        step = 10.0 ** math.floor(math.log10(size / TICKS))
        step *= next(s for s in (1, 2, 5, 10) if size / (step * s) <= TICKS)
        self.low, self.high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
        count = round((self.high - self.low) / step)
        self.ticks = [self.low + i * step for i in range(count + 1)]

    def place(self, value):
        """Pixel of a value."""
        value = math.log10(value) if self.log else value
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def _text(x, y, words, anchor="middle", more=""):
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="10" text-anchor="{anchor}"{more}>{escape(words)}</text>'


def _frame(across, up, x_name, y_name):
    """Axes with ticks, numbers, names and units."""
    floor = TALL - BOTTOM
    parts = [f'<path d="M{LEFT} {TOP}V{floor}H{WIDE - RIGHT}" fill="none" stroke="#8a8f98"/>']
    for tick in across.ticks:
        x = across.place(tick)
        parts.append(f'<path d="M{x:.1f} {floor}v4" stroke="#8a8f98"/>' + _text(x, floor + 15, f"{tick:.4g}"))
    for tick in up.ticks:
        y = up.place(tick)
        parts.append(f'<path d="M{LEFT} {y:.1f}H{WIDE - RIGHT}" stroke="#8a8f98" stroke-width=".3"/>')
        parts.append(_text(LEFT - 5, y + 3.5, f"{tick:.4g}".replace("-", "\u2212"), "end"))
    middle = (LEFT + WIDE - RIGHT) / 2.0
    parts.append(_text(middle, TALL - 8, x_name))
    y = (TOP + floor) / 2.0
    parts.append(_text(13, y, y_name, more=f' transform="rotate(-90 13 {y:.1f})"'))
    return "".join(parts)


def _spread_out(places, gap=11.0):
    """Heights of the line names, pushed apart so that none covers another."""
    order = sorted(range(len(places)), key=lambda i: places[i])
    moved, last = list(places), -1e9
    for i in order:
        moved[i] = last = max(places[i], last + gap)
    over = max(0.0, last - (TALL - BOTTOM)) if order else 0.0
    return [m - over for m in moved]


def _curve(curve, colour, across, up, name_y):
    pairs = [(across.place(x), up.place(y)) for x, y in zip(curve["x"], curve["y"], strict=True)]
    if curve["published"]:
        drawn = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.6" fill="none" stroke="{colour}"/>' for x, y in pairs)
    else:
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in pairs)
        drawn = f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="1.6"/>'
    if name_y is None:  # its counterpart carries the name
        return drawn
    end = max(pairs)
    to_name = f"M{end[0]:.1f} {end[1]:.1f}L{WIDE - RIGHT + 3:.1f} {name_y:.1f}"
    line = f'<path d="{to_name}" stroke="{colour}" stroke-width=".5"/>'
    return drawn + line + _text(WIDE - RIGHT + 5, name_y + 3.5, _pair_name(curve), "start", f' style="fill:{colour}"')


def _pair_name(curve):
    """Name that a curve shares with its counterpart, so that both have one colour."""
    return re.sub(r", (tank|ours|published)$", "", curve["label"])


def drawing(curves):
    """One figure with its caption: published values as open circles, ours as lines, each named where it ends."""
    first = curves[0]
    log_x, log_y = bool(first.get("log_x")), bool(first.get("log_y"))
    across = Axis([x for c in curves for x in c["x"]], LEFT, WIDE - RIGHT, log_x)
    up = Axis([y for c in curves for y in c["y"]], TALL - BOTTOM, TOP, log_y)
    last = {_pair_name(c): c for c in sorted(curves, key=lambda c: not c["published"])}  # the line, where there is one
    named = [c for c in curves if last[_pair_name(c)] is c]
    ends = _spread_out([up.place(max(zip(c["x"], c["y"], strict=True))[1]) for c in named])
    heights = {_pair_name(c): y for c, y in zip(named, ends, strict=True)}
    names = list(last)
    drawn = "".join(
        _curve(
            c,
            COLOURS[names.index(_pair_name(c)) % len(COLOURS)],
            across,
            up,
            heights[_pair_name(c)] if c in named else None,
        )
        for c in curves
    )
    both = any(c["published"] for c in curves)
    said = "Circles: published or derived outside; lines: ours." if both else "Ours."
    caption = next((c["caption"] for c in curves if c.get("caption")), "")
    title = escape(first["figure"])
    return (
        f'<figure><svg viewBox="0 0 {WIDE:.0f} {TALL:.0f}" width="{WIDE:.0f}" role="img" aria-label="{title}">'
        f"{_frame(across, up, first['x_name'], first['y_name'])}{drawn}</svg>"
        f"<figcaption><b>{title}.</b> {said} {escape(caption)}</figcaption></figure>"
    )


def drawings(curves):
    """All figures, in order of their first curve."""
    titles = list(dict.fromkeys(curve["figure"] for curve in curves))
    return "\n".join(drawing([c for c in curves if c["figure"] == title]) for title in titles)

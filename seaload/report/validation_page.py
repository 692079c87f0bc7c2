"""The validation page: every check against an outside source, read from the logbook that the tests wrote.

    python -m seaload.report.validation_page results/validation

reads validation.json in that folder and writes index.html beside it. Nothing on the page is typed by hand, and
it holds no clock time: the same logbook gives the same bytes.
"""

import json
import sys
from html import escape
from pathlib import Path

from seaload.basis.errors import InputError

ORIGIN_WORDS = {"read": "read in the source", "derived": "derived", "memory": "from memory"}
FIGURES = (  # title, words of which one must stand in the stage, quantity or source of a row
    ("Theodorsen, Sears, Wagner, Kuessner", ("theodorsen", "wagner", "sears", "kuessner", "küssner")),
    ("Lifting line", ("lifting line", "lifting-line", "tapered")),
    ("Free-surface factor of a foil", ("free surface", "free-surface")),
    ("Planing hulls in waves, Fridsma", ("fridsma",)),
    ("Wigley hulls in waves", ("wigley",)),
    ("Cycle counting, ASTM E1049", ("astm", "e1049")),
    ("Constant-life diagram against coupons", ("goodman", "coupon", "constant life", "constant-life")),
    ("Statistics of the sea, Rayleigh and Rice", ("rayleigh", "rice", "crest")),
    ("Coverage of intervals", ("coverage",)),
)
COLUMNS = ("stage", "quantity", "source", "origin", "published", "ours", "difference", "gate", "met")
STYLE = """
body{font:16px/1.45 system-ui,sans-serif;margin:1.5rem auto;max-width:78rem;padding:0 1rem;
color:#1a1d21;background:#fefefe}
table{border-collapse:collapse;width:100%;font-size:.85rem}
th,td{border-bottom:1px solid #d9dde2;padding:.3rem .5rem;text-align:left;vertical-align:top}
td.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
tr.missed td{background:#f8ddd2}
figure{display:inline-block;margin:.5rem;vertical-align:top}figcaption{max-width:21rem;font-size:.85rem}
.scroll{overflow-x:auto}
@media(prefers-color-scheme:dark){body{color:#e6e8ea;background:#15181b}tr.missed td{background:#54291a}
th,td{border-color:#3a4047}svg text{fill:#e6e8ea}}
"""
SIDE, EDGE = 260.0, 20.0  # [px] of a figure and of its margin


def read_logbook(folder):
    """Rows of validation.json in `folder`; raises InputError when it is missing or not a list of rows."""
    path = Path(folder) / "validation.json"
    allowed = "a list of rows written by the tests with --validation-folder"
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(str(path), "file", type(error).__name__, allowed) from error
    needed = {"stage", "quantity", "source", "origin", "published", "ours", "tolerance", "met"}
    if not isinstance(rows, list) or not all(isinstance(r, dict) and needed <= set(r) for r in rows):
        raise InputError(str(path), "rows", "other", allowed)
    return rows


def difference(row):
    """Ours less published, in percent of published where that is not zero, as words."""
    away = row["ours"] - row["published"]
    if row["published"] == 0.0:
        return f"{away:+.3g}"
    return f"{100.0 * away / abs(row['published']):+.2f} %"


def _cells(row):
    words = (row["stage"], row["quantity"], row["source"], ORIGIN_WORDS.get(row["origin"], row["origin"]))
    numbers = (f"{row['published']:.5g}", f"{row['ours']:.5g}", difference(row))
    verdict = "met"
    if not row["met"]:
        verdict = "MISSED. " + (row.get("reason") or "No reason is noted in the logbook.")
    return (
        "".join(f"<td>{escape(w)}</td>" for w in words)
        + "".join(f'<td class="n">{escape(n)}</td>' for n in numbers)
        + f"<td>{escape(row['tolerance'])}</td><td>{escape(verdict)}</td>"
    )


def table(rows):
    """HTML table of logbook rows, missed ones marked in words and by ground."""
    head = "".join(f"<th>{name}</th>" for name in COLUMNS)
    body = "\n".join(f'<tr class="{"met" if r["met"] else "missed"}">{_cells(r)}</tr>' for r in rows)
    return f'<div class="scroll"><table><thead><tr>{head}</tr></thead><tbody>\n{body}\n</tbody></table></div>'


def belongs(row, words):
    """Whether a row belongs to a figure."""
    text = f"{row['stage']} {row['quantity']} {row['source']}".lower()
    return any(word in text for word in words)


def _mark(row, number):
    """One row in a figure: place by difference over the larger of both values, one line a row."""
    size = max(abs(row["published"]), abs(row["ours"]), 1e-12)
    share = min(max((row["ours"] - row["published"]) / size, -0.5), 0.5)
    x = SIDE / 2.0 + share * (SIDE - 2.0 * EDGE)
    y = EDGE + 6.0 * number
    name = escape(f"{row['quantity']}: published {row['published']:.4g}, ours {row['ours']:.4g}")
    if row["met"]:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.5" fill="#1c5a9c"><title>{name}</title></circle>'
    cross = f"M{x - 3:.1f} {y - 3:.1f}l6 6m0 -6l-6 6"
    return f'<path d="{cross}" stroke="#b8441b" stroke-width="2" fill="none"><title>{name}, missed</title></path>'


def figure(title, rows):
    """One drawing: how far each row is from its source; dots met their gate, crosses missed it."""
    tall = 2.0 * EDGE + 6.0 * len(rows) + 14.0
    lines = []
    for share in (-0.5, -0.25, 0.0, 0.25, 0.5):
        x = SIDE / 2.0 + share * (SIDE - 2.0 * EDGE)
        lines.append(f'<path d="M{x:.1f} {EDGE / 2}V{tall - 22:.1f}" stroke="#8a8f98" stroke-width=".5"/>')
        lines.append(
            f'<text x="{x:.1f}" y="{tall - 6:.1f}" font-size="9" text-anchor="middle">{100 * share:+.0f}</text>'
        )
    marks = "".join(_mark(row, number) for number, row in enumerate(rows))
    missed = sum(not row["met"] for row in rows)
    return (
        f'<figure><svg width="{SIDE:.0f}" height="{tall:.0f}" role="img" aria-label="{escape(title)}">'
        f"{''.join(lines)}{marks}</svg><figcaption><b>{escape(title)}.</b> Ours less published [% of the larger]; "
        f"{len(rows)} rows, {missed} missed (crosses). Differences past 50 % are drawn at the edge."
        "</figcaption></figure>"
    )


def page(rows):
    """The whole page as text."""
    missed = [row for row in rows if not row["met"]]
    drawn = [(title, [r for r in rows if belongs(r, words)]) for title, words in FIGURES]
    figures = "\n".join(figure(title, some) for title, some in drawn if some)
    absent = [title for title, some in drawn if not some]
    left = f"<p>No row in this logbook yet: {escape('; '.join(absent))}.</p>" if absent else ""
    known = "\n".join(f"<li>{sum(r['origin'] == o for r in rows)} {words}</li>" for o, words in ORIGIN_WORDS.items())
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Validation of seaload</title><style>{STYLE}</style></head><body>
<h1>Validation: our numbers beside published ones</h1>
<p>{len(rows)} checks; {len(rows) - len(missed)} meet their gate, {len(missed)} miss it. Written by the tests
themselves. Where the outside numbers come from:</p><ul>{known}</ul>
<p>A number from memory is weaker evidence than one read in its source. Each row checks a part of the method;
none of them checks a load measured on a boat at sea.</p>
<h2>Missed</h2>
{table(missed) if missed else "<p>None.</p>"}
<h2>Figures</h2>
{figures}{left}
<h2>All rows</h2>
{table(rows)}
</body></html>
"""


def main(arguments):
    """Write index.html beside the logbook of the named folder; returns the exit code."""
    if len(arguments) != 1:
        print("usage: python -m seaload.report.validation_page FOLDER", file=sys.stderr)
        return 2
    try:
        text = page(read_logbook(arguments[0]))
    except InputError as error:
        print(error, file=sys.stderr)
        return 2
    (Path(arguments[0]) / "index.html").write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

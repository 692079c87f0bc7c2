"""The validation page: every check against an outside source, read from the logbook that the tests wrote.

    python -m seaload.report.validation_page results/validation

reads validation.json, curves.json and mutations.json in that folder and writes index.html beside them.
Nothing on the page is typed by hand, and
it holds no clock time: the same logbook gives the same bytes.
"""

import json
import sys
from html import escape
from pathlib import Path

from seaload.basis.errors import InputError
from seaload.report.validation_figures import curves_of_rows, drawings

ORIGIN_WORDS = {"read": "read in the source", "derived": "derived", "memory": "from memory"}
COLUMNS = ("stage", "quantity", "marched / oracle", "source", "origin", "published", "ours", "difference", "gate",
           "verdict")  # fmt: skip
STYLE = """
body{font:16px/1.45 system-ui,sans-serif;margin:1.5rem auto;max-width:78rem;padding:0 1rem;
color:#1a1d21;background:#fefefe}
table{border-collapse:collapse;width:100%;font-size:.85rem}
th,td{border-bottom:1px solid #d9dde2;padding:.3rem .5rem;text-align:left;vertical-align:top}
td.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
tr.missed td{background:#f8ddd2}
figure{display:inline-block;margin:.5rem;vertical-align:top;break-inside:avoid}svg{max-width:100%}
figcaption{max-width:23rem;font-size:.85rem}table.small{width:auto}code{font-size:.85em}svg text{fill:#1a1d21}
tr{break-inside:avoid}thead{display:table-header-group}
@page{size:A4 landscape;margin:12mm}@media print{body{font-size:10pt;margin:0;max-width:none;padding:0}
table{font-size:7pt}.scroll{overflow:visible}figure{width:31%;margin:.3rem}svg{width:100%;height:auto}}
.scroll{overflow-x:auto}
@media screen and (prefers-color-scheme:dark){body{color:#e6e8ea;background:#15181b}tr.missed td{background:#54291a}
th,td{border-color:#3a4047}svg{background:#fefefe}}
"""
ROADS = ("marched", "oracle")
VERDICTS = {"not noticed": "why", "no result": "what was said", "noticed": "the test that failed", "not run": ""}
STAGES = ("sea", "foil", "boat", "structure", "counting", "risk")


def read_logbook(folder):
    """Rows of validation.json in `folder`; raises InputError when it is missing or not a list of rows."""
    path = Path(folder) / "validation.json"
    allowed = "a list of rows written by the tests with --validation-folder"
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError(str(path), "file", type(error).__name__, allowed) from error
    needed = {"stage", "quantity", "road", "source", "origin", "published", "ours", "tolerance", "met"}
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
    origin = ORIGIN_WORDS.get(row["origin"], row["origin"])
    words = (row["stage"], row["quantity"], row["road"], row["source"], origin)
    numbers = (f"{row['published']:.5g}", f"{row['ours']:.5g}", difference(row))
    verdict = "met"
    if not row["met"]:
        verdict = "MISSED: " + (row.get("reason") or "no reason is noted in the logbook.")
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


def read_curves(folder):
    """Curves that the tests wrote in `folder`, or none where there is no such file."""
    path = Path(folder) / "curves.json"
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else []


def read_mutations(folder):
    """What the mutation check wrote in `folder` (seed, rows), or nothing where it was not run."""
    path = Path(folder) / "mutations.json"
    return json.loads(path.read_text(encoding="utf-8")) if path.exists() else {"seed": None, "rows": []}


def summary(rows):
    """HTML table: how many rows each stage has, from where, on which road, and how many missed."""
    names = sorted({row["stage"] for row in rows}, key=lambda n: (STAGES.index(n) if n in STAGES else 99, n))
    lines = []
    for name in names:
        some = [row for row in rows if row["stage"] == name]
        counts = [sum(row["origin"] == origin for row in some) for origin in ORIGIN_WORDS]
        counts += [sum(row["road"] == road for row in some) for road in ROADS]
        missed = sum(not row["met"] for row in some)
        cells = "".join(f'<td class="n">{n}</td>' for n in (len(some), *counts, missed))
        lines.append(f"<tr><td>{escape(name)}</td>{cells}</tr>")
    head = "".join(f"<th>{name}</th>" for name in ("stage", "rows", *ORIGIN_WORDS.values(), *ROADS, "missed"))
    return f"<table class=small><thead><tr>{head}</tr></thead><tbody>{''.join(lines)}</tbody></table>"


def mutation_part(found):
    """HTML of the tokens that were broken by lot, and what the tests said; those not noticed stand open."""
    rows = found["rows"]
    tried = [row for row in rows if row["verdict"] in ("noticed", "not noticed")]
    if not tried:
        return "<p>Not run for this page.</p>"
    noticed = sum(row["verdict"] == "noticed" for row in tried)
    kernels = sum(row["kernel"] for row in tried)
    waiting = len(rows) - len(tried)
    not_run = f" The other {waiting} have not been run." if waiting else ""
    return (
        f"<p>{len(rows)} single tokens (operators, signs, comparisons, constants, indices) were drawn with seed "
        f"{found['seed']} from the formulas that a run passes through, stratified over their files. {len(tried)} were "
        f"tried, {kernels} of them in kernels: the fast tests of the room notice {noticed}.{not_run} Tests were added "
        f"where this draw showed a gap, so tokens drawn with another seed may be noticed less often.</p>"
        + "".join(_mutations_that(rows, verdict, last) for verdict, last in VERDICTS.items())
    )


def _mutations_that(rows, verdict, last):
    """HTML of the mutations with one verdict, folded up unless they were not noticed; nothing when there are none."""
    some = [row for row in rows if row["verdict"] == verdict]
    if not some:
        return ""
    lines = _mutation_table(some, last)
    return lines if verdict == "not noticed" else f"<details><summary>{len(some)} {verdict}</summary>{lines}</details>"


def _mutation_table(rows, last):
    lines = "\n".join(
        f'<tr class="{"missed" if row["verdict"] == "not noticed" else "met"}">'
        f"<td>{escape(row['file'])}:{row['line']}</td><td>{escape(row['definition'])}</td>"
        f"<td>{escape(row['kind'])}</td>"
        f"<td><code>{escape(row['token'])} &rarr; {escape(row['broken'])}</code></td>"
        f"<td><code>{escape(row['text'])}</code></td><td>{escape(_said_of(row))}</td></tr>"
        for row in rows
    )
    head = "".join(f"<th>{n}</th>" for n in ("place", "definition", "kind", "token", "line", last))
    return f'<div class="scroll"><table><thead><tr>{head}</tr></thead><tbody>{lines}</tbody></table></div>'


def _said_of(row):
    """The test that noticed, or why none did."""
    if row["verdict"] == "not noticed":
        return row["reason"] or "no reason is noted."
    return row["test"].split("/")[-1]


def page(rows, curves=(), mutations=None):
    """The whole page as text."""
    order = {name: place for place, name in enumerate(STAGES)}
    rows = sorted(rows, key=lambda r: (order.get(r["stage"], 99), r["source"], r["quantity"]))
    missed = [row for row in rows if not row["met"]]
    figures = drawings([*curves, *curves_of_rows(rows)])
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Validation of seaload</title><style>{STYLE}</style></head><body>
<h1>Validation: our numbers beside published ones</h1>
<p>{len(rows)} checks; {len(rows) - len(missed)} meet their gate, {len(missed)} miss it. Written by the tests
themselves. Where the outside numbers come from, stage by stage:</p>{summary(rows)}
<p>"Read in the source" also covers values that others transcribed or digitised; the source column says so.
"Derived" means computed independently from the published formula: it catches a slip in our code, not a
shortcoming of the theory. A number from memory is weaker still. Only the rows of the boat against towing tanks, the
coupon records, the buoys and the digitised curves compare with something measured or read elsewhere.
"Marched" is a formula that results pass through; an "oracle" is one that only tests use: a row of it says that the
formula others are held against is right, and nothing of a result.
Each row checks a part of the method; <b>none of them checks a load measured on a boat at sea</b>.</p>
<h2>Missed</h2>
<p>A gate that is missed stays here. "Coefficients seaload" are the ones that seaload sails with;
"coefficients zarnick" are those of the method as published, kept for comparison: seaload does not use
them.</p>
<p>What the misses of seaload mean for an answer. <b>Pitch of planing hull B is 23 to 40 % too large in
waves of 1.5 to 3 lengths</b>: the foil meets larger angles there, and its loads come out high. <b>Heave is 15
to 29 % too small in waves of 1.5 to 2 lengths</b> (hull A, Wigley III): the depth of the foil varies less than
it should, which lowers the odds of a foil that comes up or plunges. <b>Bow accelerations in long waves are
low</b>: no answer uses them. <b>Added mass in heave does not depend on frequency</b> as the tank shows: the
natural period of heave is up to 8 % too long. <b>Means of damage with a tail that has no variance</b> are
covered less often than said. These errors of motion are larger than those of any theory of foils used here.</p>
{table(missed) if missed else "<p>None.</p>"}
<h2>Figures</h2>
{figures or "<p>No curves in this folder.</p>"}
<h2>Tokens broken on purpose</h2>
{mutation_part(mutations or {"seed": None, "rows": []})}
<h2>All rows</h2>
<p>One row may hold the worst of many values; the number stands in brackets.</p>
{table(rows)}
</body></html>
"""


def main(arguments):
    """Write index.html beside the logbook of the named folder; returns the exit code."""
    if len(arguments) != 1:
        print("usage: python -m seaload.report.validation_page FOLDER", file=sys.stderr)
        return 2
    try:
        folder = arguments[0]
        text = page(read_logbook(folder), read_curves(folder), read_mutations(folder))
    except InputError as error:
        print(error, file=sys.stderr)
        return 2
    (Path(arguments[0]) / "index.html").write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

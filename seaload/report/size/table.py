"""The answer of a sizing in plain characters, for the command line."""

from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line
from seaload.report.shared.text_table import basis_part, in_columns, wrapped
from seaload.report.size import reading as read
from seaload.report.size import words


def size_table(dataset):
    """Sentences, least limits by place, what changes do."""
    parts = [answer_lines(dataset), limit_lines(dataset), change_lines(dataset)]
    return "\n\n".join(["\n".join(part) for part in parts if part] + [basis_part(dataset)])


def answer_lines(dataset):
    """Which place and situation governs each way, and whether the limits are enough."""
    lines = []
    for k in range(len(read.SIDES)):
        lines += wrapped(words.side_sentence(dataset, k))
    worn, p, target = read.wear_cycles(dataset)
    where = read.place_words(dataset, float(dataset["sized_material"].values[p]))
    lines += wrapped(
        f"Wear: {say.significant(worn[0])} ({say.interval(worn[1], worn[2])}) full-load cycles a season {where}, "
        f"allowed {say.significant(target, 3)}."
    )
    for text in (words.ratio_sentence(dataset), words.lighter_sentence(dataset), words.target_sentence(dataset)):
        lines += wrapped(text) if text else []
    return [*lines, say.limit_words(attribute(dataset, "limit_basis"))]


def limit_lines(dataset):
    """Least limits both ways by place [kN m]."""
    heads = [("from the", "root, m")]
    for side in read.SIDES:
        heads += [(side, "given"), ("least,", "kN m"), ("margin", ""), ("governed", "by")]
    rows = []
    for p, s in enumerate(dataset["sized_material"].values):
        row = [f"{s:.1f}"]
        for k in range(len(read.SIDES)):
            row += limit_cells(dataset, k, p)
        rows.append(tuple(row))
    return ["LEAST LIMITS by place", *in_columns(heads, rows[:-1], rows[-1])]


def limit_cells(dataset, k, p):
    """Given and least limit, margin and situation of one place and side."""
    given, needed = (float(dataset[f"limit_{name}"].values[k, p]) / read.KILO for name in ("given", "needed"))
    if p not in read.loaded(dataset, k):
        return [say.significant(given), "-", "", ""]
    by_wear = dataset["limit_wear"].values[k, p] > dataset["limit_all_told"].values[k, p]
    name = "wear" if by_wear else read.situation(dataset, dataset["governing_situation"].values[k, p])
    margin = words.percent(float(dataset["limit_margin"].values[k, p]))
    return [say.significant(given), say.significant(needed), margin, name[:14]]


def change_lines(dataset):
    """What changes do at the weakest places."""
    count = dataset.sizes.get("change", 0)
    if not count:
        return []
    lines = ["WHAT CHANGES DO at the weakest places (least limit, 90 % interval by the sampled waves)"]
    for c in range(count):
        lines += wrapped(f"- {words.change_sentence(dataset, c)}", "  ")
        if ended := int(dataset["change_ended"].values[c]):
            lines.append(f"  {ended} of its cases ended early or left the validity")
    lines += wrapped("Gusts and motions are not simulated anew with a change: they are taken to change as the seas do.")
    return lines


def answer_tree(dataset):
    """The answer as a plain tree, for other programs."""
    sides = []
    for k, side in enumerate(read.SIDES):
        found = read.weakest(dataset, k)
        told = None if found is None else found._asdict()
        odds = float(dataset["season_odds"].values[k])
        sides.append({"side": side, "weakest": told, "season_odds": odds})
    changes = [
        {
            "name": line(name),
            "limit": {
                side: read.three(dataset, "change_limit", c, k, found.point)
                for k, side in enumerate(read.SIDES)
                if (found := read.weakest(dataset, k)) is not None
            },
        }
        for c, name in enumerate(dataset["change_name"].values)
    ]
    return {"sides": sides, "changes": changes, "hold_down_n": float(dataset["season_hold_down"])}

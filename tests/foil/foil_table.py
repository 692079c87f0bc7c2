"""Reading the published tables of foil and structure, and noting the worst row of a comparison."""

import csv
from pathlib import Path

import numpy as np

DATA = Path(__file__).resolve().parents[1] / "published" / "data"


def table(name):
    """Columns of NAME.csv by header without the bracketed unit: float arrays, or text."""
    with open(DATA / f"{name}.csv", encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    rows = list(csv.reader(lines))
    columns = {}
    for place, header in enumerate(rows[0]):
        values = [row[place] for row in rows[1:]]
        try:
            columns[header.split("[")[0]] = np.array([float(v or "nan") for v in values])
        except ValueError:
            columns[header.split("[")[0]] = np.array(values)
    return columns


def quantities(name):
    """A two-column table as a dictionary: quantity without its bracketed unit -> value."""
    with open(DATA / f"{name}.csv", encoding="utf-8") as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    return {row[0].split("[")[0]: float(row[1]) for row in rows[1:]}


class Comparison:
    """Compares arrays, notes the worst place in the logbook and fails when the tolerance is missed."""

    def __init__(self, logbook, stage, source, origin):
        self.logbook, self.stage, self.source, self.origin = logbook, stage, source, origin

    def close(self, quantity, published, ours, *, relative=0.0, absolute=0.0, rounding=0.0, of=None):
        """|ours - published| <= relative x |published| + absolute; `rounding` of the table comes on top.

        `of` as in `logbook`.
        """
        published = np.atleast_1d(np.asarray(published, dtype=float))
        ours = np.broadcast_to(np.atleast_1d(np.asarray(ours, dtype=float)), published.shape)
        allowed = relative * np.abs(published) + absolute + rounding
        excess = np.abs(ours - published) - allowed
        worst = int(np.argmax(np.abs(ours - published) / np.maximum(allowed, 1e-300)))
        met = bool(np.all(excess <= 0.0))
        words = [f"{relative:.3g} of the value"] * (relative > 0) + [f"{absolute:g}"] * (absolute > 0)
        words += [f"rounding {rounding:g}"] * (rounding > 0)
        if len(published) > 1:
            quantity = f"{quantity} (worst of {len(published)})"
        self.logbook(
            stage=self.stage, quantity=quantity, source=self.source, origin=self.origin,
            published=published[worst], ours=ours[worst],
            tolerance=" + ".join(words), met=met, of=of,
        )  # fmt: skip
        assert met, f"{quantity}: published {published[worst]:g}, ours {ours[worst]:g}"

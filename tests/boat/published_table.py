"""Reading the small published tables: a comment line with their origin, a header, rows."""

import csv
from pathlib import Path

DATA = Path(__file__).resolve().parents[1] / "published" / "data"


def rows(name):
    """Rows of boat_NAME.csv as dictionaries; numbers become floats, the rest stays text."""
    with open(DATA / f"boat_{name}.csv", encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    found = []
    for row in csv.DictReader(lines):
        found.append({key.split("[")[0]: _number(value) for key, value in row.items()})
    return found


def _number(text):
    try:
        return float(text)
    except ValueError:
        return text

"""Blocks that the reports of a run and of a sweep share: tiles, the method, how a result was made."""

import json
import math

import numpy as np

from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, scenario

METHOD = (
    "Hull, keel fin, rudders and foil are marched together in time through a sea of independent linear "
    "waves, in "
    "heave, pitch, roll and surge. The foil is cut into strips along its curve; each meets the water's own "
    "motion at "
    "its depth, with wake memory, a free surface, limits of lift on both sides and one bending mode. "
    "Bending moments "
    "at the bearing, the stations and along the material are counted while it marches: rainflow cycles "
    "with their "
    "mean, excursions past the limits, events (excursions under 10 s apart are one).",
    "Rates of rare events come from counts with exact Poisson intervals, or from the tail of the worst "
    "moments where "
    "that says more; the page tells which. Wear adds up the counted cycles with the stated fatigue curve "
    "and is "
    "comparison only.",
)


def tile(head, cell, *more, origin=""):
    """A tile from a table cell "number (interval)"; `origin` says where the number comes from."""
    big, _, rest = cell.partition(" (")
    span = rest.rstrip(")").replace("< ", "none to ").replace("-", " to ")
    shown = [*more, *([f"90 % interval {span}"] if rest else [])]
    return {"head": head, "big": big, "more": shown, "origin": origin}


def method_blocks(dataset, *further):
    """The method in paragraphs, with the length of the realisations of this result."""
    sampling = scenario(dataset).get("study", {}).get("sampling", {})
    minutes = sampling.get("realisation_minutes", 20.0) if isinstance(sampling, dict) else math.nan
    kept = f" Each realisation is {say.significant(minutes)} minutes kept after a discarded run-in."
    texts = (*METHOD[:-1], METHOD[-1] + (kept if isinstance(minutes, int | float) else ""), *further)
    return [{"what": "text", "text": text, "kind": ""} for text in texts]


def input_blocks(dataset):
    """Notes, defaults, versions, and the scenario as it was written."""
    notes = [line(text) for text in attribute(dataset, "notes").splitlines() if text.strip()]
    defaults = ", ".join(line(text) for text in attribute(dataset, "defaults_used").splitlines())
    made = (
        ("Command", line(attribute(dataset, "command"))),
        ("Seed", line(attribute(dataset, "seed"))),
        ("Versions", ", ".join(versions(dataset))),
        ("Sources", line(attribute(dataset, "source_fingerprint"))),
        ("Sampling", f"{int(np.nansum(dataset['realisations_sailed'].values))} realisations in all"),
        ("Intervals", line(attribute(dataset, "interval"))),
    )
    written = json.dumps(scenario(dataset), indent=1, ensure_ascii=False, sort_keys=True)
    return [
        {"what": "bullets", "items_": notes or ["Nothing assumed beyond the study file."]},
        {"what": "text", "kind": "note", "text": f"Defaults used: {defaults or 'none'}."},
        {"what": "table", "caption": "How this result was made", "heads": (), "plain": True, "rows": made},
        {"what": "code", "summary": "Study and boat as they were written", "text": shortened(written)},
    ]


def versions(dataset):
    """ "name version" of everything that made the result."""
    try:
        found = json.loads(attribute(dataset, "versions") or "{}")
    except ValueError:
        return []
    return [line(f"{name} {number_}", 60) for name, number_ in found.items()]


def shortened(text, most=60_000):
    """Text without characters that turn the reading direction, cut to a length a page can carry."""
    shown = "".join(c if c.isprintable() or c in "\n\t" else " " for c in text)
    return shown if len(shown) <= most else shown[:most] + " ... (cut)"

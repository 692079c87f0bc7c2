"""What the display reads along a plan, and the reading that calls for stepping down, in plain words."""

import math
from typing import NamedTuple

from seaload.report.shared.answer_words import display_unit
from seaload.report.shared.result_reading import number

MINUTE, HOUR = 60.0, 3600.0  # [s]
USEFUL = 0.9  # [-] missed more often, and no reading to leave by is told


class Reading(NamedTuple):
    """What the gauge reads on one stretch, in the display's unit; nan where nothing is told."""

    ordinary: float
    low: float
    high: float
    leave: float
    missed: float  # odds


def readings(dataset):
    """[`Reading`] of the stretches, or None where the result tells of no gauge."""
    if "stretch_reading" not in dataset:
        return None
    scale = display_unit(dataset)[0]
    names = ("stretch_reading", "stretch_reading_low", "stretch_reading_high", "stretch_reading_leave")
    rows = [scale * dataset[name].values for name in names]
    missed = dataset["stretch_reading_missed"].values
    return [Reading(*map(float, row), float(odds)) for *row, odds in zip(*rows, missed, strict=True)]


def shown(dataset, value):
    """A reading without its unit: "-12"."""
    return f"{value:z.{display_unit(dataset)[2]}f}"


def leaves(reading):
    """Whether a `Reading` tells when to leave."""
    return math.isfinite(reading.leave) and reading.missed <= USEFUL


def gauge_head(dataset):
    """The gauge as a short head: "gauge 3, highest, %"."""
    end = "highest" if number(dataset, "gauge_side") > 0.5 else "lowest"
    return f"gauge {number(dataset, 'gauge_number'):.0f}, {end}, {display_unit(dataset)[1]}"


def ordinary_words(dataset, reading):
    """What is ordinary: "41 (36 to 47)"."""
    if not math.isfinite(reading.ordinary):
        return ""
    ends = " to ".join(shown(dataset, value) for value in (reading.low, reading.high))
    return f"{shown(dataset, reading.ordinary)} ({ends})"


def leave_words(dataset, reading):
    """The reading to leave by and how often it is missed: "past 52 (missed 20 %)"."""
    if not leaves(reading):
        return ""
    return f"past {shown(dataset, reading.leave)} (missed {100.0 * reading.missed:.0f} %)"


def card_words(dataset, reading):
    """The same for the card: "gauge 3 past 52 %, ordinary 41"."""
    if not math.isfinite(reading.ordinary):
        return ""
    name, unit = f"gauge {number(dataset, 'gauge_number'):.0f}", display_unit(dataset)[1]
    if not leaves(reading):
        return f"{name} reads about {shown(dataset, reading.ordinary)} {unit}"
    return f"{name} past {shown(dataset, reading.leave)} {unit} (ordinary {shown(dataset, reading.ordinary)})"


def gauge_sentences(dataset):
    """How to read the gauge, its odds, and what is left out; empty without one."""
    rows = readings(dataset)
    if rows is None:
        return []
    window, apart = number(dataset, "gauge_window") / MINUTE, number(dataset, "gauge_between_alarms") / HOUR
    end = "highest" if number(dataset, "gauge_side") > 0.5 else "lowest"
    name = f"gauge {number(dataset, 'gauge_number'):.0f}"
    found = [
        f"Watch {name}: its {end} reading in every {window:.0f} minutes. Ordinary is the middle of what the sea as "
        "planned gives, nine in ten within the brackets."
    ]
    if any(map(leaves, rows)):
        missed = sorted(row.missed for row in rows if leaves(row))
        found.append(
            f"Step down when it passes the reading to leave by: about one false alarm in {apart:.0f} hours of the sea "
            f"as planned; {window:.0f} minutes of the sea to leave in miss it with {100.0 * missed[0]:.0f} to "
            f"{100.0 * missed[-1]:.0f} % odds, so look again."
        )
    else:
        found.append("No reading tells the sea to leave in from the sea as planned within that time.")
    mean = number(dataset, "gauge_running_mean")
    if mean > 0.0:
        found.append(
            f"These are loads as they come: a display that averages over {mean:g} s shows less, ordinary and to leave "
            "by alike. Compare it with what it shows when all is as planned."
        )
    return found

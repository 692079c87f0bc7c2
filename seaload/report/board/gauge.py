"""What the display of the boat shows in each sea, for the board: what is ordinary, what calls for backing off."""

import math

from seaload.basis.units import MINUTE
from seaload.report.shared.answer_words import alarm_words, display_unit, readings_words
from seaload.report.shared.result_reading import setting_words


def gauge_data(dataset, answer):
    """{"unit", "minutes", "seas": one a sea}; each sea {"setting", "stations", "trigger"}, loads as displayed."""
    scale, unit, digits = display_unit(dataset)
    return {
        "unit": unit,
        "digits": digits,
        "minutes": round((answer.display_window or 0.0) / MINUTE, 1),
        "seas": [sea_readings(dataset, found, scale) for found in answer.seas],
    }


def sea_readings(dataset, found, scale):
    """The stations of a `SeaAnswer` that show anything, and its trigger."""
    stations = [
        {"station": reading.station, "lowest": spread(reading.lowest, scale), "highest": spread(reading.highest, scale)}
        for reading in found.readings
        if not reading.silent and math.isfinite(reading.highest.best)
    ]
    return {
        "setting": setting_words(dataset, found.shown, found.sea),
        "stations": stations,
        "trigger": trigger_of(dataset, found, scale),
    }


def spread(bounds, scale):
    """[low, best, high] as displayed."""
    return [round(float(scale * value), 6) for value in (bounds.low, bounds.best, bounds.high)]


def trigger_of(dataset, found, scale):
    """The reading that calls for backing off, with its words; None where no reading tells. `single` where one reading
    beyond the threshold is looked at, not a share of the time or a swing."""
    trigger = found.trigger
    if trigger is None:
        return None
    return {
        "station": trigger.station,
        "low": trigger.low,
        "threshold": round(float(scale * trigger.threshold), 6),
        "single": trigger.kind == "passed",
        "times": trigger.times,
        "minutes": round(trigger.window / MINUTE, 1),
        "missed": alarm_words(trigger.missed_alarm),
        "false": alarm_words(trigger.false_alarm),
        "words": readings_words(dataset, found),
    }

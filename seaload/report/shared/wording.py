"""Odds, rates and intervals in plain words. Numbers in, one short phrase out; nothing here knows a dataset.

Rounding never flatters: the bound at the decision end is rounded towards more risk.
"""

import math

from seaload.basis.units import FULL_LOAD_SHARE

NEVER_SEEN = 1e-4  # odds below this are said as "under 1 in 10,000": no model of this kind carries smaller ones
CERTAIN = 0.95


def significant(value, digits=2):
    """A number with so many significant digits, thousands with commas, never in powers of ten.

    >>> significant(1234.5), significant(0.03456), significant(7.0)
    ('1,200', '0.035', '7')
    """
    value = float(value)
    if not math.isfinite(value):
        return "unknown"
    if value == 0.0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    if places > 0:
        text = f"{rounded:.{min(places, 12)}f}".rstrip("0").rstrip(".")
        return text if text not in ("0", "-0") else "0"
    return f"{rounded:,.0f}"


def two_digits(value, towards):
    """A number >= 1 to two significant digits, rounded to the nearest, "down" or "up"."""
    step = 10.0 ** max(math.floor(math.log10(value)) - 1, 0)
    rounding = {"nearest": round, "down": math.floor, "up": math.ceil}[towards]
    return int(max(rounding(value / step + {"down": 1e-9, "up": -1e-9}.get(towards, 0.0)) * step, 1))


def one_in(odds, towards="nearest"):
    """Odds as people say them: "1 in 13", "7 in 10", "almost certain".

    towards : "nearest", or "risk" (never sounds better than it is) or "calm" (never worse).
    """
    if not math.isfinite(odds):
        return "unknown"
    if odds <= 0.0 and towards != "risk":
        return "none"
    if odds < NEVER_SEEN:
        return "1 in 10,000" if towards == "risk" else "under 1 in 10,000"
    if odds > CERTAIN:
        return "almost certain"
    if odds < 0.4:
        way = {"nearest": "nearest", "risk": "down", "calm": "up"}[towards]
        number = two_digits(1.0 / odds, way)
        if number > 2:
            return f"1 in {number:,}"
    tenths = {"nearest": round, "risk": math.ceil, "calm": math.floor}[towards](odds * 10.0)
    return f"{min(max(tenths, 4), 9)} in 10" if tenths < 10 else "almost certain"


def odds_words(odds, high, *, low=None, seen=None, hours=None, at_least=False):
    """Odds with the interval: "1 in 50 (at worst 1 in 20)", "none in 3 h; at worst 1 in 13".

    odds, high, low : best estimate and bounds [-]. seen : events counted, hours : simulated hours they were
    counted in; none seen is said as such. at_least : a case ended early, the number is a lower bound.
    """
    if not math.isfinite(odds):
        return "not known: no case ran to its end"
    bound = "" if not math.isfinite(high) else one_in(high, "risk")
    if seen == 0 and hours:
        begin = f"none in {significant(hours)} h"
        if math.isfinite(high) and high < NEVER_SEEN:
            return f"{begin}; by the tail of the worst moments under 1 in 10,000"
        if odds > 0.0:  # the tail says more than the count
            return f"{one_in(odds)} (none seen in {significant(hours)} h; at worst {bound or 'more'})"
        if bound == "almost certain":
            return f"{begin}: too few hours to tell"
        return f"{begin}; at worst {bound}" if bound else f"{begin}; at worst not known"
    best = one_in(odds)
    if at_least:
        return f"at least {best}"
    if bound and bound not in (best, best.removeprefix("under ")):
        best += f" (at worst {bound})"
    return best


def odds_short(odds, high):
    """Odds for a table cell, the bound in brackets: "1 in 50 (1 in 20)", "none (1 in 140)"."""
    if not math.isfinite(odds):
        return "unknown"
    bound = one_in(high, "risk") if math.isfinite(high) else "unknown"
    best = one_in(odds)
    return best if bound in (best, best.removeprefix("under ")) else f"{best} ({bound})"


def rate_words(rate, low, high, *, unit="per hour", seen=None, hours=None):
    """A rate with its interval: "0.33 (0.02 to 1.6) per hour", "none in 3 h (up to 1 per hour)".

    rate, low, high : in the unit that is printed.
    """
    if not math.isfinite(rate):
        return "not known"
    if rate == 0.0 and seen in (0, None):
        span = f"none in {significant(hours)} h" if hours else "none"
        return f"{span} (up to {upwards(high)} {unit})" if math.isfinite(high) else span
    return f"{significant(rate)} ({interval(low, high)}) {unit}"


def interval(low, high, digits=2):
    """Two bounds: "0.02 to 1.6"; the upper one rounded up, the lower one down; "0.02 or more" when open."""
    if not math.isfinite(low) and not math.isfinite(high):
        return "no interval"
    if not math.isfinite(high):
        return f"{downwards(low, digits)} or more"
    return f"{downwards(low, digits)} to {upwards(high, digits)}"


def upwards(value, digits=2):
    """`significant`, rounded away from the calm side (up)."""
    return _directed(value, digits, math.ceil)


def downwards(value, digits=2):
    """`significant`, rounded down."""
    return _directed(value, digits, math.floor)


def _directed(value, digits, rounding):
    value = float(value)
    if not math.isfinite(value) or value == 0.0:
        return significant(value, digits)
    step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)
    ratio = value / step
    near = round(ratio)
    whole = near if abs(ratio - near) < 1e-9 * abs(ratio) else rounding(ratio)
    return significant(whole * step, digits)


def hours_words(hours):
    """A stretch of time: "20 minutes", "3 hours", "1 hour"."""
    if hours < 0.95:
        minutes = significant(hours * 60.0)
        return f"{minutes} minute{'' if minutes == '1' else 's'}"
    text = significant(hours, 3)
    return f"{text} hour{'' if text == '1' else 's'}"


def full_load_cycles(damage_per_hour):
    """Wear per hour as full-load cycles per hour [1/h]; damage 1 is a million of them."""
    return damage_per_hour / FULL_LOAD_SHARE


def ballast_words(shift):
    """Where ballast water stands, from its `shift` [m] forward: "ballast +0.3 m", "tanks empty"."""
    return f"ballast {shift:+.1f} m" if round(shift, 1) else "tanks empty"


def limit_words(basis):
    """What the stated limits mean, for every page."""
    if basis in ("", "not said"):
        return "The boat file does not say what its limits mean (working, first damage or break)."
    meaning = {
        "working": "working limits: what to sail by, not where the foil breaks",
        "first damage": "limits of first damage: past them the foil is hurt",
        "break": "breaking limits: past them the foil may be gone",
    }.get(basis, "".join(c if c.isprintable() else " " for c in str(basis))[:80])
    return f"Limits in the boat file are {meaning}."


STATUS_WORDS = {
    "done": "ran to its end",
    "not_finite": "ended early: the motion ran away",
    "broached": "ended early: she broached and turned far off her heading",
    "pitch_beyond_validity": "pitched more than the model is valid for",
    "speed_beyond_validity": "ran faster than the model is valid for",
    "mean_speed_not_held": "could not hold the asked speed",
    "foredeck_buried": "had the foredeck under water for longer than the model is valid for",
    "thrust_at_its_floor": "ran faster than the sails can drive for longer than the model is valid for",
    "rainflow_stack_full": "had more cycles than could be counted",
}


def status_words(name):
    """A case's end in plain words; unknown names are shown as they are."""
    return STATUS_WORDS.get(name, str(name).replace("_", " "))


def angle_from_bow_words(degrees):
    """Where waves come from, as sailors say it: "45 deg from the bow, to windward"."""
    side = "" if degrees in (0.0, 180.0) else ", from windward" if degrees > 0 else ", from leeward"
    turn = abs((degrees + 180.0) % 360.0 - 180.0)
    names = (
        (22.5, "ahead"),
        (67.5, "on the bow"),
        (112.5, "abeam"),
        (157.5, "on the quarter"),
        (181.0, "astern"),
    )
    name = next(word for bound, word in names if turn <= bound)
    return f"{turn:.0f} deg from the bow ({name}{side})"

"""Reading a sweep: the suggestion of each sea, decisions, moves and display readings, in plain words."""

import math

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT, MINUTE
from seaload.evidence.verdict import DECISION_NAMES
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import (
    flag,
    hours_sailed,
    line,
    number,
    scenario,
    setting_words,
)

DECISION_WORDS = {
    "undecided": "undecided",
    "within": "within the limits",
    "outside": "outside the limits",
    "not_shown": "not shown to be within the limits",
    "unreachable": "unreachable",
}
MOVE_WORDS = {
    "ease_sheets": "Ease sheets, 2 kn less",
    "bear_away": "Bear away 15°",
    "reef": "Reef: 2 kn, 2° heel less",
    "rake": ("Rake {step}° less", "Rake {step}° more"),
    "cant": ("Cant {step}° less", "Cant {step}° more"),
    "extension": ("Extension {step} % less", "Extension {step} % more"),
    "ballast": ("Ballast {step} m aft", "Ballast {step} m forward"),
}
WORKED = {
    "rake": "rake_deg", "cant": "cant_deg", "extension": "extension_percent", "ballast": "ballast_shift_m",
}  # fmt: skip
MOVE_FIELDS = ("possible", "valid", "factor_reverse", "reverse_odds", "odds_during", "speed_change")
MOST_DELAY = 3.0 * HOUR  # [s] an alarm that comes later is none
SELDOM = 1000.0 * HOUR  # [s] between loads that are then called hardly ever
SEEN = 0.7  # [-] of the true reverse pulse: less on the display is called too short
MOST_HOURS = 10_000  # of sea that anybody would sail to decide on a setting
MOVE_STEPS = 2.0  # steps of an actuator that one move of the study is


def decision(dataset, setting, sea):
    """Name of the decision on a setting in a sea; "undecided" when the result holds none."""
    code = number(dataset, "decision", setting, sea)
    return DECISION_NAMES[int(code)] if math.isfinite(code) else "undecided"


def decision_words(dataset, setting, sea):
    """The decision in words; undecided with the hours of sea in all that would decide it, or that none would."""
    name = decision(dataset, setting, sea)
    if name != "undecided" or "sea_to_decide" not in dataset:
        return DECISION_WORDS[name]
    hours = number(dataset, "sea_to_decide", setting, sea) / HOUR
    if not hours < MOST_HOURS:
        return "undecided (doubt)"
    return f"undecided ({say.significant(hours)} h)"


def suggested(dataset, sea):
    """(number of the suggested setting or None, number of the least bad one or None)."""
    found = [number(dataset, name, sea=sea) for name in ("chosen_setting", "least_bad_setting")]
    return tuple(int(n) if math.isfinite(n) and n >= 0 else None for n in found)


def shown_setting(dataset, sea):
    """The setting that pictures of a sea are drawn for: the suggested one, else the least bad, else the
    first."""
    chosen, nearest = suggested(dataset, sea)
    return next((n for n in (chosen, nearest) if n is not None), 0)


def all_odds(dataset, setting, sea, side):
    """(odds, low, high) in the exposure time that hold sampling, forecast and model together [-]."""
    name = f"{side}_odds_all" if f"{side}_odds_all" in dataset else f"{side}_odds"
    return tuple(number(dataset, name + end, setting, sea) for end in ("", "_low", "_high"))


def all_odds_words(dataset, setting, sea, side):
    """The same in words."""
    odds, _, high = all_odds(dataset, setting, sea, side)
    seen = None
    if f"{side}_events" in dataset and odds == 0.0:
        seen = 0
    return say.odds_words(
        odds, high, seen=seen, hours=hours_sailed(dataset, setting, sea),
        at_least=bool(flag(dataset, "rates_at_least", setting, sea)),
    )  # fmt: skip


def exposure_words(dataset):
    """The exposure time: "3 hours"."""
    return say.hours_words(number(dataset, "exposure_time") / HOUR)


def suggestion_sentences(dataset, sea):
    """The answer for one sea: what is suggested, or that nothing is, with odds and their interval."""
    chosen, nearest = suggested(dataset, sea)
    reason = line(dataset["choice_reason"].values[sea]) if "choice_reason" in dataset else ""
    if chosen is not None:
        odds = [all_odds_words(dataset, chosen, sea, side) for side in ("reverse", "normal")]
        words = (
            f"Suggested: {setting_words(dataset, chosen, sea)}. In {exposure_words(dataset)}, reverse load "
            "past the "
            f"limit: {odds[0]}; load past the normal limit: {odds[1]}."
        )
        return words + (f" Why: {reason}." if reason else "")
    reason = reason.removeprefix("none: ").removeprefix("none is shown to be within the levels; ")
    if nearest is None:
        return f"No setting can be suggested: {reason or 'none could be sailed'}."
    within = any(decision(dataset, setting, sea) == "within" for setting in range(dataset.sizes["setting"]))
    none = (
        "No setting is suggested in this sea" if within else "No setting is shown to be within the limits in this sea"
    )
    return (
        f"{none}: {reason}. Nearest: "
        f"{setting_words(dataset, nearest, sea)}; reverse load past the limit in {exposure_words(dataset)}: "
        f"{all_odds_words(dataset, nearest, sea, 'reverse')}."
    )


def bearing_words(dataset, sea):
    """How much worse the sea may get before the suggested setting falls outside, and what the gust does."""
    parts = []
    most = number(dataset, "hs_most", sea=sea)
    if math.isfinite(most):
        parts.append(f"Stays within the limits up to Hs {most:.1f} m, the period as it is")
    least, longest = number(dataset, "tp_least", sea=sea), number(dataset, "tp_most", sea=sea)
    if math.isfinite(least) and math.isfinite(longest):
        parts.append(f"for peak periods from {least:.1f} to {longest:.1f} s, the height as it is")
    words = "; ".join(parts) + "." if parts else ""
    leaps = flag(dataset, "gust_leaps", shown_setting(dataset, sea), sea)
    if leaps is not None:
        words += " In the stated gust she leaps." if leaps else " In the stated gust she does not leap."
    first = str(dataset["measure_first"].values[sea]) if "measure_first" in dataset else ""
    if first:
        words += f" Most worth measuring first: {line(first).replace('_', ' ')}."
    return words.strip()


def move_words(dataset, name):
    """A move in words, with the size of its step from the boat file."""
    base, _, way = str(name).partition(" ")
    words = MOVE_WORDS.get(base)
    if words is None:
        return line(name).replace("_", " ")
    if isinstance(words, str):
        return words
    worked = scenario(dataset).get("boat", {}).get("worked", {}).get(WORKED[base], {})
    step = MOVE_STEPS * float(worked.get("step", math.nan)) if isinstance(worked, dict) else math.nan
    return words[1 if way == "more" else 0].format(step=say.significant(step, 3))


def move_rows(dataset, sea):
    """Ways of backing off in a sea, fastest first: list of dictionaries with words and numbers."""
    rows = []
    for i in range(dataset.sizes.get("move", 0)):
        at = {"sea": sea, "move": i}
        value = {name: float(dataset[f"move_{name}"].isel(at).values) for name in MOVE_FIELDS}
        if not math.isfinite(value["possible"]):
            continue
        seconds = float(dataset["move_time"].values[i])
        rows.append(
            {
                **value,
                "reverse_odds": odds_after(dataset, at),  # pages name the upper bound
                "name": move_words(dataset, dataset["move_name"].values[i]),
                "seconds": seconds,
                "takes": time_words(seconds),
                "factor_words": factor_words(value["factor_reverse"], value["valid"], odds_after(dataset, at)),
            }
        )
    return rows


def odds_after(dataset, at):
    """Upper bound of the reverse odds after a move; `at` names sea and move."""
    bound = "move_reverse_odds_high" if "move_reverse_odds_high" in dataset else "move_reverse_odds"
    return float(dataset[bound].isel(at).values)


def time_words(seconds):
    """How long a move takes: "6 seconds", "5 minutes"."""
    if seconds < MINUTE:
        return f"{max(round(seconds), 1)} seconds"
    minutes = say.significant(seconds / MINUTE)
    return f"{minutes} minute{'' if minutes == '1' else 's'}"


def factor_words(factor, valid=1.0, after=1.0):
    """What a move does to the rate of reverse events: "40 % of now", "1.3 times now".

    after : upper bound of the odds after the move; where it is below what any page names, no ratio is said.
    """
    if valid == 0.0 or factor == math.inf:
        return "leaves the model's validity"
    if after < say.NEVER_SEEN:
        return "small: odds under 1 in 10,000"
    if math.isnan(factor):
        return f"too rare to compare; odds after it up to {say.one_in(after)}"
    if 0.95 < factor < 1.05:
        return "about the same"
    if factor < 1.0:
        return "under 1 % of now" if factor < 0.01 else f"{say.significant(100.0 * factor)} % of now"
    return "over 100 times now" if factor > 100.0 else f"{say.significant(factor)} times now"


def display_unit(dataset):
    """(factor, unit) that turns a stored display reading into what the crew sees."""
    display = scenario(dataset).get("boat", {}).get("sensors", {}).get("display", "percent_of_normal")
    if display == "microstrain":
        return 1e6, "microstrain"
    return 100.0, "% of its limit" if display == "percent_of_own_limit" else "%"


def reading_words(dataset, value):
    """A display reading: "-12 %"."""
    scale, unit = display_unit(dataset)
    return f"{scale * value:z.0f} {unit}" if math.isfinite(value) else "nothing"


def trigger(dataset, sea):
    """The reading that calls for backing off, a dictionary of words and numbers; None when there is none."""
    place, threshold = (
        number(dataset, "trigger_place", sea=sea),
        number(dataset, "trigger_threshold", sea=sea),
    )
    if not (math.isfinite(place) and math.isfinite(threshold)):
        return None
    low, times = number(dataset, "trigger_side", sea=sea) < 0, number(dataset, "trigger_times", sea=sea)
    times = int(times) if math.isfinite(times) else 1
    window = time_words(number(dataset, "trigger_window", sea=sea))
    return {
        "station": int(dataset["station"].values[int(place)]),
        "past": "below" if low else "above",
        "reading": reading_words(dataset, threshold),
        "often": f"{'once' if times == 1 else f'{times} times'} in {window}",
        "span": time_words(number(dataset, "trigger_span", sea=sea)),
        **{name: alarm_words(dataset, name, sea) for name in ("false_alarm", "missed_alarm")},
        "delay": number(dataset, "trigger_delay", sea=sea),
        "next": [number(dataset, f"trigger_next_event_rate{end}", sea=sea) for end in ("", "_high")],
        "worse_hs": number(dataset, "trigger_worse_hs", sea=sea),
    }


def trigger_words(dataset, sea):
    """The trigger in sentences: its odds of a false and of a missed alarm, and how early it comes."""
    found = trigger(dataset, sea)
    if found is None:
        return "No display reading tells this sea from a worse one."
    words = (
        f"Act when station {found['station']} reads {found['past']} {found['reading']} {found['often']}"
        f"{'' if found['often'].startswith('once') else ', each in another wave'}: the sea is then nearer Hs "
        f"{found['worse_hs']:.1f} m than as assumed. In {found['span']}, false alarm: {found['false_alarm']}; "
        f"missed: {found['missed_alarm']}."
    )
    every = [1.0 / rate if rate > 0.0 else math.inf for rate in found["next"]]  # [s]
    if found["delay"] > min(MOST_DELAY, every[0]):
        words += " A worse sea hardly shows before a load past a limit: do not wait for this."
    elif math.isfinite(every[0]) or math.isfinite(every[1]):
        often, bound = (say.hours_words(float(f"{value / HOUR:.1g}")) for value in every)
        said = f"every {often} or so" if every[0] < SELDOM else "hardly ever"
        words += f" In that sea it shows after {time_words(found['delay'])} on average; "
        beyond = "a simulation of that sea leaves what the model holds for"
        if every[1] > 0.0:
            words += f"a load past either limit comes {said} (could be every {bound})."
        elif every[0] < SELDOM:
            words += f"a load past either limit comes every {often} or more often: {beyond}."
        else:
            words += f"how often a load past either limit comes is not known: {beyond}."
    return words + hidden_words(dataset, sea)


def alarm_words(dataset, name, sea):
    """Odds of a false or a missed alarm with what they could be."""
    odds, high = (number(dataset, f"trigger_{name}{end}", sea=sea) for end in ("", "_high"))
    return f"{say.one_in(odds)} (could be {say.one_in(high, 'risk')})" if math.isfinite(high) else say.one_in(odds)


def hidden_words(dataset, sea):
    """Which stations' reverse pulses are too short for the display, in a sentence; empty when none."""
    if "display_attenuation" not in dataset:
        return ""
    shown = dataset["display_attenuation"].isel(sea=sea).values
    names = [
        f"station {int(n)} ({100.0 * part:.0f} %)"
        for n, part in zip(dataset["station"].values, shown, strict=True)
        if n > 0 and part < SEEN
    ]
    return f" Reverse pulses are too short to show at their full size at {', '.join(names)}." if names else ""


def display_rows(dataset, sea):
    """(station, mean, lowest with scatter, highest with scatter) as the display shows them; silent ones
    named."""
    if "display_mean" not in dataset:
        return []
    rows = []
    scale, unit = display_unit(dataset)
    for place, station in enumerate(dataset["station"].values.astype(int)):
        if station == 0:
            continue
        at = {"sea": sea, "place": place}
        value = lambda name: scale * float(dataset[f"display_{name}"].isel(at).values)  # noqa: B023,E731
        if not math.isfinite(value("mean")):
            continue
        if value("silent") > 0:
            rows.append((f"station {station}", "reads nothing at this extension", "", ""))
            continue
        spans = [
            f"{value(way):z.0f} ({value(f'{way}_low'):z.0f} to {value(f'{way}_high'):z.0f}) {unit}"
            for way in ("lowest", "highest")
        ]
        rows.append((f"station {station}", f"{value('mean'):z.0f} {unit}", *spans))
    return rows


def speed_words(dataset, setting, sea):
    """Speed of a setting and what it gives up."""
    mean = number(dataset, "speed_mean", setting, sea) / KNOT
    words = f"{mean:.1f} kn sailed"
    attainable = number(dataset, "speed_attainable", setting, sea) / KNOT
    if math.isfinite(attainable):
        words += f", the thrust can hold {attainable:.1f} kn"
    given = number(dataset, "speed_given_up", setting, sea) / KNOT
    if math.isfinite(given):
        words += f", {max(given, 0.0):.1f} kn given up against the fastest setting"
    return words


def ranked_settings(dataset, sea):
    """Settings of a sea in the order a person wants them: the suggested one, then within, undecided, the
    rest."""
    order = {"within": 0, "undecided": 1, "outside": 2, "not_shown": 3, "unreachable": 4}
    chosen, _ = suggested(dataset, sea)
    count = dataset.sizes["setting"]

    def key(setting):
        odds = all_odds(dataset, setting, sea, "reverse")[2]
        return (
            setting != chosen,
            order[decision(dataset, setting, sea)],
            -np.nan_to_num(number(dataset, "speed_set", setting, sea)),
            odds if math.isfinite(odds) else 2.0,
            setting,
        )

    return sorted(range(count), key=key)


def angle_deg(dataset, sea):
    """Where the waves of a sea come from, from the bow [deg]."""
    return number(dataset, "waves_from_bow", sea=sea) / DEGREE

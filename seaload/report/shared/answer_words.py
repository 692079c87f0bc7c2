"""The answer in plain words: decisions, the suggestion of each sea, moves, display readings. Records of
`report/answer.py` in, sentences out; the Dataset is asked for names alone.
"""

import math

from seaload.basis.units import DEGREE, HOUR, KNOT, MINUTE, TONNE_FORCE
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import line, scenario, setting_words
from seaload.report.shared.uncertain_words import uncertain_words

DECISION_WORDS = {
    "undecided": "can't tell yet",
    "within": "within the limits",
    "outside": "outside the limits",
    "not_shown": "not shown to be within the limits",
    "unreachable": "unreachable",
}
DECISION_ORDER = ("within", "undecided", "outside", "not_shown", "unreachable")
MOST_DELAY = 3.0 * HOUR  # [s] an alarm that comes later is none
SELDOM = 1000.0 * HOUR  # [s] between loads that are then called hardly ever
WHAT = {  # kinds of trigger that are no single reading, and what they are
    "swing": "the mean of every ten seconds' highest less lowest reading",
    "spread": "the standard deviation of the reading",
}
SEEN = 0.7  # [-] of the true reverse pulse: less on the display is called too short
MOST_HOURS = 10_000  # of sea that anybody would sail to decide on a setting


def decision_words(found):
    """The decision of a `SettingAnswer`; undecided with the hours of sea in all that would decide it, or that none
    would; unreachable with the reason."""
    if found.decision == "unreachable" and found.reason:
        return f"unreachable: {line(found.reason)}"
    if found.decision != "undecided" or found.time_to_decide is None:
        return DECISION_WORDS[found.decision]
    hours = found.time_to_decide / HOUR
    if not hours < MOST_HOURS:
        return "can't tell (too close)"
    return f"can't tell ({say.significant(hours)} h)"


def act_words(found):
    """The word to act on of a `SettingAnswer` with its decision: "Watch: can't tell yet"."""
    decided = DECISION_WORDS[found.decision]
    return f"{found.act}: {decided}" if found.act else decided


def deciding_words(found, side):
    """The odds of a side that decide on a `SettingAnswer`."""
    odds = found.odds[side].deciding
    seen = 0 if odds.best == 0.0 else None
    return say.odds_words(odds.best, odds.high, seen=seen, hours=found.time / HOUR, at_least=bool(found.at_least))


def simulated_words(found, side):
    """The odds of a side if forecast and model are right, with what was counted."""
    odds = found.odds[side]
    return say.odds_words(
        odds.if_right.best, odds.if_right.high, seen=odds.events, hours=found.time / HOUR, at_least=found.at_least
    )


def if_right_words(found):
    """The odds of both sides if forecast and model are right, beside those all told."""
    told = "; ".join(f"{side} load {simulated_words(found, side)}" for side in ("reverse", "normal"))
    return f"Were forecast and model right: {told}."


def worst_words(answer, found):
    """The worst load to expect in the exposure both ways: "Worst of 3 hours: reverse 62 % ...", or empty."""
    parts = [f"{side} {share_words(worst)}" for side, worst in found.worst.items() if known(worst.one_in_twenty)]
    return f"Worst of {exposure_words(answer)}, all told: {'; '.join(parts)}." if parts else ""


def share_words(worst):
    """A `WorstLoad`: "62 % of its limit (1 in 20: 85 %)"."""
    return f"{100.0 * worst.median:z.0f} % of its limit (1 in 20: {100.0 * worst.one_in_twenty:z.0f} %)"


def points_words(change):
    """What a move does to the worst reverse load: "12 points less (9 to 15)", or empty where it is not known."""
    if change is None or not math.isfinite(change.best):
        return ""
    low, high = sorted(abs(100.0 * end) for end in (change.low, change.high))
    if change.low < 0.0 < change.high:
        return f"worst load as now within {max(low, high):.0f} points"
    ends = f" ({low:.0f} to {high:.0f})" if high - low >= 1.0 else ""
    return f"worst load {100.0 * abs(change.best):.0f} points {'less' if change.best < 0.0 else 'MORE'}{ends}"


def off_words(change):
    """A change of a worst load: "+3 points (1 to 5)", or "not known"."""
    if change is None or not math.isfinite(change.best):
        return "not known"
    best, low, high = (100.0 * end for end in (change.best, change.low, change.high))
    return f"{best:+z.0f} points ({low:z.0f} to {high:z.0f})"


def exposure_words(answer):
    """The exposure time: "3 hours"."""
    return say.hours_words(answer.exposure / HOUR)


def suggestion_sentences(dataset, answer, sea):
    """The answer for one sea: what is suggested, or that nothing is, with odds and their interval."""
    found = answer.seas[sea]
    reason = line(found.reason or "")
    if found.chosen is not None:
        odds = [deciding_words(answer.settings[found.chosen, sea], side) for side in ("reverse", "normal")]
        worst = worst_words(answer, answer.settings[found.chosen, sea])
        words = (
            f"Suggested: {setting_words(dataset, found.chosen, sea)}. {worst}{' ' if worst else ''}In "
            f"{exposure_words(answer)}, reverse load past the limit: {odds[0]}; load past the normal limit: {odds[1]}."
        )
        return words + (f" Why: {reason}." if reason else "")
    reason = reason.removeprefix("none: ").removeprefix("none is shown to be within the levels; ")
    if found.closest is None:
        return f"No setting can be suggested: {reason or 'none could be simulated'}."
    within = any(each.decision == "within" for (_, j), each in answer.settings.items() if j == sea)
    none = (
        "No setting is suggested in this sea" if within else "No setting is shown to be within the limits in this sea"
    )
    near = answer.settings[found.closest, sea]
    return (
        f"{none}: {reason}. Closest: {setting_words(dataset, found.closest, sea)}; reverse load past the limit in "
        f"{exposure_words(answer)}: {deciding_words(near, 'reverse')}. {passing_words(near)}{worst_words(answer, near)}"
    ).strip()


def passing_words(found):
    """The risk limit at which a `SettingAnswer` would be within, both ways; empty where none is known."""
    least = max(found.odds[side].deciding.high for side in ("reverse", "normal"))
    if found.at_least or not least < 0.95:
        return ""
    return f"It would be within at a risk limit of {say.one_in(least, 'risk')}. "


def gust_words(strength, leaps):
    """Whether she `leaps` in the stated gust, or comes clear in the lull, a gust of a `strength` [-] below 0."""
    if strength is not None and strength < 0.0:
        return "In the stated lull " + ("hull or foil comes clear." if leaps else "the foil stays in the water.")
    return "In the stated gust she leaps." if leaps else "In the stated gust she does not leap."


def bearing_words(answer, sea):
    """The sea that the shown setting bears, each way by itself, and what the gust does."""
    found, words = answer.seas[sea], bears_words(answer, sea)
    leaps = answer.settings[found.shown, sea].gust_leaps
    if leaps is not None:
        words += f" {gust_words(answer.gust_strength, leaps)}"
    if found.measure_first:
        words += f" Measure first: {uncertain_words(line(found.measure_first))}."
    return words.strip()


def bears_words(answer, sea):
    """The sea that the shown setting bears, each way by itself; empty where it is not known."""
    found, parts = answer.seas[sea], []
    bears = found.bears
    if known(bears.hs):
        parts.append(f"up to Hs {bears.hs:.1f} m")
    if known(bears.tp_least) and known(bears.tp_most):
        ends = [f"{value:.1f}" for value in (bears.tp_least, bears.tp_most)]
        one = ends[0] == ends[1]
        parts.append(f"a peak period of {ends[0]} s" if one else f"peak periods from {ends[0]} to {ends[1]} s")
    if known(bears.angle_least) and known(bears.angle_most):
        ends = [f"{x:.0f}" for x in sorted(abs(value) / DEGREE for value in (bears.angle_least, bears.angle_most))]
        parts.append(f"waves {ends[0] if ends[0] == ends[1] else ' to '.join(ends)}° off the bow")
    words = ""
    if parts:
        words = f"Within the limits for {', '.join(parts)}, each with the rest as it is."
    elif bears.hs is not None and found.shown is not None and "bears.angle_most" not in found.absent:
        words = "Outside the limits in every sea looked at, two deviations of the forecast either way."
    if parts and bears.ended:
        words += f" What she bears in waves still {bears.ended} is not known: runs ended there."
    return words


def known(value):
    """Whether a number is there and finite."""
    return value is not None and math.isfinite(value)


def factor_of(found):
    """What a `MoveAnswer` does to the rate of reverse events, in words."""
    return factor_words(found.factor, found.valid, found.odds_after)


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
        return f"too few hours to compare; at worst {say.one_in(after, 'risk')}"
    if 0.95 < factor < 1.05:
        return "about the same"
    if factor < 1.0:
        return "under 1 % of now" if factor < 0.01 else f"{say.significant(100.0 * factor)} % of now"
    return "over 100 times now" if factor > 100.0 else f"{say.significant(factor)} times now"


def display_unit(dataset):
    """(factor, unit, decimals) that turn a stored display reading into what the crew sees."""
    display = scenario(dataset).get("boat", {}).get("sensors", {}).get("display", "percent_of_normal")
    if display == "microstrain":
        return 1e6, "microstrain", 0
    if display == "tonne_force":
        return 1.0 / TONNE_FORCE, "t", 1
    return 100.0, "% of its limit" if display == "percent_of_own_limit" else "%", 0


def reading_words(dataset, value):
    """A display reading: "-12 %"."""
    scale, unit, digits = display_unit(dataset)
    return f"{scale * value:z.{digits}f} {unit}" if math.isfinite(value) else "nothing"


def trigger_words(dataset, found):
    """A `Trigger`, or None, in sentences: its odds of a false and of a missed alarm, and how early it comes."""
    if found is None:
        return "No display reading tells a worse sea in time."
    words = (
        f"Back off when {seen_words(dataset, found)}: the sea is then nearer Hs "
        f"{found.worse_hs:.1f} m than as assumed. In {time_words(found.span)}, false alarm: "
        f"{alarm_words(found.false_alarm)}; missed: {alarm_words(found.missed_alarm)}."
    )
    if found.called:
        told = ", ".join(f"{name} {100.0 * odds.best:.0f} %" for name, odds in found.called)
        words += f" Other seas in which it calls within that time: {told}."
    every = [1.0 / rate if rate > 0.0 else math.inf for rate in (found.next_rate.best, found.next_rate.high)]  # [s]
    if found.delay > min(MOST_DELAY, every[0]):
        words += " A worse sea hardly shows before a load past a limit: do not wait for this."
    elif math.isfinite(every[0]) or math.isfinite(every[1]):
        often, bound = (say.hours_words(float(f"{value / HOUR:.1g}")) for value in every)
        said = f"every {often} or so" if every[0] < SELDOM else "hardly ever"
        words += f" In that sea it shows after {time_words(found.delay)} on average; "
        beyond = "a simulation of that sea leaves what the model holds for"
        if every[1] > 0.0:
            words += f"a load past either limit comes {said} (at worst every {bound})."
        elif every[0] < SELDOM:
            words += f"a load past either limit comes every {often} or more often: {beyond}."
        else:
            words += f"how often a load past either limit comes is not known: {beyond}."
    return words


def seen_words(dataset, found):
    """What a `Trigger` looks at, as the half of a sentence."""
    reading = f"{past_words(found)} {reading_words(dataset, found.threshold)} {often_words(found)}"
    if found.kind in WHAT:
        return f"gauge {found.station} shows a {reading} ({WHAT[found.kind]}), looked at as often"
    waves = ", each in another wave" if found.kind == "passed" and found.times > 1 else ""
    return f"gauge {found.station} reads {reading}{waves}"


def past_words(found):
    """Which way a `Trigger` is passed."""
    way = "below" if found.low else "above"
    return f"{found.kind} {way}" if found.kind in WHAT else way


def often_words(found):
    """How often a `Trigger` has to be passed, in which time."""
    if found.kind in WHAT:
        return f"over {time_words(found.window)}"
    if found.kind == "share":
        return f"for {100.0 * found.share:.0f} % of {time_words(found.window)}"
    return f"{'once' if found.times == 1 else f'{found.times} times'} in {time_words(found.window)}"


def alarm_words(odds):
    """Odds of a false or a missed alarm with what they are at worst."""
    best = say.one_in(odds.best)
    return f"{best} (at worst {say.one_in(odds.high, 'risk')})" if math.isfinite(odds.high) else best


def hidden_words(readings):
    """Which stations' reverse pulses are too short for the display, in a sentence; empty when none."""
    names = [f"station {r.station} ({100.0 * r.attenuation:.0f} %)" for r in readings if r.attenuation < SEEN]
    return f" Reverse pulses are too short to show at their full size at {', '.join(names)}." if names else ""


def readings_words(dataset, found):
    """The trigger of a `SeaAnswer`, and which stations do not show their pulses."""
    return trigger_words(dataset, found.trigger) + (hidden_words(found.readings) if found.trigger else "")


def display_rows(dataset, readings):
    """(station, mean, lowest with scatter, highest with scatter) as the display shows them; silent ones named."""
    scale, unit, digits = display_unit(dataset)
    shown = lambda value: f"{value:z.{digits}f}"  # noqa: E731
    rows = []
    for reading in readings:
        if reading.silent:
            rows.append((f"station {reading.station}", "reads nothing at this extension", "", ""))
            continue
        spans = [end.times(scale) for end in (reading.lowest, reading.highest)]
        said = [f"{shown(span.best)} ({shown(span.low)} to {shown(span.high)}) {unit}" for span in spans]
        rows.append((f"station {reading.station}", f"{shown(scale * reading.mean)} {unit}", *said))
    return rows


def speed_words(found):
    """Speed of a `SettingAnswer` and what it gives up."""
    words = f"{found.speed / KNOT:.1f} kn simulated"
    if known(found.speed_in_sea):
        words += f", the thrust can hold {found.speed_in_sea / KNOT:.1f} kn in this sea"
    elif known(found.speed_attainable):
        words += f", the thrust can hold {found.speed_attainable / KNOT:.1f} kn"
    if known(found.speed_cost):
        words += f", {max(found.speed_cost / KNOT, 0.0):.1f} kn given up against the fastest setting"
    return words


def ranked_settings(answer, sea):
    """`SettingAnswer`s of a sea as a person wants them: the suggested one, then within, undecided, the rest."""

    def key(found):
        bound = found.odds["reverse"].deciding.high
        return (
            found.setting != answer.seas[sea].chosen,
            DECISION_ORDER.index(found.decision),
            -found.speed_set if math.isfinite(found.speed_set) else 0.0,
            bound if math.isfinite(bound) else 2.0,
            found.setting,
        )

    return sorted((found for (_, j), found in answer.settings.items() if j == sea), key=key)

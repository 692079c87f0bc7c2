"""What a leg says in sentences: the answer, what binds, why a stretch is passed as it is, when to leave the plan."""

import math

from seaload.basis.units import FULL_LOAD_SHARE, HOUR
from seaload.report.leg import reading as read
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, number, number_if_held

BINDS = 0.9  # of a budget that is spent
MINUTE = 60.0  # [s]
LITTLE = 1e-4  # [-] of odds that nobody minds
ALERT = 1.35  # a threshold nearer than this factor of the height is told on card and table


def miles_words(metres):
    """A distance in nautical miles."""
    return f"{metres / read.NAUTICAL_MILE:.0f} nautical miles"


def answer_sentences(dataset):
    """The answer in a few sentences, the first says whether the plan is suggested."""
    time, start = number(dataset, "passage_time"), float(read.seconds_of(dataset["start_time"].values))
    what = (
        f"{miles_words(number(dataset, 'passage_distance'))} in {read.time_words(time)}, arriving "
        f"{read.moment_words(start + time)} UTC"
    )
    within, suggested = number(dataset, "within_budget") > 0.5, number(dataset, "suggested") > 0.5
    if suggested:
        head = f"Suggested: {what}."
    elif within:
        head = f"NOT SUGGESTED, the plan marched again meets more than it was planned by: {what}."
    else:
        head = f"NO PLAN KEEPS THE BUDGET. The plan that spends least of it: {what}."
    return [head, spent_sentence(dataset), *over_sentences(dataset)]


def spent_sentence(dataset):
    """What the plan spends, beside its budget."""
    parts = []
    for side, word in (("reverse", "Reverse load past the limit"), ("normal", "normal load past it")):
        odds, allowed = number(dataset, f"leg_{side}_odds"), number(dataset, f"budget_{side}_odds")
        limit = f" (budget {say.one_in(allowed)})" if allowed < 1.0 else ""
        parts.append(f"{word}: {say.one_in(odds)}{limit}")
    allowed = number(dataset, "budget_wear") / FULL_LOAD_SHARE
    wear = [f"{cycles(value / FULL_LOAD_SHARE)} {name}" for name, value in
            zip(dataset["foil_name"].values, dataset["leg_wear"].values, strict=True)]  # fmt: skip
    limit = f" (budget {cycles(allowed)} each)" if math.isfinite(allowed) else ""
    if "leg_wear_low" in dataset:
        ends = [float(dataset[f"leg_wear_{end}"].values.max()) / FULL_LOAD_SHARE for end in ("low", "high")]
        limit += f", by what the library knows {cycles(ends[0])} to {cycles(ends[1])}"
    return f"{'; '.join(parts)}. Wear in full-load cycles: {', '.join(wear)}{limit}."


def cycles(value):
    """Full-load cycles, short."""
    return say.significant(value, 2) if value >= 0.01 else "under 0.01" if value > 0.0 else "none"


def over_sentences(dataset):
    """By how much no plan keeps the budget, and why not."""
    if number(dataset, "within_budget") > 0.5:
        return []
    found = []
    for name, (spent, allowed) in read.budgets(dataset).items():
        if spent > allowed * (1.0 + 1e-6):
            words = say.one_in if "odds" in name else cycles
            found.append(f"Over by: {name} {words(spent)} where {words(allowed)} is allowed.")
    if (untold := number(dataset, "untold_share")) > 0.005:
        found.append(
            f"{100.0 * untold:.0f} % of the seas on the way are not told by the library, or the boat does not run "
            "through them to the end: they count as past the limit. Widen and fill the library, or go another time."
        )
    return found


def binding_sentences(dataset):
    """What binds, and what more of it would buy, found by searching again."""
    names = [name for name, (spent, allowed) in read.budgets(dataset).items() if spent >= BINDS * allowed]
    found = [f"What binds: {', '.join(names)}." if names else "No budget binds: the boat or the crew is the limit."]
    time = number(dataset, "passage_time") if names else math.nan
    for name, added, other in zip(
        dataset["extra_budget"].values, dataset["extra_added"].values, dataset["extra_time"].values, strict=True
    ):
        saved = (time - float(other)) / MINUTE
        if not math.isfinite(saved):
            continue
        what = f"{100.0 * added:.0f} % more {name.replace('_', ' ')}"
        found.append(f"{what} would buy {saved:.0f} min." if saved >= 0.5 else f"{what} would buy nothing.")
    return found


def same_sentence(dataset):
    """What one setting all the way would give."""
    chosen = int(number(dataset, "same_setting"))
    if chosen < 0:
        return "No single setting can be held all the way."
    rows = read.settings(dataset)
    more = number(dataset, "same_time") - number(dataset, "passage_time")
    odds, within = number(dataset, "same_reverse_odds"), number(dataset, "same_within") > 0.5
    what = f"{read.setting_words(rows[chosen], read.varying(rows))} all the way"
    if not within:
        return f"No single setting keeps the budget; {what} would have reverse odds of {say.one_in(odds)}."
    return f"The best single setting, {what}, takes {read.time_words(more)} longer at {say.one_in(odds)}."


def later_sentences(dataset):
    """What later starts would give."""
    found = []
    for after, time, odds, within in zip(
        dataset["later_start"].values, dataset["later_time"].values, dataset["later_reverse_odds"].values,
        dataset["later_within"].values, strict=True,
    ):  # fmt: skip
        hours = float(after) / HOUR
        more = (float(time) - number(dataset, "passage_time")) / MINUTE
        how = f"{abs(more):.0f} min {'longer' if more > 0 else 'shorter'} under way, reverse odds "
        how += say.one_in(float(odds))
        found.append(f"Starting {hours:g} h later: {how if within else 'no plan keeps the budget'}.")
    return found


def where_sentence(dataset):
    """Where most of the odds are spent."""
    rows = sorted(read.stretches(dataset), key=lambda row: -row.share)
    most, chosen = 0.0, []
    for row in rows:
        if most >= 0.5 or row.share <= 0.0:
            break
        most += row.share
        chosen.append(row)
    if not chosen or number(dataset, "leg_reverse_odds") < LITTLE:
        return "Reverse odds are small everywhere on the leg."
    named = ", ".join(str(row.number) for row in sorted(chosen, key=lambda row: row.number))
    low, high = min(row.hs for row in chosen), max(row.hs for row in chosen)
    heights = f"{low:.1f} m" if high - low < 0.05 else f"{low:.1f} to {high:.1f} m"
    plural = "es" if len(chosen) > 1 else ""
    return f"{100.0 * most:.0f} % of the reverse odds lie on stretch{plural} {named}, in seas of {heights}."


def why(row, rows):
    """Why a `Stretch` is passed as it is, in a few words; `rows` the settings in human units."""
    setting, saved, odds = row.faster
    if setting < 0:
        return "the fastest open"
    faster = rows[setting]["speed_knots"]
    here = f"{read.trimmed(faster)} kn: {saved:.0f} min less"
    if odds <= LITTLE:
        return f"{here}, held back by wear or the crew"
    return f"{here}, odds {percent_points(odds)}"


def percent_points(odds):
    """A change of odds in points of a hundred."""
    sign = "+" if odds >= 0 else "-"
    if abs(odds) < LITTLE:
        return "0 %"
    return f"{sign}{say.significant(100.0 * min(abs(odds), 1.0), 2)} %"


def leave_words(row):
    """When to leave the plan on a `Stretch`; empty where nothing near calls for it."""
    parts = []
    if math.isfinite(row.leave_hs):
        parts.append(f"over {row.leave_hs:.1f} m")
    if math.isfinite(row.leave_tp):
        parts.append(f"under {row.leave_tp:.1f} s")
    return " or ".join(parts)


def leave_short(row):
    """The same for a narrow column: "2.7 m, 8.5 s"."""
    ends = ((row.leave_hs, "m"), (row.leave_tp, "s"))
    return ", ".join(f"{end:.1f} {unit}" if math.isfinite(end) else "" for end, unit in ends).strip(", ")


def check_sentences(dataset):
    """The plan marched again: what was counted beside what was told."""
    if int(number(dataset, "check_marches")) == 0:
        return ["The plan was not marched again."]
    hours = number(dataset, "check_duration") / HOUR
    found = [f"Marched again, {hours:.0f} h of sea in the forecast's own wave systems, what is uncertain drawn anew:"]
    for k, level in enumerate(dataset["check_level"].values):
        of = lambda name, k=k: float(dataset[f"check_{name}"].values[k])  # noqa: E731
        verdict = f"odds of so many or more {say.one_in(of('odds'))}" if of("odds") < 0.5 else "no more than told"
        if of("odds_fewer") < 0.01:
            verdict = "fewer than told: the plan is on the careful side"
        found.append(
            f"{of('counted'):.0f} reverse events past {100.0 * float(level):.0f} % of the limit, "
            f"{say.significant(of('told'))} told ({verdict}); the odds to notice it, were every rate twice what is "
            f"told: {say.one_in(of('power_twice'))}."
        )
    ended, marches = int(number(dataset, "check_ended")), int(number(dataset, "check_marches"))
    if ended:
        found.append(f"{ended} of {marches} marches ended early or left the validity of the model.")
    ratio = number(dataset, "check_wear") / number(dataset, "check_wear_told") if number(
        dataset, "check_wear_told") > 0.0 else math.nan  # fmt: skip
    if math.isfinite(ratio):
        whole = number(dataset, "check_wear_told")
        ends = [number_if_held(dataset, f"check_wear_{end}") / whole for end in ("low", "high")]
        upto = say.significant(ends[1]) if math.isfinite(ends[1]) else "any number of"
        told = [number_if_held(dataset, f"check_wear_told_{end}") / whole for end in ("low", "high")]
        span = f" ({say.significant(ends[0])} to {upto})" if math.isfinite(ends[0]) else ""
        sure = f", known to {say.significant(told[0])} to {say.significant(told[1])} of it" if math.isfinite(
            told[0]) else ""  # fmt: skip
        found.append(f"Wear marched is {say.significant(ratio)}{span} times what is told{sure}.")
    if number(dataset, "check_failed") > 0.5:
        found.append("THE PLAN FAILS ITS CHECK: it is not suggested.")
    return found


def title_words(dataset):
    """The leg in one line."""
    return f"{line(attribute(dataset, 'study'), 60)}: {line(attribute(dataset, 'boat'), 60)}"

"""A sizing in a designer's words: sentences and cells."""

import math

from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import line
from seaload.report.size import reading as read

WAY = {"reverse": "the wrong way round", "normal": "the normal way"}


def percent(value, digits=0):
    """A signed share in percent: "+12 %"; never "-0 %"."""
    shown = round(100.0 * value, digits)
    return f"{shown if shown else 0.0:+.{digits}f} %"


def percents(found):
    """(value, low, high) as "+4 % (+2 to +6)"."""
    value, low, high = found
    if not math.isfinite(value):
        return "unknown"
    digits = 1 if max(abs(value), abs(high - low)) < 0.1 else 0
    ends = " to ".join(percent(each, digits).removesuffix(" %") for each in (low, high))
    return f"{percent(value, digits)} ({ends})"


def moments(found):
    """(value, low, high) [kN m] as "34 (30 to 40) kN m"."""
    value, low, high = found
    return f"{say.significant(value)} ({say.interval(low, high)}) kN m"


def verdict(margin):
    """Whether a limit is enough, by its margin (value, low, high)."""
    value, low, high = margin
    if low >= 0.0:
        return "is enough, also at the lower end of the interval"
    if high < 0.0:
        return "is not enough"
    return f"is {'just enough' if value >= 0.0 else 'short'} by the best estimate, but the interval leaves it open"


def side_sentence(dataset, k):
    """Which place and situation governs a side, whether its limit is enough, by what margin."""
    side, found = read.SIDES[k], read.weakest(dataset, k)
    if found is None:
        return f"Nothing in the season loads the foil {WAY[side]}."
    where = read.place_words(dataset, found.material)
    sea = f" (mostly {found.sea})" if found.sea and found.situation == first_situation(dataset) else ""
    asks = "The wear target" if found.by_wear else f"Governed by {found.situation}{sea}, which"
    governs = f"{asks} asks for" if found.by_wear else f"{asks} has {100.0 * found.share:.0f} % of the odds,"
    if not found.by_wear:
        governs += " it needs"
    return (
        f"The {side} limit {verdict(found.margin)}: weakest {where}, {say.significant(found.given)} kN m given. "
        f"{governs} {moments(found.needed)}: a margin of {percents(found.margin)}."
    )


def first_situation(dataset):
    """Name of the situation that stands for the usage."""
    return line(dataset["situation_name"].values[0], 60)


def target_sentence(dataset):
    """What the least limits are for."""
    hours = read.season_hours(dataset)
    study = read_targets(dataset)
    reverse, normal = (say.one_in(study.get(f"{side}_odds", 0.02)) for side in read.SIDES)
    cycles = float(dataset["wear_target"]) * 1e6
    return (
        f"A least limit leaves odds of {reverse}, all told, of being passed {WAY['reverse']} anywhere on the foil in a "
        f"season of {hours:,.0f} h at sea, of {normal} {WAY['normal']}, every place passed equally often; and the foil "
        f"wears by at most {say.significant(cycles, 3)} full-load cycles in the season."
    )


def read_targets(dataset):
    """The targets as they were written."""
    from seaload.report.shared.result_reading import scenario

    found = scenario(dataset).get("study", {}).get("targets", {})
    return found if isinstance(found, dict) else {}


def ratio_sentence(dataset):
    """The ratio of reverse to normal limit that the usage asks for, at the weakest reverse place."""
    found = read.weakest(dataset, 0)
    if found is None:
        return ""
    needed, given = (float(dataset[f"limit_ratio_{name}"].values[found.point]) for name in ("needed", "given"))
    return (
        f"There the usage asks for a reverse limit of {100.0 * needed:.0f} % of the normal one; the laminate has "
        f"{100.0 * given:.0f} %."
    )


def lighter_sentence(dataset):
    """Where both limits have margin to spare, also at the lower end."""
    low = dataset["limit_margin_low"].values
    spare = [p for p in range(low.shape[1]) if (low[:, p] > 0.25).all()]
    if not spare:
        return "No place has more than a quarter to spare both ways at the lower end of the intervals."
    material = dataset["sized_material"].values
    runs, first = [], spare[0]
    for before, after in zip(spare, [*spare[1:], None], strict=True):
        if after != before + 1:
            runs.append((material[first], material[before]))
            first = after
    shown = " and ".join(f"{a:.1f} m" if a == b else f"{a:.1f} to {b:.1f} m" for a, b in runs)
    return f"More than a quarter to spare both ways, at the lower end too: {shown} from the root; it could be lighter."


def change_sentence(dataset, c):
    """What a change does at the weakest places."""
    name, parts = line(dataset["change_name"].values[c], 60), []
    for k, side in enumerate(read.SIDES):
        if (found := read.weakest(dataset, k)) is None:
            continue
        limit = percents(read.three(dataset, "change_limit", c, k, found.point))
        margin = percent(float(dataset["change_margin"].values[c, k]))
        parts.append(f"{side} loads {limit}, margin {percent(found.margin[0])} to {margin}")
    return f"{name}: {'; '.join(parts)}."


def odds_words(dataset, k):
    """Odds of passing the given limit in the season: "1 in 5 all told"."""
    return say.one_in(float(dataset["season_odds"].values[k]))

"""Where a number comes from: what was counted, the tail, the simulated hours, the seed, the key of the study."""

import math

from seaload.basis.units import HOUR
from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import attribute, line, number
from seaload.report.shared.tail_reading import tail_of


def sampled_words(dataset, setting, sea):
    """ "3 h simulated (9 realisations), seed 1; [sampling] and [[sea]] 1 of the study"."""
    hours = number(dataset, "duration_total", setting, sea) / HOUR
    count = int(number(dataset, "realisations_sailed", setting, sea))
    seed = line(attribute(dataset, "seed"))
    return (
        f"{say.significant(hours)} h simulated in {count} realisation{'' if count == 1 else 's'}, seed {seed}. Study "
        f"file: [sampling] hours, seed; [[sea]] number {sea + 1}"
    )


def odds_origin(dataset, answer, found, side):
    """Where the odds and the worst load of one side of a `SettingAnswer` come from."""
    odds, tail = found.odds[side], tail_of(dataset, found.setting, found.sea, side)
    events = odds.events or 0
    parts = [f"{events or 'No'} event{'' if events == 1 else 's'} past the {side} limit counted."]
    if tail is None:
        parts.append("The block extremes are not in this result, so the tail cannot be shown.")
    elif tail.threshold is None:
        parts.append("No tail is fitted: too few peaks, or hardly loaded.")
    else:
        parts.append(
            f"Tail fitted to {len(tail.peaks)} peaks over {100.0 * tail.threshold:.0f} % of the limit, joined with the "
            "count."
        )
    rate = HOUR * odds.rate.best
    if math.isfinite(rate):
        parts.append(f"Rate at the limit, forecast and model right: {rate_words(odds.rate)} an hour.")
    if odds.all_told is not None:
        parts.append("Then every uncertain input was drawn once an exposure: the section on uncertainty has each.")
    parts.append(f"{sampled_words(dataset, found.setting, found.sea)}; [risk] exposure_hours, {side}_odds.")
    return " ".join(parts)


def rate_words(rate):
    """A rate [1/s] an hour with its interval."""
    best, low, high = (HOUR * value for value in (rate.best, rate.low, rate.high))
    shown = lambda v: "under 0.0001" if v < 1e-4 else say.significant(v)  # noqa: E731
    return f"{shown(best)} ({shown(low)} to {shown(high)})" if math.isfinite(high) else f"at least {shown(best)}"


def counted_origin(dataset, found, what):
    """Where a number that was counted or averaged while marching comes from."""
    return f"{what} {sampled_words(dataset, found.setting, found.sea)}."

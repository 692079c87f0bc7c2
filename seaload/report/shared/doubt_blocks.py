"""What drives the uncertainty of a result: which input does how much, and what the settings share of their tails."""

import math

import numpy as np

from seaload.report.shared import wording as say
from seaload.report.shared.result_reading import line, number
from seaload.report.shared.uncertain_words import spread_words, uncertain_words, wear_words, worth_showing


def known_words(dataset, sea):
    """Where nine in ten of the reverse odds lie that would be told once each input is known; may be empty."""
    if "reverse_odds_known_low" not in dataset:
        return []
    ends = [dataset[f"reverse_odds_known_{end}"].isel(sea=sea).values for end in ("low", "high")]
    return [f"{say.one_in(low, 'calm')} to {say.one_in(high, 'risk')}" for low, high in zip(*ends, strict=True)]


def tail_words(dataset, sea):
    """What the settings of a sea share of their tails, and how well the others foretell one left out; may be empty."""
    if "reverse_tail_shape" not in dataset:
        return ""
    told = []
    for side in ("reverse", "normal"):
        shape, missed, chance = (
            number(dataset, f"{side}_tail_shape{end}", sea=sea) for end in ("", "_missed", "_expected")
        )
        if math.isfinite(shape):
            told.append(f"{side} {shape:+.2f}, within {missed:.2f} ({chance:.2f} by wave chance alone)")
    if not told:
        return ""
    return (
        "Shape of the rarest loads, shared by all settings; each left out in turn, the others foretell its own within: "
        f"{'; '.join(told)}."
    )


def doubt_blocks(dataset):
    """Which uncertain input does how much."""
    if "uncertain_name" not in dataset:
        return []
    blocks = []
    for sea in range(dataset.sizes["sea"]):
        heads, rows, hidden = doubt_rows(dataset, sea)
        caption = f"Share of the uncertainty of the reverse load: {line(dataset['sea_name'].values[sea], 80)}"
        blocks.append({"what": "table", "caption": caption, "heads": heads, "rows": rows, "plain": False})
        notes = [f"Not shown: {', '.join(hidden)}, which do next to nothing here."] if hidden else []
        spread = number(dataset, "load_spread_reverse", sea=sea)
        notes += [told] if (told := tail_words(dataset, sea)) else []
        if math.isfinite(spread):
            text = f"rare loads to {100.0 * spread:.0f} % of the limit (one deviation)."
            notes.append(f"Forecast and model together: {text}")
        if "uncertain_untold" in dataset and (words := line(dataset["uncertain_untold"].values[sea], 300)):
            notes.append(f"What some seas would do is told from the seas nearer to the forecast: {words}.")
        blocks += [{"what": "text", "kind": "note", "text": text} for text in notes]
    return blocks


def doubt_rows(dataset, sea):
    """(heads, rows, words of the inputs not shown) of the uncertain inputs of a sea, the largest share first."""
    names = [uncertain_words(line(name)) for name in dataset["uncertain_name"].values]
    shares = np.nan_to_num(dataset["uncertain_share_reverse"].isel(sea=sea).values)
    known_odds, columns = known_words(dataset, sea), [[spread_words(share) for share in shares]]
    heads, wears = ["Input", "Share"], np.full(len(names), np.nan)
    if known_odds:
        heads, columns = [*heads, "Reverse odds once it is known"], [*columns, known_odds]
    if "uncertain_effect_wear" in dataset:
        wears = dataset["uncertain_effect_wear"].isel(sea=sea).values
        heads, columns = [*heads, "Wear, one deviation off"], [*columns, [wear_words(wear) for wear in wears]]
    shown = [i for i in np.argsort(-shares, kind="stable") if worth_showing(shares[i], wears[i])]
    rows = [(names[i], *(column[i] for column in columns)) for i in shown]
    return tuple(heads), rows, [name for i, name in enumerate(names) if i not in shown]

"""The table of a run that a sailor can read, from the saved result only; 100 columns of plain characters."""

import math

import numpy as np

from seaload.basis.units import DEGREE, KNOT, PERCENT, TONNE_FORCE
from seaload.report.run.events import event_lines, motion_rows
from seaload.report.shared import wording as say
from seaload.report.shared.answer_words import (
    bears_words,
    deciding_words,
    exposure_words,
    if_right_words,
    simulated_words,
    worst_words,
)
from seaload.report.shared.prescribed_words import motion_lines
from seaload.report.shared.result_reading import (
    attribute,
    bounds,
    ended_cases,
    hours_sailed,
    line,
    number,
    number_if_held,
    place_names,
    sea_words,
    setting_words,
)
from seaload.report.shared.text_table import basis_part, in_columns, rate_cell, wear_cell, wrapped


def run_table(dataset, answer):
    """Text of the table: for each sea the answer, the places, the boat, the gust; then what is assumed."""
    parts = [heading(dataset)]
    for sea in range(dataset.sizes["sea"]):
        parts.append(sea_part(dataset, answer, answer.settings[0, sea]))
    parts.append("\n".join(motion_lines(answer)))
    parts.append(basis_part(dataset))
    return "\n\n".join(part.rstrip() for part in parts if part.strip())


def heading(dataset):
    """Name of the study, boat and setting."""
    study, boat, foil = (line(attribute(dataset, name)) for name in ("study", "boat", "foil"))
    lines = wrapped(f"{study}: {boat}, {foil} foil")
    lines += wrapped(f"Setting: {setting_words(dataset, 0)}.")
    return "\n".join(lines)


def sea_part(dataset, answer, found):
    """Everything about one sea; found : its `SettingAnswer`."""
    setting, sea = found.setting, found.sea
    lines = wrapped(f"SEA  {sea_words(dataset, sea)}")
    lines += ["", *answer_lines(answer, found), ""]
    text = "\n".join(lines) + "\n" + place_table(dataset, found)
    boat = [f"{name:<28}{value}" for name, value in boat_rows(dataset, setting, sea)]
    boat[0] += "   (+- is one standard deviation)"
    tail = wrapped(sailed_words(dataset, setting, sea)) + gust_lines(dataset, found)
    felt = [f"{name:<28}{value}" for name, value in motion_rows(dataset, setting, sea)]
    blocks = [boat, felt, event_lines(dataset, setting, sea), tail]
    return text + "\n\n" + "\n\n".join("\n".join(block) for block in blocks if block)


def answer_lines(answer, found):
    """Odds in the exposure time, both ways, and where they come from; the worst load and the sea that the setting bears
    where everything uncertain has been told.
    """
    lines, told = [], found.odds["reverse"].all_told is not None
    said = deciding_words if told else simulated_words
    for side, words in (("reverse", "Reverse load past the limit"), ("normal", "Load past the normal limit")):
        head = f"{words} in {exposure_words(answer)}:"
        lines += wrapped(f"{head:<46}{said(found, side)}", " " * 46)
    if told:
        bears = bears_words(answer, found.sea).replace("°", " deg")  # plain characters alone
        lines += wrapped(f"{worst_words(answer, found)} {bears} {if_right_words(found)}")
    return lines


HEADS = (
    ("", "place"), ("", "mean"), ("share of", "highest"), ("limit, %", "lowest"), ("reversed", "% of time"),
    ("reverse > 50 %", "an hour"), ("> 100 %", "an hour"), ("full-load", "cycles an hour"),
)  # fmt: skip


def place_table(dataset, found):
    """One row for the bearing and each station outside the hull, one for any place, and what is inside."""
    setting, sea, rows, inside = found.setting, found.sea, [], []
    for place, name in enumerate(place_names(dataset)):
        if number(dataset, "place_inside", setting, place=place) > 0:
            inside += wrapped(inside_words(dataset, setting, sea, place, name), "  ")
        else:
            rows.append(place_cells(dataset, setting, sea, place, name))
    whole = (
        "any place*", "", "", "", "",
        rate_cell(found.half_rate), rate_cell(found.event_rate), wear_cell(found.wear),
    )  # fmt: skip
    return "\n".join([*in_columns(HEADS, rows, whole), *inside, *wrapped(place_note(dataset, setting, sea))])


def inside_words(dataset, setting, sea, place, name):
    """A station inside the hull: its moment between the bearings, never a share."""
    low, high = (
        number(dataset, f"load_ratio_{end}", setting, sea, place) * number(dataset, limit, setting, place=place) / 1e3
        for end, limit in (("min", "reverse_limit"), ("max", "normal_limit"))
    )
    return f"{name} is inside the hull: {low:.0f} to {high:.0f} kN m between the bearings, no share of a limit."


def place_cells(dataset, setting, sea, place, name):
    """Cells of one place outside the hull."""
    mean, high, low = (number(dataset, f"load_ratio_{end}", setting, sea, place) for end in ("mean", "max", "min"))
    of = lambda rate: bounds(dataset, rate, setting, sea, place)  # noqa: E731
    reversed_share = number(dataset, "reversed_time_share", setting, sea, place)
    return (
        name,
        share(mean),
        share(high),
        share(low),
        "never" if reversed_share == 0.0 else say.significant(100.0 * reversed_share),
        rate_cell(of("reverse_excursion_rate_half")),
        rate_cell(of("reverse_excursion_rate")),
        wear_cell(of("damage_rate")),
    )


def share(ratio):
    """A share of a limit in %: "35 up", "15 down" (down is of the reverse limit)."""
    if not math.isfinite(ratio):
        return "unknown"
    return f"{100.0 * abs(ratio):.0f} {'down' if ratio < 0.0 else 'up'}"


def place_note(dataset, setting, sea):
    """How to read the table."""
    notes = (
        "* events: excursions anywhere on the foil less than 10 s apart are one; wear of the worst place. "
        "Up is a share of the place's normal limit, down of its reverse limit. "
        + say.limit_words(attribute(dataset, "limit_basis"))
        + " In brackets the 90 % interval from the limited sample of waves; forecast and model error left "
        "out of the table. A full-load cycle goes from 0 to 100 % of the normal limit."
    )
    if "damage_one_holds_most" in dataset:
        most = dataset["damage_one_holds_most"].isel(setting=setting, sea=sea).values
        few = dataset["damage_too_few"].isel(setting=setting, sea=sea).values
        if np.any(most == 1):
            notes += " One realisation holds over half of the wear somewhere: its interval is soft."
        if np.any(few == 1):
            notes += " Too few realisations for an honest interval of the wear."
    return notes


def boat_rows(dataset, setting, sea):
    """(name, value) lines of the boat, in the units of the trade."""

    def value(name, unit=1.0):
        return number(dataset, name, setting, sea) / unit

    share = number_if_held(dataset, "hold_down_share_max", setting, sea) / PERCENT  # earlier results lack it
    breaking = f"{say.significant(share)} % of its breaking load at most" if math.isfinite(share) else "not known"
    leeway, rudder = (number_if_held(dataset, f"{name}_mean", setting, sea) / DEGREE for name in ("leeway", "rudder"))
    sideways = f"{leeway:.1f} deg, {rudder:+.1f} deg (bow to leeward +)" if math.isfinite(leeway) else "not known"
    return (
        ("speed", f"{value('speed_mean', KNOT):.1f} kn mean, +-{value('speed_std', KNOT):.1f}, "
                  f"at most {value('speed_max', KNOT):.1f}"),
        ("waves ask", waves_ask_words(dataset, setting, sea)),
        ("heave", f"+-{value('heave_std'):.2f} m"),
        ("pitch", f"{value('pitch_mean', DEGREE):+.1f} deg mean (bow up +), "
                  f"+-{value('pitch_std', DEGREE):.1f}, at most {value('pitch_max', DEGREE):.0f} either way"),
        ("roll", f"+-{value('roll_std', DEGREE):.1f} deg about the mean heel"),
        ("foil carries", f"{value('vertical_lift_mean', TONNE_FORCE):.1f} t, "
                         f"{100.0 * value('lift_share_mean'):.0f} % of the boat's weight"),
        ("leeway, rudder", sideways),
        ("heading", heading_words(dataset, setting, sea)),
        ("foil rights the boat by", f"{value('righting_moment_mean', TONNE_FORCE):.1f} t m"),
        ("foil drag", f"{value('foil_drag_mean', TONNE_FORCE):.2f} t"),
        ("hold-down line", f"{value('hold_down_load_mean', TONNE_FORCE):.1f} t mean, "
                           f"at most {value('hold_down_load_max', TONNE_FORCE):.1f}; slack "
                           f"{say.significant(100.0 * value('slack_time_share'))} % of the time"),
        ("hold-down line, share", breaking),
        ("validity", validity_words(dataset, setting, sea)),
        ("surf-riding", surf_words(dataset, setting, sea)),
    )  # fmt: skip


def heading_words(dataset, setting, sea):
    """How she keeps her heading: "+-1.7 deg, at most 9 either way, rudder +-2.4; no broach".

    Earlier results lack it.
    """
    names = ("heading_std", "heading_max", "rudder_std")
    spread, most, rudder = (number_if_held(dataset, name, setting, sea) / DEGREE for name in names)
    broach = number_if_held(dataset, "broach_share", setting, sea) / PERCENT
    if not math.isfinite(spread + broach):
        return "not known"
    lost = f"broaching {say.significant(broach)} % of the time" if broach > 0.0 else "no broach"
    return f"+-{spread:.1f} deg, at most {most:.0f} either way, rudder +-{rudder:.1f}; {lost}"


def waves_ask_words(dataset, setting, sea):
    """What waves ask of the sails: "1.9 kN more thrust (1.6 to 2.2), 26 % of calm"; results from before lack it."""
    more, low, high, calm = (
        number_if_held(dataset, name, setting, sea) / 1e3
        for name in ("added_resistance", "added_resistance_low", "added_resistance_high", "thrust_calm")
    )
    if not math.isfinite(more):
        return "not known"
    between = f" ({low:.1f} to {high:.1f})" if math.isfinite(high - low) else ""
    part = f", {abs(100.0 * more / calm):.0f} % of calm" if calm > 0.0 else ""
    return f"{more:.1f} kN more thrust{between}{part}" if more >= 0.0 else f"{-more:.1f} kN less thrust{between}{part}"


def validity_words(dataset, setting, sea):
    """Shares of time at the ends of the model's range; results from before lack some."""
    names = ("foredeck_buried_share", "pitch_beyond_share", "thrust_floor_share")
    shares = [number_if_held(dataset, name, setting, sea) / PERCENT for name in names]
    if not all(map(math.isfinite, shares)):
        return "not known"
    buried, steep, floor = map(say.significant, shares)
    return f"foredeck under {buried} %, pitch too far {steep} %, no thrust {floor} % of time"


SURGE = 1.4  # [-] highest over mean speed that a boat reaches without being carried by a wave (common practice)


def surf_words(dataset, setting, sea):
    """From which speed on the waves can carry the boat along, and a doubt where she ran as if they had all the same."""
    names = ("surf_riding_speed", "speed_set", "speed_mean", "speed_max")
    least, asked, mean, most = (number_if_held(dataset, name, setting, sea) for name in names)
    if math.isnan(least):
        return "not known"
    words = "no wave of this sea carries her" if math.isinf(least) else f"possible from {least / KNOT:.0f} kn"
    doubt = most > SURGE * mean and asked < least
    return words + (f"; {most / KNOT:.0f} kn reached all the same: doubt it" if doubt else "")


def why_unreachable(dataset, setting, sea):
    """": no leeway meets the side force", or nothing where the result does not say."""
    if "unreachable_reason" not in dataset:
        return ""
    return f": {line(dataset['unreachable_reason'].values[setting, sea])}"


def sailed_words(dataset, setting, sea):
    """How much sea was sailed and how the cases ended."""
    hours = hours_sailed(dataset, setting, sea)
    ended = ended_cases(dataset, setting, sea)
    total = sum(ended.values())
    words = f"Simulated: {say.hours_words(hours)} in {total} realisations. "
    if number_if_held(dataset, "reachable", setting, sea) == 0.0:
        words += f"This setting cannot be held at this speed{why_unreachable(dataset, setting, sea)}. "
    bad = {name: count for name, count in ended.items() if name != "done"}
    if not bad:
        return words + "All ran to their end inside the model's validity."
    said = ", ".join(f"{count} {say.status_words(name)}" for name, count in bad.items())
    return words + f'NOT SHOWN TO BE WITHIN THE LIMITS: {said}; every rate above is "at least".'


def gust_lines(dataset, found):
    """The stated gust or lull, in calm water and in the sea of a `SettingAnswer`."""
    if found.gust_leaps is None:
        return []
    setting, sea = found.setting, found.sea
    strength = number_if_held(dataset, "gust_strength")
    size = f" of {100.0 * abs(strength):.0f} %" if math.isfinite(strength) else ""
    name, jumps, stays = "Gust", "SHE LEAPS: the hull comes clear of the water", "does not jump clear"
    if strength < 0.0:
        name, jumps, stays = "Lull", "SHE COMES CLEAR: hull or foil leaves the water", "hull and foil stay in the water"
    shares = [
        f"{100.0 * max(0.0, number(dataset, f'gust_{side}_share_{where}', setting, sea)):z.0f} % {way}"
        for where in ("calm", "sea") for side, way in (("normal", "up"), ("reverse", "down"))
    ]  # fmt: skip
    return wrapped(
        f"{name}{size}: {jumps if found.gust_leaps else stays}. Worst load: calm water {shares[0]} and {shares[1]}, "
        f"this sea {shares[2]} and {shares[3]}."
    )

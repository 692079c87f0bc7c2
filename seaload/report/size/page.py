"""The page of a sizing: the answer, limits, usage, loads, spectra, what changes do, the tails, how it was made."""

import json
import math

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.report.shared import wording as say
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_blocks import shortened, versions
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.result_reading import attribute, line, scenario
from seaload.report.size import figures as draw
from seaload.report.size import reading as read
from seaload.report.size import words

METHOD = (
    "The hours of the scatter table are put together into few seas, each met from every heading by its share of the "
    "time. In each sea the grid of settings is simulated for the hours of the choice, and the one is sailed that the "
    "crew would choose: the fastest within their levels, else the one with least risk. Design situations stand beside "
    "it: a share of the time in a sea and setting of their own, or events that come so many times a season.",
    "Loads of every ten seconds have a tail in each sea: peaks over a threshold, a generalised Pareto law whose shape "
    "is common to the seas that carry the load. Seas and events are mixed by how often they are met; exceedances are "
    "mixed, never return values. All told means that the load is uncertain by what is uncertain of the model, drawn "
    "once a season: each input's part comes from designed runs over the same waves.",
    "Every place is passed equally often, so that none is stronger than it needs to be, and all places together are "
    "on target. Wear asks for both limits in their given ratio: limits k times as high wear k to the power of the "
    "slope less. Intervals are 90 %, by the sampled waves alone: whole realisations are drawn anew.",
    "Changes are simulated in the seas that carry the loads, over the same waves and settings; a least limit goes "
    "with the load that comes as often. Other settings might suit a changed foil better: that is not looked for.",
    "Between the strain stations the moment is read off a straight line, scaled to the extremes counted every tenth "
    "of a metre; inside the hull it falls from the lower to the upper bearing; beyond the outermost station nothing "
    "is told. Shear and torsion are extremes of whole realisations, outside the hull alone, without the bending "
    "mode's own inertia.",
)


def size_page(dataset):
    """report.html of a sizing, as text."""
    sections = [
        ("answer", "The answer", answer_blocks(dataset)), ("limits", "Limits", limit_blocks(dataset)),
        ("changes", "What changes do", change_blocks(dataset)), ("usage", "Usage", usage_blocks(dataset)),
        ("loads", "Loads", load_blocks(dataset)), ("spectra", "Spectra and test", spectrum_blocks(dataset)),
        ("tails", "The tails", tail_blocks(dataset)), ("method", "Method", [text(part) for part in METHOD]),
        ("inputs", "Inputs", input_blocks(dataset)),
    ]  # fmt: skip
    study = line(attribute(dataset, "study"), 80)
    return render_page(
        title=f"{study}: sizing",
        heading=study,
        subtitle=f"{line(attribute(dataset, 'boat'), 80)}, {line(attribute(dataset, 'foil'))} foil, sized for a season "
        f"of {read.season_hours(dataset):,.0f} h at sea.",
        sections=[{"id": name, "head": head, "blocks": blocks} for name, head, blocks in sections],
        cautions=[line(caution) for caution in attribute(dataset, "cautions").splitlines()],
    )


def text(words_, kind=""):
    """A paragraph."""
    return {"what": "text", "text": words_, "kind": kind}


def figure(drawn, name, description, caption):
    """A figure block."""
    return {"what": "figure", "svg": trusted(inline_svg(drawn, name, description)), "caption": caption}


def table(caption, heads, rows):
    """A table block."""
    return {"what": "table", "plain": False, "caption": caption, "heads": heads, "rows": rows}


def answer_blocks(dataset):
    """Which place and situation governs each way, is the limit enough, by what margin, what changes would do."""
    blocks = [{"what": "lead", "text": words.side_sentence(dataset, k)} for k in range(len(read.SIDES))]
    tiles = []
    for k, side in enumerate(read.SIDES):
        if (found := read.weakest(dataset, k)) is not None:
            low, high = (words.percent(each) for each in found.margin[1:])
            tiles.append({"head": f"Margin of the {side} limit", "big": words.percent(found.margin[0]),
                          "more": [f"90 % interval {low} to {high}", read.place_words(dataset, found.material)]})
        right = say.one_in(float(dataset["season_odds_if_right"].values[k]))
        tiles.append({"head": f"Past the {side} limit in a season", "big": words.odds_words(dataset, k),
                      "more": ["all told, anywhere on the foil", f"were the model right: {right}"]})  # fmt: skip
    worn, p, target = read.wear_cycles(dataset)
    tiles.append({"head": "Wear in a season", "big": f"{say.significant(worn[0])} cycles",
                  "more": [f"90 % interval {say.interval(worn[1], worn[2])}", f"{say.significant(target, 3)} allowed",
                           read.place_words(dataset, float(dataset["sized_material"].values[p]))]})  # fmt: skip
    line_load, breaks = (float(dataset[name]) / 1e3 for name in ("season_hold_down", "hold_down_breaking"))
    tiles.append({"head": "Hold-down line, once a season", "big": f"{line_load:.0f} kN",
                  "more": [f"{100.0 * line_load / breaks:.0f} % of its breaking load"]})  # fmt: skip
    blocks.append({"what": "tiles", "tiles": tiles})
    changes = [words.change_sentence(dataset, c) for c in range(dataset.sizes.get("change", 0))]
    if changes:
        blocks.append({"what": "bullets", "items_": changes})
    for sentence in (words.ratio_sentence(dataset), words.lighter_sentence(dataset)):
        if sentence:
            blocks.append(text(sentence))
    return [*blocks, text(words.target_sentence(dataset), "note"),
            text(say.limit_words(attribute(dataset, "limit_basis")), "note")]  # fmt: skip


def limit_blocks(dataset):
    """Given and least limits along the foil, and what governs them."""
    rows = []
    for p, s in enumerate(dataset["sized_material"].values):
        for k, side in enumerate(read.SIDES):
            if p not in read.loaded(dataset, k):
                continue
            three = lambda name, k=k, p=p: tuple(x / read.KILO for x in read.three(dataset, name, k, p))  # noqa: E731
            by_wear = dataset["limit_wear"].values[k, p] > dataset["limit_all_told"].values[k, p]
            share = float(dataset["governing_share"].values[k, p])
            name = read.situation(dataset, dataset["governing_situation"].values[k, p])
            rows.append((
                f"{s:.1f} m, {side}", say.significant(float(dataset["limit_given"].values[k, p]) / read.KILO, 3),
                words.moments(three("limit_if_right")), words.moments(three("limit_all_told")),
                words.moments(three("limit_wear")), words.percents(read.three(dataset, "limit_margin", k, p)),
                "wear" if by_wear else f"{name} ({100.0 * share:.0f} %)",
            ))  # fmt: skip
    heads = ("Place, side", "Given, kN m", "Least, were the model right", "Least, all told", "Least, for wear",
             "Margin", "Governed by (share of the odds)")  # fmt: skip
    return [
        figure(draw.limits_figure(dataset), "limits", "Given and least limits along the foil, both ways",
               "Limits of the boat file and the least ones for the targets. The band is the 90 % interval of the least "
               "limit by the sampled waves; the dot marks the weakest place."),
        figure(draw.governing_figure(dataset), "governing", "Which situation governs each place",
               "What asks for the least limit at each place. Places that a side hardly loads are left blank."),
        table("Least limits by place; 90 % intervals by the sampled waves", heads, rows),
        text("limits.csv beside this page has them all.", "note"),
    ]  # fmt: skip


def change_blocks(dataset):
    """Arrows by change and by uncertain input; foils compared in a table."""
    rows = []
    for c, name in enumerate(dataset["change_name"].values):
        three = lambda what, c=c: read.three(dataset, f"change_{what}", c)  # noqa: E731
        cells = []
        for k, _ in enumerate(read.SIDES):
            found = read.weakest(dataset, k)
            told = found and words.percents(read.three(dataset, "change_limit", c, k, found.point))
            cells.append(told or "")
        margins = [words.percents(read.three(dataset, "change_margin", c, k)) for k in range(2)]
        odds = [say.one_in(float(dataset["change_odds"].values[c, k])) for k in range(2)]
        speed = tuple(each / KNOT for each in three("speed"))
        rows.append((line(name, 60), *cells, *margins, *odds, f"{speed[0]:+.2f} ({speed[1]:+.2f} to {speed[2]:+.2f})",
                     words.percents(three("righting")), words.percents(three("wear")),
                     str(int(dataset["change_ended"].values[c]))))  # fmt: skip
    heads = ("Change", "Least reverse limit", "Least normal limit", "Its reverse margin", "Its normal margin",
             "Past reverse in a season", "Past normal", "Speed, kn", "Righting moment", "Wear",
             "Cases ended")  # fmt: skip
    return [
        figure(draw.arrows_figure(dataset), "arrows", "What changes and uncertain inputs do to the least limits",
               "Change of the least limit at the weakest place of each side. Bars are 90 % intervals by the sampled "
               "waves, paired: the same waves with and without. Uncertain inputs by one deviation up."),
        table("Changes and foils compared, in the seas that carry the loads", heads, rows),
        text("Gusts and motions are not simulated anew with a change: where they govern, their loads are taken to "
             "change as those of the seas do. Margins and odds are of the changed foil's own limits, for the odds "
             f"target. Limits for wear go as the hours to the power of 1/{slope_of(dataset):g}.", "note"),
    ]  # fmt: skip


def slope_of(dataset):
    """Slope of the foil's own curve, as the programme's where none is stated."""
    return float(dataset["programme_slope"])


def usage_blocks(dataset):
    """The table, its seas, and how they are sailed."""
    rows = []
    for j in np.argsort(-dataset["usage_share"].values):
        setting = int(dataset["usage_setting"].values[j])
        events = [float(dataset["usage_event_rate"].values[k, j]) * HOUR for k in range(2)]
        ended = int(dataset["usage_ended"].values[j])
        rows.append((
            read.sea_words(dataset, j), f"{100.0 * float(dataset['usage_share'].values[j]):.2g} %",
            f"{100.0 * float(dataset['extension'].values[setting]):.0f} % out, rake "
            f"{float(dataset['rake'].values[setting]) / DEGREE:.1f}°",
            f"{float(dataset['usage_speed'].values[j]) / KNOT:.1f}", line(dataset["usage_rule"].values[j], 90),
            *(say.significant(each) for each in events),
            say.significant(float(dataset["usage_damage_rate"].values[j]) * HOUR * 1e6), str(ended),
        ))  # fmt: skip
    situations = [
        (read.situation(dataset, n), line(dataset["situation_sailed"].values[n], 60), how_often(dataset, n),
         line(dataset["situation_analysis"].values[n], 30), f"{float(dataset['situation_partial_factor'].values[n]):g}",
         line(dataset["situation_origin"].values[n], 120), str(int(dataset["situation_ended"].values[n])))
        for n in range(dataset.sizes["situation"])
    ]  # fmt: skip
    return [
        table("Design situations", ("Situation", "Sea or motion", "How often", "Counts for", "Partial factor",
                                    "Where the factor is from", "Cases ended"), situations),
        figure(draw.usage_figure(dataset), "usage", "Hours of the table by height and period, and the seas simulated",
               "The scatter table, the seas it was put together into, and the contour of the sea states met once in a "
               "season by a law fitted to the table: a check of how far out the table reaches, used for nothing else."),
        table("Seas of the usage and how they are sailed", (
            "Sea", "Share of the season", "Setting", "Speed, kn", "Why", "Reverse events an hour",
            "Normal events an hour", "Wear, cycles an hour", "Cases ended"), rows),
    ]  # fmt: skip


def how_often(dataset, n):
    """How often a situation is met."""
    times = float(dataset["situation_times"].values[n])
    if times > 0.0:
        return f"{say.significant(times, 3)} times a season"
    return f"{100.0 * float(dataset['situation_share'].values[n]):.3g} % of the time"


def load_blocks(dataset):
    """Envelopes, return values, companion loads."""
    rows = []
    hours = [float(t) / HOUR for t in dataset["return_time"].values]
    for p, s in enumerate(dataset["sized_material"].values):
        for k, side in enumerate(read.SIDES):
            if p in read.loaded(dataset, k):
                cells = [words.moments(tuple(x / read.KILO for x in read.three(dataset, "load_return", i, k, p)))
                         for i in range(len(hours))]  # fmt: skip
                rows.append((f"{s:.1f} m, {side}", *cells))
    heads = ("Place, side", *(f"Once in {say.hours_words(h)}" for h in hours))
    blocks = [
        figure(draw.envelope_figure(dataset), "envelope", "Moment, shear and torsion along the span",
               "Loads met once in a season of the stated hours, characteristic: without partial factors. Reverse loads "
               "are drawn down."),
        table("Bending moments by return time, characteristic; 90 % intervals by the sampled waves", heads, rows),
    ]  # fmt: skip
    for side in (-1, 1):
        numbers = [e for e in range(dataset.sizes.get("extreme", 0)) if dataset["extreme_side"].values[e] == side]
        if numbers:
            deepest = max(numbers, key=lambda e: share_of_limit(dataset, e))
            blocks.append(companion_block(dataset, deepest))
    if "extreme" in dataset:
        blocks.append(text("companion-loads.csv has the load of every strip, moment, shear and bearing reactions at "
                           "the extreme of every place both ways; envelope.csv and return-values.csv the rest.",
                           "note"))
    return blocks


def share_of_limit(dataset, e):
    """Moment of an extreme over the given limit of its place and side."""
    k = 0 if dataset["extreme_side"].values[e] < 0 else 1
    p = int(np.argmin(np.abs(dataset["sized_material"].values - float(dataset["extreme_material"].values[e]))))
    return abs(float(dataset["extreme_moment"].values[e])) / float(dataset["limit_given"].values[k, p])


def companion_block(dataset, e):
    """The load along the whole foil at one extreme."""
    at = lambda name: float(dataset[f"extreme_{name}"].values[e])  # noqa: E731
    side = "reverse" if dataset["extreme_side"].values[e] < 0 else "normal"
    situation = read.situation(dataset, dataset["extreme_situation"].values[e])
    caption = (
        f"The deepest simulated {side} moment beside the limit: {at('moment') / 1e3:+.1f} kN m "
        f"{read.place_words(dataset, at('material'))}, in {situation}, {100.0 * at('extension'):.0f} % out at "
        f"{at('speed') / KNOT:.0f} kn. Bearings then, towards the design side: upper "
        f"{at('upper_reaction') / 1e3:+.0f} kN, lower {at('lower_reaction') / 1e3:+.0f} kN."
    )
    drawn = draw.companion_figure(dataset, e)
    return figure(drawn, f"companion-{side}", f"Load along the foil at a {side} extreme", caption)


def spectrum_blocks(dataset):
    """Damage-equivalent moments, spectra, the block programme."""
    slopes = dataset["fatigue_slope"].values
    rows = []
    for k in range(dataset.sizes["place"]):
        cells = []
        for i in range(len(slopes)):
            found = tuple(each / read.KILO for each in read.three(dataset, "equivalent_moment", i, k))
            cells.append(words.moments(found) if found[0] > 0.0 else "none")
        rows.append((read.station_name(dataset, k), *cells))
    place, repeats = int(dataset["programme_place"]), int(dataset["programme_repeats"])
    errors = ", ".join(
        f"{words.percent(float(e), 1)} at {m:g}" for m, e in zip(slopes, dataset["programme_error"].values, strict=True)
    )
    limit = float(dataset["normal_limit"].values[place])
    ranges, means, cycles, single = (
        dataset[f"programme_{name}"].values for name in ("range", "mean", "cycles", "single")
    )
    steps, n = [], 0
    while n < len(ranges):
        alike = n + 1
        while alike < len(ranges) and single[alike] and ranges[alike] == ranges[n] and means[alike] == means[n]:
            alike += 1
        name = f"{n + 1}" if alike == n + 1 else f"{n + 1} to {alike}"
        steps.append((
            f"{name}{', of the highest' if single[n] else ''}", f"{ranges[n] / 1e3:.1f}", f"{means[n] / 1e3:+.1f}",
            f"{100.0 * ranges[n] / limit:.0f} %", f"{cycles[n:alike].sum():,.0f}",
        ))  # fmt: skip
        n = alike
    return [
        table("Damage-equivalent moments: the range that, a million times, does the damage of a season, by slope",
              ("Place", *(f"Slope {m:g}" for m in slopes)), rows),
        figure(draw.spectrum_figure(dataset), "spectrum", "Cycles of a season by range",
               "Cycles of a season that exceed a range, by place, and the block programme. cycles.csv has them by "
               "range "
               "and mean, in bins that hold damage-equivalent ranges within 1.5 %."),
        table(f"Block programme for {read.station_name(dataset, place)}, slope {float(dataset['programme_slope']):g}, "
              f"in {repeats} repeats",
              ("Step", "Range, kN m", "Mean, kN m", "Of the normal limit", "Cycles in all"), steps),
        text(f"Damage-equivalent range of the programme beside the season's, by slope: {errors}. Each repeat goes "
             "from low "
             "to high and back; the highest cycles are kept as they came, spread over the repeats. programme.csv has "
             "the "
             "sequence. Small ranges that hold a hundredth of the damage are left out.", "note"),
    ]  # fmt: skip


def tail_blocks(dataset):
    """Whether the tails are to be believed."""
    if "excess_threshold" not in dataset:
        return [text("Too few peaks for these figures.")]
    shapes = [float(each) for each in dataset["tail_shape_fitted"].values]
    said = " and ".join(f"{shape:+.2f} {side}" for shape, side in zip(shapes, read.SIDES, strict=True)
                        if math.isfinite(shape))  # fmt: skip
    largest = [
        f"{side} {words.moments(tuple(each / read.KILO for each in read.three(dataset, 'predicted_largest', k)))}"
        for k, side in enumerate(read.SIDES) if math.isfinite(float(dataset["predicted_largest"].values[k]))
    ]  # fmt: skip
    return [
        figure(draw.tails_figure(dataset), "tails", "Mean excess, stability and quantiles of the tails",
               "At the weakest place of each side. A tail is to be believed where the mean excess runs straight, the "
               "load met once a season in the sea that carries most hardly moves with the threshold, and the peaks met "
               "lie on the line of those foreseen."),
        text(f"Shape of the tail, common to the seas that carry the load: {said} (0 = exponential; below it the load "
             "has an upper end). Largest load of a season in the "
             f"sea that carries most, with its 90 % prediction interval: {' and '.join(largest)}."),
    ]  # fmt: skip


def input_blocks(dataset):
    """Notes, defaults, versions, and the study as it was written."""
    notes = [line(note) for note in dict.fromkeys(attribute(dataset, "notes").splitlines()) if note.strip()]
    own = [note for note in notes if not note.startswith("usage ")]
    defaults = ", ".join(line(each) for each in attribute(dataset, "defaults_used").splitlines())
    made = (
        ("Command", line(attribute(dataset, "command"))), ("Seed", line(attribute(dataset, "seed"))),
        ("Versions", ", ".join(versions(dataset))),
        ("Code fingerprint", line(attribute(dataset, "source_fingerprint"))),
        ("Simulated for the loads", say.hours_words(float(dataset["usage_duration"].sum()) / HOUR)),
    )  # fmt: skip
    written = json.dumps(scenario(dataset), indent=1, ensure_ascii=False, sort_keys=True)
    return [
        {"what": "bullets", "items_": own or ["Nothing assumed beyond the study file."]},
        text(f"Defaults used: {defaults or 'none'}.", "note"),
        {"what": "table", "caption": "How this result was made", "heads": (), "plain": True, "rows": made},
        {"what": "code", "summary": "Study and boat as they were written", "text": shortened(written)},
    ]

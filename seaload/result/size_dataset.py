"""A sizing as one Dataset: usage, situations, limits, loads, spectra, changes and tails."""

from math import radians
from typing import Any, NamedTuple

import numpy as np

from seaload.evidence.verdict import SIDES
from seaload.fatigue.cycle_matrix import mean_middles, range_edges, range_middles
from seaload.result.assemble_dataset import finished
from seaload.result.birth_record import birth_record
from seaload.result.size_changes import change_parts, tail_parts
from seaload.risk.contour import contour, law_of_table
from seaload.scenario.size_records import FATIGUE, ULTIMATE

USAGE, SITUATION, PLACE = ("usage_sea",), ("situation",), ("side", "sized_material")
LOADED = 1e-3  # [-] of the given limit: a place that needs less is not loaded, and its margin ends there
SEA_HOURS = 3600.0  # [s] that a sea state of the contour lasts


class Found(NamedTuple):
    """All that a sizing found; units and shapes as in the functions that give each."""

    chosen: tuple  # of Chosen, one a sea of the usage
    season: Any
    sizing: Any
    intervals: dict
    damage: np.ndarray
    damage_interval: Any
    times: tuple
    returns: dict
    return_intervals: dict
    governing: dict
    governing_moment: dict
    spans: dict
    hold_down: tuple
    extremes: tuple
    slopes: tuple
    cycles: np.ndarray
    equivalents: tuple
    programme: tuple
    changes: tuple
    uncertain: tuple
    usage_changes: tuple
    tails: dict


def size_dataset(sized, found):
    """The result of a `SizeStudy` as an xarray Dataset."""
    study = sized.study
    parts = {
        **axes(sized, found), **usage_parts(sized, found), **table_parts(sized), **situation_parts(sized, found),
        **limit_parts(sized, found), **load_parts(found), **extreme_parts(found), **spectrum_parts(sized, found),
        **change_parts(sized, found), **tail_parts(found),
    }  # fmt: skip
    birth = birth_record(study, "size")
    birth["title"] = f"{study.name}: limits of a foil for a season"
    birth["summary"] = "Least limits of a foil for target odds and wear over a season; loads to design and test it by."
    return finished(parts, birth)


def number(count):
    """Numbers from 0."""
    return np.arange(count, dtype=np.int32)


def words(dims, texts):
    """A column of text."""
    return dims, np.array(list(texts), dtype=object)


def both(of):
    """(2, ...) of what `of(side)` gives for the two sides, reverse first."""
    return np.array([of(side) for side in SIDES])


def axes(sized, found):
    """Coordinates of every dimension."""
    study, season = sized.study, found.season
    foil = season.foil
    edges = range_edges()
    return {
        "side": words(("side",), SIDES),
        "setting": (("setting",), number(len(study.settings))),
        "usage_sea": (USAGE, number(len(sized.usage))),
        "situation": (SITUATION, number(len(sized.situations))),
        "sized_material": (("sized_material",), season.points),
        "return_time": (("return_time",), np.array(found.times)),
        "fatigue_slope": (("fatigue_slope",), np.array(found.slopes)),
        "place": (("place",), number(1 + len(foil.stations))),
        "station": (("place",), number(1 + len(foil.stations))),
        "cycle_range": (("cycle_range",), range_middles()),
        "cycle_range_bounds": (("cycle_range", "edge"), np.stack([edges[:-1], edges[1:]], axis=1)),
        "cycle_mean": (("cycle_mean",), mean_middles()),
        **{
            name: (("setting",), np.array([float(getattr(setting, name)) for setting in study.settings]))
            for name in ("extension", "rake", "heel", "cant", "ballast_shift")
        },
    }


def usage_parts(sized, found):
    """The seas of the usage, how they are sailed, and what they do."""
    seas, season = sized.study.seas[: len(sized.usage)], found.season
    parts = season.seas[: len(sized.usage)]
    column = lambda values: (USAGE, np.array(values, dtype=float))  # noqa: E731
    raw = [heading["waves_from_bow_deg"] for heading in sized.study.raw["heading"]]
    events = both(lambda side: [event_rate(part, side) for part in parts])
    return {
        "usage_sea_name": words(USAGE, [sea.name for sea in seas]),
        "usage_hs": column([sea.hs for sea in seas]),
        "usage_tp": column([sea.tp for sea in seas]),
        "usage_tz": column([one.tz for one in sized.usage]),
        "usage_waves_from_bow": column([radians(raw[j % len(raw)]) for j in range(len(seas))]),
        "usage_share": column([part.share for part in parts]),
        "usage_setting": (USAGE, np.array([c.setting for c in found.chosen], dtype=np.int32)),
        "usage_rule": words(USAGE, [c.why for c in found.chosen]),
        "usage_duration": column([part.time for part in parts]),
        "usage_ended": (USAGE, np.array([part.ended for part in parts], dtype=np.int32)),
        "usage_speed": column([np.mean([record.speed_mean for record in part.records]) for part in parts]),
        "usage_event_rate": (("side", "usage_sea"), events),
        "usage_damage_rate": column([
            np.max(np.sum([r.grid_damage for r in part.records], axis=0)) / max(part.time, 1e-9) for part in parts
        ]),
        "season_time": ((), float(sized.targets.season)),
        "wear_target": ((), float(sized.targets.wear)),
    }  # fmt: skip


def event_rate(part, side):
    """Counted events past the limit a second in one sea [1/s]."""
    field = "events_full" if side == "reverse" else "normal_events"
    return sum(getattr(record, field) for record in part.records) / max(part.time, 1e-9)


def table_parts(sized):
    """The scatter table as it was read, and the contour of its sea states met once in the season."""
    hs, tz, share = np.array(sized.cells).T
    odds = min(SEA_HOURS / sized.targets.season, 0.4)
    heights, periods = contour(law_of_table(hs, tz, share), odds)
    cell, point = ("table_cell",), ("contour_point",)
    return {
        "table_hs": (cell, hs), "table_tz": (cell, tz), "table_share": (cell, share),
        "contour_hs": (point, heights), "contour_tz": (point, periods),
    }  # fmt: skip


def situation_parts(sized, found):
    """The design situations."""
    study, season = sized.study, found.season
    ended = [sum(part.ended for part in (*season.seas, *season.events) if part.situation == n)
             for n in range(len(sized.situations))]  # fmt: skip

    def sailed(one):
        if one.is_usage:
            return "all seas of the usage"
        if one.motion is not None:
            return f"motion: {study.prescribed[one.motion].name}"
        return study.seas[one.sea].name

    column = lambda values: (SITUATION, np.array(values, dtype=float))  # noqa: E731
    return {
        "situation_name": words(SITUATION, [one.name for one in sized.situations]),
        "situation_analysis": words(SITUATION, [
            " and ".join(a for a in (ULTIMATE, FATIGUE) if one.counts_for(a)) for one in sized.situations
        ]),
        "situation_share": column([one.share for one in sized.situations]),
        "situation_times": column([one.times for one in sized.situations]),
        "situation_partial_factor": column([one.factor for one in sized.situations]),
        "situation_origin": words(SITUATION, [one.origin for one in sized.situations]),
        "situation_sailed": words(SITUATION, [sailed(one) for one in sized.situations]),
        "situation_ended": (SITUATION, np.array(ended, dtype=np.int32)),
    }  # fmt: skip


def limit_parts(sized, found):
    """Least limits, what governs them, margins; odds and wear of the given limits."""
    sizing, season = found.sizing, found.season
    given = both(lambda side: season.limits[side])
    right = both(lambda side: sizing.needed[side].if_right)
    told = both(lambda side: sizing.needed[side].all_told)
    low, high = (both(lambda side, end=end: found.intervals[side][end]) for end in (0, 1))
    stretch = told / np.maximum(right, 1e-9)
    wear = given * sizing.wear_factor(found.damage)
    wear_low, wear_high = (given * sizing.wear_factor(end) for end in found.damage_interval)
    parts = {"limit_given": (PLACE, given), "limit_if_right": (PLACE, right), "limit_all_told": (PLACE, told),
             "limit_wear": (PLACE, wear)}  # fmt: skip
    needed = np.maximum(told, wear)
    needed_low, needed_high = np.maximum(low * stretch, wear_low), np.maximum(high * stretch, wear_high)
    bounds = {
        "limit_if_right": (low, high), "limit_all_told": (low * stretch, high * stretch),
        "limit_wear": (wear_low, wear_high), "limit_needed": (needed_low, needed_high),
        "limit_margin": tuple(given / np.maximum(end, LOADED * given) - 1.0 for end in (needed_high, needed_low)),
    }  # fmt: skip
    parts["limit_needed"] = (PLACE, needed)
    parts["limit_margin"] = (PLACE, given / np.maximum(needed, LOADED * given) - 1.0)
    for name, ends in bounds.items():
        middle = parts[name][1]
        parts[f"{name}_low"] = (PLACE, np.minimum(ends[0], middle))
        parts[f"{name}_high"] = (PLACE, np.maximum(ends[1], middle))
    for name, of in (("limit_ratio_needed", needed), ("limit_ratio_given", given)):
        parts[name] = (("sized_material",), of[0] / np.maximum(of[1], 1e-9))
    odds = [sizing.season_odds(side, season.limits[side], worst_spread(sizing, side)) for side in SIDES]
    kinds = (("governing_situation", 0, np.int32), ("governing_share", 1, float), ("governing_sea", 2, np.int32))
    for name, i, kind in kinds:
        parts[name] = (PLACE, both(lambda side, i=i: found.governing[side][i]).astype(kind))
    return {
        **parts,
        "season_odds": (("side",), np.array([all_told for all_told, _ in odds])),
        "season_odds_if_right": (("side",), np.array([right_ for _, right_ in odds])),
        "season_wear": (("sized_material",), found.damage),
        "season_wear_low": (("sized_material",), np.minimum(found.damage_interval[0], found.damage)),
        "season_wear_high": (("sized_material",), np.maximum(found.damage_interval[1], found.damage)),
        "model_spread": (PLACE, both(lambda side: sizing.spread[side])),
        "place_rate_share": (("side",), both(lambda s: sizing.needed[s].rate / max(sizing.needed[s].union, 1e-300))),
    }


def worst_spread(sizing, side):
    """Spread of ln(load) at the place whose given limit is least beside the one needed."""
    ratio = sizing.season.limits[side] / np.maximum(sizing.needed[side].all_told, 1e-9)
    return float(sizing.spread[side][int(np.argmin(ratio))])


def load_parts(found):
    """Loads of return times, the envelope along the span, the hold-down line."""
    dims = ("return_time", *PLACE)
    order = lambda rows: np.array([rows[side] for side in SIDES]).swapaxes(0, 1)  # noqa: E731
    middle = order(found.returns)
    low, high = (order({side: found.return_intervals[side][end] for side in SIDES}) for end in (0, 1))
    parts = {
        "load_return": (dims, middle),
        "load_return_low": (dims, np.minimum(low, middle)),
        "load_return_high": (dims, np.maximum(high, middle)),
        "envelope_moment": (PLACE, middle[-1]),
        "envelope_moment_situation": (PLACE, both(lambda side: found.governing_moment[side][0]).astype(np.int32)),
        "season_hold_down": ((), float(found.hold_down[0])),
        "hold_down_breaking": ((), float(found.season.foil.line_breaking_load)),
    }
    for kind in ("shear", "torsion"):
        parts[f"envelope_{kind}"] = (PLACE, both(lambda side, kind=kind: found.spans[kind, side][0]))
        situations = both(lambda side, kind=kind: found.spans[kind, side][1]).astype(np.int32)
        parts[f"envelope_{kind}_situation"] = (PLACE, situations)
    return parts


def extreme_parts(found):
    """The load vector at each extreme."""
    rows, each = found.extremes, ("extreme",)
    if not rows:
        return {}
    column = lambda name, kind=float: (each, np.array([getattr(row, name) for row in rows], dtype=kind))  # noqa: E731
    stacked = lambda name, dim: ((*each, dim), np.array([getattr(row, name) for row in rows]))  # noqa: E731
    strips = len(rows[0].strip_load)
    return {
        "extreme": (each, number(len(rows))),
        "strip": (("strip",), number(strips)),
        "strip_edge": (("strip_edge",), number(strips + 1)),
        "extreme_side": (each, np.array([-1 if row.side == "reverse" else 1 for row in rows], dtype=np.int8)),
        **{f"extreme_{name}": column(name) for name in ("material", "moment", "extension", "bearing", "speed")},
        "extreme_situation": column("situation", np.int32),
        "extreme_sea": column("sea", np.int32),
        "extreme_upper_reaction": column("upper"),
        "extreme_lower_reaction": column("lower"),
        "extreme_strip_load": stacked("strip_load", "strip"),
        "extreme_edge_material": stacked("edge_material", "strip_edge"),
        "extreme_edge_moment": stacked("edge_moment", "strip_edge"),
        "extreme_edge_shear": stacked("edge_shear", "strip_edge"),
    }


def spectrum_parts(sized, found):
    """Cycles of the season, damage-equivalent ranges, the block programme."""
    season, (steps, rows, error) = found.season, found.programme
    main = max(season.seas, key=lambda part: part.share)
    places = found.cycles.shape[0]
    limit, (middle, low, high) = main.geometry.normal_limit[:places], found.equivalents
    dims, scale = ("fatigue_slope", "place"), main.geometry.normal_limit[sized.rig.place]
    step, row = ("programme_step",), ("programme_row",)
    parts = {
        "season_cycles": (("place", "cycle_range", "cycle_mean"), found.cycles.astype(np.float32)),
        "normal_limit": (("place",), limit),
        "place_material": (("place",), main.geometry.channel_s[:places]),
        "programme_place": ((), np.int32(sized.rig.place)),
        "programme_slope": ((), float(sized.rig.slope)),
        "programme_repeats": ((), np.int32(sized.rig.repeats)),
        "programme_error": (("fatigue_slope",), np.array([error(slope) for slope in found.slopes])),
        "programme_step": (step, number(len(steps))),
        "programme_range": (step, scale * np.array([s.load_range for s in steps])),
        "programme_mean": (step, scale * np.array([s.mean for s in steps])),
        "programme_cycles": (step, np.array([s.cycles for s in steps])),
        "programme_single": (step, np.array([s.single for s in steps], dtype=np.int8)),
        "programme_row": (row, number(len(rows))),
        "programme_row_repeat": (row, np.array([r for r, _, _ in rows], dtype=np.int32)),
        "programme_row_step": (row, np.array([s for _, s, _ in rows], dtype=np.int32)),
        "programme_row_cycles": (row, np.array([n for _, _, n in rows], dtype=float)),
    }
    for name, factor in (("equivalent_range", 1.0), ("equivalent_moment", limit)):
        ends = (middle, np.minimum(low, middle), np.maximum(high, middle))
        for end, value in zip(("", "_low", "_high"), ends, strict=True):
            parts[f"{name}{end}"] = (dims, value * factor)
    return parts

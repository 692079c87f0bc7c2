"""Invented results in the shape of real ones: the Dataset maker of the program, fed with made-up records."""

from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np

from seaload.basis.records import EVENT_COLUMNS, NORMAL_EVENT, REVERSE_EVENT, CaseRecord
from seaload.deciding.moves import ways_of
from seaload.fatigue.cycle_bins import MEAN_BINS, RANGE_BINS
from seaload.foil.geometry import material_grid
from seaload.foil.load_cause import BOW_UP, PLUNGE, RISE, VENTILATION, WAVE
from seaload.result.assemble_dataset import assemble_dataset
from seaload.result.sweep_parts import stated_moves
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of
from seaload.studies.load_study import load_study

STUDIES = Path(__file__).parents[2] / "scenarios" / "studies"
BLOCKS = 120
DURATION = 1200.0
TAIL = 0.12  # [share of the limit] over which made-up rates of passing a load fall to 1/e: loads and odds agree


def invented_study(name="bow-quarter-swell", **changes):
    """A study of the scenarios folder with some of its fields changed."""
    return replace(load_study(STUDIES / f"{name}.toml"), **changes)


def invented_record(study, setting, realisation, *, severity=1.0, status=0, reverse_events=0):
    """A made-up case: loads grow with `severity` and with what is out; no physics in it."""
    foil = study.boat.foils[study.foil_side]
    geometry = geometry_of(foil, setting.extension, model_factors(study.model))
    generator = np.random.default_rng(realisation)
    places, points = 1 + len(foil.stations), len(material_grid(foil))
    normal, reverse = geometry.normal_limit, geometry.reverse_limit
    outer = np.clip((foil.outside_length - geometry.channel_s) / foil.outside_length, 0.0, 1.0)
    inside = geometry.channel_s < geometry.bearing - 1e-9
    shape = np.where(inside, 0.0, outer**0.5)
    mean, high, low = (
        0.25 * normal * shape,
        0.75 * severity * normal * shape,
        -0.55 * severity * reverse * shape,
    )
    histogram = np.zeros((places, RANGE_BINS, MEAN_BINS))
    histogram[:, :8, 12:16] = 100.0 / (1.0 + np.arange(8.0))[None, :, None]
    extremes = 0.2 * severity + 0.06 * severity * generator.gumbel(size=(2, BLOCKS))
    head, rest = slice(0, places), slice(places, places + points)
    return CaseRecord(
        status=status, duration=DURATION, stopped_at=np.nan,
        moment_mean=mean[head], moment_std=0.3 * mean[head], moment_max=high[head], moment_min=low[head],
        reversed_time=np.full(places, 4.0), excursions_half=np.full(places, float(severity > 0.8)),
        excursions_full=np.full(places, float(reverse_events)), normal_exceedances=np.zeros(places),
        excursion_time=np.zeros(places), excursion_longest=np.full(places, 0.2),
        damage=4e-6 * severity**10 * (1.0 + generator.random(places)),
        damage_steep=2e-6 * severity**14 * (1.0 + generator.random(places)),
        rainflow_count=histogram, residue=tuple(np.array([0.0, 1.0]) for _ in range(places)),
        events_half=int(severity > 0.8), events_full=reverse_events, normal_events=0, block_time=10.0,
        block_worst_reverse=np.maximum(extremes[0], 0.0), block_worst_normal=0.4 + extremes[1],
        deepest_reverse_time=600.0,
        grid_damage=4e-6 * severity**10 * shape[rest], grid_moment_mean=mean[rest],
        grid_moment_max=high[rest], grid_moment_min=low[rest],
        speed_mean=setting.speed if np.isfinite(setting.speed) else 10.0, speed_std=0.7, speed_max=12.3,
        heave_std=1.1, pitch_mean=0.01, pitch_std=0.055, pitch_max=0.3, roll_std=0.03,
        vertical_lift_mean=33000.0, lift_share_mean=0.4, righting_moment_mean=134000.0, foil_drag_mean=1600.0,
        hold_down_mean=22000.0, hold_down_max=50000.0, slack_time=2.0, pitch_beyond_time=0.5,
        hull_lift_min=3000.0, tip_depth_min=0.4, thrust_mean=10100.0 + 50.0 * generator.random(), thrust_calm=7200.0,
        foredeck_time=0.6, thrust_floor_time=0.0, thrust_std=1500.0,
        **invented_events(foil, geometry, severity, generator),
        acceleration_rms=np.array([5.0, 2.5, 1.8]), acceleration_highest_tenth=np.array([21.0, 9.0, 5.0]),
        acceleration_worst=np.array([60.0, 30.0, 14.0]), slams=40.0,
        shear_max=np.linspace(26000.0, 0.0, foil.strips + 1, dtype=np.float32),
        shear_min=np.linspace(-9000.0, 0.0, foil.strips + 1, dtype=np.float32),
        torsion_max=np.linspace(6000.0, 0.0, foil.strips + 1, dtype=np.float32),
        torsion_min=np.linspace(-5000.0, 0.0, foil.strips + 1, dtype=np.float32),
    )  # fmt: skip


def invented_events(foil, geometry, severity, generator):
    """Made-up events: three reverse ones, the deeper the severer, and two normal ones."""
    depths = np.array([0.9, 0.7, 0.5, 0.8, 0.6]) * severity * (1.0 + 0.05 * generator.random(5))
    told = {
        "side": np.array([REVERSE_EVENT] * 3 + [NORMAL_EVENT] * 2), "time": 200.0 + 900.0 * generator.random(5),
        "channel": np.zeros(5), "material": np.full(5, geometry.bearing), "depth": depths,
        "duration": 0.3 * depths, "cause": np.array([RISE, WAVE, VENTILATION, PLUNGE, BOW_UP]),
        "speed": 9.0 + 3.0 * generator.random(5), "pitch": 0.1 * generator.standard_normal(5),
        "roll": np.zeros(5), "heave": generator.standard_normal(5), "elevation": generator.standard_normal(5),
    }  # fmt: skip
    return {
        "event_table": np.stack([told[name] for name in EVENT_COLUMNS], axis=1).astype(np.float32),
        "event_strip_load": np.tile(np.linspace(-900.0, 400.0, foil.strips, dtype=np.float32), (5, 1)),
        "event_peaks_reverse": depths[:3].astype(np.float32), "event_peaks_normal": depths[3:].astype(np.float32),
        "event_levels": np.array([0.4, 0.55]),
    }  # fmt: skip


def invented_series(study, setting):
    """Made-up kept series of a minute around the deepest reverse load."""
    foil = study.boat.foils[study.foil_side]
    geometry = geometry_of(foil, setting.extension, model_factors(study.model))
    places = 1 + len(foil.stations)
    time = 570.0 + 0.04 * np.arange(1501)
    beat = np.sin(2.0 * np.pi * (time - 600.0) / 5.0)
    pulse = np.exp(-(((time - 600.0) / 0.3) ** 2))
    share = 0.3 + 0.2 * beat - 0.62 * pulse
    strips = np.arange(foil.strips)
    load = (0.4 + 0.3 * beat - 1.2 * pulse)[:, None] * np.exp(-(((strips - 14.0) / 6.0) ** 2)) * 4000.0
    single = np.float32
    return {
        "time_minute": (("time_minute",), time),
        "kept_sea": ((), np.int32(0)),
        "kept_realisation": ((), np.int32(0)),
        "bending_moment": (
            ("time_minute", "place"),
            (share[:, None] * geometry.normal_limit[:places]).astype(single),
        ),
        "strip_force": (("time_minute", "strip"), load.astype(single)),
        "strip_wet": (("time_minute", "strip"), np.ones_like(load, dtype=single)),
        "wave_elevation": (("time_minute",), (2.0 * np.sin(2.0 * np.pi * time / 6.3)).astype(single)),
        "heave": (("time_minute",), (1.5 * np.sin(2.0 * np.pi * time / 6.3 - 0.3) + 0.3).astype(single)),
        "pitch": (("time_minute",), (0.06 * beat).astype(single)),
        "roll": (("time_minute",), (0.03 * beat).astype(single)),
        "speed": (("time_minute",), (10.3 + 0.8 * np.sin(2.0 * np.pi * time / 13.0)).astype(single)),
        "hold_down_load": (("time_minute",), (22000.0 + 9000.0 * beat).astype(single)),
        "tip_depth": (("time_minute",), (1.0 + 0.5 * beat).astype(single)),
        "hull_lift": (("time_minute",), (50000.0 + 20000.0 * beat).astype(single)),
    }


GUST = {
    "gust_leaps": 0.0,
    "gust_hull_lift_min_calm": 20000.0,
    "gust_hull_lift_min_sea": 100.0,
    "gust_tip_depth_min_calm": 0.7,
    "gust_tip_depth_min_sea": -0.2,
    "gust_reverse_share_calm": -0.1,
    "gust_reverse_share_sea": 0.4,
    "gust_normal_share_calm": 0.5,
    "gust_normal_share_sea": 1.1,
}


def invented_run(study=None, *, realisations=9, series=True, **record):
    """Dataset of an invented run."""
    study = study or invented_study()
    setting = study.settings[0]
    cases = {
        (0, sea, r): invented_record(study, setting, r, **record)
        for sea in range(len(study.seas))
        for r in range(realisations)
    }
    gusts = {(0, sea): GUST for sea in range(len(study.seas))}
    kept = partial(invented_series, study, setting) if series else dict
    return assemble_dataset(study, cases, verb="run", gusts=gusts, kept=kept)


def invented_seas(study, heights=(2.5, 3.5, 4.5), angles_deg=(45.0, 90.0)):
    """A grid of seas: the first sea of the study with other heights and angles."""
    first = study.seas[0]
    seas = []
    for height in heights:
        for angle in angles_deg:
            systems = tuple(
                replace(s, density=s.density * (height / first.hs) ** 2, direction=np.pi - np.radians(angle))
                for s in first.systems
            )
            seas.append(replace(first, name=f"Hs {height:g} from {angle:g}", systems=systems, hs=height))
    return tuple(seas)


def invented_severity(setting, sea):
    """How hard an invented case is: more with height, speed, extension and waves abeam, least rake in the middle."""
    rake, abeam = np.degrees(setting.rake) - 2.5, 1.0 - 0.05 * np.cos(2.0 * sea.systems[0].direction)
    harder = (setting.speed / 10.3) ** 0.5 * (0.6 + 0.4 * setting.extension) * (1 + 0.03 * rake**2)
    return 0.9 * (sea.hs / 4.5) * harder * abeam


def invented_sweep(study=None, *, realisations=1, ended=()):
    """Dataset of an invented sweep; pairs (setting, sea) in `ended` have one case that left the validity."""
    if study is None:
        study = invented_study("quick-look")
        study = replace(study, seas=invented_seas(study), settings=invented_settings(study.settings[0]))
    cases = {
        (i, j, r): invented_record(
            study, setting, r,
            severity=invented_severity(setting, sea), status=2 if (i, j) in ended and r == 0 else 0,
            reverse_events=int(invented_severity(setting, sea) > 0.85),
        )
        for i, setting in enumerate(study.settings)
        for j, sea in enumerate(study.seas)
        for r in range(realisations)
    }  # fmt: skip
    return assemble_dataset(study, cases, verb="sweep", further=invented_decisions(study, set(ended)))


def invented_settings(first):
    """Extensions, rakes and speeds around a setting."""
    return tuple(
        replace(first, extension=e, rake=np.radians(r), speed=v * 1852.0 / 3600.0, attainable=False)
        for e in (0.7, 0.8, 0.9)
        for r in (1.0, 2.0, 4.0)
        for v in (18.0, 20.0)
    )


DURATIONS = 3600.0 * np.array([0.1, 1.0, 3.0, 12.0, 240.0])  # [s]


def invented_decisions(study, ended):
    """Smooth made-up rates with their bounds, decisions, suggestions, moves and readings by vocabulary
    name."""
    pair, shape = ("setting", "sea"), (len(study.settings), len(study.seas))
    severity = np.array([[invented_severity(s, sea) for sea in study.seas] for s in study.settings])
    speed = np.array([s.speed for s in study.settings])
    parts = {}
    exposure = study.risk.exposure
    for side, shift in (("reverse", 0.0), ("normal", 1.5)):
        rate = 4e-5 * np.exp(14.0 * (severity - 0.75) - shift)
        for end, factor in (("", 1.0), ("_low", 0.4), ("_high", 2.5)):
            parts[f"{side}_event_rate_joined{end}"] = (pair, rate * factor)
        for end, factor in (("", 1.0), ("_low", 0.25), ("_high", 4.0)):
            parts[f"{side}_odds_all_told{end}"] = (pair, -np.expm1(-rate * factor * exposure))
            slower = (DURATIONS / exposure) ** 0.7 * exposure  # [s] all told, odds grow slower than those of one rate
            parts[f"{side}_odds_in_duration{end}"] = (
                (*pair, "duration"), -np.expm1(-rate[..., None] * factor * slower)
            )  # fmt: skip
        for name, passed in (("median", np.log(2.0)), ("one_in_twenty", -np.log(0.95))):
            worst = 1.0 + TAIL * np.log(rate * exposure / passed)  # the load that this many a spell pass
            for end, off in (("", 0.0), ("_low", -0.03), ("_high", 0.05)):
                parts[f"{side}_worst_{name}{end}"] = (pair, worst + off)
        parts[f"{side}_worst_place"] = (pair, np.full(shape, 2.0))
    bound = np.maximum(parts["reverse_odds_all_told_high"][1], parts["normal_odds_all_told_high"][1])
    least = np.maximum(parts["reverse_odds_all_told_low"][1], parts["normal_odds_all_told_low"][1])
    code = np.where(bound < study.risk.reverse_odds, 1, np.where(least > study.risk.reverse_odds, 2, 0))
    for at in ended:
        code[at] = 3
    parts["duration"] = (("duration",), DURATIONS)
    parts["decision"] = (pair, code.astype(np.int8))
    rank = np.where(code == 1, speed[:, None] - 1e-3 * bound, -1.0)
    chosen = np.where(rank.max(axis=0) > 0.0, rank.argmax(axis=0), -1).astype(np.int32)
    parts["chosen_setting"] = (("sea",), chosen)
    parts["least_bad_setting"] = (("sea",), np.where(code == 3, 9.0, bound).argmin(axis=0).astype(np.int32))
    parts["chosen"] = (pair, (np.arange(shape[0])[:, None] == chosen).astype(np.int8))
    reasons = np.where(chosen >= 0, "fastest within the levels", "none is within the levels")
    parts["choice_reason"] = (("sea",), reasons.astype(object))
    parts["sea_to_decide"] = (pair, np.full(shape, 5.0 * 3600.0))
    parts["bears_hs"] = (("sea",), np.array([sea.hs * 1.1 for sea in study.seas]))
    parts["bears_tp_least"] = (("sea",), np.array([sea.tp * 0.9 for sea in study.seas]))
    parts["bears_tp_most"] = (("sea",), np.array([sea.tp * 1.2 for sea in study.seas]))
    parts["bears_angle_least"] = (("sea",), np.full(shape[1], np.radians(30.0)))
    parts["bears_angle_most"] = (("sea",), np.full(shape[1], np.radians(60.0)))
    parts["bears_ended"] = (("sea",), np.array(["higher", *[""] * (shape[1] - 1)], dtype=object))
    parts["measure_first"] = (("sea",), np.array(["rake_zero"] * shape[1], dtype=object))
    parts.update(invented_moves(study))
    parts.update(invented_neighbours(chosen))
    parts.update(invented_readings(study))
    return parts


FACTORS = {
    "ease_sheets": 0.4, "bear_away": 1.3, "rake less": 1.0, "rake more": 0.8, "cant less": 0.9, "extension less": 0.6,
    "reef": 0.35,
}  # fmt: skip
GAINED = {"ease_sheets": -1.03, "rake more": 0.05, "cant less": -0.1, "extension less": -0.2, "reef": -1.03}  # [m/s]


def invented_moves(study):
    """Ways of backing off as the boat file states them, made-up in what they do; the rest out of reach."""
    order, seas = ways_of(study.boat), len(study.seas)
    factors = np.array([FACTORS.get(way.name, np.nan) for _, way in order])
    there = np.where(np.isfinite(factors), 1.0, np.nan)
    row = lambda values: (("sea", "move"), np.tile(np.array(values, dtype=float), (seas, 1)))  # noqa: E731
    possible = [0.0 if way.name == "extension less" else 1.0 for _, way in order]
    return {
        **stated_moves(order),
        "move": (("move",), np.arange(len(order), dtype=np.int32)),
        "move_possible": row(there * possible),
        "move_valid": row(there),
        "move_factor_reverse": row(factors),
        "move_factor_normal": row(factors),
        "move_reverse_odds": row(0.01 * factors),
        **{f"move_worst_change_{side}{end}": row(0.2 * (factors - 1.0) + off)
           for side in ("reverse", "normal") for end, off in (("", 0.0), ("_low", -0.02), ("_high", 0.02))},
        "move_odds_during": row(there * [1e-6 * move.time for move, _ in order]),
        "move_speed_change": row(there * [GAINED.get(way.name, 0.0) for _, way in order]),
    }


def invented_neighbours(chosen):
    """Made-up tolerances: rake one way adds four points to the reverse load and takes two off the normal one."""
    names = ("rake less", "rake more")
    there = np.where(chosen >= 0, 1.0, np.nan)[:, None]
    row = lambda values: (("sea", "neighbour"), there * np.array(values))  # noqa: E731
    parts = {
        "neighbour": (("neighbour",), np.arange(len(names), dtype=np.int32)),
        "neighbour_name": (("neighbour",), np.array(names, dtype=object)),
    }
    for side, change in (("reverse", 0.04), ("normal", -0.02)):
        for end, off in (("", 0.0), ("_low", -0.01), ("_high", 0.01)):
            parts[f"neighbour_worst_change_{side}{end}"] = row([change + off, -change + off])
            parts[f"neighbour_factor_{side}{end}"] = row([1.5, 0.7])
    return parts


def invented_readings(study):
    """Made-up display readings: the first station silent, the trigger on the third."""
    places, seas = 1 + len(study.boat.foils[study.foil_side].stations), len(study.seas)
    row = lambda values: (("sea", "place"), np.tile(np.array(values, dtype=float), (seas, 1)))  # noqa: E731
    one = lambda value: (("sea",), np.full(seas, float(value)))  # noqa: E731
    parts = {
        "display_mean": row(np.linspace(0.3, 0.1, places)),
        "display_silent": row([0.0, 1.0] + [0.0] * (places - 2)),
    }
    for which, level in (("lowest", -0.05), ("highest", 0.6)):
        for end, shift in (("", 0.0), ("_low", -0.04), ("_high", 0.04)):
            parts[f"display_{which}{end}"] = row(np.full(places, level + shift))
    single = {
        "place": 3,
        "side": -1,
        "times": 2,
        "window": 1200.0,
        "threshold": -0.12,
        "span": 1200.0,
        "false_alarm": 0.05,
        "false_alarm_high": 0.13,
        "missed_alarm": 0.3,
        "missed_alarm_high": 0.44,
        "delay": 1740.0,
        "next_event_rate": 1e-5,
        "next_event_rate_high": 4e-5,
    }
    parts.update({f"trigger_{name}": one(value) for name, value in single.items()})
    parts["trigger_worse_hs"], parts["display_window"] = one(4.4), ((), 300.0)
    parts["display_attenuation"] = row([1.0, np.nan, 0.4] + [0.9] * (places - 3))
    return parts

"""The only maker of Datasets: a study and its finished cases become one labelled result, attributes from
the vocabulary.
"""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.records import STATUS_NAMES
from seaload.basis.vocabulary import attributes
from seaload.boat.heeling import heeled
from seaload.boat.slamming import slam_speed
from seaload.evidence.added_resistance import added_resistance
from seaload.evidence.places import block_extremes
from seaload.evidence.pool_records import (
    pooled_boat,
    pooled_grid,
    pooled_loads,
    pooled_motions,
    pooled_span,
    time_weights,
)
from seaload.evidence.rate_intervals import (
    damage_rates,
    event_rates,
    place_rates,
    with_bounds,
    worst_wear_rate,
)
from seaload.evidence.verdict import DECISION_NAMES
from seaload.fatigue.cycle_bins import MEAN_BINS, MEAN_LOW, MEAN_WIDTH, RANGE_BINS, RANGE_WIDTH
from seaload.foil.geometry import material_grid
from seaload.foil.load_cause import CAUSES
from seaload.result.birth_record import birth_record
from seaload.result.event_parts import event_parts
from seaload.result.sea_spectra import asked_spectrum, frequency_bands, mean_from_bow, realised_spectrum
from seaload.simulation.count_motion import WATCHED
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import lane_centre
from seaload.simulation.prepare_foil import geometry_of

NOT_SAILED = -1
FLAGS = {"damage_one_holds_most", "damage_too_few", "rates_at_least", "gust_leaps"}
PLACE = ("setting", "sea", "place")
ALONG = {"grid": "material", "acceleration": "boat_place", "shear": "strip_edge", "torsion": "strip_edge"}
SETTING_SEA, EACH = ("setting", "sea"), ("setting", "sea", "realisation")
MOST_BLOCK_VALUES = 2_000_000  # block extremes of a larger study stay in its case store
EACH_FIELDS = {
    "duration": "duration",
    "stopped_at": "stopped_at",
    "reverse_events": "events_full",
    "reverse_events_half": "events_half",
    "normal_events": "normal_events",
    "deepest_reverse_time": "deepest_reverse_time",
}


def assemble_dataset(
    study, cases, *, verb, settings=None, gusts=None, kept=dict, missing=(), further=None, named_model=None
):
    """The result of a study as an xarray Dataset.

    cases : {(setting, sea, realisation) numbers: CaseRecord}, at least one; a pair of setting and sea
        without any is "not sailed". settings : {(setting, sea): Setting} as sailed where they differ from
        the study's (attainable speed). gusts : {(setting, sea): {name: value}}. further : {name: (dims,
        values)} of whatever a study has to add. kept : function giving the same of kept series, called when
        all else is there; what it cannot give is in `missing` afterwards. named_model : choices of the physics in
        place of the study's.
    """
    model = study.model if named_model is None else named_model
    parts = {}
    parts.update(axes(study, cases))
    parts.update(setting_parts(study, settings or {}, model))
    parts.update(sea_parts(study, cases, model))
    parts.update(case_parts(study, cases))
    parts.update(event_parts(study, cases))
    parts.update(pooled_parts(study, cases, settings or {}, model))
    parts.update(table_of(study, gusts or {}))
    parts.update(further or {})
    parts.update(kept())
    return finished(parts, birth_record(study, verb, missing))


def finished(parts, birth):
    """Dataset of {name: (dims, values)} with every attribute from the vocabulary; a third entry goes before those."""
    import xarray as xr

    data, content = {}, "physicalMeasurement" if birth["kind"] == "log" else "modelResult"  # words of ISO 19115-1
    for name in sorted(parts):
        dims, values, *own = parts[name]
        attrs = {**attributes(name), "coverage_content_type": content, **dict(*own)}
        if name == "status" and not own:  # of cases; points of a library have their own
            codes = [NOT_SAILED, *STATUS_NAMES]
            attrs["flag_values"] = np.array(codes, dtype=np.int8)
            attrs["flag_meanings"] = " ".join(["not_sailed", *STATUS_NAMES.values()])
        if name in ("decision", "decision_sampling"):
            attrs["flag_values"] = np.arange(-1, len(DECISION_NAMES), dtype=np.int8)
            attrs["flag_meanings"] = " ".join(["not_sailed", *DECISION_NAMES])
        if name == "event_cause":
            attrs["flag_values"] = np.arange(len(CAUSES), dtype=np.int8)
            attrs["flag_meanings"] = " ".join(cause.replace(" ", "_") for cause in CAUSES)
        if name in ("range_bin", "mean_bin"):
            attrs["bounds"] = f"{name}_bounds"
        data[name] = xr.Variable(dims, values, attrs)
    coordinates = {name: data.pop(name) for name in list(data) if data[name].dims == (name,)}
    named = ("sea", "uncertain", "move", "neighbour", "other_sea", "boat_place", "prescribed")
    labels = ("station", *(f"{name}_name" for name in named))
    coordinates.update({name: data.pop(name) for name in labels if name in data})
    return xr.Dataset(data, coords=coordinates, attrs=birth)


def axes(study, cases):
    """Coordinates of every dimension."""
    foil = study.boat.foils[study.foil_side]
    places = 1 + len(foil.stations)
    block = next(iter(cases.values()))
    ranges = RANGE_WIDTH * np.arange(RANGE_BINS + 1)
    means = MEAN_LOW + MEAN_WIDTH * np.arange(MEAN_BINS + 1)
    number = lambda count: np.arange(count, dtype=np.int32)  # noqa: E731
    return {
        "setting": (("setting",), number(len(study.settings))),
        "sea": (("sea",), number(len(study.seas))),
        "realisation": (("realisation",), number(1 + max(r for _, _, r in cases))),
        "place": (("place",), number(places)),
        "station": (("place",), number(places)),
        "range_bin": (("range_bin",), 0.5 * (ranges[1:] + ranges[:-1])),
        "range_bin_bounds": (("range_bin", "edge"), np.stack([ranges[:-1], ranges[1:]], axis=1)),
        "mean_bin": (("mean_bin",), 0.5 * (means[1:] + means[:-1])),
        "mean_bin_bounds": (("mean_bin", "edge"), np.stack([means[:-1], means[1:]], axis=1)),
        "material": (("material",), material_grid(foil)),
        "block": (("block",), block.block_time * np.arange(len(block.block_worst_reverse))),
        "frequency": (("frequency",), frequency_bands()),
        "strip": (("strip",), number(foil.strips)),
        "strip_edge": (("strip_edge",), number(foil.strips + 1)),
        "exposure_time": ((), float(study.risk.exposure)),
        "gust_strength": ((), float(study.gust.strength)),
        **boat_places(study.boat),
    }


def boat_places(boat):
    """Where accelerations are told, and the speed of a slam."""
    ahead = (boat.hull.length, boat.mast_from_transom, boat.cockpit_from_transom)
    return {
        "boat_place": (("boat_place",), np.arange(len(WATCHED), dtype=np.int32)),
        "boat_place_name": (("boat_place",), np.array(WATCHED, dtype=object)),
        "boat_place_from_transom": (("boat_place",), np.array(ahead)),
        "slam_speed": ((), slam_speed(boat.hull.waterline_length, STANDARD_GRAVITY)),
    }


def geometries(study, model):
    """{extension: FoilGeometry} of every setting."""
    foil, factors = study.boat.foils[study.foil_side], model_factors(model)
    return {e: geometry_of(foil, e, factors) for e in {s.extension for s in study.settings}}


def setting_parts(study, sailed, model):
    """Settings, where their places are, and the limits there."""
    foil, found = study.boat.foils[study.foil_side], geometries(study, model)
    places = 1 + len(foil.stations)
    parts = {
        name: (("setting",), np.array([float(getattr(setting, name)) for setting in study.settings]))
        for name in ("extension", "rake", "heel", "cant", "ballast_shift", "ballast_mass")
    }
    parts["attainable"] = (
        ("setting",),
        np.array([setting.attainable for setting in study.settings], dtype=np.int8),
    )
    pairs = [[(i, j) for j in range(len(study.seas))] for i in range(len(study.settings))]
    speed = lambda pair: sailed.get(pair, study.settings[pair[0]]).speed  # noqa: E731
    parts["speed_set"] = (
        SETTING_SEA,
        np.array([[speed(pair) for pair in row] for row in pairs], dtype=float),
    )
    by_setting = [found[setting.extension] for setting in study.settings]
    inside = np.array([g.channel_s < g.bearing - 1e-9 for g in by_setting], dtype=np.int8)
    normal, reverse = (
        np.array([getattr(g, n) for g in by_setting]) for n in ("normal_limit", "reverse_limit")
    )
    material = np.array([g.channel_s for g in by_setting])
    for name, values in (("place_material", material), ("place_inside", inside),
                         ("normal_limit", normal), ("reverse_limit", reverse)):  # fmt: skip
        parts[name] = (("setting", "place"), values[:, :places])
    for name, values in (("material_inside", inside), ("grid_normal_limit", normal),
                         ("grid_reverse_limit", reverse)):  # fmt: skip
        parts[name] = (("setting", "material"), values[:, places:])
    edges = [foil_edges(study.boat, foil, s, found[s.extension]) for s in study.settings]
    parts["foil_edge_lateral"] = (("setting", "strip_edge"), np.array([y for y, _ in edges]))
    parts["foil_edge_height"] = (("setting", "strip_edge"), np.array([z for _, z in edges]))
    return parts


def foil_edges(boat, foil, setting, geometry):
    """(lateral, height) [m] of the strip edges from the centre of gravity at the mean heel."""
    _, centre_y, centre_z = lane_centre(boat, setting)
    s = geometry.strips
    return heeled(foil.exit_y + s.y_edge - centre_y, foil.exit_z + s.z_edge - centre_z, setting.heel)


def sea_parts(study, cases, model):
    """Seas as asked for and as realised."""
    column = lambda values, kind=float: (("sea",), np.array(values, dtype=kind))  # noqa: E731
    count = 1 + max(r for _, _, r in cases)
    realised = [realised_spectrum(sea, study.sampling, count, model) for sea in study.seas]
    heights = np.full((len(study.seas), count), np.nan)
    for row, (_, hs) in zip(heights, realised, strict=True):
        row[: len(hs)] = hs
    return {
        "sea_name": (("sea",), np.array([sea.name for sea in study.seas], dtype=object)),
        "sea_hs": column([sea.hs for sea in study.seas]),
        "sea_tp": column([sea.tp for sea in study.seas]),
        "sea_steep": column([sea.steep for sea in study.seas], np.int8),
        "waves_from_bow": column([mean_from_bow(sea) for sea in study.seas]),
        "true_wind_speed": column([sea.true_wind_speed for sea in study.seas]),
        "true_wind_angle": column([sea.true_wind_angle for sea in study.seas]),
        "gustiness": column([sea.gustiness * model_factors(model)["gusts"] for sea in study.seas]),
        "spectrum_asked": (("sea", "frequency"), np.array([asked_spectrum(sea) for sea in study.seas])),
        "spectrum_realised": (("sea", "frequency"), np.array([density for density, _ in realised])),
        "hs_realised": (("sea", "realisation"), heights),
    }


def case_parts(study, cases):
    """What each single realisation left behind."""
    shape = (len(study.settings), len(study.seas), 1 + max(r for _, _, r in cases))
    first = next(iter(cases.values()))
    blocks = len(first.block_worst_reverse)
    status = np.full(shape, NOT_SAILED, dtype=np.int8)
    numbers = {name: np.full(shape, np.nan) for name in EACH_FIELDS}
    damage = np.full((*shape, len(first.damage)), np.nan)
    keep_blocks = int(np.prod(shape)) * blocks <= MOST_BLOCK_VALUES
    extremes = {
        name: np.full((*shape, blocks), np.nan) for name in ("block_worst_reverse", "block_worst_normal")
    }
    for key in sorted(cases):
        record = cases[key]
        status[key] = record.status
        damage[key] = record.damage
        for name, field in EACH_FIELDS.items():
            numbers[name][key] = getattr(record, field)
        if keep_blocks:
            for name, values in extremes.items():
                values[key] = block_extremes([record], name)[0]
    parts = {"status": (EACH, status), "damage": ((*EACH, "place"), damage)}
    parts.update({name: (EACH, values) for name, values in numbers.items()})
    if keep_blocks:
        parts.update(
            {name: ((*EACH, "block"), values.astype(np.float32)) for name, values in extremes.items()}
        )
    return parts


def pooled_parts(study, cases, sailed, model):
    """Rates, odds, loads and boat numbers of every setting in every sea."""
    foil, found = study.boat.foils[study.foil_side], geometries(study, model)
    places = 1 + len(foil.stations)
    groups = {}
    for key in sorted(cases):
        groups.setdefault(key[:2], []).append(cases[key])
    rows = {}
    for pair, records in groups.items():
        g = found[sailed.get(pair, study.settings[pair[0]]).extension]
        total, boat = time_weights(records)[1], pooled_boat(records)
        rows[pair] = {
            **pooled_loads(records, g.normal_limit[:places], g.reverse_limit[:places]),
            **pooled_grid(records, g.normal_limit[places:], g.reverse_limit[places:]),
            **boat,
            **pooled_motions(records),
            **pooled_span(records),
            **added_resistance(records),
            "hold_down_share_max": boat["hold_down_load_max"] / foil.line_breaking_load,
            **place_rates(records, total),
            **damage_rates(records, total),
            **with_bounds("damage_rate_worst", *worst_wear_rate(records, total)),
            **event_rates(records, total, study.risk.exposure),
            "duration_total": total,
            "realisations_sailed": float(len(records)),
        }
    return table_of(study, rows)


def table_of(study, rows):
    """{name: (dims, values)} from {(setting, sea): {name: value}}; what is missing is nan, or -1 in a
    flag.
    """
    parts = {}
    for name in sorted({name for row in rows.values() for name in row}):
        shape = np.shape(next(row[name] for row in rows.values() if name in row))
        values = np.full((len(study.settings), len(study.seas), *shape), np.nan)
        for pair, row in rows.items():
            if name in row:
                values[pair] = row[name]
        dims = SETTING_SEA
        if shape:
            dims = (*SETTING_SEA, ALONG.get(name.partition("_")[0], "place"))
        if len(shape) == 3:
            dims = (*PLACE, "range_bin", "mean_bin")
        if name in FLAGS:
            values = np.where(np.isnan(values), NOT_SAILED, values).astype(np.int8)
        parts[name] = (dims, values)
    return parts

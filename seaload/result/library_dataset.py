"""The library of a boat as a Dataset, and back again; what cannot be one is refused in a line."""

import json

import numpy as np

from seaload.basis.cautions import CAUTIONS, NOT_MODELLED
from seaload.basis.errors import InputError
from seaload.deciding.library.channels import ACCELERATIONS, EXTREMES, GAUGES, QUANTILES, WATCHED
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.effects import EFFECTS, UNCERTAIN
from seaload.deciding.library.emulator import Emulator, quantities
from seaload.deciding.library.held_out import BANDS, held_out
from seaload.deciding.library.load_at_rate import LEVELS, RATES
from seaload.deciding.library.load_curves import names_of
from seaload.deciding.library.point import STATUS_WORDS, unreachable_point
from seaload.deciding.library.shelf import HASHES, WAVES, Shelf
from seaload.deciding.library.surfaces import KINDS, Recipe
from seaload.deciding.library.tail_of_point import no_tail
from seaload.evidence.rate_intervals import with_bounds
from seaload.evidence.verdict import SIDES
from seaload.result.assemble_dataset import finished
from seaload.result.birth_record import made_by, plain_json

KIND = "library"
NOTES = (
    "rates given the inputs, never odds: forecast, model and strength are taken as they are stated",
    "points of one wave_name, wave_seed and wave_first met the same waves",
    "between points everything is told by surfaces through them, with its error; nothing is told outside the points",
)
OF_SIDES = ("worst_place", "load_mean", *no_tail())
FLAT = ("speed_attainable",)  # of a point beside its coordinates, its waves and what its cases leave


def dims_of(name):
    """Dimensions of a column."""
    stem = name.removesuffix("_error")
    if stem == "place_load_at_rate":
        return "point", "place", "side", "rate"
    if stem == "load_at_rate":
        return "point", "side", "rate"
    if stem == "log_rate":
        return "point", "side", "level"
    if stem in EFFECTS:
        return ("point", "side", "uncertain")[:: 2 if stem == "wear_effect" else 1]
    if stem in EXTREMES:
        return "point", "place", "side", "quantile"
    if stem in GAUGES:
        return "point", "place"
    if stem in ACCELERATIONS:
        return "point", "boat_place"
    return ("point", "side") if stem in OF_SIDES else ("point",)


def library_dataset(shelf, boat):
    """The Dataset of a `Shelf` of one `boat`, a pair of its name and its foil's side."""
    places = shelf.columns["place_load_at_rate"].shape[1]
    parts = {name: (dims_of(name), column) for name, column in shelf.columns.items()}
    parts["status"] += ({"flag_values": np.arange(len(STATUS_WORDS), dtype=np.int32),
                         "flag_meanings": " ".join(STATUS_WORDS)},)  # fmt: skip
    parts |= {
        "point": (("point",), np.arange(len(shelf), dtype=np.int32)),
        "place": (("place",), np.arange(places, dtype=np.int32)),
        "boat_place": (("boat_place",), np.arange(WATCHED, dtype=np.int32)),
        "side": (("side",), np.array(SIDES, dtype=object)),
        "rate": (("rate",), RATES),
        "level": (("level",), LEVELS),
        "quantile": (("quantile",), QUANTILES),
        "uncertain": (("uncertain",), np.arange(len(UNCERTAIN), dtype=np.int32)),
        "uncertain_name": (("uncertain",), np.array(UNCERTAIN, dtype=object)),
        "load_effect": (("point", "side", "uncertain"), load_effects(shelf.columns)),
    }
    return finished({**parts, **held_out_parts(shelf)}, birth_of(shelf, boat))


def load_effects(columns):
    """What one of each uncertain input's number does to the load that comes as often as the limit, at the points,
    (n, sides, names) [share of the limit].
    """
    return columns["load_shift"] + columns["load_growth"] * (1.0 - columns["load_mean"][:, :, None])


def held_out_parts(shelf):
    """{name: (dims, values)} of how well the library tells seas left out; none before its surfaces are drawn."""
    if not all(name in shelf.surfaces for side in SIDES for name in names_of(side)):
        return {}
    rates, margins = held_out(Emulator(shelf))
    both = ("side", "rate_band")
    table = lambda name, kind: np.array(  # noqa: E731
        [[getattr(rates[side, band], name) for band in range(len(BANDS))] for side in SIDES], dtype=kind
    )
    return {
        "rate_band": (("rate_band",), np.arange(len(BANDS), dtype=np.int32)),
        "rate_band_low": (("rate_band",), np.array([low for low, _ in BANDS])),
        "rate_band_high": (("rate_band",), np.array([high for _, high in BANDS])),
        "held_out_points": (both, table("points", np.int32)),
        "held_out_error": (both, table("error", float)),
        "held_out_own": (both, table("own", float)),
        "held_out_inside": (both, table("inside", float)),
        "held_out_margin_points": (("side",), np.array([margins[side].points for side in SIDES], dtype=np.int32)),
        "held_out_margin_error": (("side",), np.array([margins[side].error for side in SIDES])),
    }


def birth_of(shelf, boat):
    """Attributes of a library, text only."""
    name, foil = boat
    return {
        **made_by(),
        "title": f"{name}: what her foil meets in any sea",
        "summary": "Rates of load past each level of the limits, wear and speed of one boat and foil, by setting and "
        "sea: points simulated once, surfaces between them.",
        "boat": name,
        "foil": foil,
        "kind": KIND,
        **{f"{part}_hash": shelf.made_for[part] for part in HASHES},
        "surfaces": plain_json({name: recipe._asdict() for name, recipe in shelf.surfaces.items()}),
        "cautions": "\n".join(CAUTIONS),
        "not_modelled": NOT_MODELLED,
        "notes": "\n".join(NOTES),
    }


def shelf_of(dataset, file):
    """`Shelf` of a Dataset that was read from a `file` (name); InputError, one line, where it is no whole library."""
    if dataset.attrs.get("kind") != KIND:
        found = str(dataset.attrs.get("kind"))[:40]
        raise InputError(file, "library", found, "this is another kind of result; a library is filled by seaload sweep")
    try:
        columns = columns_of(dataset)
        made_for = {part: str(dataset.attrs[f"{part}_hash"]) for part in HASHES}
        return Shelf(made_for, columns, recipes_in(dataset.attrs["surfaces"]))
    except (LookupError, TypeError, ValueError) as error:
        why = " ".join(str(error).split())[:100]
        allowed = f"damaged, or made by another version ({why}): move it aside, and a new one is begun"
        raise InputError(file, "library", file, allowed) from None


def columns_of(dataset):
    """{name: (points, ...)} of a Dataset; LookupError, TypeError or ValueError where it does not hold them."""
    for name, known in (("rate", RATES), ("level", LEVELS), ("quantile", QUANTILES)):
        if not np.array_equal(dataset[name].values, known):
            raise ValueError(f"other values of {name}")
    if tuple(dataset["side"].values.tolist()) != SIDES:
        raise ValueError("other values of side")
    if tuple(dataset["uncertain_name"].values.tolist()) != UNCERTAIN:
        raise ValueError("other uncertain inputs")
    like = unreachable_point(dataset.sizes["place"])
    kinds = {name: value.dtype for name, value in like.items()} | dict.fromkeys((*NAMES, *FLAT), np.dtype(float))
    kinds |= dict.fromkeys(WAVES, np.dtype(np.int64))
    found = {}
    for name, kind in kinds.items():
        variable = dataset[name]
        if variable.dims != dims_of(name) or variable.dtype != kind:
            raise ValueError(f"{name} is of another shape or kind")
        found[name] = variable.values
    if not all(np.all(np.isfinite(found[name]) | (name == "spreading")) for name in NAMES):
        raise ValueError("a point lies nowhere")
    if not np.all(np.isin(found["status"], range(len(STATUS_WORDS)))):
        raise ValueError("unknown status")
    return found


def recipes_in(text):
    """{quantity: Recipe} of the attribute `surfaces`; ValueError or LookupError where it is none."""
    tree = json.loads(text)
    if not isinstance(tree, dict) or not set(tree) <= set(quantities()):
        raise ValueError("unknown surfaces")
    found = {}
    for name, fields in tree.items():
        recipe = Recipe(**{**fields, "lengths": tuple(map(float, fields["lengths"]))})
        numbers = [*recipe.lengths, *recipe[2:]]
        if recipe.kind not in KINDS or not all(isinstance(n, float) and np.isfinite(n) for n in numbers):
            raise ValueError(f"surface of {name}")
        if not all(length > 0.0 for length in recipe.lengths) or not 0.0 <= recipe.common < 1.0:
            raise ValueError(f"surface of {name}")
        found[name] = recipe
    return found


def answer_dataset(answer, place, rates, file):
    """The Dataset of an `Answer` at a `place` {coordinate: value [SI]} by the library `file` (name).

    rates : {side: [(ln(rate), standard error) of passing each of LEVELS]}.
    """
    sides = [answer.sides[side] for side in SIDES]
    both = np.array([rates[side] for side in SIDES])
    parts = {name: ((), value) for name, value in place.items()}
    parts |= {
        "side": (("side",), np.array(SIDES, dtype=object)),
        "rate": (("rate",), RATES),
        "level": (("level",), LEVELS),
        "load_at_rate": (("side", "rate"), np.array([side.load for side in sides])),
        "load_at_rate_error": (("side", "rate"), np.array([side.load_error for side in sides])),
        "load_mean": (("side",), np.array([side.mean for side in sides])),
        "log_rate": (("side", "level"), both[:, :, 0]),
        "log_rate_error": (("side", "level"), both[:, :, 1]),
        "log_wear": ((), answer.wear),
        "log_wear_error": ((), answer.wear_error),
        "speed_mean": ((), answer.speed),
        "speed_attainable": ((), answer.speed_attainable),
        "speed_attainable_in_sea": ((), answer.speed_attainable_in_sea[0]),
        "speed_attainable_in_sea_error": ((), answer.speed_attainable_in_sea[1]),
        "rates_at_least": ((), np.int8(not answer.shown)),
    }
    return finished(parts, {"kind": KIND, "title": f"an answer of {file}", "notes": "\n".join(NOTES)})


def channel_dataset(told, place, file):
    """The Dataset of {name of a channel: (value, standard error)} at a `place` {coordinate: value [SI]}, by the library
    `file` (name).
    """
    parts = {name: ((), value) for name, value in place.items()}
    if any(name in EXTREMES for name in told):
        parts |= {"side": (("side",), np.array(SIDES, dtype=object)), "quantile": (("quantile",), QUANTILES)}
    for name, (value, error) in told.items():
        parts[name], parts[f"{name}_error"] = (dims_of(name)[1:], value), (dims_of(name)[1:], error)
    return finished(parts, {"kind": KIND, "title": f"channels by {file}", "notes": "\n".join(NOTES)})


def odds_dataset(told, place, risk, file):
    """The Dataset of what `told_odds` tells at a `place` {coordinate: value [SI]} by the library `file` (name).

    risk : the crew's levels, with the exposure.
    """
    parts = {name: ((), value) for name, value in place.items()} | {"exposure_time": ((), risk.exposure)}
    for side in SIDES:
        rows = {f"{side}_odds": told.if_right[side], f"{side}_odds_all_told": told.odds[side]}
        rows |= {f"{side}_worst_{name}": values for name, values in told.worst[side].items()}
        for name, row in rows.items():
            parts |= {part: ((), float(value)) for part, value in with_bounds(name, *row).items()}
        parts[f"uncertain_effect_{side}"] = (("uncertain",), np.asarray(told.doubt.effects(side), dtype=float))
    borne, angle = told.borne, place["waves_from_bow"]
    parts |= {
        "decision": ((), np.int8(told.verdict.decision)),
        "bears_hs": ((), place["sea_hs"] * borne.hs_most),
        "bears_tp_least": ((), place["sea_tp"] * borne.tp_least),
        "bears_tp_most": ((), place["sea_tp"] * borne.tp_most),
        "bears_angle_least": ((), angle - borne.turn_most),
        "bears_angle_most": ((), angle - borne.turn_least),
        "uncertain": (("uncertain",), np.arange(len(told.doubt.names), dtype=np.int32)),
        "uncertain_name": (("uncertain",), np.array(told.doubt.names, dtype=object)),
        "uncertain_effect_wear": (("uncertain",), np.asarray(told.doubt.wears, dtype=float)),
        "uncertain_untold": ((), "; ".join((*told.doubt.untold, *edge_words(told.edges)))),
    }
    return finished(parts, {"kind": KIND, "title": f"odds by {file}", "cautions": "\n".join(CAUTIONS)})


def edge_words(edges):
    """Plain words, in a tuple, on ends of the sea borne where the library ends: more may be borne."""
    names = {"hs_most": "bears_hs", "tp_least": "bears_tp_least", "tp_most": "bears_tp_most",
             "turn_most": "bears_angle_least", "turn_least": "bears_angle_most"}  # fmt: skip
    known = [names[edge] for edge in edges if edge in names]
    return (f"the library ends there, more may be borne: {', '.join(known)}",) if known else ()

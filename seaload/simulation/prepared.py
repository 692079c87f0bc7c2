"""What the blocks of a process are prepared from, worked out once: settings in calm trim, lane by lane, and seas as
matrix rows.

A lane never looks at another, so one prepared in other company has the same bits: a block has the same bytes with and
without what is remembered here.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.exact_hash import hash_of, without
from seaload.basis.newest import Newest
from seaload.simulation.calm import CalmTrim, calm_trim
from seaload.simulation.layout import LANES, March, Reading
from seaload.simulation.prepare import carried_righting, march_arrays
from seaload.simulation.sea_table import sea_components, sea_shapes

# fields that no number of a march hangs on
BOAT_ASIDE = {
    "raw", "sensors", "logger", "moves", "tanks", "uncertain", "speed_table", "worked", "foils", "reference_setting",
}  # fmt: skip
FOIL_ASIDE = {"id"}
SEA_WIND = {"true_wind_speed", "true_wind_angle", "gustiness"}
SEA_ASIDE = {"notes", "hs", "tp", "steep", "forecast", *SEA_WIND}
SETTING_ASIDE = {"attainable"}
# numbers of the model that a calm trim does not hang on, and those that a sea at a boat does
OF_SEA = (
    "crest_factor", "hs_factor", "tp_factor", "heading_shift", "tail_factor", "wind_sea_factor", "hull_wave_factor",
)  # fmt: skip
SEA_ONLY = {"orbital", "random_amplitudes", "gusts", *OF_SEA}
MOST_LANES, MOST_SEAS = 1024, 160  # kept, the newest used: some 130 MB


class Lane(NamedTuple):
    """One setting in calm trim: entries of `March`, `Reading` and `CalmTrim` without their last axis, the lanes."""

    march: dict
    reading: dict
    trim: dict
    geometry: object  # FoilGeometry


def lanes_cut(march, reading, geometries, trim, count):
    """The first `count` lanes of a block, arrays of `march` and `reading` as in `layout`, as `Lane`s; `geometries` one
    a lane, `trim` its `CalmTrim`.
    """
    parts = march._asdict(), reading._asdict(), vars(trim)
    return [Lane(*({name: _cut(value, k) for name, value in part.items()} for part in parts), geometries[k])
            for k in range(count)]  # fmt: skip


def _cut(value, lane):
    """Lane number `lane` of a `value` [any unit]: of an array, whose last axis are the lanes; a number is the same for
    all.
    """
    return value[..., lane].copy() if isinstance(value, np.ndarray) else value


def side_by_side(lanes):
    """(`March`, `Reading`, geometries, `CalmTrim`) of a block of `lanes`."""
    march, reading, trim = ({name: _stacked([part[name] for part in parts]) for name in parts[0]}
                            for parts in zip(*(lane[:3] for lane in lanes), strict=True))  # fmt: skip
    return March(**march), Reading(**reading), [lane.geometry for lane in lanes], CalmTrim(**trim)


def _stacked(values):
    """The `values` of all lanes [any unit] as one array, the lanes last; a number is the same for all."""
    if isinstance(values[0], np.ndarray):
        return np.ascontiguousarray(np.stack(values, axis=-1))
    return values[0]


class Prepared:
    """Settings in calm trim and seas as matrix rows, the newest used of each remembered."""

    def __init__(self, most_lanes=MOST_LANES, most_seas=MOST_SEAS):
        """At most so many are kept: `most_lanes`, `most_seas` [-]."""
        self.lanes, self.seas = Newest(most_lanes), Newest(most_seas)

    def sea(self, boat, foil, sea, sampling, model, group=0):
        """(`Components`, `SeaShapes`) of a `sea` at a `boat` with a `foil`, of a `group` of realisations.

        They and `sampling` are scenario records, `model` {name: value} as `model_factors` gives it.
        """
        known_by = [
            without(boat, BOAT_ASIDE), without(foil, FOIL_ASIDE), without(sea, SEA_ASIDE), sampling.seed,
            sampling.components, group, [model[name] for name in OF_SEA],
        ]  # fmt: skip
        key = hash_of(known_by)
        found = self.seas.get(key)
        if found is None:
            components = sea_components(sea, sampling.seed, sampling.components, model, group)
            found = components, sea_shapes(boat, foil, components, model["hull_wave_factor"])
            self.seas.put(key, found)
        return found

    def block(self, boat, foil, settings, encounters, model):
        """(`March`, `Reading`, geometries, `CalmTrim`) of LANES `settings`, in calm trim.

        `boat`, `foil` scenario records; `encounters` [rad/s] one a lane; `model` {name: value} as `model_factors` gives
        it. What is not remembered is worked out side by side.
        """
        of_all = hash_of([
            without(boat, BOAT_ASIDE), without(foil, FOIL_ASIDE),
            {name: value for name, value in model.items() if name not in SEA_ONLY},
        ])  # fmt: skip
        asked = {
            hash_of([of_all, without(setting, SETTING_ASIDE), encounter]): (setting, encounter)
            for setting, encounter in dict.fromkeys(zip(settings, encounters, strict=True))
        }
        found = {key: self.lanes.get(key) for key in asked}
        missing = [key for key, lane in found.items() if lane is None]
        if missing:
            found.update(zip(missing, settled(boat, foil, [asked[key] for key in missing], model), strict=True))
            for key in missing:
                self.lanes.put(key, found[key])
        lanes = {pair: found[key] for key, pair in asked.items()}
        return side_by_side([lanes[pair] for pair in zip(settings, encounters, strict=True)])


def settled(boat, foil, pairs, model):
    """`Lane`s of at most LANES `pairs` (setting, encounter frequency [rad/s]) in calm trim.

    `boat`, `foil` scenario records, `model` {name: value} as `model_factors` gives it.
    """
    padded = pairs + [pairs[-1]] * (LANES - len(pairs))
    settings = [setting for setting, _ in padded]
    march, reading, geometries = march_arrays(boat, foil, settings, [encounter for _, encounter in padded], model)
    trim = calm_trim(march, model, carried_righting(boat, settings))
    return lanes_cut(march, reading, geometries, trim, len(pairs))

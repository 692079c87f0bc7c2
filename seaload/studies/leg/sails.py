"""Which speed the sails of each row of a boat's ladder hold, as a share of what her whole thrust holds: by the balance
of thrust and drag in calm water, at the wind that her thrust is stated for.
"""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np

from seaload.sailing.block_task import BlockTask, load_kernels
from seaload.scenario.risk_spec import ModelSpec, SamplingSpec
from seaload.scenario.sea_spec import SeaSpec
from seaload.studies.attainable import Reach
from seaload.studies.build_sea import build_sea


def held_shares(leg, account):
    """(rows, j) [-] of the speed that the whole thrust holds, for each row of the ladder of a `Leg` and each of its
    settings; nothing where a row's thrust holds no speed, one where nothing is known.
    """
    boat, foil, model = leg.boat, next(iter(leg.boat.foils.values())), ModelSpec().si()
    load(leg, foil, model, account)
    reach = Reach(boat, foil, model)
    wind = SimpleNamespace(true_wind_speed=boat.reference_wind_speed, true_wind_angle=boat.reference_wind_angle)
    found = np.ones((len(leg.ladder), len(leg.settings)))
    for j, setting in enumerate(leg.settings):
        whole = reach.attainable(setting, wind)
        for row, sails in enumerate(leg.ladder):
            if sails.thrust != 1.0 and np.isfinite(whole):
                found[row, j] = np.nan_to_num(reach.attainable(setting, wind, sails.thrust)) / whole
    return found


def load(leg, foil, model, account):
    """Have machine code there, loaded in the order that every process loads it in."""
    table = {"name": leg.name, "spectrum": "jonswap", "hs_m": 1.0, "tp_s": 8.0, "waves_from_bow_deg": 0.0}
    sea = build_sea(SeaSpec.model_validate(table), 0, path=leg.file, boat=leg.boat, starboard_tack=True)
    first = replace(leg.settings[0], speed=leg.boat.reference_speed)
    task = BlockTask(leg.boat, foil, sea, ((first, 0),), SamplingSpec().si(), model)
    account.compile_s += load_kernels(task, account.say)

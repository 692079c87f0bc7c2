"""The kernels in two parts that can be compiled side by side: the march, and all the rest.

Each part calls its kernels once on a block's own arrays, so that the types are those of a real run. The march
starts from rest instead of the calm trim, which would need the other part.
"""

from dataclasses import fields

import numpy as np

from seaload.simulation.block import ANCHOR_STEPS, RAMP, _Run, count_rules, start_from_calm
from seaload.simulation.calm import CalmTrim, calm_trim
from seaload.simulation.counting import close_lane
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import lane_sides, march_arrays
from seaload.simulation.sea_table import sea_components, wave_table
from seaload.simulation.series import strip_loads
from seaload.simulation.wave_weights import clock_of
from seaload.simulation.workspace import in_numbers_of
from seaload.waves.encounter import mean_encounter_frequency


def at_rest(strips):
    """A `CalmTrim` of zeros for so many `strips`."""
    none = dict.fromkeys((field.name for field in fields(CalmTrim)), np.zeros(LANES))
    return CalmTrim(**{**none, "motion": np.zeros((strips, LANES))})


def compile_part(boat, foil, sea, case, sampling, named_model, *, march_part):
    """Call every kernel of one part once: the march when `march_part`, else calm trim and counting.

    `boat`, `foil`, `sea`, `sampling`, `named_model` as `march_block`'s, `case` one (setting, realisation).
    """
    model = model_factors(named_model)
    setting, realisation = case
    components = sea_components(sea, sampling.seed, sampling.components, model)
    encounters = [mean_encounter_frequency(components, setting.speed)] * LANES
    march, reading, geometries = march_arrays(boat, foil, [setting] * LANES, encounters, model)
    if not march_part:
        calm_trim(march, model)
    trim, single = at_rest(march.strip.shape[0]), in_numbers_of(np.float32, march)
    table = wave_table(
        boat, foil, sea, [realisation] * LANES, march, lane_sides(boat, [setting] * LANES),
        seed=sampling.seed, count=sampling.components, model=model,
    )  # fmt: skip
    speeds = march.boat[BOAT["target_speed"]]
    clock = clock_of(components, speeds, sampling.step, ANCHOR_STEPS, RAMP)
    rules = count_rules(boat, foil, geometries, sampling, speeds)
    work = start_from_calm(march, single, table, trim, sampling.step) if march_part else None
    run = _Run(march, single, reading, table, clock, work, rules, trim, sampling, None, None, 1)
    if march_part:
        run.go_on(0, 1)
        strip_loads(run, 0)
        return
    run._count(1, 0)
    tally = run.tally
    close_lane(tally, rules, 0, tally.histogram[0].copy(), tally.damage[0].copy())

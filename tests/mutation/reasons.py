"""Mutations that no test can notice, each with its reason; known by the key that mutations.json gives them."""

REASONS = {
    "seaload/evidence/trigger_rule.py|TIMES|TIMES = (1, 2, 4, 8)|constant|8|9|18": (
        "how often a rule may ask for a reading is a choice of what is tried, not a law: nine times is as good a rule"
    ),
    "seaload/foil/first_mode.py|first_mode|shape_y, shape_z = -cells.t_z * (mid - fine[0]) ** 2, "
    "cells.t_y * (mid - fine[0]) ** 2|operator|*|/|34": (
        "the shape that the iteration starts from: it ends at the same mode from any"
    ),
    "seaload/sailing/compile_first.py|SHORT|SHORT = 1.0  # [s] marched|constant|1.0|2.0|8": (
        "how long the march that only compiles lasts: nothing is read from it"
    ),
    "seaload/simulation/compile_parts.py|compile_part|run = _Run(march, single, reading, table, clock, work, rules, "
    "trim, sampling, None, None, 1)|constant|1|2|94": (
        "how many lanes are counted where the kernels are only called to be compiled"
    ),
    "seaload/simulation/minute.py|march_minute|deepest = float(samples[run.reading.channels + R_WORST_REVERSE].max())"
    "|operator|+|-|49": "the row is number 0 after the channels: plus and minus are the same",
    "seaload/simulation/sea_table.py|swings_of|return np.ascontiguousarray(np.stack([known[r] for r in realisations], "
    "axis=-1))|sign|-|+|80": "of two axes the last one is number 1 as well as -1",
    "seaload/simulation/windows.py|deepest_place|deepest = 0.0|constant|0.0|1.0|14": (
        "where the search for the deepest strip begins: a keel fin that reaches less than a metre down carries no boat"
    ),
    "seaload/waves/spectra.py|jonswap_normalisation|nodes, weights = np.polynomial.legendre.leggauss(80)|constant|80|81"
    "|53": "one more place of an integration that has converged",
    "seaload/simulation/calm.py|still_water_loads|loads(march, work, 0.0, 0.0, 0.0)|constant|0.0|1.0|23": (
        "wake states that the next look at still water empties before it begins"
    ),
    "seaload/boat/hydrostatics.py|_below|cut = (np.sign(z - surface) * np.sign(np.roll(z, -1, axis=1) - surface)) < 0"
    "|constant|0|1|79": "it tells only where a corner lies exactly on the water, which no search for a draught hits",
    "seaload/sailing/gust_event.py|AFTER|BEFORE, AFTER = 20.0, 40.0  # [s] kept before the gust and after it has gone"
    "|constant|40.0|80.0|22": "how long is looked on after the gust is a choice: she has come back long before",
    'seaload/scenario/setting_spec.py|SETTING_RANGE|"rake_deg": (-5, 10),|constant|5|6|18': (
        "how far a rake may be written is a choice of what is refused, not a law"
    ),
    "seaload/basis/lane_matrix.py|_REAL|_REAL = {types.float32: (ir.FloatType(), 32), "
    "types.float64: (ir.DoubleType(), 64)}|constant|32|33|41": (
        "the compiler mends the name of the operation, and 33 bits are 4 bytes as well"
    ),
}

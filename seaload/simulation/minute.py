"""The minute round a deepest reverse load, marched again from shortly before it with the load of every strip kept."""

import numpy as np

from seaload.simulation.block import CHUNK, prepared_run
from seaload.simulation.deepest import MINUTE_STRIDE, go_back
from seaload.simulation.sampling import R_WORST_REVERSE
from seaload.simulation.series import named_series, strip_loads


def march_minute(boat, foil, sea, case, sampling, named_model, rewind, prepared=None):
    """Series by name of a case's minute, SI, a sample every MINUTE_STRIDE steps.

    `boat`, `foil`, `sea`, `sampling`, `named_model`, `prepared` as `march_block`'s, `case` one (setting, realisation
    number), `rewind` the `Rewind` of that case. RuntimeError unless the deepest reverse load comes again bit for bit.
    """
    run, geometries = prepared_run(boat, foil, sea, [case], sampling, named_model, prepared=prepared)
    go_back(run.work, rewind)
    for number in range(rewind.step, rewind.first, CHUNK):
        run.go_on(number, min(CHUNK, rewind.first - number))
    samples, forces, wet = [], [], []
    for number in range(rewind.first, rewind.last + 1, MINUTE_STRIDE):
        force, share = strip_loads(run, 0)
        forces.append(force)
        wet.append(share)
        run.go_on(number, min(MINUTE_STRIDE, run.steps - number))
        samples.append(run.buffer[:, 0, 0].copy())
    samples = np.stack(samples, axis=1)
    deepest = float(samples[run.reading.channels + R_WORST_REVERSE].max())
    if deepest != rewind.share:
        raise RuntimeError(f"{deepest} of the reverse limit where the march before gave {rewind.share}")
    series = named_series(samples, run, geometries[0].normal_limit, rewind.first, MINUTE_STRIDE)
    return {**series, "strip_force": np.array(forces), "strip_wet": np.array(wet)}

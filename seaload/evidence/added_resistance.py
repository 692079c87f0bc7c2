"""What waves ask of the sails: the thrust they give less that of still water at the same mean speed."""

import numpy as np

from seaload.evidence.rate_intervals import with_bounds
from seaload.risk.resample import paired_difference_interval


def added_resistance(records):
    """{name: value} by vocabulary name: added resistance [N] with its 90 % interval over realisations, thrust in calm.

    records : finished cases of one setting in one sea. Over many encounters nothing gathers way, so mean thrust is mean
    resistance (Newton). One realisation alone has no interval; records from before it was kept give nan.
    """
    kept = [record for record in records if record.duration > 0.0]
    given, calm = (np.array([getattr(r, name) for r in kept]) for name in ("thrust_mean", "thrust_calm"))
    if len(kept) == 0 or not np.all(np.isfinite(given - calm)):
        found = np.nan, np.nan, np.nan
    elif len(kept) == 1:
        found = float(given[0] - calm[0]), -np.inf, np.inf
    else:
        found = tuple(float(value) for value in paired_difference_interval(given, calm))
    return {**with_bounds("added_resistance", *found), "thrust_calm": float(calm.mean()) if len(kept) else np.nan}

"""How each sea of a usage will be sailed: the fastest setting of the grid within the crew's levels, were all right."""

from typing import NamedTuple

import numpy as np

from seaload.basis.records import STATUS_DONE
from seaload.evidence.verdict import accepted_rates, sampled_rates

FASTEST, LEAST_RISK, LEAST_BAD = (
    "fastest within the levels",
    "none within the levels: least risk",
    "every setting ended early or left the validity: fewest of these, then least risk",
)


class Chosen(NamedTuple):
    """The setting of one sea."""

    setting: int  # number
    why: str


def excess_of(records, risk):
    """Highest rate over the one the crew accepts [-], of both sides and wear; under 1 is within."""
    rates, limits = sampled_rates(records, risk).rates, accepted_rates(risk)
    found = [rates[name][0] / limit for name, limit in limits.items()]
    return float(max(x if np.isfinite(x) else np.inf for x in found))


def chosen_setting(groups, speeds, risk):
    """`Chosen` of one sea.

    groups : {setting number: finished cases of it in that sea}. speeds : {setting number: speed to compare by [m/s]}.
    The deciding rule in short: by the best estimate, without what is uncertain, from the hours of the choice.
    """
    excess = {i: excess_of(records, risk) for i, records in groups.items()}
    bad = {i: sum(record.status != STATUS_DONE for record in records) for i, records in groups.items()}
    sound = [i for i in groups if bad[i] == 0]
    within = [i for i in sound if excess[i] < 1.0]
    if within:
        return Chosen(max(within, key=lambda i: (speeds[i], -excess[i], -i)), FASTEST)
    if sound:
        return Chosen(min(sound, key=lambda i: (excess[i], -speeds[i], i)), LEAST_RISK)
    return Chosen(min(groups, key=lambda i: (bad[i], excess[i], i)), LEAST_BAD)

"""Kernel: how long a boat is broaching, read off her heading and her rudder."""

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.boat.steering import AT_LIMIT, BROACH_HEADING, BROACH_TIME


@compiled
def count_broach(heading, rudder, steps, step, limit, lane, broach):
    """Add to `broach` (2,) the samples of one `lane` that count as broaching; the other entry keeps how long the rudder
    has stood at its limit [s].

    `heading`, `rudder` [rad] flat with a row a step, `steps` of them of `step` [s]; `limit` [rad] of the rudder. Off
    her heading by more than BROACH_HEADING while the rudder has been at its limit for BROACH_TIME (from memory, a
    working definition).
    """
    held = broach[1]
    for i in range(steps):
        at_limit = abs(rudder[at(i, lane)]) >= AT_LIMIT * limit
        held = held + step if at_limit else 0.0
        off = abs(heading[at(i, lane)]) > BROACH_HEADING
        broach[0] += 1.0 if off and held > BROACH_TIME else 0.0
    broach[1] = held

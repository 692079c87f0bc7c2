"""Steering: what a helm asks of the rudder, as fast as hands can turn it, and when a boat counts as broaching."""

from seaload.basis.compile import compiled

BROACH_HEADING = 0.3490658503988659  # [rad] off her heading, 20 degrees (from memory, a working definition)
BROACH_TIME = 1.0  # [s] that the rudder has stood at its limit (from memory, the same)
AT_LIMIT = 0.99  # [-] of the limit, from which a rudder stands at it


@compiled
def rudder_asked(gain, rate_gain, heading, yaw_rate, carried, limit):
    """Rudder that the helm asks for beside its balanced angle [rad], + turns the bow to leeward.

    `gain` [-] for the `heading` [rad] off the one steered for, `rate_gain` [s] for the `yaw_rate` [rad/s], bow to
    leeward +, both as the helm has noticed them; `carried` [rad] of helm that has come to be held, `limit` [rad] either
    way. Proportional and rate steering (any text on ship steering).
    """
    asked = carried - gain * heading - rate_gain * yaw_rate
    return min(max(asked, -limit), limit)


@compiled
def rudder_rate(asked, angle, most, step):
    """Rate of the rudder [rad/s] over the `step` [s] to come: to the angle `asked` from its `angle` [rad], at `most`
    [rad/s] (common practice, no source).
    """
    return min(max((asked - angle) / step, -most), most)

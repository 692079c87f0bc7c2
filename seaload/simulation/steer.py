"""Kernel: the helm, heard once a full step."""

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.boat.steering import rudder_asked, rudder_rate
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES

_GAIN, _RATE_GAIN, _DELAY = BOAT["steering_gain"], BOAT["steering_rate_gain"], BOAT["steering_delay"]
_RATE, _LIMIT, _FREE = BOAT["rudder_rate"], BOAT["rudder_limit"], BOAT["yaw_free"]


@compiled
def steer(boat, state, heard, number, step, helm):
    """Rate of the rudder [rad/s] of every lane over full step `number`, into `helm` (LANES,).

    `boat`, `state` flat, rows as in layout; `heard` (steps recalled, 2 LANES) heading [rad] and yaw rate [rad/s] of
    the last full steps, each at its number less whole rounds; `step` [s]. The helm answers to what was a delay ago,
    straight between two steps.
    """
    slots = heard.shape[0]
    now = number % slots
    for lane in range(LANES):
        heard[now, lane] = state[at(L.HEADING, lane)]
        heard[now, LANES + lane] = state[at(L.YAW_RATE, lane)]
    for lane in range(LANES):
        late = boat[at(_DELAY, lane)] / step
        whole = int(np.floor(late))
        part = late - whole
        newer, older = (number - whole) % slots, (number - whole - 1) % slots
        heading = (1.0 - part) * heard[newer, lane] + part * heard[older, lane]
        rate = (1.0 - part) * heard[newer, LANES + lane] + part * heard[older, LANES + lane]
        asked = rudder_asked(
            boat[at(_GAIN, lane)], boat[at(_RATE_GAIN, lane)], heading, rate, state[at(L.HELM_HOLD, lane)],
            boat[at(_LIMIT, lane)],
        )  # fmt: skip
        helm[lane] = rudder_rate(asked, state[at(L.RUDDER, lane)], boat[at(_RATE, lane)], step) * boat[at(_FREE, lane)]

"""Memory of the flow round a strip: stall and ventilation start at one demand and heal at a lower one.

The state runs from 0 (attached, wetted) to 1 (ventilated or stalled), one for each side, and moves only at
full time steps. Onset and wash-out are separate user values: no numeric onset table could be read
(REFERENCES section 3, "Ventilation").
"""

from seaload.basis.compile import compiled


@compiled
def next_flow_state(state, demand, onset, washout, onset_share, washout_share):
    """Flow state after one time step [-].

    `demand` [-] is the lift asked for over the lift limit of that side; at or above `onset` the state grows
    towards 1 by `onset_share` of what is missing, at or below `washout` it falls by `washout_share`, and
    between the two it stays what it is becoming: towards 1 when past one half, else towards 0.
    """
    growing = demand >= onset or (demand > washout and state > 0.5)
    up = state + (1.0 - state) * onset_share
    down = state - state * washout_share
    return up if growing else down


@compiled
def healing_share(washout_share, rewetting_share, dry):
    """Share of the flow memory that heals in a step [-]: the faster of both ways, none while the strip is mostly dry.

    `washout_share`, `rewetting_share` [-] of a step as `step_share`, `dry` [-] share of the strip out of the water.
    """
    return max(washout_share, rewetting_share) if dry < 0.5 else 0.0


@compiled
def dried_state(state, dry):
    """Flow state of a strip that is partly dry [-]: at least the square of its dry share.

    `state`, `dry` [-]. A strip out of the water forgets that it was wetted (assumption, no source).
    """
    return max(state, dry * dry)


@compiled
def step_share(step, speed, chord, chords):
    """Share of the way a first-order state goes in one step [-]: p/(1+p), p step over time for `chords` chords.

    `step` [s], `speed` [m/s], `chord` [m], `chords` [-] travelled. Implicit Euler step, in any text on numerical
    analysis.
    """
    gone = step * speed
    return gone / (chord * chords + gone)

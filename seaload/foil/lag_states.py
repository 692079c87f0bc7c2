"""Memory of the wake: circulation follows the normal velocity with a lag, in two states per cause.

Motion of the foil follows Wagner's function (two terms after R. T. Jones 1940, NACA TN-682 form), a
gust that the foil enters follows Kuessner's (two terms). Constants: REFERENCES section 1, Jones read,
Kuessner from memory there; both are held against the exact functions in tests/published.
"""

from seaload.basis.compile import compiled

WAGNER_A1, WAGNER_B1 = 0.165, 0.0455  # [-], per semi-chord travelled
WAGNER_A2, WAGNER_B2 = 0.335, 0.3
KUESSNER_A1, KUESSNER_B1 = 0.5, 0.13
KUESSNER_A2, KUESSNER_B2 = 0.5, 1.0


@compiled
def lag_rate(state, share, decay, velocity, semichord_rate):
    """Rate of one lag state [m/s2]: b (U/b_c) (A w - z).

    `state` z [m/s], `share` A [-], `decay` b [-], `velocity` w [m/s] the normal velocity that drives it,
    `semichord_rate` U/b_c [1/s] speed in semi-chords. Source: REFERENCES section 1, state form of the
    two-term Wagner function.
    """
    return decay * semichord_rate * (share * velocity - state)


@compiled
def lagged_velocity(motion, gust, z1, z2, z3, z4, lag):
    """Normal velocity that the circulation answers to [m/s].

    `motion` and `gust` [m/s] normal velocities by cause, z1, z2 Wagner and z3, z4 Kuessner states [m/s];
    `lag` [-] 1 with memory, 0 quasi-steady.
    """
    instant = (1.0 - WAGNER_A1 - WAGNER_A2) * motion + z1 + z2 + z3 + z4
    return lag * instant + (1.0 - lag) * (motion + gust)

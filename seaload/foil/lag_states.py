"""Memory of the wake: circulation follows the normal velocity with a lag, in two states per cause.

A wing's wake is forgotten sooner than that of a section, the more so the shorter the wing: each decay grows by chord
over span, which brings the lift of an aspect-8 wing within 5 % and 5 degrees of an unsteady lattice (tests/simulation;
rule of this project, in the sense of R. T. Jones's functions for aspect 3 and 6).

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

    `state` z [m/s], `share` A [-], `decay` b [-] (of a wing, its chord over span added), `velocity` w [m/s] the normal
    velocity that drives it, `semichord_rate` U/b_c [1/s] speed in semi-chords. Source: REFERENCES section 1, state form
    of the two-term Wagner function.
    """
    return decay * semichord_rate * (share * velocity - state)


@compiled
def recalled(z1, z2, z3):
    """Normal velocity that the wake of a strip recalls [m/s]: in steady flow the strip's whole inflow.

    z1, z2 Wagner and z3 slow Kuessner states [m/s]: half of a motion acts at once, and a gust's fast half, state z4,
    nearly so; what is left is the other half (`span_stage` says what becomes of both; derived here from the two
    functions).
    """
    return 2.0 * (z1 + z2 + z3)


@compiled
def recalled_rate(r1, r2, r3):
    """Rate of `recalled` [m/s2] from the rates r1, r2, r3 [m/s2] of its states."""
    return 2.0 * (r1 + r2 + r3)

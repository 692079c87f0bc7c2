"""A foil led through a heave in deep water against unsteady thin-section theory: the prescribed motion's own road.

Theodorsen 1935 (NACA TR 496), exact Bessel and Hankel functions of scipy, formula derived in tests/oracles; R. T. Jones
1940, two terms for Wagner's function (the form of NACA TN-682, from memory). The wing is level, fifty metres deep, and
no strip feels another, so each is a section alone. Added mass times acceleration is left out of the lift as in the
march. Tolerance: the two terms stand for the exact function within 0.025, and steps of 0.02 s add half a per cent.
"""

import numpy as np
import pytest

from seaload.boat.written_motion import joined
from seaload.simulation.prescribed import lead_through
from tests.oracles.unsteady_theory import theodorsen
from tests.simulation.test_prescribed import CHORD, SPAN, SPEED, STEP, led, level_wing

LIFT = 1025.0 * np.pi * SPEED * CHORD * SPAN  # [N s/m] pi rho U c l, steady lift per normal velocity


def heave_gain(k):
    """Complex lift over its steady value of a section that heaves at a reduced frequency `k`, led through."""
    omega, size = 2.0 * k * SPEED / CHORD, 0.02
    cycle = 2.0 * np.pi / omega
    cycles = int(np.ceil(4.0 / cycle)) + 1

    def heave(at):
        return size * np.sin(omega * at), size * omega * np.cos(omega * at), -size * omega**2 * np.sin(omega * at)

    lift, time, _ = led(level_wing(), cycles * cycle + 2 * STEP, heave=heave)
    kept = (time >= (cycles - 1) * cycle - 1e-9) & (time < cycles * cycle - 1e-9)
    fall = -size * omega  # [m/s] of the water past the wing times the cosine
    return 2.0 * np.mean(lift[kept] * np.exp(-1j * omega * time[kept])) / (LIFT * fall)


@pytest.mark.parametrize("k", [0.05, 0.2, 0.4])
def test_heave_at_speed_in_deep_water_is_theodorsens(k, check_against):
    ours, exact = heave_gain(k), theodorsen(k)
    source = "Theodorsen 1935 (NACA TR 496), exact Bessel functions"
    for part, published, found in (("size", abs(exact), abs(ours)), ("in phase", exact.real, ours.real),
                                   ("a quarter behind", exact.imag, ours.imag)):  # fmt: skip
        check_against(
            "foil", f"Heave led through, lift over steady lift, {part}, k = {k:g}", source, "derived", published, found,
            absolute=0.03, of=lead_through,
        )  # fmt: skip


def test_a_sudden_heave_grows_its_lift_as_wagner_says(check_against):
    """Half at once, then 1 - 0.165 exp(-0.0455 s) - 0.335 exp(-0.3 s) with s semi-chords travelled."""
    sink, start = 0.2, 0.1  # [m/s], [s] to get going

    def heave(at):
        value, rate, _ = joined([0.0, start], [0.0, sink], at)
        return -np.cumsum(value) * (at[1] - at[0]), -value, -rate

    lift, time, _ = led(level_wing(), 3.0, heave=heave)
    later = time > 3.0 * start
    s = 2.0 * SPEED / CHORD * (time[later] - 0.5 * start)
    grown = 1.0 - 0.165 * np.exp(-0.0455 * s) - 0.335 * np.exp(-0.3 * s)
    check_against(
        "foil", "Sudden heave led through, lift over final lift", "R. T. Jones 1940, two terms for Wagner's function",
        "memory", grown, lift[later] / (LIFT * sink), absolute=0.01, of=lead_through,
    )  # fmt: skip

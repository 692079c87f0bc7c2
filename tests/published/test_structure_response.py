"""One-mode response to pulses (Duhamel) and to a harmonic force, exact and marched (tables derived)."""


import numpy as np

from seaload.foil.mode_step import mode_step
from tests.foil.foil_table import Comparison, table
from tests.oracles.mode_exact import half_sine_response, harmonic_response, piecewise_linear_response

PULSES = {  # corners in shares of the duration, and heights
    "isosceles": ((0.0, 0.5, 1.0), (0.0, 1.0, 0.0)),
    "decaying_triangle": ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    "rectangle": ((0.0, 0.0, 1.0, 1.0), (0.0, 1.0, 1.0, 0.0)),
    "ramp_then_hold": ((0.0, 1.0), (0.0, 1.0)),
}
DAMPINGS = {"z0": 0.0, "z05": 0.05}


def test_harmonic_amplification(logbook):
    t = table("structure_harmonic_daf")
    size, lag = harmonic_response(t["r=f/fn"], t["zeta"])
    check = Comparison(logbook, "structure", "harmonic response, table harmonic_daf", "derived")
    check.close("amplitude", t["|H|"], size, relative=1e-3)
    check.close("phase lag [deg]", t["phase_lag"], np.degrees(lag), relative=1e-3)


def test_pulses_exact(logbook):
    t = table("structure_duhamel_daf")
    check = Comparison(logbook, "structure", "Duhamel integral, table duhamel_daf", "derived")
    for suffix, damping in DAMPINGS.items():
        found = {name: [] for name in (*PULSES, "half_sine", "rebound")}
        for duration in t["td_over_T"]:
            moments = np.linspace(0.0, duration + 3.0, 20001)
            sine = half_sine_response(duration, 1.0, damping, moments)
            found["half_sine"].append(sine.max())
            found["rebound"].append(sine.min())
            for name, (corners, heights) in PULSES.items():
                answer = piecewise_linear_response(
                    np.array(corners) * duration, heights, 1.0, damping, moments
                )
                found[name].append(answer.max())
        for name in (*PULSES, "half_sine"):
            check.close(f"{name}, damping {damping:g}", t[f"{name}_{suffix}"], found[name], relative=1e-3)
        rebound = t[f"half_sine_min_rebound_{suffix}"]
        check.close(f"rebound, damping {damping:g}", rebound, found["rebound"], relative=1e-3, absolute=1e-5)


def marched_extremes(force_at, until, damping, step):
    """Highest and lowest displacement over static of a mode of period 1 s marched by seaload's step."""
    omega = 2.0 * np.pi
    position = rate = highest = lowest = 0.0
    for i in range(int(round(until / step))):
        start, end = force_at(i * step), force_at((i + 1) * step)
        position, rate = mode_step(
            position, rate, start * omega**2, end * omega**2, 1.0, 2.0 * damping * omega, omega**2, step
        )
        highest, lowest = max(highest, position), min(lowest, position)
    return highest, lowest


def test_pulses_marched(logbook):
    """The march's own step, at 40 steps a period: peaks within 1 % (force straight between steps)."""
    t = table("structure_duhamel_daf")
    check = Comparison(logbook, "structure", "Duhamel integral, table duhamel_daf", "derived")
    rows = t["td_over_T"] >= 0.25
    for suffix, damping in DAMPINGS.items():
        sine, rebound = [], []
        for duration in t["td_over_T"][rows]:

            def force(time, duration=duration):
                return np.sin(np.pi * time / duration) if 0.0 < time < duration else 0.0

            high, low = marched_extremes(force, duration + 2.0, damping, 0.025)
            sine.append(high)
            rebound.append(low)
        check.close(
            f"marched half sine, damping {damping:g}", t[f"half_sine_{suffix}"][rows], sine, relative=0.01
        )
        check.close(f"marched rebound, damping {damping:g}", t[f"half_sine_min_rebound_{suffix}"][rows],
                    rebound,
                    relative=0.01, absolute=0.01)  # fmt: skip

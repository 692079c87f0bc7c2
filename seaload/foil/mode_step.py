"""One bending mode over one time step, by its exact solution for a force that changes evenly.

A dry, short foil rings at 20-30 Hz: an integrator of the boat's motion would damp it or blow it up. The
solution below is exact for constant mass, damping and stiffness over the step, whatever the step.
"""

from math import sqrt

from seaload.basis.compile import compiled
from seaload.basis.fading import fading
from seaload.basis.sine_cosine import sine_cosine

HIGHEST_DAMPING = 0.95  # [-] the rest of a stronger flow damping stays in the force


@compiled
def usable_damping(mass, damping, stiffness):
    """Damping the exact solution takes on [kg/s], kept below critical so that one formula serves.

    `mass` [kg], `damping` [kg/s], `stiffness` [N/m] of the mode. The bound is our own choice.
    """
    return min(damping, 2.0 * HIGHEST_DAMPING * sqrt(mass * stiffness))


@compiled
def mode_step(position, rate, force_start, force_end, mass, damping, stiffness, time):
    """Modal position [m] and rate [m/s] after `time` [s] of m q'' + c q' + k q = force, force linear in time.

    `position` [m] and `rate` [m/s] at the start, `force_start`, `force_end` [N] at the ends of the interval; `mass` m
    [kg], `damping` c [kg/s] below critical, `stiffness` k [N/m]. Closed form of the damped oscillator under a ramp,
    e.g. Clough & Penzien, Dynamics of Structures (from memory).
    """
    slope = (force_end - force_start) / time
    steady_rate = slope / stiffness
    steady_start = (force_start - damping * steady_rate) / stiffness
    steady_end = steady_start + steady_rate * time
    decay = 0.5 * damping / mass
    frequency = sqrt(max(stiffness / mass - decay * decay, 1e-12))
    a = position - steady_start
    b = (rate - steady_rate + decay * a) / frequency
    fade = fading(decay * time)
    s, c = sine_cosine(frequency * time)
    free = fade * (a * c + b * s)
    free_rate = fade * ((b * frequency - decay * a) * c - (a * frequency + decay * b) * s)
    return steady_end + free, steady_rate + free_rate

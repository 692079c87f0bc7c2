"""Exact answers of a one-mode oscillator, to test the marched bending mode. Static displacement = 1."""

import numpy as np


def harmonic_response(frequency_ratio, damping_ratio):
    """Amplitude over static and phase lag [rad] of a mode under a harmonic force: (|H|, lag).

    `frequency_ratio` r = f/f_n, `damping_ratio` of critical. 1/(1 - r^2 + 2 i zeta r), any text on vibration.
    """
    r = np.asarray(frequency_ratio, dtype=float)
    answer = 1.0 / (1.0 - r**2 + 2j * damping_ratio * r)
    return np.abs(answer), -np.angle(answer)


def piecewise_linear_response(times, force, period, damping_ratio, moments):
    """Displacement over static of a mode at rest under a force given by straight pieces, at `moments` (m,).

    `times` (n,) and `force` (n,) corners, zero before the first and level after the last; two corners at one
    time make a jump. Sum of the closed answers to a step and to a ramp (any text on vibration).
    """
    times, force = np.asarray(times, dtype=float), np.asarray(force, dtype=float)
    omega = 2.0 * np.pi / period
    damped = omega * np.sqrt(1.0 - damping_ratio**2)
    answer = np.zeros_like(np.asarray(moments, dtype=float))

    def since(start):
        after = np.maximum(np.asarray(moments, dtype=float) - start, 0.0)
        fade = np.exp(-damping_ratio * omega * after)
        return after, fade, np.cos(damped * after), np.sin(damped * after)

    def step(start):
        _, fade, c, s = since(start)
        return 1.0 - fade * (c + damping_ratio * omega / damped * s)

    def ramp(start):
        after, fade, c, s = since(start)
        lag = 2.0 * damping_ratio / omega
        rest = (2.0 * damping_ratio**2 - 1.0) / damped
        return after - lag + fade * (lag * c + rest * s)

    spans = np.diff(times)
    slopes = np.append(np.divide(np.diff(force), spans, out=np.zeros_like(spans), where=spans > 0.0), 0.0)
    slope_before = 0.0
    for i, start in enumerate(times):
        if i == 0:
            answer = answer + force[0] * step(start)
        elif spans[i - 1] == 0.0:
            answer = answer + (force[i] - force[i - 1]) * step(start)
        answer = answer + (slopes[i] - slope_before) * ramp(start)
        slope_before = slopes[i]
    return answer


def half_sine_response(duration, period, damping_ratio, moments):
    """Displacement over static of a mode at rest under one half-sine pulse of height 1, at `moments` [s].

    Steady answer plus the free one that cancels it at the start; after the pulse, the answer to the
    delayed sine is added (a half sine is a sine plus the same sine half a period later).
    """
    if damping_ratio < 1e-6 and abs(2.0 * duration / period - 1.0) < 2e-6:
        duration *= 1.0 + 2e-6  # undamped resonance has no steady answer; a hair beside it has
    omega, forced = 2.0 * np.pi / period, np.pi / duration
    damped = omega * np.sqrt(1.0 - damping_ratio**2)
    # particular solution a sin + b cos of q'' + 2 zeta w q' + w^2 q = w^2 sin(forced t)
    stiff, lossy = omega**2 - forced**2, 2.0 * damping_ratio * omega * forced
    size = omega**2 / (stiff**2 + lossy**2)
    a, b = size * stiff, -size * lossy

    def from_start(start):
        t = np.maximum(np.asarray(moments, dtype=float) - start, 0.0)
        fade = np.exp(-damping_ratio * omega * t)
        free_sin = -(a * forced + damping_ratio * omega * b) / damped
        free = fade * (-b * np.cos(damped * t) + free_sin * np.sin(damped * t))
        return a * np.sin(forced * t) + b * np.cos(forced * t) + free

    return from_start(0.0) + from_start(duration)

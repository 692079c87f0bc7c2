"""Sea surface and water motion by plain direct summation: the slow, simple truth other code is checked with.

psi = k (x cos mu + y sin mu) - omega t + phase; the surface is the sum of a cos psi. `depth` is counted down
from the instantaneous surface (>= 0) and enters only through exp(-k depth). Boat axes' directions: x forward,
y to leeward, fixed to the water, not moving with the boat. Linear deep-water waves (Airy 1845).
"""

import numpy as np

BLOCK = 2048  # points summed at once, to bound the memory


def _summed(components, phases, x, y, time, depth, function):
    x, y, time, depth = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (x, y, time, depth))
    )
    shape = x.shape
    flat = [value.reshape(-1) for value in (x, y, time, depth)]
    rows = []
    for start in range(0, max(flat[0].size, 1), BLOCK):
        px, py, pt, pd = (value[start : start + BLOCK, None] for value in flat)
        along = px * np.cos(components.direction) + py * np.sin(components.direction)
        psi = components.wavenumber * along - components.omega * pt + phases
        decay = np.exp(-components.wavenumber * pd)
        rows.append(np.stack([term.sum(axis=1) for term in function(psi, decay)]))
    return np.concatenate(rows, axis=1).reshape((-1, *shape))


def elevation(components, phases, x, y, time):
    """Surface elevation [m], up +, at x, y [m] and time [s]; the three broadcast together."""
    amplitude = components.amplitude
    return _summed(components, phases, x, y, time, 0.0, lambda psi, decay: (amplitude * np.cos(psi),))[0]


def slopes(components, phases, x, y, time):
    """Surface slopes d/dx and d/dy [-], stacked (2, ...)."""
    scale = components.amplitude * components.wavenumber
    forward, leeward = np.cos(components.direction), np.sin(components.direction)
    return _summed(
        components,
        phases,
        x,
        y,
        time,
        0.0,
        lambda psi, decay: (-scale * forward * np.sin(psi), -scale * leeward * np.sin(psi)),
    )


def velocities(components, phases, x, y, time, depth):
    """Water velocity u forward, v to leeward, w up [m/s], stacked (3, ...), `depth` [m] below the surface."""
    scale = components.amplitude * components.omega
    forward, leeward = np.cos(components.direction), np.sin(components.direction)

    def terms(psi, decay):
        level = scale * decay * np.cos(psi)
        return level * forward, level * leeward, scale * decay * np.sin(psi)

    return _summed(components, phases, x, y, time, depth, terms)


def accelerations(components, phases, x, y, time, depth):
    """Local water acceleration du/dt, dv/dt, dw/dt [m/s2] at a fixed point and depth, stacked (3, ...)."""
    scale = components.amplitude * components.omega**2
    forward, leeward = np.cos(components.direction), np.sin(components.direction)

    def terms(psi, decay):
        level = scale * decay * np.sin(psi)
        return level * forward, level * leeward, -scale * decay * np.cos(psi)

    return _summed(components, phases, x, y, time, depth, terms)

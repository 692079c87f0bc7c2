"""A straight wing that heaves in a stream: ring lattice marched in time, flat wake, thin wing, small motion.

Rings on the quarters of even panels, conditions on their three-quarter lines, each step sheds the trailing ring of the
step before; pressure from the unsteady Bernoulli equation. Vortex-ring method as in texts on low-speed aerodynamics
(from memory).
"""

import numpy as np


def _segment(point, a, b):
    """Upward velocity at `point` (m, 3) from unit vortices from `a` to `b` (k, 3), (m, k)."""
    r1, r2 = point[:, None] - a[None], point[:, None] - b[None]
    cross = np.cross(r1, r2)
    square = np.sum(cross**2, axis=-1)
    n1, n2 = np.linalg.norm(r1, axis=-1), np.linalg.norm(r2, axis=-1)
    along = np.sum((b - a)[None] * (r1 / n1[..., None] - r2 / n2[..., None]), axis=-1)
    return np.where(square > 1e-12, cross[..., 2] * along / np.maximum(square, 1e-12), 0.0) / (4.0 * np.pi)


def _rings(point, front, back, y):
    """Upward velocity (m, strips) of unit rings between the lines x = `front` and `back` of all strips `y` (n+1,)."""
    corner = lambda x, at: np.stack([np.full(len(at), x), at, 0.0 * at], axis=1)  # noqa: E731
    p = [corner(front, y[:-1]), corner(front, y[1:]), corner(back, y[1:]), corner(back, y[:-1])]
    return sum(_segment(point, p[i], p[(i + 1) % 4]) for i in range(4))


def heaving_lift(aspect, reduced_frequency, rows=6, strips=16, wake=40.0, inset=0.15):
    """Complex lift slope of the wing and of its middle strip [1/rad]: lift coefficient per incidence v/U of the heave.

    `reduced_frequency` omega c/(2 U); `rows` along the chord, `strips` of the span, `wake` [chords] kept. Chord, speed
    and density 1; downward velocity v = cos(omega t), so the phase is that of the lift after it.
    """
    omega, dx = 2.0 * reduced_frequency, 1.0 / rows
    y = np.linspace(-0.5 * aspect, 0.5 * aspect, strips + 1)
    middle, width = 0.5 * (y[1:] + y[:-1]), y[1] - y[0]
    y[[0, -1]] += np.array([1.0, -1.0]) * inset * width
    line = lambda x: np.stack([np.full(strips, x), middle, 0 * middle], axis=1)  # noqa: E731
    point = np.concatenate([line((i + 0.75) * dx) for i in range(rows)])
    front = (np.arange(rows + 1) + 0.25) * dx
    bound = np.concatenate([_rings(point, front[i], front[i + 1], y) for i in range(rows)], axis=1)
    kept = int(wake * rows)
    shed = np.stack([_rings(point, front[-1] + p * dx, front[-1] + (p + 1) * dx, y) for p in range(kept)])
    solve = np.linalg.inv(bound)
    trail, gamma = np.zeros((kept, strips)), np.zeros((rows, strips))
    period = 2.0 * np.pi / omega
    steps = int(round((max(2.0 * period, wake) + period) * rows))
    time, found = np.arange(steps) * dx, np.zeros((steps, rows + 1, strips))
    for n in range(steps):
        trail = np.concatenate([gamma[-1:], trail[:-1]])
        upward = np.cos(omega * time[n]) + np.einsum("pms,ps->m", shed, trail)
        gamma = (-solve @ upward).reshape(rows, strips)
        found[n, 1:] = gamma
    jump = 0.25 * found[:, :-1] + 0.75 * found[:, 1:]  # of the potential, mean over each panel
    lift = np.sum(np.diff(found, axis=1) + np.gradient(jump, dx, axis=0) * dx, axis=1)
    last = slice(steps - 2 - int(round(period * rows)), steps - 2)
    basis = np.stack([np.cos(omega * time[last]), np.sin(omega * time[last])], axis=1)
    both = 2.0 * np.stack([lift.mean(axis=1), lift[:, strips // 2]], axis=1)[last]
    real, imaginary = np.linalg.lstsq(basis, both, rcond=None)[0]
    return real - 1j * imaginary

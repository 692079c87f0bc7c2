"""Wave components of a sea: independent cosines whose energy is the spectrum's, one direction each.

The components depend on the sea and the group of realisations alone: not on speed or setting, and on the heading only
through the mean direction added at the end. Realisations of a group differ by their phases and random amplitudes.
One direction for each component keeps the sea homogeneous in space (no two directions share a frequency).
Frequencies are random inside unequal bins, so no record of any length repeats.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.waves.spreading import cos2s_direction, tabulated_direction

GOLDEN_STEP = 0.6180339887498949  # fractional part of the golden ratio
ENERGY_SHARE, SLOPE_SHARE, EVEN_SHARE = 0.45, 0.30, 0.25  # of the curve whose equal steps are the bins
NEGLIGIBLE = 1e-5  # share of energy (below) and of omega^2-weighted energy (above) that is left out
LEAST_COUNT = 24  # components of the smallest wave system


class Components(NamedTuple):
    """N wave components, deep water; arrays (N,)."""

    omega: np.ndarray  # [rad/s]
    wavenumber: np.ndarray  # [rad/m] omega^2/g
    amplitude: np.ndarray  # [m] energy of each is amplitude^2/2
    direction: np.ndarray  # [rad] mu: 0 = following, pi = head sea, + travels to leeward
    system: np.ndarray | None = None  # number of the wave system each is of


def cumulative_energy(omega, density, at, power=0):
    """Integral of omega^power S from the first tabulated frequency up to each `at` [m2 (rad/s)^power] (definition).

    omega (n,) rising [rad/s], density (n,) [m2 s/rad], linear in between and zero outside; at (m,) [rad/s];
    power 0 or 2. Exact for the piecewise linear table.
    """
    omega, density = np.asarray(omega, dtype=float), np.asarray(density, dtype=float)
    at = np.clip(np.asarray(at, dtype=float), omega[0], omega[-1])
    slope = np.diff(density) / np.diff(omega)
    intercept = density[:-1] - slope * omega[:-1]

    def primitive(segment, w):
        n = power + 1
        return intercept[segment] * w**n / n + slope[segment] * w ** (n + 1) / (n + 1)

    every = np.arange(len(slope))
    steps = primitive(every, omega[1:]) - primitive(every, omega[:-1])
    before = np.concatenate([[0.0], np.cumsum(steps)])
    segment = np.clip(np.searchsorted(omega, at, side="right") - 1, 0, len(slope) - 1)
    return before[segment] + primitive(segment, at) - primitive(segment, omega[segment])


def kept_band(omega, density):
    """Lowest and highest frequency kept [rad/s]: all but 1e-5 of the energy below and of m2 above.

    omega (n,) rising [rad/s], density (n,) [m2 s/rad]. Raises ValueError for a spectrum without energy.
    """
    energy = cumulative_energy(omega, density, omega)
    slope_energy = cumulative_energy(omega, density, omega, power=2)
    if not (np.isfinite(energy[-1]) and energy[-1] > 0.0):
        raise ValueError("the spectrum holds no energy")
    first = max(int(np.searchsorted(energy, NEGLIGIBLE * energy[-1], side="right")) - 1, 0)
    last = int(np.searchsorted(slope_energy, (1.0 - NEGLIGIBLE) * slope_energy[-1], side="left"))
    return float(omega[first]), float(omega[min(last, len(omega) - 1)])


def bin_edges(omega, density, count):
    """Edges of `count` frequency bins [rad/s], (count + 1,), equal steps of a mixed cumulative curve.

    omega (n,) rising [rad/s], density (n,) [m2 s/rad]. 45 % energy (the big waves), 30 % omega^2-weighted energy
    (slopes and vertical velocity), 25 % even in frequency (so that no bin is wide). Found by bisection; the shares
    are our own choice.
    """
    low, high = kept_band(omega, density)

    def mixed(at):
        total = EVEN_SHARE * (at - low) / (high - low)
        for share, power in ((ENERGY_SHARE, 0), (SLOPE_SHARE, 2)):
            curve = cumulative_energy(omega, density, np.append(at, [low, high]), power)
            total = total + share * (curve[:-2] - curve[-2]) / (curve[-1] - curve[-2])
        return total

    wanted = np.linspace(0.0, 1.0, count + 1)
    below, above = np.full(count + 1, low), np.full(count + 1, high)
    for _ in range(60):
        middle = 0.5 * (below + above)
        under = mixed(middle) < wanted
        below, above = np.where(under, middle, below), np.where(under, above, middle)
    edges = 0.5 * (below + above)
    edges[0], edges[-1] = low, high
    return edges


def _frequencies_and_amplitudes(omega, density, count, stream):
    """Frequencies [rad/s] and amplitudes [m] of `count` components, (count,) each, one at random in every bin.

    omega (n,) rising [rad/s], density (n,) [m2 s/rad]; stream: Generator that belongs to the sea. The energy of a
    component, amplitude^2/2, is that of its bin (definition).
    """
    edges = bin_edges(omega, density, count)
    energy = np.maximum(np.diff(cumulative_energy(omega, density, edges)), 0.0)
    frequency = edges[:-1] + stream.random(count) * np.diff(edges)
    return frequency, np.sqrt(2.0 * energy)


def _direction_quantiles(count, stream):
    """Shares of the energy [-] below the direction of each of `count` components, (count,), even over 0..1.

    Steps of the golden ratio from a start that `stream` draws, so that neighbours in frequency part (Weyl 1916).
    """
    return np.mod(stream.random() + GOLDEN_STEP * np.arange(count), 1.0)


def share_out(weights, count):
    """Whole numbers of components (m,) [-] for systems of given weight, at least 24 each, sum `count`.

    weights (m,) [-] > 0. Raises ValueError when `count` is under 24 for each system.
    """
    weights = np.asarray(weights, dtype=float)
    if count < LEAST_COUNT * len(weights):
        raise ValueError(f"{len(weights)} wave systems need at least {LEAST_COUNT * len(weights)} components")
    free = (count - LEAST_COUNT * len(weights)) * weights / weights.sum()
    whole = np.floor(free).astype(int)
    for place in np.argsort(whole - free, kind="stable")[: count - LEAST_COUNT * len(weights) - whole.sum()]:
        whole[place] += 1
    return whole + LEAST_COUNT


def choose_components(systems, count, stream):
    """Components of one or more wave systems (N = `count`).

    systems: sequence of (omega (n,) [rad/s], density (n,) [m2 s/rad], mean direction mu [rad], spreading s
    [-]); s = infinity is long-crested. An entry may go on with (direction (d,) [rad] mu, once round, density
    (n, d) [m2 s/rad per rad]) of a two-dimensional record, or None, None: these then decide the directions in
    place of mean and s. stream: Generator that belongs to the sea, not to a realisation. Frequencies,
    amplitudes and directions off the mean do not depend on mu. Sum of amplitude^2/2 is m0 of the kept band.
    Raises ValueError for too few components or a spectrum without energy. One direction a component: our own choice
    (see the head of this file).
    """
    energies = []
    for omega, density, *_ in systems:
        energies.append([cumulative_energy(omega, density, omega[-1:], power)[0] for power in (0, 2)])
    energies = np.array(energies, dtype=float)
    if not np.all(energies > 0.0):  # also false for nan
        raise ValueError("a wave system holds no energy")
    weights = np.mean(energies / energies.sum(axis=0), axis=1)
    parts, counts = [], share_out(weights, count)
    for (omega, density, mean, s, *bands), n in zip(systems, counts, strict=True):
        frequency, amplitude = _frequencies_and_amplitudes(omega, density, n, stream)
        quantiles = _direction_quantiles(n, stream)
        if bands and bands[0] is not None:
            direction = _banded_directions(omega, *bands, frequency, quantiles, mean)
        else:
            direction = mean + cos2s_direction(quantiles, s)
        parts.append((frequency, amplitude, direction))
    omega, amplitude, direction = (np.concatenate(column) for column in zip(*parts, strict=True))
    system = np.repeat(np.arange(len(counts)), counts)
    return Components(omega, omega**2 / STANDARD_GRAVITY, amplitude, direction, system)


def _banded_directions(omega, direction, density, frequency, quantiles, without_energy):
    """One direction [rad] for each frequency, (m,), from the row of the table at that frequency.

    omega (n,) rising [rad/s], direction (d,) [rad] once round, density (n, d) [m2 s/rad per rad]: the table, linear
    between its rows; frequency (m,) [rad/s]; quantiles (m,) [-] of the energy; `without_energy` [rad] where a row has
    none.
    """
    direction, density = np.asarray(direction, dtype=float), np.asarray(density, dtype=float)
    place = np.clip(np.searchsorted(omega, frequency, side="right") - 1, 0, len(omega) - 2)
    chosen = np.full(len(frequency), float(without_energy))
    for i, j in enumerate(place):
        share = (frequency[i] - omega[j]) / (omega[j + 1] - omega[j])
        row = (1.0 - share) * density[j] + share * density[j + 1]
        if row.sum() > 0.0:
            chosen[i] = tabulated_direction(direction, row, quantiles[i : i + 1])[0]
    return chosen


def direction_widths(direction):
    """Width of each direction band [rad], (d,), sum 2 pi: half the way to both neighbours, round the circle
    (definition).

    `direction` (d,) [rad] once round. Rounded to 1e-9 rad first, so that turning all directions by a heading does not
    touch a single bit.
    """
    direction = np.asarray(direction, dtype=float)
    step = np.diff(np.append(direction, direction[0]))
    step = np.abs(np.mod(step + np.pi, 2.0 * np.pi) - np.pi)
    width = np.round(0.5 * (step + np.roll(step, 1)), 9)
    return width * (2.0 * np.pi / width.sum())


def random_phases(stream, count):
    """Phases [rad], (count,), even over 0..2 pi: what makes one realisation differ from another.

    stream: Generator that belongs to one realisation; count: number of components. Source: Rice 1944, the sum of
    cosines with random phases.
    """
    return 2.0 * np.pi * stream.random(count)


def rayleigh_swings(stream, count):
    """Amplitudes over their root mean square [-], (count,), Rayleigh distributed: their squares have the mean 1.

    stream: Generator that belongs to one realisation; count: number of components. Fixed amplitudes give every
    realisation the same variance and too little grouping; Rayleigh amplitudes restore the scatter of a Gaussian
    sea of finite length. Source: Tucker, Challenor & Carter 1984.
    """
    return np.sqrt(stream.standard_exponential(count))

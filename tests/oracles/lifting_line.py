"""Lift slope and induced drag of plane wings in closed form and by the Fourier lifting line."""

from typing import NamedTuple

import numpy as np

TWO_PI = 2.0 * np.pi


class TaperedWing(NamedTuple):
    """Fourier lifting-line answer for a straight tapered wing."""

    lift_slope: float  # [1/rad]
    tau: float  # [-] of a = a0 / (1 + a0 (1 + tau) / (pi AR))
    delta: float  # [-] of C_Di = C_L^2 (1 + delta) / (pi AR)
    centroid: float  # [-] half-wing lift centroid over the half span
    coefficients: np.ndarray  # (terms,) odd Fourier coefficients for unit incidence

    def circulation(self, eta):
        """Circulation at eta = y over half span, relative to the middle [-]."""
        orders = 2 * np.arange(len(self.coefficients)) + 1
        theta = np.arccos(np.clip(np.atleast_1d(eta), -1.0, 1.0))
        middle = np.sum(self.coefficients * np.sin(orders * 0.5 * np.pi))
        return np.sin(theta[:, None] * orders) @ self.coefficients / middle


def tapered_lifting_line(taper, aspect_ratio, section_slope=TWO_PI, terms=200):
    """Lifting-line answer for a straight wing of linear taper and even incidence, as `TaperedWing`.

    `taper` [-] tip over root chord; `aspect_ratio` [-]. Glauert's equation with odd terms, met at
    `terms` points of the half span (from memory).
    """
    theta = (np.arange(terms) + 0.5) * (0.5 * np.pi / terms) + 0.25 * np.pi / terms
    theta = np.minimum(theta, 0.5 * np.pi)
    orders = 2 * np.arange(terms) + 1
    chord = 2.0 / (aspect_ratio * (1.0 + taper)) * (1.0 - (1.0 - taper) * np.cos(theta))  # of the span
    mu = (section_slope * chord / 4.0)[:, None]
    sines = np.sin(theta[:, None] * orders)
    matrix = sines * (mu * orders + np.sin(theta)[:, None])
    a = np.linalg.solve(matrix, mu[:, 0] * np.sin(theta))
    slope = np.pi * aspect_ratio * a[0]
    tau = np.pi * aspect_ratio * (1.0 / slope - 1.0 / section_slope) - 1.0
    delta = float(np.sum(orders[1:] * (a[1:] / a[0]) ** 2))
    # integral over half span of circulation times eta, and of circulation
    grid, weight = np.polynomial.legendre.leggauss(400)
    th = 0.25 * np.pi * (grid + 1.0)
    load = np.sin(th[:, None] * orders) @ a * np.sin(th)
    centroid = np.sum(weight * load * np.cos(th)) / np.sum(weight * load)
    return TaperedWing(float(slope), float(tau), delta, float(centroid), a)


def elliptic_lift_slope(aspect_ratio, section_slope=TWO_PI):
    """Lift slope of an elliptic wing by the lifting line [1/rad]: a0 / (1 + a0 / (pi AR))."""
    return section_slope / (1.0 + section_slope / (np.pi * aspect_ratio))


def helmbold_lift_slope(aspect_ratio):
    """Lift slope of a low-aspect wing [1/rad]: 2 pi AR / (2 + sqrt(AR^2 + 4)).

    5-7 % high for rectangles of aspect ratio 2-10.
    """
    return TWO_PI * aspect_ratio / (2.0 + np.sqrt(aspect_ratio**2 + 4.0))


def slender_lift_slope(aspect_ratio):
    """Lift slope of a very slender wing [1/rad]: pi AR / 2."""
    return 0.5 * np.pi * aspect_ratio


def elliptic_half_span_load(eta):
    """Load, shear and moment of an elliptic half span: (l s/(L/2), Q/(L/2), M/((L/2) s)) [-] at eta = y/s."""
    eta = np.asarray(eta, dtype=float)
    root = np.sqrt(np.maximum(1.0 - eta**2, 0.0))
    shear = 1.0 - 2.0 / np.pi * (eta * root + np.arcsin(eta))
    moment = 4.0 / np.pi * (root**3 / 3.0 - eta * (0.5 * np.arccos(eta) - 0.5 * eta * root))
    return 4.0 / np.pi * root, shear, moment


def surface_lift_slope(aspect_ratio, section_slope, two_dimensional_factor, sigma):
    """Lift slope under the surface by the lifting line [1/rad]: a0 K / (1 + a0 K (1 + sigma) / (pi AR))."""
    near = section_slope * two_dimensional_factor
    return near / (1.0 + near * (1.0 + sigma) / (np.pi * aspect_ratio))


def biplane_sigma(gap_over_span, points=2000):
    """Mutual induced-drag factor sigma of two equal elliptic loadings [-].

    `gap_over_span` [-] distance between them (2 x depth for an image in the surface) over the span. The
    wash of an elliptic trailing sheet at Z = (y + i gap)/(b/2) is 1 - Z/sqrt(Z^2 - 1) of the wash on
    the sheet itself; sigma is its average over the other loading (derived from the elliptic sheet).
    """
    angle = (np.arange(points) + 0.5) * np.pi / points
    z = np.cos(angle) + 2j * gap_over_span
    wash = 1.0 - z / (np.sqrt(z - 1.0) * np.sqrt(z + 1.0))
    return float(np.sum(wash.real * np.sin(angle) ** 2) / np.sum(np.sin(angle) ** 2))

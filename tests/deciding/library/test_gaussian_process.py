"""The surface through scattered points against closed forms, refits and draws of a known process."""

import numpy as np
import pytest
from scipy.optimize import approx_fprime
from scipy.special import gamma, kv

from seaload.basis.errors import InputError
from seaload.deciding.library.gaussian_process import (
    PLANE,
    Process,
    Scales,
    Told,
    beliefs,
    cost,
    covariance,
    error_covariance,
    fitted_scales,
    matern,
)

SCALES = Scales(np.array([1.3, 0.7]), 0.6, 1.2, 0.6)


def points(count=40, groups=8, seed=1):
    """Points of a bent surface, `groups` of them with an error in common."""
    draws = np.random.default_rng(seed)
    features = draws.uniform(-1.0, 1.0, (count, 2))
    group = np.arange(count) % groups
    errors = draws.uniform(0.05, 0.15, count)
    noise = np.sqrt(0.6) * draws.normal(size=groups)[group] + np.sqrt(0.4) * draws.normal(size=count)
    values = np.sin(2.0 * features[:, 0]) + features[:, 1] ** 2 + errors * noise
    return Told(features, values, errors, group)


def test_correlation_is_materns_of_smoothness_five_halves():
    """The general law with a modified Bessel function: Rasmussen & Williams 2006, eq. 4.14, from memory."""
    r = np.array([0.05, 0.3, 1.0, 2.7])
    nu, z = 2.5, np.sqrt(5.0) * r / 0.8
    general = 2.0 ** (1.0 - nu) / gamma(nu) * z**nu * kv(nu, z)
    ours = matern(np.zeros((1, 1)), r[:, None], np.array([0.8]))[0]
    assert ours == pytest.approx(general, rel=1e-12)


def test_a_plane_alone_is_bayesian_linear_regression():
    """Rasmussen & Williams 2006, eq. 2.8 and 2.9: posterior of the weights, no covariance function in it."""
    told = points()
    process = Process(told, Scales(np.ones(2), 0.0, 1.0, 0.0))
    design = np.column_stack([np.ones(len(told.values)), told.features]).T
    errors, values = told.errors / process.unit, (told.values - process.middle) / process.unit
    precision = (design / errors**2) @ design.T + np.eye(3) / PLANE**2
    at = np.array([[0.2, -0.4], [0.9, 0.9]])
    asked = np.column_stack([np.ones(2), at]).T
    mean = asked.T @ np.linalg.solve(precision, (design / errors**2) @ values)
    spread = asked.T @ np.linalg.solve(precision, asked)
    value, own = process.jointly(at)
    assert process.value(at) == pytest.approx(value, rel=1e-12)
    assert value == pytest.approx(process.middle + process.unit * mean, rel=1e-9)
    assert own == pytest.approx(process.unit**2 * spread, rel=1e-6)


def test_surface_is_the_conditional_law_of_a_joint_normal():
    """Schur complement of the whole covariance by explicit inverse (any text on statistics)."""
    told = points(12, 4)
    process, at = Process(told, SCALES), np.array([[0.1, 0.3], [-0.5, 0.2]])
    both = np.concatenate([told.features, at])
    whole = covariance(both, both, SCALES)
    whole[:12, :12] += error_covariance(told.errors / process.unit, told.groups, SCALES)
    precision = np.linalg.inv(np.linalg.inv(whole)[12:, 12:])
    mean = whole[12:, :12] @ np.linalg.inv(whole[:12, :12]) @ ((told.values - process.middle) / process.unit)
    value, spread = process.jointly(at)
    assert value == pytest.approx(process.middle + process.unit * mean, rel=1e-8)
    assert spread == pytest.approx(process.unit**2 * precision, rel=1e-5)


@pytest.mark.parametrize("groups", [40, 8])
def test_leaving_out_in_closed_form_is_refitting_without(groups):
    """Rasmussen & Williams 2006, eq. 5.12 for single points; whole groups likewise, both against refits."""
    told = points(40, groups)
    process = Process(told, SCALES)
    found, spread = process.left_out()
    for group in range(groups):
        out = told.groups == group
        without = Process(told.of(~out), SCALES, (process.middle, process.unit))
        value, error = without.at(told.features[out])
        own = SCALES.noise * told.errors[out]
        assert found[out] == pytest.approx(value, abs=1e-8)
        assert spread[out] == pytest.approx(np.hypot(error, own), rel=1e-6)


@pytest.mark.parametrize("smooth", [True, False])
def test_derivatives_of_the_likelihood(smooth):
    told, start = points(), beliefs(2, smooth)
    theta = start[:, 0] + 0.3
    numeric = approx_fprime(theta, lambda t: cost(t, told, start, smooth)[0], 1e-6)
    assert cost(theta, told, start, smooth)[1] == pytest.approx(numeric, rel=1e-4, abs=1e-4)


def test_errors_told_hold_nine_in_ten_of_the_truth_of_a_drawn_process():
    """The truth is drawn from a known law, its scales are found again from the points; 90 % of a normal law."""
    inside, lengths = [], []
    for seed in range(12):
        draws = np.random.default_rng(seed)
        features = draws.uniform(-1.0, 1.0, (150, 2))
        law = 0.6**2 * matern(features, features, np.array([0.5, 2.0]))
        truth = np.linalg.cholesky(law + 1e-10 * np.eye(150)) @ draws.normal(size=150) + features[:, 0]
        group = np.arange(150) // 6
        errors = np.full(150, 0.1)
        noise = 0.1 * (np.sqrt(0.7) * draws.normal(size=25)[group] + np.sqrt(0.3) * draws.normal(size=150))
        known = np.arange(150) < 120
        told = Told(features[known], (truth + noise)[known], errors[known], group[known])
        scales = fitted_scales(told)
        value, error = Process(told, scales).at(features[~known])
        inside.append(np.mean(np.abs(value - truth[~known]) < 1.645 * error))
        lengths.append(scales.lengths)
    assert 0.85 < np.mean(inside) < 0.95
    assert np.median(lengths, axis=0)[0] < np.median(lengths, axis=0)[1]


def test_what_the_waves_did_to_a_whole_group_drops_out_of_a_difference():
    """Two points side by side in the same waves: their difference has the errors' own parts alone, sqrt(2 (1 - c)) e
    (variance of a difference, any text on statistics), less what the surface ties together anyway.
    """
    features = np.array([[-0.2], [0.2]])
    told = Told(features, np.array([0.3, 0.5]), np.array([0.2, 0.2]), np.zeros(2, dtype=int))
    scales = Scales(np.array([0.1]), 5.0, 1.0, 0.9)
    _, spread = Process(told, scales, (0.0, 1.0)).jointly(features)
    error = np.sqrt(spread[0, 0] + spread[1, 1] - 2.0 * spread[0, 1])
    assert error == pytest.approx(0.2 * np.sqrt(2.0 * 0.1), rel=0.02)
    assert np.sqrt(spread[0, 0]) == pytest.approx(0.2, rel=0.02)


@pytest.mark.parametrize("length, words", [(1.0, "not positive definite"), (1e-300, "not finite: damaged")])
@pytest.mark.filterwarnings("ignore:.*encountered:RuntimeWarning")
def test_points_that_no_surface_goes_through_are_one_line(length, words):
    """Once a traceback of the matrix library: one place met many times with one error, which may happen to any library
    and is no damage, or lengths beyond numbers.
    """
    told = Told(np.ones((80, 3)), np.arange(80.0), np.zeros(80), np.zeros(80, dtype=int))
    process = Process(told, Scales(np.full(3, length), 1.0, 1.0, 1.0))
    with pytest.raises(InputError, match=words) as refused:
        process.value(np.ones((1, 3)))
    assert ("damaged" in str(refused.value)) == ("damaged" in words)


def test_numbers_that_are_all_alike_make_a_level_surface():
    """What acts on nothing is nothing at every point, known exactly: a surface through it all the same."""
    features = np.random.default_rng(4).uniform(-1.0, 1.0, (26, 8))
    told = Told(features, np.zeros(26), np.full(26, 1e-6), np.arange(26) // 5)
    for smooth in (False, True):
        process = Process(told, fitted_scales(told, smooth))
        assert np.allclose(process.at(features[:4] * 0.9)[0], 0.0, atol=1e-6)


def test_the_error_of_a_plane_is_the_same_by_its_coefficients():
    told, asked = points(), np.random.default_rng(5).uniform(-2.0, 2.0, (7, 2))
    for scales in (SCALES, SCALES._replace(spread=0.0)):
        process = Process(told, scales)
        assert process.error(asked) == pytest.approx(np.sqrt(np.diag(process.jointly(asked)[1])), rel=1e-6)

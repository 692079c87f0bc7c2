"""A change seen as a shift of the mean load and a growth of its fluctuation, on boats whose answer is known."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.evidence.load_change import common_loads, paired_loads
from seaload.evidence.places import common_place, mean_share

NORMAL, REVERSE = 100.0, 25.0  # [N m] limits of the made-up foil


@pytest.fixture
def cases(made_case):
    """Function: cases whose load has this mean and this fluctuation [share of the normal limit], over common waves."""

    def go(mean, size, seed=1, n=16):
        found = []
        for r in range(n):
            waves = np.random.default_rng([seed, r]).gumbel(size=(6, 120))
            normal = mean + size * (3.0 + 0.4 * waves)
            reverse = (-mean + size * (3.0 + 0.4 * waves)) * NORMAL / REVERSE
            found.append(
                made_case(
                    duration=1200.0, moment_mean=np.full(6, mean * NORMAL), place_block_normal=normal,
                    place_block_reverse=reverse, normal_limit=np.full(6, NORMAL), reverse_limit=np.full(6, REVERSE),
                )
            )  # fmt: skip
        return found

    return go


def test_mean_share_is_positive_towards_its_own_limit(cases):
    records = cases(0.4, 0.1)
    assert mean_share(records, "normal", 2) == pytest.approx(0.4)
    assert mean_share(records, "reverse", 2) == pytest.approx(-0.4 * NORMAL / REVERSE)


@pytest.mark.parametrize("side", ["normal", "reverse"])
@pytest.mark.parametrize(("mean", "size"), [(0.45, 0.1), (0.40, 0.1), (0.40, 0.12), (0.43, 0.09)])
def test_the_load_that_comes_as_often_as_the_limit_is_found_exactly(cases, side, mean, size):
    """A load m + f g(waves) that becomes m' + f' g: the limit 1 is met as often as m + (1 - m') f / f' was."""
    own, changed = cases(0.40, 0.1), cases(mean, size)
    unit = 1.0 if side == "normal" else -NORMAL / REVERSE
    level, error = paired_loads(own, changed, side).level()
    assert level == pytest.approx(unit * 0.40 + (1.0 - unit * mean) * 0.1 / size, rel=1e-9)
    assert error < 1e-9


def test_other_waves_give_an_error_that_holds_the_difference(cases):
    """The same boat over other waves: no change, within two standard errors in most of the trials."""
    inside = []
    for seed in range(20):
        level, error = paired_loads(cases(0.4, 0.1, seed), cases(0.4, 0.1, 100 + seed), "normal").level()
        inside.append(abs(level - 1.0) < 2.0 * error)
    assert np.mean(inside) >= 0.8


def test_the_error_told_is_the_scatter_over_other_waves(cases):
    """Standard errors by leaving one out (Tukey's jackknife) against the scatter of forty trials, within a third."""
    trials = np.array([
        paired_loads(cases(0.4, 0.1, seed), cases(0.4, 0.1, 100 + seed), "normal").level() for seed in range(40)
    ])  # fmt: skip
    assert np.median(trials[:, 1]) == pytest.approx(trials[:, 0].std(ddof=1), rel=0.33)


@pytest.mark.parametrize("side", ["normal", "reverse"])
def test_a_high_load_moves_with_mean_and_fluctuation(cases, side):
    """A load m + f g(waves) at the share s lies at m' + (s - m) f'/f after the change."""
    unit = 1.0 if side == "normal" else -NORMAL / REVERSE
    own, changed = cases(0.40, 0.1), cases(0.43, 0.12)
    change, error = paired_loads(own, changed, side).change_of(0.8)
    assert change == pytest.approx(unit * 0.43 + (0.8 - unit * 0.40) * 1.2 - 0.8, rel=1e-9)
    assert error < 1e-9


def test_a_common_place_is_compared(cases, made_case):
    loads = common_loads([cases(0.4, 0.1), cases(0.5, 0.1)], "normal")
    assert loads.mean == pytest.approx([0.4, 0.5])
    with pytest.raises(ValueError, match="too few"):
        common_loads([[made_case()], [made_case()]], "normal")


def test_cases_that_came_to_their_end_at_once_have_no_place_and_tell_no_load(cases):
    ended = [replace(record, duration=0.0) for record in cases(0.4, 0.1)]
    assert common_place([ended], "reverse")[0] == -1
    with pytest.raises(ValueError, match="too few"):
        common_loads([ended, ended], "reverse")

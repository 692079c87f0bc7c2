"""Heeling turns without stretching; the slow holds stop at their bounds; a dry transom takes its momentum along."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.boat.heeling import heeled, heeling_moment, heeling_moment_fall
from seaload.boat.hull_section import relieved_slice, stern_weight
from seaload.boat.hull_stations import lowest_point
from seaload.boat.steady_hold import HEEL_AHEAD, bounded_hold, trim_ahead

places, angles = st.floats(-10.0, 10.0), st.floats(-1.5, 1.5)


@settings(deadline=None)  # the first call compiles
@given(places, places, angles, angles)
def test_heeling_keeps_lengths_and_adds_up(y, z, first, second):
    assert np.hypot(*heeled(y, z, first)) == pytest.approx(np.hypot(y, z), abs=1e-12)
    assert heeled(*heeled(y, z, first), second) == pytest.approx(heeled(y, z, first + second), abs=1e-12)


def test_heeling_leeward_side_down_lowers_what_lies_to_leeward():
    assert heeled(1.0, 0.0, 0.1)[1] < 0.0 < heeled(0.0, 1.0, 0.1)[0]


@settings(deadline=None)  # the first call compiles
@given(st.floats(0.05, 0.6), st.floats(-0.01, 0.01))
def test_heeling_moment_falls_as_the_square_of_the_cosine(heel, roll):
    """Common practice, no source; to first order in roll."""
    ours = heeling_moment(1000.0, heeling_moment_fall(heel), roll, 1.0)
    exact = 1000.0 * np.cos(heel + roll) ** 2 / np.cos(heel) ** 2
    assert ours == pytest.approx(exact, abs=1000.0 * 2.0 * roll**2 + 1e-9)
    assert heeling_moment(1000.0, 0.0, roll, 1.3) == pytest.approx(1300.0)


@settings(deadline=None)  # the first call compiles
@given(st.lists(st.floats(-5.0, 5.0), min_size=1, max_size=60))
def test_a_hold_never_winds_up_past_its_bound_by_more_than_a_step(rates):
    held, step = 0.0, 0.1
    for rate in rates:
        before, held = held, held + step * bounded_hold(held, rate, 1.0)
        assert abs(held) <= max(1.0 + step * abs(rate), abs(before))
    assert bounded_hold(1.0, -2.0, 1.0) == -2.0  # and comes back at once


def test_what_a_crew_gives_at_once_is_what_the_hold_would_add_in_the_time_it_looks_ahead():
    off, rate, step = -0.02, 15000.0, 0.1
    added = sum(step * bounded_hold(0.0, off * rate, 1e6) for _ in range(round(HEEL_AHEAD / step)))
    assert trim_ahead(off, rate) == pytest.approx(added) and trim_ahead(-off, rate) == -trim_ahead(off, rate)


class Form:
    half_beam, deadrise, bilge_share = 2.0, np.radians(10.0), 1.0


def test_an_upright_hull_is_lowest_at_its_keel_and_a_heeled_one_at_its_chine():
    assert lowest_point(Form, 0.0, 0.4, 0.0) == pytest.approx(-0.4)
    chine = -2.0 * np.sin(0.5) + 2.0 * np.tan(Form.deadrise) * np.cos(0.5)
    assert lowest_point(Form, 0.0, 0.0, 0.5) == pytest.approx(chine)


@settings(deadline=None)  # the first call compiles
@given(st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_stern_weights_draw_a_straight_line_to_the_transom(start, slope):
    dx = 0.5
    values = [start + slope * (i + 0.5) * dx for i in range(3)]
    assert sum(stern_weight(i) * value for i, value in enumerate(values)) == pytest.approx(start, abs=1e-9)


def test_a_hull_without_relief_loses_the_momentum_of_its_transom():
    """Momentum of even sections is steady along the hull: all of U m_a V leaves at the transom (momentum law)."""
    mass, entry, speed, count, dx = 800.0, 1.5, 10.0, 12, 1.0
    slices = [relieved_slice(0.0, 0.0, mass, entry, speed, 1.0, 0.0, stern_weight(i), dx) for i in range(count)]
    lift = sum(each[0] for each in slices)
    x = dx * (np.arange(count) + 0.5)
    assert lift == pytest.approx(mass * entry * speed)
    # about the transom: nothing but what is taken along over the length
    moment = sum(x[i] * each[0] + each[1] for i, each in enumerate(slices))
    assert moment == pytest.approx(mass * entry * speed * dx * count, rel=1e-12)
    assert sum(each[3] for each in slices) == pytest.approx(mass * dx * count)


def test_relief_takes_off_what_a_dry_transom_cannot_hold():
    lift, along, eased, mass = relieved_slice(500.0, 200.0, 800.0, 1.5, 10.0, 0.0, 0.0, 0.0, 1.0)
    assert (lift, along, eased, mass) == (300.0, 0.0, 0.0, 0.0)


def test_a_hold_follows_its_error_within_its_bounds_and_stops_at_them():
    assert bounded_hold(0.0, 2.0, 1.0) == 2.0 and bounded_hold(0.0, -2.0, 1.0) == -2.0
    assert bounded_hold(1.0, 2.0, 1.0) == bounded_hold(1.5, 2.0, 1.0) == 0.0
    assert bounded_hold(-1.0, -2.0, 1.0) == bounded_hold(-1.5, -2.0, 1.0) == 0.0

"""The helm: rudder against the heading and its rate, within its limit and no faster than hands turn it."""

import pytest

from seaload.boat.steering import rudder_asked, rudder_rate


def test_rudder_is_put_against_heading_and_turning():
    assert rudder_asked(1.5, 0.5, 0.1, 0.0, 0.0, 0.6) == pytest.approx(-0.15)
    assert rudder_asked(1.5, 0.5, 0.0, 0.2, 0.0, 0.6) == pytest.approx(-0.1)
    assert rudder_asked(1.5, 0.5, -0.1, -0.2, 0.0, 0.6) == pytest.approx(0.25)


def test_helm_that_is_carried_stands_when_she_is_on_her_heading():
    assert rudder_asked(2.0, 1.0, 0.0, 0.0, 0.05, 0.6) == 0.05


def test_no_rudder_goes_past_its_limit_either_way():
    assert rudder_asked(2.0, 1.0, 1.0, 0.0, 0.0, 0.4) == -0.4
    assert rudder_asked(2.0, 1.0, -1.0, 0.0, 0.0, 0.4) == 0.4


def test_rudder_reaches_what_is_asked_within_the_step_or_turns_as_fast_as_it_can():
    assert rudder_rate(0.10, 0.09, 1.0, 0.02) == pytest.approx(0.5)
    assert rudder_rate(0.30, 0.10, 1.0, 0.02) == 1.0
    assert rudder_rate(-0.30, 0.10, 1.0, 0.02) == -1.0

"""What a crew writes of its risk, in SI."""

import math

import pytest

from seaload.scenario.risk_spec import RiskSpec


def test_wear_is_said_in_full_load_cycles_an_hour_and_held_in_damage_a_second():
    """A million full-load cycles are a damage of one (definition of this project)."""
    assert RiskSpec(wear_swings_per_hour=7.2).si().wear == pytest.approx(7.2e-6 / 3600.0)
    assert RiskSpec().si().wear == math.inf


def test_growth_is_said_by_the_hour():
    assert RiskSpec(sea_growth_m_per_hour=1.8).si().sea_growth == pytest.approx(5e-4)


def test_confidence_is_a_share_and_only_of_the_bound():
    assert RiskSpec(judge_by="bound", confidence_percent=90).si().confidence == pytest.approx(0.9)
    assert RiskSpec().si().confidence == 0.0

"""One scale of colour for odds: the crew's limit is where the lighter half ends, whatever else is shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seaload.report.shared.charts import LEAST_ODDS
from seaload.report.shared.figure_style import RAMP_LEVELS
from seaload.report.shared.risk_shade import risk_shade

ODDS, LIMITS = st.floats(0.0, 1.0), st.floats(1e-3, 0.4)


@given(odds=ODDS, limit=LIMITS)
def test_the_lighter_half_is_within_the_limit_and_nothing_else_is(odds, limit):
    assert (risk_shade(odds, limit) < RAMP_LEVELS // 2) == (odds < limit)


@given(odds=st.lists(ODDS, min_size=2, max_size=2), limit=LIMITS)
def test_more_risk_is_never_lighter(odds, limit):
    low, high = sorted(odds)
    assert 0 <= risk_shade(low, limit) <= risk_shade(high, limit) < RAMP_LEVELS


def test_both_halves_are_used_to_their_ends():
    assert risk_shade(LEAST_ODDS, 0.02) == 0 and risk_shade(1.0, 0.02) == RAMP_LEVELS - 1


@pytest.mark.parametrize("nothing", [None, 0.0])
def test_a_result_without_a_limit_has_the_usual_one(nothing):
    assert risk_shade(0.0199, nothing) < RAMP_LEVELS // 2 <= risk_shade(0.0201, nothing)

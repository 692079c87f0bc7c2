"""Added resistance of several cases: mean thrust less that of still water, its interval over realisations."""

import numpy as np
import pytest
from scipy.stats import ttest_1samp

from seaload.evidence.added_resistance import added_resistance
from tests.small_study import made_case


def test_mean_and_interval_are_students_or_wider():
    """Against scipy's own interval of the mean."""
    given, calm = np.array([9000.0, 9400.0, 8700.0, 9100.0]), np.array([7200.0, 7250.0, 7190.0, 7210.0])
    found = added_resistance([made_case(thrust_mean=g, thrust_calm=c) for g, c in zip(given, calm, strict=True)])
    student = ttest_1samp(given - calm, 0.0).confidence_interval(0.9)
    assert found["added_resistance"] == pytest.approx((given - calm).mean())
    assert found["added_resistance_low"] <= student.low * (1 + 1e-9)
    assert found["added_resistance_high"] >= student.high * (1 - 1e-9)
    assert found["added_resistance_high"] - found["added_resistance_low"] < 1.5 * (student.high - student.low)
    assert found["thrust_calm"] == pytest.approx(calm.mean())


def test_one_realisation_has_no_interval_and_an_older_record_no_number():
    one = added_resistance([made_case(thrust_mean=9000.0, thrust_calm=7000.0)])
    assert (one["added_resistance"], one["added_resistance_high"]) == (2000.0, np.inf)
    older = added_resistance([made_case(thrust_mean=np.nan, thrust_calm=np.nan)] * 2)
    assert np.isnan(older["added_resistance"]) and np.isnan(older["added_resistance_high"])


def test_a_case_that_never_began_is_no_zero():
    cases = [made_case(duration=0.0, thrust_mean=0.0, thrust_calm=7000.0), made_case(thrust_mean=9.0, thrust_calm=7.0)]
    assert added_resistance(cases)["added_resistance"] == 2.0

"""What a sweep says of a setting beside the one of its sea."""

from types import SimpleNamespace

import pytest

from seaload.result.sweep_parts import differences


@pytest.mark.parametrize("at_bearing, at_grid, wears", [(3.0, 1.0, 3.0), (1.0, 3.0, 3.0)])
def test_wear_beside_another_setting_is_that_of_the_bearing_or_of_the_worst_material(
    made_case, at_bearing, at_grid, wears
):
    def case(bearing, grid):
        record = made_case(duration=10.0)
        record.damage[0], record.grid_damage[7] = bearing, grid
        return record

    quiet = {(1, 0, r): case(0.5, 0.5) for r in range(3)}
    records = {(0, 0, r): case(at_bearing, at_grid) for r in range(3)} | quiet
    state = SimpleNamespace(counts={(0, 0): 3, (1, 0): 3})
    found = differences(SimpleNamespace(records=records), state, (0, 0), 1)
    assert found["damage_rate_difference"] == pytest.approx((wears - 0.5) / 10.0)
    assert found["damage_rate_difference_low"] <= found["damage_rate_difference"]
    assert differences(SimpleNamespace(records=records), state, (1, 0), 1) == {}

"""What a sea leaves of a speed: shared runs, words for what the thrust cannot hold, nothing where nothing is known."""

from dataclasses import replace
from math import inf, nan

import numpy as np
import pytest

from seaload.basis.records import STATUS_NOT_FINITE
from seaload.basis.units import KNOT
from seaload.studies.attainable import NO_SPEED
from seaload.studies.attainable_in_sea import REALISATIONS, FreeRuns, earn_speeds, usable_speed
from tests.deciding.fake_sailer import FakeSailer
from tests.small_study import made_case

LEFT = 0.9  # [-] of the calm attainable speed in the made-up sea
SCATTER = np.array([-0.01, 0.0, 0.01])  # of the realisations
CALM = 10.0  # [m/s]


class SlowedSailer(FakeSailer):
    """Every case loses a tenth of the speed it starts with; it remembers what it was asked."""

    broken, sailed = (), []

    def variant(self, settings=None, **changes):
        made = SlowedSailer(self.study, settings, self.make, None, model={**self.model, **changes})
        made.broken, made.sailed = self.broken, self.sailed
        return made

    def draw(self, i, j, r):
        self.sailed.append((self.settings[i, j], j, r, self.model["speed"]))
        status = STATUS_NOT_FINITE if (i, j, r) in self.broken else 0
        speed = self.settings[i, j].speed * LEFT * (1.0 + SCATTER[r])
        return made_case(speed_mean=speed, speed_max=speed, status=status)


def asked(study, *speeds, calm=CALM, why="", broken=(), model=None):
    """(settled, parts, cases sailed) of one setting at several speeds, None meaning attainable, in one sea."""
    one = study.settings[0]
    settled = {
        (i, 0): replace(one, speed=calm if speed is None else speed, attainable=speed is None)
        for i, speed in enumerate(speeds)
    }
    whys = np.full((len(speeds), 1), why, dtype=object)
    parts = {
        "speed_attainable": (("setting", "sea"), np.full((len(speeds), 1), calm)),
        "reachable": (("setting", "sea"), (whys == "").astype(np.int8)),
        "unreachable_reason": (("setting", "sea"), whys),
    }
    sailer = SlowedSailer(study, settled, made_case, None, model=model or {})
    sailer.sailed, sailer.broken = [], broken
    return *earn_speeds(FreeRuns(sailer), settled, parts), sailer.sailed


def test_settings_that_differ_in_speed_alone_share_three_runs_with_the_speed_free(small_study):
    _, parts, sailed = asked(small_study, 6.0, 8.0, None)
    base = replace(small_study.settings[0], speed=CALM, attainable=False)
    assert sailed == [(base, 0, r, "free") for r in range(REALISATIONS)]
    assert parts["speed_attainable_in_sea"][1] == pytest.approx(LEFT * CALM)
    low, high = (parts[f"speed_attainable_in_sea_{end}"][1][0, 0] for end in ("low", "high"))
    half = 2.91999 * LEFT * CALM * 0.01 / np.sqrt(3.0)  # Student's t, 2 degrees of freedom, 95 % one-sided (any table)
    assert (low, high) == pytest.approx((LEFT * CALM - half, LEFT * CALM + half), rel=1e-4)


def test_a_stated_speed_past_the_interval_and_the_spare_is_unreachable(small_study):
    edge = (LEFT * CALM + 2.91999 * LEFT * CALM * 0.01 / np.sqrt(3.0)) * 1.02
    _, parts, _ = asked(small_study, edge - 0.01, edge + 0.01)
    assert parts["reachable"][1].ravel().tolist() == [1, 0]
    told = f"thrust holds {LEFT * CALM / KNOT:.1f} kn in this sea"
    assert parts["unreachable_reason"][1].ravel().tolist() == ["", told]


def test_attainable_means_attainable_in_that_sea(small_study):
    settled, parts, _ = asked(small_study, None)
    assert settled[0, 0].speed == pytest.approx(LEFT * CALM) and settled[0, 0].attainable
    assert usable_speed(parts, (0, 0)) == pytest.approx(LEFT * CALM)


def test_a_run_that_ends_early_leaves_the_speed_unknown(small_study):
    settled, parts, _ = asked(small_study, None, 9.9, broken={(0, 0, 1)})
    assert np.isnan(parts["speed_attainable_in_sea"][1]).all()
    assert parts["unreachable_reason"][1].ravel().tolist() == [NO_SPEED, ""]
    assert usable_speed(parts, (1, 0)) == CALM and np.isnan(settled[0, 0].speed)


@pytest.mark.parametrize("other", [{"calm": nan}, {"why": "nothing holds up this heel"}, {"model": {"surge": "fixed"}}])
def test_nothing_is_sailed_where_calm_water_or_the_wind_does_not_say(small_study, other):
    _, parts, sailed = asked(small_study, 8.0, **other)
    assert sailed == [] and np.isnan(parts["speed_attainable_in_sea"][1]).all()
    assert parts["unreachable_reason"][1][0, 0] == other.get("why", "")
    assert usable_speed(parts, (0, 0)) < inf or np.isnan(other.get("calm", 0.0))


def test_speeds_in_the_sea_are_never_compared_with_those_in_calm_water():
    calm, sea = np.array([[11.0, 11.0], [10.0, 10.0]]), np.array([[nan, nan], [9.0, nan]])
    parts = {"speed_attainable": (("setting", "sea"), calm), "speed_attainable_in_sea": (("setting", "sea"), sea)}
    assert np.isnan(usable_speed(parts, (0, 0))) and usable_speed(parts, (1, 0)) == 9.0
    assert usable_speed(parts, (0, 1)) == 11.0

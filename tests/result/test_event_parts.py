"""Events in a result: the deepest of a study one by one, all of them counted."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.basis.records import EVENT_COLUMNS, NORMAL_EVENT, REVERSE_EVENT
from seaload.evidence.pool_records import pooled_motions, pooled_span
from seaload.result.event_parts import MOST_EVENTS, event_parts
from tests.small_study import made_case

STUDY = SimpleNamespace(settings=(None,) * 2, seas=(None,) * 1)
COLUMN = {name: i for i, name in enumerate(EVENT_COLUMNS)}


def case(depths, sign):
    """A made-up case with events of these depths, each with a strip load that says which it is."""
    table = np.zeros((len(depths), len(EVENT_COLUMNS)), dtype=np.float32)
    table[:, COLUMN["side"]], table[:, COLUMN["depth"]] = sign, depths
    none, peaks = np.zeros(0, dtype=np.float32), np.array(depths, dtype=np.float32)
    return made_case(
        event_table=table, event_strip_load=table[:, [COLUMN["depth"]] * 4], event_levels=np.array([0.4, 0.5]),
        event_peaks_reverse=peaks if sign == REVERSE_EVENT else none,
        event_peaks_normal=none if sign == REVERSE_EVENT else peaks,
    )  # fmt: skip


def test_the_deepest_of_every_case_stand_in_one_row():
    cases = {
        (0, 0, 0): case([0.9, 0.5], REVERSE_EVENT), (1, 0, 0): case([0.7], NORMAL_EVENT),
        (1, 0, 1): case([0.8, 0.6], REVERSE_EVENT),
    }  # fmt: skip
    parts = {name: values for name, (_, values) in event_parts(STUDY, cases).items()}
    assert parts["event_depth"] == pytest.approx([0.9, 0.8, 0.7, 0.6, 0.5])
    assert list(parts["event_setting"]) == [0, 1, 1, 1, 0]
    assert list(parts["event_realisation"]) == [0, 1, 0, 1, 0]
    assert list(parts["event_side"]) == [-1, -1, 1, -1, -1]
    assert np.all(parts["event_strip_load"] == parts["event_depth"][:, None])
    assert parts["event_count_reverse"][0, 0, 0] == 2 and parts["event_count_normal"][1, 0, 0] == 1
    assert np.isnan(parts["event_count_reverse"][0, 0, 1]) and parts["event_level_normal"][1, 0, 1] == 0.5


def test_a_large_study_keeps_the_deepest_of_either_side_and_counts_all():
    many = np.random.default_rng(1).uniform(0.4, 1.2, MOST_EVENTS + 50)
    cases = {(0, 0, 0): case(many, REVERSE_EVENT), (1, 0, 0): case(0.5 * many, NORMAL_EVENT)}
    parts = {name: values for name, (_, values) in event_parts(STUDY, cases).items()}
    for sign, depths in ((-1, many), (1, 0.5 * many)):
        told = parts["event_depth"][parts["event_side"] == sign]
        assert told == pytest.approx(np.sort(depths)[::-1][:MOST_EVENTS])
    assert parts["event_count_reverse"][0, 0, 0] == len(many)


def test_a_study_without_events_has_counts_alone_and_one_of_before_nothing():
    parts = event_parts(STUDY, {(0, 0, 0): case([], NORMAL_EVENT)})
    assert parts["event_count_normal"][1][0, 0, 0] == 0 and "event_depth" not in parts
    assert event_parts(STUDY, {(0, 0, 0): made_case()}) == {}
    assert pooled_motions([made_case()]) == pooled_span([made_case()]) == {}


def test_motions_are_pooled_by_time_and_extremes_are_those_of_any():
    rms = lambda value: np.full(3, value)  # noqa: E731
    one, two = (
        made_case(
            duration=time, acceleration_rms=rms(a), acceleration_highest_tenth=rms(2 * a), slams=slams,
            acceleration_worst=rms(3 * a), thrust_std=0.0, thrust_mean=10.0 * a,
            shear_max=rms(a), shear_min=rms(-a), torsion_max=rms(a), torsion_min=rms(a),
        )
        for time, a, slams in ((30.0, 1.0, 6.0), (10.0, 3.0, 2.0))
    )  # fmt: skip
    found = pooled_motions([one, two])
    assert found["acceleration_rms"] == pytest.approx(rms(np.sqrt(0.75 * 1.0 + 0.25 * 9.0)))
    assert found["acceleration_highest_tenth"] == pytest.approx(rms(3.0))
    assert found["acceleration_worst"] == pytest.approx(rms(9.0))
    assert found["slam_rate"] == pytest.approx(8.0 / 40.0)
    assert found["thrust_std"] == pytest.approx(np.std([10.0, 10.0, 10.0, 30.0]))
    span = pooled_span([one, two])
    assert span["shear_max"][0] == 3.0 and span["shear_min"][0] == -3.0 and span["torsion_min"][0] == 1.0

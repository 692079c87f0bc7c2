"""Where a zero steps the record breaks; a round crest written coarsely is no crest cut off."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.files.log.judge import cut, zero_steps
from seaload.files.log.limits import clip_level, clip_reach
from seaload.files.log.log_chunk import AFTER_GAP, NEW_ZERO, LogChunk, LogSetting
from seaload.files.log.survey import highest_levels
from seaload.files.log.tally import lasting
from seaload.files.log.zeros import ZeroLine, told


@pytest.mark.parametrize("step, place", [(95.0, 0), (100.0, 0), (100.5, 1)])
def test_a_zero_that_steps_in_a_gap_breaks_the_record_and_does_not_only_lose_time(step, place):
    time = 100.0 + np.arange(4.0)
    chunk = LogChunk(time, {"strain_1": time}, {"strain_1": time}, "a", True, AFTER_GAP, LogSetting(), {})
    lines = {"strain_1": ZeroLine(np.array([0.0, 200.0]), np.array([0.0, 1.0]), (step,))}
    pieces = list(cut(chunk, zero_steps(lines, 90.0, time)))
    assert [len(piece.time) for piece in pieces] == ([4] if place == 0 else [place, 4 - place])
    assert [piece.reason for piece in pieces] == ([NEW_ZERO] if place == 0 else [AFTER_GAP, NEW_ZERO])
    assert zero_steps(lines, step, time) == [] == zero_steps(lines, 0.0, time - 50.0)


@settings(max_examples=50, deadline=None)
@given(crest=st.floats(0.5, 0.505), period=st.floats(4.0, 12.0), phase=st.floats(0.0, 6.28))
def test_a_round_crest_written_to_two_decimals_is_not_cut_off(crest, period, phase):
    """A parabola stands up to 2.4 times as long on its top step as on the next; one cut off stands far longer."""
    t = np.arange(0.0, 60.0, 0.02)
    swell = np.round(crest * np.sin(2.0 * np.pi * t / period + phase), 2)
    assert crest_level(swell) == np.inf
    assert crest_level(np.minimum(swell, 0.4)) == 0.4


def crest_level(values):
    highest = highest_levels((np.empty(0), np.empty(0)), values)
    return clip_level(highest, clip_reach(float(np.std(values)), 0.01), np.inf)


def test_findings_are_told_in_plain_numbers():
    assert lasting(1057.3) == "1,057 s" and lasting(0.52) == "0.52 s"
    assert "-0.0" not in told([-1e-5, 1e-5], 1.0)

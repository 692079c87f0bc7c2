"""How the matrices of a span lie in memory for the march: every strip's lift beside its wash."""

import numpy as np
import pytest

from seaload.foil.influence import mirrored_influence
from seaload.foil.wet_states import answers, fin_answers


@pytest.mark.parametrize("shape", [(5, 5), (3, 5, 5)])
def test_rows_of_lift_and_wash_take_turns(shape):
    rng = np.random.default_rng(3)
    lift, wash = rng.normal(size=(2, *shape))
    both = answers(lift, wash)
    assert both.shape == (*shape[:-2], 10, 5)
    assert np.array_equal(both[..., 0::2, :], lift) and np.array_equal(both[..., 1::2, :], wash)


def test_a_fin_answers_with_its_share_of_the_section_lift_and_the_wash_of_that_lift():
    slope = 5.7
    found, both = mirrored_influence(1.0, 4, 6.0, slope), fin_answers(4, 6.0, slope)
    assert both[0::2] * slope == pytest.approx(found.lift)
    assert both[1::2] == pytest.approx(found.wash @ found.lift)

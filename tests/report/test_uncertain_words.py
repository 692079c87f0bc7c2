"""What drives the uncertainty, in words."""

from math import log, nan
from typing import get_args

import numpy as np
import pytest
import xarray as xr

from seaload.report.shared.doubt_blocks import doubt_blocks
from seaload.report.shared.uncertain_words import (
    LEAST_SHARE,
    WORDS,
    spread_words,
    uncertain_words,
    wear_words,
    worth_showing,
)
from seaload.scenario.risk_spec import UncertainName


def test_every_input_that_may_be_written_has_words_of_its_own():
    assert set(get_args(UncertainName)) <= set(WORDS)
    assert len(set(WORDS.values())) == len(WORDS) and not any("_" in words for words in WORDS.values())


def test_an_input_of_another_version_is_told_as_it_is_written():
    assert uncertain_words("wind_shear") == "wind shear"


@pytest.mark.parametrize("change, words", [
    (0.0, "none"), (log(1.04), "none"), (log(1.5), "× 1.5"), (-log(9.0), "× 9.0"), (log(22.0), "× 22"),
    (8.0, "over × 1,000"), (1e9, "over × 1,000"),
])  # fmt: skip
def test_a_factor_on_wear_reads_the_same_up_and_down(change, words):
    assert wear_words(change) == words


def test_a_share_is_never_told_as_nothing():
    assert spread_words(0.354) == "35 %" and spread_words(0.012) == "1 %"
    assert spread_words(0.0099) == spread_words(0.0) == "under 1 %"


def test_an_input_is_shown_for_the_load_or_for_the_wear():
    assert worth_showing(LEAST_SHARE, 0.0) and worth_showing(0.0, -0.3)
    assert not worth_showing(0.9 * LEAST_SHARE, 0.04) and not worth_showing(0.0, nan)


def result(**more):
    """The uncertain part of a result of one sea."""
    names = np.array(["forecast_tp", "limit_normal", "hull_damping"], dtype=object)
    dims = ("sea", "uncertain")
    return xr.Dataset({
        "sea_name": (("sea",), np.array(["storm"], dtype=object)),
        "uncertain_name": (("uncertain",), names),
        "uncertain_share_reverse": (dims, [[0.4, 0.0, 0.6]]),
        "reverse_odds_known_low": (dims, [[0.01, 0.05, 0.02]]),
        "reverse_odds_known_high": (dims, [[0.2, 0.05, 0.1]]),
        "load_spread_reverse": (("sea",), [0.3]),
        **more,
    })  # fmt: skip


def test_the_largest_stands_first_and_what_does_nothing_is_named_below():
    wear = (("sea", "uncertain"), [[-1.2, 0.0, 3.0]])
    untold = (("sea",), np.array(["steeper than 1/16, not simulated: Tp -2 deviations"], dtype=object))
    table, *notes = doubt_blocks(result(uncertain_effect_wear=wear, uncertain_untold=untold))
    assert table["heads"] == ("Input", "Share", "Reverse odds once it is known", "Wear, one deviation off")
    assert table["rows"] == [
        ("damping of the hull", "60 %", "1 in 50 to 1 in 10", "× 20"),
        ("wave period, forecast", "40 %", "1 in 100 to 1 in 5", "× 3.3"),
    ]
    texts = " ".join(note["text"] for note in notes)
    assert "Not shown: normal limit of the foil" in texts and "rare loads to 30 %" in texts
    assert "told from the seas nearer to the forecast: steeper than 1/16" in texts


def test_results_made_before_show_what_they_hold():
    table, *notes = doubt_blocks(result())
    assert table["heads"][-1] == "Reverse odds once it is known" and len(table["rows"]) == 2 and len(notes) == 2

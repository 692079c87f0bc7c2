"""The description of a leg: mistakes a person is likely to make are one line; what is written arrives in SI."""

import copy
import tomllib
from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.scenario import leg_spec
from seaload.scenario.leg_spec import read_leg_spec

LEGS = Path(__file__).resolve().parents[2] / "scenarios" / "legs"
DEMO = tomllib.loads((LEGS / "demo.toml").read_text(encoding="utf-8"))
SEGMENT = {"heading_deg_true": 215.0, "distance_nm": 30.0}
START = {"start_latitude_deg": 48.4, "start_longitude_deg": -31.0}


def read(monkeypatch, **changes):
    """The `Leg` of the demo with changes; None takes a key away."""
    tables = {key: value for key, value in {**copy.deepcopy(DEMO), **changes}.items() if value is not None}
    with monkeypatch.context() as patch:
        patch.setattr(leg_spec, "read_tables", lambda path: tables)
        return read_leg_spec(LEGS / "leg.toml")


def test_the_example_in_si(monkeypatch):
    leg = read(monkeypatch)
    assert leg.name == "demo-leg" and len(leg.settings) == 27 and leg.start == 1773468000.0
    assert leg.stretch == 15.0 * 1852.0 and leg.least_between == 3600.0
    assert leg.budget.wear == pytest.approx(DEMO["budget"]["wear_cycles"] * 1e-6)
    assert any(line.startswith("forecast_error.hs_percent") for line in leg.defaults_used)


def test_segments_with_their_bounds(monkeypatch):
    bounded = {**SEGMENT, "change": False, "most_speed_knots": 15.0, "least_rake_deg": 1.0}
    leg = read(monkeypatch, track=None, stretch_nm=None, segment=[SEGMENT, bounded], **START)
    one, other = leg.segments
    assert one.heading == pytest.approx(215.0 * DEGREE) and one.distance == 30.0 * 1852.0 and one.change
    assert not other.change
    assert other.limits == {"speed_set": (-np.inf, pytest.approx(15.0 * KNOT)), "rake": (pytest.approx(DEGREE), np.inf)}


@pytest.mark.parametrize("changes, words", [
    ({"segment": [SEGMENT]}, "track = 'demo-track.csv': give a track or"),
    ({"track": None, "stretch_nm": None}, "segment = 'missing': needed: .*segment.* tables, or track"),
    ({"track": None, "stretch_nm": None, "segment": [SEGMENT]}, "start_latitude_deg = 'missing': needed with"),
    ({"track": None, "segment": [SEGMENT], **START}, "stretch_nm = 15.0: goes with track"),
    ({"start_latitude_deg": 40.0}, "start_latitude_deg = 40.0: leave it out"),
    ({"track": "other.gpx"}, "track = 'other.gpx': no such file"),
    ({"forecast": "other.nc"}, "forecast = 'other.nc': no such file"),
    ({"library": "../demo.nc"}, "library = '../demo.nc': allowed is name of the boat's library"),
    ({"start_utc": "tomorrow"}, "start_utc = 'tomorrow': a moment in UTC"),
    ({"budget": {"reverse_odds": 1.5}}, "budget.reverse_odds = 1.5: allowed is a number from 0 to 0.999"),
    ({"budget": {"reverse_odd": 0.1}}, "unknown key; did you mean reverse_odds"),
    ({"settings": {"speed_knots": "attainable"}}, "settings.speed_knots = 'attainable': numbers"),
    ({"settings": {"tanks": {"aft": 50}}}, "settings.tanks = 'this table': ballast_shift_m"),
    ({"settings": {"rake_deg": [0.01 * k for k in range(400)]}}, "settings = 400: at most 300 settings"),
    ({"crew": {"least_hours": 1}}, "least_hours = 1: unknown key; did you mean least_minutes"),
    ({"start_utc": None}, "start_utc = 'missing': needed"),
    ({"track": None, "stretch_nm": None, **START,
      "segment": [{**SEGMENT, "most_extension_percent": 60.0, "least_extension_percent": 80.0}]},
     "segment.1..least_extension_percent = 80.0: must be at most"),
])  # fmt: skip
def test_a_mistake_is_one_line(monkeypatch, changes, words):
    with pytest.raises(InputError, match=words) as caught:
        read(monkeypatch, **changes)
    assert "\n" not in str(caught.value)

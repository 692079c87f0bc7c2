"""A leg's way in pieces, and the seas met on it seen from the boat."""

import numpy as np
import pytest

from seaload.deciding.leg.met import met_on
from seaload.deciding.leg.route import PIECE, route_of
from seaload.files.forecast_field import Forecast
from seaload.scenario.leg_records import LegSegment, Steady

START = (np.radians(46.0), np.radians(-179.0))


def legs(*pairs):
    return [LegSegment(np.radians(heading), distance) for heading, distance in pairs]


def forecast(came=250.0, wind_from=270.0, hs=3.0, tp=9.0):
    """The same everywhere and always: one system, one member."""
    shape = (2, 1, 2, 2)
    full = lambda value: np.full(shape, float(value))  # noqa: E731
    blow = np.radians(wind_from)
    wind = np.array([full(-10.0 * np.sin(blow)), full(-10.0 * np.cos(blow))])
    axis = np.radians([40.0, 52.0])
    return Forecast(np.array([0.0, 1e6]), axis, np.radians([170.0, 190.0]), full(hs), ("wind sea",), full(hs)[None],
                    full(tp)[None], full(np.radians(came))[None], wind, None, ())  # fmt: skip


def test_pieces_add_up_and_a_segment_written_as_two_is_cut_at_the_same_places():
    whole = route_of(START, legs((200.0, 100e3), (310.0, 70e3)))
    half = legs((200.0, 5.0 * PIECE), (200.0, 100e3 - 5.0 * PIECE), (310.0, 70e3))
    parts = route_of(START, half)
    assert whole.distance == pytest.approx(170e3) and whole.length.max() <= PIECE
    assert whole.length.tolist() == pytest.approx(parts.length.tolist())
    assert whole.latitude == pytest.approx(parts.latitude, abs=1e-12)
    assert whole.end == pytest.approx(parts.end, abs=1e-12)
    assert whole.change.sum() == 2 and parts.change.sum() == 3


def test_over_the_date_line_the_way_goes_on():
    route = route_of(START, legs((270.0, 200e3)))
    assert np.all(np.abs(route.longitude) <= np.pi) and route.longitude[0] < 0.0 < route.longitude[-1]
    met = met_on(route, forecast(), 0.0, np.zeros((len(route.length), 1)), (None, None))
    assert np.all(met.hs == pytest.approx(3.0))


@pytest.mark.parametrize(
    "heading, wind_from, came, foil, angle",
    [  # wind over starboard: the port foil works; waves + from windward
        (0.0, 90.0, 45.0, "port", 45.0), (0.0, 90.0, 315.0, "port", -45.0), (0.0, 270.0, 315.0, "starboard", 45.0),
        (200.0, 290.0, 250.0, "port", 50.0), (350.0, 300.0, 10.0, "starboard", -20.0),
    ],
)  # fmt: skip
def test_which_foil_works_and_where_waves_come_from(heading, wind_from, came, foil, angle):
    route = route_of(START, legs((heading, 50e3)))
    met = met_on(route, forecast(came, wind_from), 0.0, np.zeros((len(route.length), 1)), (None, None))
    assert {"port": 0, "starboard": 1}[foil] == met.foil[0, 0] and len(set(met.foil.ravel())) == 1
    assert np.degrees(met.angle[0, 0, 0]) == pytest.approx(angle, abs=0.02)


def test_a_mirrored_leg_meets_the_same_sea_with_the_other_foil():
    """Everything mirrored in the meridian: course, wind and waves."""
    one = met_on(route_of(START, legs((200.0, 50e3))), forecast(250.0, 290.0), 0.0, np.zeros((6, 1)), (None, None))
    other = met_on(route_of(START, legs((160.0, 50e3))), forecast(110.0, 70.0), 0.0, np.zeros((6, 1)), (None, None))
    assert one.angle == pytest.approx(other.angle, abs=1e-9)
    assert (one.foil + other.foil == 1).all()


def test_a_steady_wind_and_current_stand_in_where_the_forecast_has_none():
    calm = forecast()
    calm = Forecast(*(getattr(calm, name) if name != "wind" else None for name in Forecast.__dataclass_fields__))
    route = route_of(START, legs((90.0, 20e3)))
    steady = (Steady(8.0, np.radians(0.0)), Steady(1.5, np.radians(90.0)))
    met = met_on(route, calm, 0.0, np.zeros((len(route.length), 1)), steady)
    assert met.wind_speed == pytest.approx(8.0) and np.degrees(met.wind_angle) == pytest.approx(-90.0)
    assert met.along == pytest.approx(1.5)

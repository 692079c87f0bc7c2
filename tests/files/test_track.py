"""Ways at sea from CSV and GPX: what is taken, what is refused in a line; nothing outside the file is ever read."""

from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.files.track import read_track

MADE = Path(__file__).parents[1] / "published" / "data" / "leg_made_dateline.gpx"  # parsed with gpxpy 1.6.2 when made
GPX = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'
POINT = '<rtept lat="46.{0}" lon="-30.{0}"/>'


def test_a_route_over_the_date_line():
    track = read_track(MADE)
    told = np.array([[-47.5, 178.5], [-48.0, -179.0], [-48.4, -176.2]])
    assert np.degrees(track.places) == pytest.approx(told)
    assert track.notes == ("the file's route is taken, not its track",)


def test_a_track_with_a_gap_where_there_is_no_route(tmp_path):
    text = MADE.read_text(encoding="utf-8")
    start, end = text.index("<rte>"), text.index("</rte>") + len("</rte>")
    path = tmp_path / "track.gpx"
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    track = read_track(path)
    assert len(track.places) == 4
    assert track.notes == ("gaps of the track bridged by straight ways: 1", "times in the track are not used")


@pytest.mark.parametrize("text", [
    "latitude_deg,longitude_deg\n46.1,-30.1\n46.2,-30.2\n",
    "# words\ntime;lat;lon\n2026-03-14T00:00Z;46.1;-30.1\n2026-03-14T01:00Z;46.2;-30.2\n",
    GPX.format("<rte>" + POINT.format(1) + POINT.format(2) + "</rte>"),
])  # fmt: skip
def test_the_same_places_from_any_of_them(tmp_path, text):
    path = tmp_path / "way.csv"
    path.write_text(text, encoding="utf-8")
    assert np.degrees(read_track(path).places) == pytest.approx(np.array([[46.1, -30.1], [46.2, -30.2]]))


BOMB = '<!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b SYSTEM "file:///etc/passwd">]>'


@pytest.mark.parametrize("text, words", [
    (BOMB + GPX.format("<rte>" + POINT.format(1) + POINT.format(2) + "</rte>"), "without a document type or entities"),
    (GPX.format("<rte>" + POINT.format(1) + "</rte>"), "at least two places"),
    (GPX.format("<rte></rte><rte></rte>"), "one route or one track"),
    (GPX.format("<rte><rtept lat='x' lon='1'/><rtept lat='1' lon='1'/></rte>"), "degrees of every point"),
    ("<gpx", "cannot be read as GPX"),
    ("<kml></kml>", "a GPX file, version 1.1"),
    ("a,b\n1,2\n", "latitude_deg and longitude_deg"),
    ("lat,lon\n46.1,-30\n46,x\n", "row 2"),
    ("lat,lon\n46.1,-30\n95,-30\n", "degrees, -80 to 80"),
    ("lat,lon\n46.1,-30\nnan,-30\n", "degrees, -80 to 80"),
    ("lat,lon\n46.1,-30\n46,400\n", "degrees, -180 to 360"),
])  # fmt: skip
def test_what_is_no_way_is_refused_in_a_line(tmp_path, text, words):
    path = tmp_path / "way.gpx"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=words):
        read_track(path)

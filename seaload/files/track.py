"""A way at sea as a row of places: CSV with latitude and longitude, or GPX 1.1 (a route, else a track).

Times in the file are not used: when each place is reached follows from the plan. GPX is read by the standard library's
XML reader, with no document type: entities, which could name other files or fill the memory, are refused.
"""

import csv
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.scenario.text_file import file_text, shown

LARGEST = 20_000_000  # [bytes]
MOST_PLACES = 5000
NAMESPACES = ("http://www.topografix.com/GPX/1/1", "http://www.topografix.com/GPX/1/0")
LATITUDES = ("latitude_deg", "latitude", "lat")
LONGITUDES = ("longitude_deg", "longitude", "lon", "long")
MOST_LATITUDE = 80.0  # [degrees] beyond it courses are no use


class Track(NamedTuple):
    """Places in order."""

    places: np.ndarray  # (n, 2) (latitude, longitude) [rad]
    notes: tuple  # plain words on what was chosen or left out


def read_track(path):
    """`Track` of a CSV or GPX file; InputError, one line, for what is none."""
    path = Path(path)
    text = file_text(path, field="track", largest=LARGEST)
    rows, notes = gpx_places(path, text) if text.lstrip().startswith("<") else csv_places(path, text)
    if len(rows) < 2:
        raise InputError(shown(path), "track", len(rows), "at least two places")
    if len(rows) > MOST_PLACES:
        raise InputError(shown(path), "track", len(rows), f"at most {MOST_PLACES} places: thin it out")
    for number, (latitude, longitude) in enumerate(rows, 1):
        if not abs(latitude) <= MOST_LATITUDE:
            raise InputError(shown(path), f"latitude of place {number}", latitude, "degrees, -80 to 80")
        if not -180.0 <= longitude <= 360.0:
            raise InputError(shown(path), f"longitude of place {number}", longitude, "degrees, -180 to 360")
    return Track(np.array(rows) * DEGREE, tuple(notes))


def csv_places(path, text):
    """([(latitude, longitude)] [degrees], notes) of a CSV text with a header."""
    lines = [line for line in text.split("\n") if line.strip() and not line.startswith("#")]
    try:
        dialect = csv.Sniffer().sniff("\n".join(lines[:20]), delimiters=",;\t")
    except csv.Error:
        dialect = csv.excel
    rows = list(csv.reader(lines, dialect))
    heads = [head.strip().lower() for head in rows[0]] if rows else []
    at = [next((heads.index(name) for name in names if name in heads), None) for names in (LATITUDES, LONGITUDES)]
    if None in at:
        raise InputError(shown(path), "columns", shown(", ".join(heads)), "needed: latitude_deg and longitude_deg")
    found = []
    for number, row in enumerate(rows[1:], 1):
        found.append(tuple(number_in(path, row, column, number) for column in at))
    return found, ["times in the track are not used"] if "time" in " ".join(heads) else []


def number_in(path, row, column, number):
    """Number in a `column` of a row; InputError that names the row, counted from 1."""
    text = row[column].strip() if column < len(row) else ""
    try:
        return float(text)
    except ValueError:
        allowed = "a number of degrees with a decimal point"
        raise InputError(shown(path), f"row {number}", shown(text), allowed) from None


def gpx_places(path, text):
    """([(latitude, longitude)] [degrees], notes) of a GPX text: its route where it has one, else its track."""
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise InputError(shown(path), "track", "DOCTYPE", "a GPX file without a document type or entities")
    try:
        root = ElementTree.fromstring(text)
    except (ElementTree.ParseError, ValueError) as error:
        raise InputError(shown(path), "track", shown(path.name), f"cannot be read as GPX: {error}") from None
    space, _, tag = root.tag.rpartition("}")
    if tag != "gpx" or space.strip("{") not in NAMESPACES:
        raise InputError(shown(path), "track", shown(root.tag), "a GPX file, version 1.1")
    own, notes = f"{space}}}", []
    routes = root.findall(f"{own}rte")
    tracks = root.findall(f"{own}trk")
    if len(routes) > 1 or (not routes and len(tracks) > 1):
        count = len(routes) or len(tracks)
        raise InputError(shown(path), "track", count, "one route or one track: leave one in the file")
    if routes:
        points = routes[0].findall(f"{own}rtept")
        notes += ["the file's route is taken, not its track"] if tracks else []
    else:
        parts = tracks[0].findall(f"{own}trkseg") if tracks else []
        points = [point for part in parts for point in part.findall(f"{own}trkpt")]
        notes += [f"gaps of the track bridged by straight ways: {len(parts) - 1}"] if len(parts) > 1 else []
    if any(point.find(f"{own}time") is not None for point in points):
        notes.append("times in the track are not used")
    return [tuple(degrees_of(path, point, name) for name in ("lat", "lon")) for point in points], notes


def degrees_of(path, point, name):
    """An attribute of a point as a number of degrees."""
    try:
        return float(point.attrib[name])
    except (KeyError, ValueError):
        written = shown(point.attrib.get(name, "missing"))
        raise InputError(shown(path), name, written, "degrees of every point") from None

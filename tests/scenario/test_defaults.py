"""A default is a promise: what a study leaves unsaid keeps its meaning. The table stands in data/defaults.csv."""

import csv
import importlib
import math
import pkgutil
import tomllib
from pathlib import Path

import pytest
from pydantic import BaseModel

import seaload.scenario
from seaload.scenario.boat_spec import BoatSpec

BOATS = Path(__file__).resolve().parents[2] / "scenarios" / "boats"
TABLE = Path(__file__).parent / "data" / "defaults.csv"


def promised():
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return {(row["specification"], row["key"]): float(row["default"]) for row in csv.DictReader(lines)}


@pytest.fixture(scope="module")
def fields():
    """(specification, key) -> field of everything a person may write."""
    found = {}
    for module in pkgutil.iter_modules(seaload.scenario.__path__):
        for name, entry in vars(importlib.import_module(f"seaload.scenario.{module.name}")).items():
            if isinstance(entry, type) and issubclass(entry, BaseModel):
                found.update({(name, key): field for key, field in entry.model_fields.items()})
    return found


def test_what_is_left_unsaid_means_what_it_meant(fields):
    known = {key: default for key, default in promised().items() if key in fields}
    assert {key: fields[key].default for key in known} == known
    assert len(known) > 50


def test_readme_tells_the_same_smallest_study():
    """DESIGN and README: no more than one event in 50 exposures of three hours, nine realisations of twenty minutes."""
    known = promised()
    assert known["RiskSpec", "reverse_odds"] == known["RiskSpec", "normal_odds"] == 1.0 / 50.0
    assert known["SamplingSpec", "hours"] * 60.0 / known["SamplingSpec", "realisation_minutes"] == 9.0


def demo_boat(**hull):
    """The demo boat's specification, some keys of its hull otherwise."""
    raw = tomllib.loads((BOATS / "demo.toml").read_text(encoding="utf-8"))
    raw["foil"]["starboard"] = {**raw["foil"]["port"], "id": "other"}
    return BoatSpec.model_validate({**raw, "hull": {**raw["hull"], **hull}})


def test_a_hull_that_says_nothing_of_its_bow_has_one_by_its_length():
    hull = demo_boat().hull.si()
    assert hull.bow_from_cg == pytest.approx(hull.length / 6.0)
    assert hull.plunge_depth == pytest.approx(hull.length / 18.0)
    assert demo_boat(bow_from_cg_m=2.5).hull.si().bow_from_cg == 2.5


def test_heel_and_cant_windows_hold_what_is_worked_and_the_setting_of_the_rig():
    boat = demo_boat()
    for name, usual, reference in (("heel_deg", (0.15, 0.45), 18.0), ("cant_deg", (0.0, 0.7), 30.0)):
        least, most = boat.window(name, reference, usual)
        assert usual[0] - 0.2 < least <= usual[0] and usual[1] <= most < usual[1] + 0.2
        assert boat.window(name, 60.0, usual)[1] == pytest.approx(math.pi / 3.0)

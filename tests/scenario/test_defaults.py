"""A default is a promise: what a study leaves unsaid keeps its meaning. The table stands in data/defaults.csv."""

import csv
import importlib
import pkgutil
from pathlib import Path

import pytest
from pydantic import BaseModel

import seaload.scenario

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

"""Every key of a study that sizes a foil reaches the record that is worked with, or is a word that a user sees."""

import tomllib
from dataclasses import replace

import pytest

from seaload.basis.errors import InputError
from seaload.basis.exact_hash import hash_of, without
from seaload.scenario.size_spec import SizeSpec
from seaload.studies.size import load_size as room
from tests.inputs.leaf_keys import all_names, leaves, name_of, others, with_value
from tests.inputs.test_nothing_written_is_ignored import FURTHER, LISTED
from tests.small_study import STUDIES

DEMO = STUDIES.parent / "sizing" / "size-demo.toml"
TABLES = tomllib.loads(DEMO.read_text(encoding="utf-8"))
FURTHER_KEYS = {  # what the example leaves to its defaults
    "foil": "port",
    "compare": ["../../tests/boats/former.toml"],
    "rig": {**TABLES["rig"], "slope": 12.0},
    "change": [*TABLES["change"], {"name": "stiffer", "stiffness_percent": 10.0}],
    "model": {"roll": "free"},
    "uncertain": {"lift_slope": {"spread_percent": 8.0}, "rake_zero": {"spread_deg": 0.5}},
}
SHARED = ("sea.", "prescribed.", "settings.", "risk.", "sampling.", "model.", "uncertain.", "situation.setting.")
OWN = ("situation.gust.ease_after_s",)  # of the gust's own table, see the keys of a study
GIVEN = {
    "name": ["another"], "usage": [], "boat": ["../../tests/boats/second.toml"],
    "sea": ["a gale on the quarter", "a gale on the bow"],
    "motion": ["leap and re-entry", "dropping off the plane"], "note": ["other words"], "origin": ["another"],
    "compare": [[]], "share_percent": [0.4], "analysis": ["ultimate", "both", "fatigue"],
}  # fmt: skip


def loaded(tables, monkeypatch):
    monkeypatch.setattr(room, "read_tables", lambda _: tables)
    return room.load_size(DEMO)


def told(sized):
    """Hash of all that is worked with or shown."""
    study = without(replace(sized.study, raw={}, path=""), {"notes"})
    boats = [(name, without(boat, {"raw"})) for name, boat in sized.compared]
    study["boat"] = without(sized.study.boat, {"raw"})
    return hash_of([study, {**without(sized, {"study", "compared"})}, [list(pair) for pair in boats]])


TWICE = [  # every sea and motion is named by two situations, so that one may name another
    {**one, "name": f"{one['name']} again", **({"share_percent": 0.01} if "share_percent" in one else {}),
     "realisations": 20}
    for one in TABLES["situation"][1:]
]  # fmt: skip
WHOLE = {**TABLES, **FURTHER_KEYS, "situation": [*TABLES["situation"], *TWICE]}
USAGE_ROW = ("situation", 0, "sea")  # "usage" is the one word of its kind: the row of the table itself
KEYS = [path for path in leaves(WHOLE) if path != USAGE_ROW and not f"{name_of(SizeSpec, path)}.".startswith(SHARED)]


@pytest.mark.parametrize("path", KEYS, ids=lambda path: ".".join(map(str, path)))
def test_another_value_changes_what_is_worked_with(path, monkeypatch, tmp_path):
    base = told(loaded(WHOLE, monkeypatch))
    given = dict(GIVEN)
    if path == ("usage",):
        table = (STUDIES.parent / "data" / "44007-scatter.csv").read_text(encoding="utf-8")
        (tmp_path / "table.csv").write_text(table.replace("3648", "3647"), encoding="utf-8")
        given["usage"] = [str(tmp_path / "table.csv")]
    if path == ("boat",):
        boats = STUDIES.parent / "boats"
        text = (boats / "demo.toml").read_text(encoding="utf-8").replace("mass_kg = 7600", "mass_kg = 7700")
        text = text.replace("demo-speed-table.csv", str(boats / "demo-speed-table.csv"))
        (tmp_path / "boat.toml").write_text(text, encoding="utf-8")
        given["boat"] = [str(tmp_path / "boat.toml")]
    value = WHOLE
    for step in path:
        value = value[step]
    for other in others(SizeSpec, path, value, given):
        tables = with_value(WHOLE, path, other)
        if path[0] == "heading" and path[-1] == "share_percent":  # shares are of a whole
            first = tables["heading"][(path[1] + 1) % len(tables["heading"])]
            first["share_percent"] += value - other
        try:
            changed = told(loaded(tables, monkeypatch))
        except (InputError, ValueError):
            continue
        if changed != base:
            return
    raise AssertionError(f"no other value of {path} changes anything")


def test_every_key_that_may_be_written_stands_in_the_example_or_here():
    """Tables that a study has too are covered with its keys: a situation's sea is a [[sea]] like any other."""
    here = {name_of(SizeSpec, path) for path in leaves(WHOLE)}
    covered = {name for name in LISTED} | {f"study {name_of(SizeSpec, path)}" for path in leaves(WHOLE)}
    missing = [
        name for name in all_names(SizeSpec)
        if name not in here and f"study {name}" not in covered and not name.startswith(SHARED) and name not in OWN
    ]  # fmt: skip
    assert missing == [] and FURTHER

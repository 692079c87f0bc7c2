"""Whatever stands in a study file, the answer is a study or one clear line, never a traceback."""

import copy
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seaload.basis.errors import InputError
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.read_boat import with_twins
from seaload.scenario.read_toml import checked
from seaload.scenario.study_spec import StudySpec
from seaload.studies.load_study import load_study

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
STUDY = tomllib.loads((SCENARIOS / "studies" / "settings-map.toml").read_text())
BOAT = tomllib.loads((SCENARIOS / "boats" / "demo.toml").read_text())
USUAL = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])

values = st.recursive(
    st.one_of(
        st.none(),  # TOML has no null, but a library caller may
        st.booleans(),
        st.integers(),
        st.integers(min_value=-(10**400), max_value=10**400),
        st.floats(),
        st.text(max_size=20),
        st.datetimes(),
        st.sampled_from(["attainable", "never", "jonswap", "../x", "\x1b[2J", "x" * 10_000]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=4,
)


def places(tree, path=()):
    """Every place in the tables, as a tuple of keys and numbers."""
    found = [path] if path else []
    entries = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, inner in entries:
        found += places(inner, (*path, key))
    return found


def with_value(tree, path, value):
    tree = copy.deepcopy(tree)
    inner = tree
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    return tree


def one_line(error):
    line = str(error)
    assert "\n" not in line and len(line) < 2000 and error.exit_code == 2


@USUAL
@given(st.sampled_from(places(STUDY)), values)
def test_any_value_in_a_study(path, value):
    try:
        checked(StudySpec, with_value(STUDY, path, value), "f.toml").settings.si()
    except InputError as error:
        one_line(error)


@USUAL
@given(st.sampled_from(places(BOAT)), values)
def test_any_value_in_a_boat(path, value):
    try:
        tables = with_twins(with_value(BOAT, path, value), "b.toml")
        checked(BoatSpec, tables, "b.toml").si(raw=tables)
    except InputError as error:
        one_line(error)


@USUAL
@given(st.sampled_from([p for p in places(STUDY) if len(p) < 5]), st.text(max_size=30), values)
def test_any_key_in_a_study(path, key, value):
    tables = copy.deepcopy(STUDY)
    inner = tables
    for step in path:
        inner = inner[step]
    if isinstance(inner, dict):
        inner[key] = value
    try:
        checked(StudySpec, tables, "f.toml")
    except InputError as error:
        one_line(error)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_text_is_no_traceback(tmp_path_factory, data):
    path = tmp_path_factory.getbasetemp() / "fuzz.toml"
    path.write_bytes(data.draw(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode))))
    with pytest.raises(InputError) as caught:
        load_study(path)
    one_line(caught.value)

"""Motions that a study prescribes: what may be written, in one line what may not, and what it becomes in SI."""

import math
import re
from pathlib import Path

import pytest

from seaload.basis.errors import InputError
from seaload.scenario import read_boat
from seaload.scenario.prescribed_spec import PrescribedSpec
from seaload.scenario.read_toml import checked
from seaload.scenario.records import other_side
from seaload.studies import load_study
from seaload.studies.load_study import plain

STUDIES = Path(__file__).resolve().parents[2] / "scenarios" / "studies"
GYBE = {"name": "gybe", "time_s": [0.0, 2.0, 4.0], "heel_deg": [18.0, 0.0, -18.0]}


def spec_of(**changes):
    tables = {**GYBE, **changes}
    return checked(PrescribedSpec, {key: value for key, value in tables.items() if value is not None}, "study.toml")


def test_rows_become_si_and_rows_left_out_are_left_to_the_calm_trim():
    found = spec_of(speed_knots=[20.0, 18.0, 16.0], foil="windward", note="words").si()
    assert found.heel == pytest.approx([math.radians(18.0), 0.0, -math.radians(18.0)])
    assert found.speed == pytest.approx([20.0 * 1852 / 3600, 18.0 * 1852 / 3600, 16.0 * 1852 / 3600])
    assert found.height is None and found.pitch is None and found.leeway is None
    assert (found.windward, found.note, found.time) == (True, "words", (0.0, 2.0, 4.0))
    assert not spec_of().si().windward


@pytest.mark.parametrize(
    "changes, field, allowed",
    [
        ({"time_s": [0.5, 2.0, 4.0]}, "time_s", "the first time must be 0"),
        ({"time_s": [0.0, 2.0, 2.01]}, "time_s", "0.05 s or more after"),
        ({"time_s": [0.0, 60.0, 130.0]}, "time_s", "at most 120 s"),
        ({"time_s": [0.0]}, "time_s", "seconds, from 0"),
        ({"heel_deg": None}, "time_s", "give a row that moves: heel_deg, leeway_deg"),
        ({"heel_deg": [18.0, 0.0]}, "heel_deg", "2 entries, needed are 3"),
        ({"heel_deg": [18.0, 0.0, 75.0]}, "heel_deg", "from -60 to 60"),
        ({"leeway_deg": [0.0, 20.0, 0.0]}, "leeway_deg", "from -15 to 15"),
        ({"speed_knots": [20.0, 1.0, 2.0]}, "speed_knots", "from 2 to 45"),
        ({"height_m": [0.0, 7.0, 0.0]}, "height_m", "from -3 to 6"),
        ({"pitch_deg": [0.0, -16.0, 0.0]}, "pitch_deg", "from -15 to 15"),
        ({"time_s": [0.0, 0.1, 9.0], "height_m": [0.0, 2.0, 0.0], "heel_deg": None}, "height_m", "at most 12 in a"),
        ({"time_s": [0.0, 0.1, 4.0]}, "heel_deg", "at most 90 in a second"),
        ({"foil": "leeward"}, "foil", '"working" or "windward"'),
        ({"heel": [1.0, 2.0, 3.0]}, "heel", "did you mean heel_deg"),
        ({"height_ft": [0.0, 1.0, 0.0]}, "height_ft", "did you mean height_m"),
        ({"name": ""}, "name", "1 to 60 characters"),
        ({"heel_deg": [18.0, float("nan"), 0.0]}, "heel_deg", ""),
        ({"heel_deg": ["18", 0.0, 0.0]}, "heel_deg", ""),
    ],
)
def test_what_cannot_be_is_one_line_with_its_field(changes, field, allowed):
    with pytest.raises(InputError) as refused:
        spec_of(**changes)
    line = str(refused.value)
    assert refused.value.field.startswith(field) and allowed in line and "\n" not in line


def test_two_motions_of_one_name_and_too_many_are_refused(monkeypatch):
    for motions, why in (([GYBE, GYBE], "two motions have this name"),
                         ([{**GYBE, "name": str(i)} for i in range(17)], "at most 16")):  # fmt: skip
        with pytest.raises(InputError, match=re.escape(why)):
            loaded(monkeypatch, motions)


def loaded(monkeypatch, motions, **changes):
    """The first study with these motions."""
    tables = {**plain(load_study.read_tables(STUDIES / "bow-quarter-swell.toml")), "prescribed": motions, **changes}
    monkeypatch.setattr(load_study, "read_tables", lambda path: tables)
    return load_study.load_study(STUDIES / "bow-quarter-swell.toml")


def test_a_study_without_motions_has_none_and_one_with_them_keeps_their_order(monkeypatch):
    assert load_study.load_study(STUDIES / "bow-quarter-swell.toml").prescribed == ()
    names = [motion.name for motion in loaded(monkeypatch, [{**GYBE, "name": "b"}, {**GYBE, "name": "a"}]).prescribed]
    assert names == ["b", "a"]


def test_a_windward_foil_that_the_boat_has_not_is_refused(monkeypatch):
    boat = read_boat.read_tables(STUDIES.parent / "boats" / "demo.toml")
    alone = {**boat, "foil": {"port": boat["foil"]["port"]}}
    monkeypatch.setattr(read_boat, "read_tables", lambda path: alone)
    with pytest.raises(InputError, match=r"prescribed\[1\]\.foil.*no starboard foil"):
        loaded(monkeypatch, [{**GYBE, "foil": "windward"}])


def test_a_windward_foil_further_in_than_it_works_is_refused(monkeypatch):
    boat = read_boat.read_tables(STUDIES.parent / "boats" / "demo.toml")
    other = {**boat["foil"]["port"], "least_extension_percent": 75, "id": "other"}
    monkeypatch.setattr(read_boat, "read_tables", lambda path: {**boat, "foil": {**boat["foil"], "starboard": other}})
    further_in = {"settings": {"extension_percent": 60}}
    with pytest.raises(InputError, match="starboard foil works from 75 to 100 percent out"):
        loaded(monkeypatch, [{**GYBE, "foil": "windward"}], **further_in)
    assert loaded(monkeypatch, [GYBE], **further_in).prescribed


def test_the_other_side_of_each_side():
    assert (other_side("port"), other_side("starboard")) == ("starboard", "port")

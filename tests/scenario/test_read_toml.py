"""Every mistake in a study or boat file becomes one clear line: file, field, value, what is allowed."""

import copy
from pathlib import Path

import pytest

from seaload.basis.errors import InputError
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.read_boat import read_boat, with_twins
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.study_spec import StudySpec

DEMO = Path(__file__).resolve().parents[2] / "scenarios" / "boats" / "demo.toml"
SEA = {"name": "s", "spectrum": "jonswap", "hs_m": 4.0, "tp_s": 10.0, "waves_from_bow_deg": 45.0}
STUDY = {"name": "a", "boat": "b.toml", "sea": [SEA], "settings": {}}


def line_of(model, tables):
    with pytest.raises(InputError) as caught:
        checked(model, tables, "f.toml")
    line = str(caught.value)
    assert "\n" not in line and line.startswith("f.toml: ") and caught.value.exit_code == 2
    return line


def changed(tables, path, value):
    """A copy of the tables with one entry set; `path` holds keys and places."""
    tables = copy.deepcopy(tables)
    inner = tables
    for step in path[:-1]:
        inner = inner.setdefault(step, {}) if isinstance(inner, dict) else inner[step]
    inner[path[-1]] = value
    return tables


STUDY_MISTAKES = [
    (("settings", "extension_percent"), 140, ["settings.extension_percent = 140", "from 0 to 100"]),
    (("settings", "extension_percent"), float("nan"), ["= nan", "from 0 to 100"]),
    (("settings", "rake_deg"), "2.0", ["settings.rake_deg = '2.0'", "a number from"]),
    (("settings", "rake_deg"), [], ["the list is empty"]),
    (("settings", "rake_deg"), [1.0, 1.0], ["twice"]),
    (("settings", "rake_deg"), True, ["a number from"]),
    (("settings", "speed_kn"), 20, ["settings.speed_kn", "did you mean speed_knots"]),
    (("settings", "speed_kts"), 20, ["did you mean speed_knots"]),
    (("settings", "speed_ms"), 10, ["did you mean speed_knots", "in knots"]),
    (("settings", "speed"), 20, ["did you mean speed_knots"]),
    (("settings", "extention_percent"), 80, ["did you mean extension_percent"]),
    (("settings", "rake_degrees"), 2, ["did you mean rake_deg?"]),
    (("settings", "rake_rad"), 0.03, ["did you mean rake_deg?"]),
    (("settings", "speed_knots"), "fast", ['"attainable"']),
    (("settings",), 3, ["a [settings] table"]),
    (("sampling", "sed"), 1, ["sampling.sed", "did you mean seed"]),
    (("sampling", "seed"), -1, ["sampling.seed = -1", "a whole number from 0"]),
    (("sampling", "seed"), 1.5, ["a whole number"]),
    (("sampling", "max_hours"), 1.0, ["sampling.max_hours", "at least hours, 3"]),
    (("risk", "reverse_odds"), 2, ["risk.reverse_odds = 2"]),
    (("sea",), [], ["one or more [[sea]] tables"]),
    (("sea",), [SEA, SEA], ["sea = 's'", "two seas"]),
    (("sea", 0, "hs_m"), -4.0, ["sea[1].hs_m = -4.0", "from 0.01 to 25 (metres"]),
    (("sea", 0, "hs_m"), [4.0, 5.0], ["sea[1].hs_m", "not a list"]),
    (("sea", 0, "hs"), 4.0, ["did you mean hs_m"]),
    (("sea", 0, "hs_ft"), 14.0, ["did you mean hs_m", "in m"]),
    (("sea", 0, "spectrum"), "jonswop", ['"jonswap" or "bretschneider"']),
    (("sea", 0, "wave_direction_deg"), 30.0, ["come from or go to", "waves_from_bow_deg"]),
    (("sea", 0, "direction_deg"), 30.0, ["come from or go to"]),
    (("sea", 0, "waves_from_deg_true"), 30.0, ["one is enough"]),
    (("sea", 0, "file"), "x.txt", ["not both"]),
    (("sea", 0, "tail"), "f-5", ["goes with file"]),
    (("sea", 0, "spreading_s"), "wide", ['"long-crested"']),
    (("sea", 0, "system"), [{"spectrum": "jonswap", "hs_m": 2.0}], ["sea[1].system[1].tp_s"]),
    (("sea", 0, "system"), [{}], ["system 1 needs"]),
    (("model", "roll"), "off", ['"free" or "fixed"']),
    (("model", "held_leeway_deg"), 1.0, ["model.held_leeway_deg = 1.0", 'goes with leeway = "held"']),
    (("gust", "ease_after_s"), "soon", ['"never"']),
    (("gust",), {"strength_percent": -30.0, "ease_after_s": 8.0}, ["gust.ease_after_s = 8.0", "nothing to ease"]),
    (("gust", "strength_percent"), -120.0, ["gust.strength_percent", "-100 to 200", "below 0 a lull"]),
    (("sea", 0, "gustiness_percent"), 60.0, ["gustiness_percent", "from 0 to 40"]),
    (("sea", 0, "gustiness_percent"), 10.0, ["sea[1].gustiness_percent = 10.0", 'goes with [model] wind = "gusts"']),
    (("model", "wind"), "gusty", ['"steady" or "gusts"']),
    (("uncertain", "lift"), {"spread_percent": 5.0}, ["uncertain.lift", "lift_slope"]),
    (("uncertain", "lift_slope"), {}, ["one of the two"]),
    (("name",), "Bow Quarter", ["small letters, digits and hyphens"]),
    (("name",), "../x", ["small letters"]),
    (("name",), "a\n", ["small letters"]),
    (("name",), "x" * 61, ["1 to 60"]),
    (("name",), "", ["small letters"]),
]


@pytest.mark.parametrize(("path", "value", "words"), STUDY_MISTAKES, ids=lambda v: str(v)[:40])
def test_a_mistake_in_a_study_gives_one_line_that_helps(path, value, words):
    line = line_of(StudySpec, changed(STUDY, path, value))
    for word in words:
        assert word in line, line


@pytest.mark.parametrize("key", ["name", "boat", "sea", "settings"])
def test_a_missing_key_is_named(key):
    tables = {name: value for name, value in STUDY.items() if name != key}
    assert f"{key} = 'missing'" in line_of(StudySpec, tables)


def test_a_named_spectrum_without_direction_is_refused():
    sea = {key: value for key, value in SEA.items() if key != "waves_from_bow_deg"}
    line = line_of(StudySpec, {**STUDY, "sea": [sea]})
    assert "sea[1].waves_from_bow_deg = 'missing'" in line and "heading_deg_true" in line


def test_a_compass_direction_needs_the_heading():
    sea = {key: value for key, value in SEA.items() if key != "waves_from_bow_deg"}
    line = line_of(StudySpec, {**STUDY, "sea": [{**sea, "waves_from_deg_true": 300.0}]})
    assert "heading_deg_true" in line


def test_the_smallest_study_is_accepted_and_says_its_defaults():
    spec = checked(StudySpec, STUDY, "f.toml")
    said = spec.defaults_used()
    assert "settings.extension_percent = 80.0" in said
    assert "sampling.hours = 3.0" in said and "risk.reverse_odds = 0.02" in said
    written = checked(StudySpec, changed(STUDY, ("sampling", "hours"), 4.0), "f.toml").defaults_used()
    assert not any(line.startswith("sampling.hours") for line in written)


BOAT_MISTAKES = [
    (("foil", "port", "stations_m"), [0.05, 5.2], ["foil.port.stations_m = 5.2", "outside the foil"]),
    (("foil", "port", "stations_m"), [-0.1, 1.0], ["foil.port.stations_m = -0.1"]),
    (("foil", "port", "structure", "strain_limit_reverse_microstrain"), -800, ["= -800", "positive"]),
    (("foil", "port", "structure", "limit_basis"), "safe", ['"working" or "first damage" or "break"']),
    (("foil", "port", "shaft_length_m"), 2.0, ["shaft_length_m = 2.0", "too short"]),
    (("foil", "port", "least_extension_percent"), 40, ["too short"]),
    (("foil", "port", "chord_m"), [0.8, 0.4], ["foil.port.chord_m", "7, one for each position"]),
    (("foil", "middle"), {}, ["foil.middle", "port, starboard"]),
    (("hull", "station_m"), [0.0, 3.0, 2.0, 18.0], ["hull.station_m", "rise"]),
    (("mass_t",), 8.5, ["mass_t", "did you mean mass_kg", "in kg"]),
    (("moves", "jump"), {"minutes": 1}, ["moves.jump", "ease_sheets"]),
    (("bulb_mass_kg",), 9000, ["bulb_mass_kg = 9000", "under mass_kg"]),
    (("rig", "thrust_slope"), float("inf"), ["rig.thrust_slope = inf"]),
    (("rig", "sail_down_force_n"), 3500, ["rig.sail_down_force_n = 3500", "retired", "effort_from_transom_m"]),
    (("motion", "sway_following"), 0.8, ["motion.sway_following = 0.8", "retired", "[steering]"]),
    (("motion", "sway_depth_m"), 1.5, ["motion.sway_depth_m = 1.5", "retired", "own depth"]),
    (("uncertain", "sway_following"), {"spread_percent": 25}, ["uncertain.sway_following", "retired", "steering_gain"]),
    (("uncertain", "yaw_fluctuation"), {"spread_deg": 1}, ["uncertain.yaw_fluctuation", "retired", "steering_gain"]),
    (("steering", "delay_s"), 3, ["steering.delay_s = 3", "0 to 2"]),
    (("motion", "leeway_deg"), 0.5, ["motion.leeway_deg = 0.5", "retired", 'leeway = "held"', "held_leeway_deg"]),
]


@pytest.fixture(scope="module")
def demo():
    return with_twins(read_tables(DEMO), DEMO)


@pytest.mark.parametrize(("path", "value", "words"), BOAT_MISTAKES, ids=lambda v: str(v)[:40])
def test_a_mistake_in_a_boat_gives_one_line_that_helps(demo, path, value, words):
    line = line_of(BoatSpec, changed(demo, path, value))
    for word in words:
        assert word in line, line


def test_a_twin_foil_takes_over_what_it_does_not_write(tmp_path):
    text = DEMO.read_text().replace("speed_table =", "# speed_table =")
    twin = 'same_as = "port"\nstructure = { strain_limit_reverse_microstrain = 700 }'
    text = text.replace('id = "demo-starboard-1"\n', "")
    (tmp_path / "b.toml").write_text(text.replace('same_as = "port"', twin))
    _, boat = read_boat(tmp_path / "b.toml")
    assert boat.foils["starboard"].strain_reverse == pytest.approx(700e-6)
    assert boat.foils["port"].strain_reverse == pytest.approx(800e-6)
    assert boat.foils["starboard"].shaft_length == boat.foils["port"].shaft_length
    assert boat.foils["port"].id == "demo-port-1" and boat.foils["starboard"].id == ""  # it is another foil


@pytest.mark.parametrize("twin", ["starboard", "other", "3"])
def test_a_twin_of_nothing_is_refused(tmp_path, twin):
    (tmp_path / "b.toml").write_text(DEMO.read_text().replace('same_as = "port"', f'same_as = "{twin}"'))
    with pytest.raises(InputError, match="foil.starboard.same_as"):
        read_boat(tmp_path / "b.toml")


@pytest.mark.parametrize(
    "content",
    [b"", b"name = ", b"\xff\xfe\x00", b"a = 1\na = 2", b"a = " + b"[" * 5000, b"a = " + b"9" * 6000],
    ids=["empty", "broken", "not utf-8", "twice", "deep", "huge number"],
)
def test_a_file_that_is_no_study_gives_one_line(tmp_path, content):
    path = tmp_path / "f.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        checked(StudySpec, read_tables(path), path)
    assert "\n" not in str(caught.value)


def test_a_missing_file_and_a_folder_are_named(tmp_path):
    with pytest.raises(InputError, match="no such file"):
        read_tables(tmp_path / "none.toml")
    with pytest.raises(InputError, match="is not a file"):
        read_tables(tmp_path)


def test_text_from_files_cannot_steer_a_terminal():
    assert shown("a\x1b[31m\u202eb") == "a\\x1b[31m\\u202eb"
    assert len(shown("x" * 10_000)) == 300

"""Every key that a person may write acts: another value changes a number, or a word a user sees, in a cheap result.

The keys are read off the files themselves, and off the specification: a new one fails here until it acts, or until it
stands on the list below with its reason.
"""

import re
import shutil
import tomllib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.scenario import read_boat
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.study_spec import StudySpec
from seaload.studies import load_study
from tests.inputs import cheap_results
from tests.inputs.leaf_keys import all_names, leaves, name_of, others, value_at, with_value

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
DATA = Path(__file__).resolve().parents[1] / "published" / "data"
BOAT = tomllib.loads((SCENARIOS / "boats" / "demo.toml").read_text(encoding="utf-8"))
BOAT["keel"].update(root_to_leeward_m=0.0, tilt_deg=0.0)  # what the example leaves to its default
BOAT["rig"].update(reference_ballast_shift_m=0.0, trim_s=60.0)
BOAT["hull"].update(bilge_share=0.78, wetted_share=0.62, wetted_loss_planing=0.3, bow_from_cg_m=3.0, plunge_depth_m=1.0)
for fin in ("keel", "rudder"):
    BOAT[fin].update(profile_drag=0.008, area_coefficient=0.65, cl_max=1.0)
for move in BOAT["moves"].values():
    move.update(only_below_knots=40.0, words="Do this")
BOAT["moves"]["bear_away"]["words_back"] = "And back"
STUDIES = sorted((SCENARIOS / "studies").glob("*.toml"))
FILES = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in STUDIES}

# keys that no example holds; a study of each kind that holds them
NAMED = {"spectrum": "jonswap", "hs_m": 3.0, "tp_s": 9.0, "waves_from_bow_deg": 45.0}
COMPASS = {**NAMED, "waves_from_deg_true": 300.0, "heading_deg_true": 250.0}
GRID = {"file": str(DATA / "sea_era5_2d_spectra.nc"), "heading_deg_true": 30.0}
del COMPASS["waves_from_bow_deg"]
TO = {key: value for key, value in COMPASS.items() if key != "waves_from_deg_true"} | {"waves_to_deg_true": 120.0}
RECORD = FILES["bow-quarter-swell"]["sea"][0]


def study_of(sea, **tables):
    """Tables of a study of one sea."""
    return {"name": "one", "boat": "../boats/demo.toml", "sea": [{"name": "x", **sea}], "settings": {}, **tables}


FURTHER = {
    "compass": study_of(COMPASS, foil="port", settings={"tanks": {"aft": 60.0, "forward": 30.0}}),
    "compass-to": study_of(TO),
    "grid": study_of({**GRID, "place": [36.0, 216.0]}),
    "systems": study_of({}) | {"sea": [{"name": "x", "system": [COMPASS, TO, {**GRID, "place": [36.0, 216.0]},
                                                                 {**RECORD, "waves_from_bow_deg": 20.0}]}]},
    "model": study_of(
        {**NAMED, "gustiness_percent": 10.0},
        model={"roll": "free", "surge": "free", "keel_fin": "on", "rudders": "on", "lag": "on", "lift_limits": "on",
               "free_surface": "finite-froude", "bending": "mode", "amplitudes": "fixed", "wind": "gusts",
               "leeway": "held", "held_leeway_deg": 0.5, "speed": "held"},
        gust={"strength_percent": 30.0, "rise_s": 5.0, "hold_s": 20.0, "ease_after_s": 15.0},
        uncertain={"lift_slope": {"distribution": "normal", "spread_percent": 8.0, "reason": "tests"},
                   "rake_zero": {"spread_deg": 0.5}},
        risk={"wear_swings_per_hour": 5.0, "judge_by": "bound", "confidence_percent": 90.0},
        sampling={"run_in_s": 180.0, "step_s": 0.02, "components": 240},
        forecast={"hs_percent": 12.0, "hs_percent_per_day": 3.0, "tp_percent": 15.0, "tp_percent_per_day": 1.25,
                  "heading_deg": 15.0, "heading_deg_per_day": 3.75, "hs_tp_correlation": 0.4},
    ),
}  # fmt: skip
for system in FURTHER["systems"]["sea"][0]["system"]:
    system.pop("name", None)
    for key in ("true_wind_speed_knots", "true_wind_angle_deg"):
        system.pop(key, None)

LISTED = {  # key: why another value changes no number
    "boat uncertain.*.reason": "words for whoever reads the file",
    "study uncertain.*.reason": "words for whoever reads the file",
    "boat foil.*.same_as": "names the other foil; every other value is refused",
    "boat foil.*.id": "names the ledger's page of a foil, see tests/files",
    **{f"boat rig.ladder.{key}": "of a leg alone, see test_leg_keys.py"
       for key in ("wind_from_knots", "heel_deg", "thrust_percent")},
    "boat logger.rate_hz": "of recorded logs alone",
    "boat logger.filter_hz": "of recorded logs alone",
    "boat validity.pitch_share_percent": "marks cases of minutes steeply pitched, which seconds do not hold",
    "boat validity.speed_ratio": "marks cases of surfing, which seconds do not hold",
    "boat validity.foredeck_share_percent": "marks cases of green water, see tests/simulation/test_thrust_in_waves.py",
    "boat validity.thrust_floor_share_percent": "marks cases of surfing, see tests/simulation/test_thrust_in_waves.py",
    "study sampling.precision_percent": "more sea until it is reached, see tests/deciding/test_rounds.py",
    "study sampling.max_hours": "the most sea spent on what is undecided, see tests/deciding/test_rounds.py",
    "study sea.depth_m": "a limit: shallower water is refused",
    "study sea.directions": "names files beside a buoy's record, see tests/files",
    "study sea.system.directions": "names files beside a buoy's record, see tests/files",
}


FAR_OFF = {  # last step of a path: a value tried first, so far off that it acts at once
    "least_deadrise_deg": [25.0], "heel_hold_most_n_m": [100.0], "speed_hold_most_n": [10.0], "steepness": [0.015],
    "pitch_deg": [1.0], "cavitation_normal": [[0.02, 0.1]], "cavitation_reverse": [[0.02, 0.1]],
    "reference_wind_angle_deg": [60.0], "reference_wind_speed_knots": [12.0], "reference_cant_deg": [5.0],
    "thrust_slope": [4.0], "rudder_rate_deg_per_s": [1.0], "rudder_limit_deg": [2.0],
}  # fmt: skip


@pytest.fixture(scope="session")
def texts(tmp_path_factory):
    """{last step of a path: others}: numbers far off, names, and copies of files with other numbers in them."""
    folder = tmp_path_factory.mktemp("other")
    table = (SCENARIOS / "boats" / BOAT["speed_table"]).read_text(encoding="utf-8")
    slower = table.replace("24,14,17,19.5,21,22,23", "24,14,17,18,19,20,21")
    (folder / "speeds.csv").write_text(slower, encoding="utf-8")
    shutil.copy(SCENARIOS / "data" / "46042-1996-03.txt", folder / "records.txt")
    lines = (folder / "records.txt").read_text(encoding="utf-8").splitlines()
    halved = [line if line.startswith(("#", "Y")) else halved_record(line) for line in lines]
    (folder / "records.txt").write_text("\n".join(halved) + "\n", encoding="utf-8")
    boat = (SCENARIOS / "boats" / "demo.toml").read_text(encoding="utf-8")
    (folder / "boat.toml").write_text(re.sub(r"(?m)^mass_kg = \d+", "mass_kg = 8000", boat), encoding="utf-8")
    shutil.copy(folder / "speeds.csv", folder / BOAT["speed_table"])
    with xr.open_dataset(DATA / "sea_era5_2d_spectra.nc") as grid:
        (grid["d2fd"] + 0.3).to_dataset(name="d2fd").to_netcdf(folder / "grid.nc")  # logarithms to the base ten
    return {
        **FAR_OFF, "name": ["another"],
        "speed_table": [str(folder / "speeds.csv")], "boat": [str(folder / "boat.toml")],
        "file": [str(folder / "records.txt"), str(folder / "grid.nc")],
        "record": ["1996-03-12T20:00Z", "1996-03-13T16:00Z"], "place": [[36.0, 180.0]],
        "library": ["other.nc"], "words": ["Do that"], "words_back": ["Back again"], "note": ["other words"],
    }  # fmt: skip


def halved_record(line):
    """A line of a buoy's record with half the energy."""
    words = line.split()
    return " ".join([*words[:4], *(f"{0.5 * float(word):.4f}" for word in words[4:])])


def loaded(monkeypatch, boat, study):
    """The study of these tables."""
    with monkeypatch.context() as patch:
        reader = load_study.read_tables
        patch.setattr(load_study, "read_tables", lambda path: study)
        patch.setattr(read_boat, "read_tables", lambda path: boat if Path(path).name == "demo.toml" else reader(path))
        return load_study.load_study(SCENARIOS / "studies" / "one.toml")


def tables_of(name):
    """(boat tables, study tables) of a study by its name."""
    return BOAT, {**FILES, **FURTHER}[name]


BASE = {}


def base_of(monkeypatch, name, around, stage, sea):
    """The cheap result of a study as it is written; `around` one of the circumstances, `sea` as in `of_sea`."""
    if (name, around, stage, sea) not in BASE:
        boat, study = around(*tables_of(name))
        BASE[name, around, stage, sea] = cheap_results.STAGES[stage](of_sea(loaded(monkeypatch, boat, study), sea))
    return BASE[name, around, stage, sea]


def of_sea(study, sea):
    """The study in one of its seas alone, or as it is where `sea` is None."""
    return study if sea is None else replace(study, seas=(study.seas[sea],))


def without_table(boat, study):
    """A boat without a speed table."""
    return {key: value for key, value in boat.items() if key != "speed_table"}, study


def in_tonnes(boat, study):
    """A display in tonne-force."""
    sensors = {**boat["sensors"], "display": "tonne_force", "display_lever_m": 2.0}
    return {**boat, "sensors": sensors}, study


def tanks_filled(boat, study):
    """Water in both tanks."""
    settings = {key: value for key, value in study["settings"].items() if key != "ballast_shift_m"}
    return boat, {**study, "settings": {**settings, "tanks": {name: 50.0 for name in boat["tanks"]}}}


def without_sizes(boat, study):
    """Moves that do not say how far they go: so many steps of the actuator."""
    moves = {name: {"minutes": move["minutes"]} for name, move in boat["moves"].items()}
    return {**boat, "moves": moves}, study


def as_written(boat, study):
    """Both as they are."""
    return boat, study


def in_gusts(boat, study):
    """A wind with gusts, which a crew trims."""
    return boat, {**study, "model": {**study.get("model", {}), "wind": "gusts"}}


def where_it_breaks(boat, study):
    """Limits that are strengths: their scatter counts."""
    structure = {**boat["foil"]["port"]["structure"], "limit_basis": "break"}
    port = {**boat["foil"]["port"], "structure": structure}
    return {**boat, "foil": {**boat["foil"], "port": port}}, study


WITHIN = {  # first words of a key: the circumstances in which it acts
    "boat rig.reference_": without_table,
    "boat tanks": tanks_filled,
    "boat rig.trim_s": in_gusts,
    "boat worked": without_sizes,
    "boat uncertain.limit_": where_it_breaks,
    "boat sensors.display_lever_m": in_tonnes,
}


def fitting(tables, path):
    """The changed tables with what goes with the change: rows end where a length says, gamma is of one spectrum."""
    if path == ("hull", "length_m"):
        tables["hull"]["station_m"][-1] = tables["hull"]["length_m"]
    if path[-1] == "spectrum":
        value_at(tables, path[:-1]).pop("gamma", None)
    if path[-1] == "judge_by":
        tables["risk"].pop("confidence_percent")
    if path[-1] == "wind":
        tables["sea"][0].pop("gustiness_percent")
    if path[-1] == "leeway":
        tables["model"].pop("held_leeway_deg")
    if path[-1] in ("shaft_length_m", "elbow_length_m", "tip_length_m"):
        foil = value_at(tables, path[:-1])
        foil["material_m"][-1] = foil["shaft_length_m"] + foil["elbow_length_m"] + foil["tip_length_m"]
    return tables


def acting_stage(monkeypatch, kind, name, path, texts):
    """The stage in which another value of a key acts, or None; AssertionError when none can be written."""
    model, words = (BoatSpec if kind == "boat" else StudySpec), f"{kind} {'.'.join(map(str, path))}"
    around = next((WITHIN[first] for first in WITHIN if words.startswith(first)), as_written)
    stages = next((ACTS_IN[first] for first in ACTS_IN if words.startswith(first)), USUAL)
    boat, study = around(*tables_of(name))
    written, sea = (boat if kind == "boat" else study), (path[1] if path[0] == "sea" else None)
    tried = False
    for other in others(model, path, value_at(written, path), texts):
        changed = fitting(with_value(written, path, other), path)
        try:
            ready = loaded(monkeypatch, *((changed, study) if kind == "boat" else (boat, changed)))
        except InputError:
            continue
        tried = True
        for stage in stages:
            base = base_of(monkeypatch, name, around, stage, sea)
            if cheap_results.differ(base, cheap_results.STAGES[stage](of_sea(ready, sea))):
                return stage
    assert tried, "no other value of this key was accepted"
    return None


USUAL = ("table", "march", "raked_march")
ACTS_IN = {  # first words of a key: the stages it may act in, the cheapest first
    "boat moves": ("moves",),
    "boat worked": ("moves", "table"),
    "boat uncertain": ("doubts",),
    "study uncertain": ("doubts",),
    "study forecast": ("doubts",),
    "boat sensors": ("triggers",),
    "study risk.normal_odds": ("table", "rounds", "normal_rounds"),
    "study risk.judge_by": ("judged",),
    "study risk.confidence_percent": ("judged",),
    "study risk": ("table", "rounds"),
    "study sampling": ("table", "march", "raked_march", "rounds"),
    "study fill": ("fill",),
    "study library": ("fill",),
    "study gust": ("gust",),
    "study prescribed": ("prescribed",),
    "boat rig.reference_": ("reach",),
    "boat rig.thrust_per_righting": ("reach",),
    "boat speed_table": ("reach",),
    "boat foil.port.least_extension_percent": ("triggers",),  # where a zero taken drawn in was taken
}
KEYS = [("boat", "bow-quarter-swell", path) for path in (*leaves(BOAT), ("sensors", "display_lever_m"))]
KEYS += [("study", name, path) for name, tables in {**FILES, **FURTHER}.items() for path in leaves(tables)]


def listed_name(kind, path):
    """A key as the list names it."""
    if path[-1] == "same_as":
        return "boat foil.*.same_as"
    return f"{kind} {name_of(BoatSpec if kind == 'boat' else StudySpec, path)}"


def spelled(key):
    """A key for the name of its test."""
    kind, name, path = key
    return f"{'demo' if kind == 'boat' else name}:{'.'.join(map(str, path))}"


def marked(keys):
    """Keys as parameters; slow where one of the same name in the specification stands before it."""
    seen = set()
    for key in keys:
        name = listed_name(key[0], key[2])
        yield pytest.param(key, id=spelled(key), marks=[pytest.mark.slow] if name in seen else [])
        seen.add(name)


@pytest.mark.parametrize("key", list(marked(KEYS)))
def test_another_value_changes_what_a_user_sees(key, monkeypatch, texts):
    kind, name, path = key
    if listed_name(kind, path) in LISTED:
        pytest.skip(LISTED[listed_name(kind, path)])
    assert acting_stage(monkeypatch, kind, name, path, texts) is not None


@lru_cache
def written_names():
    """Names of all keys that the files here hold."""
    return {listed_name(kind, path) for kind, _, path in KEYS}


@pytest.mark.parametrize("kind, model", [("boat", BoatSpec), ("study", StudySpec)])
def test_every_key_that_may_be_written_stands_in_a_file_here(kind, model):
    missing = [name for name in all_names(model) if f"{kind} {name}" not in written_names() | set(LISTED)]
    assert missing == []


def test_no_reason_outlives_its_key():
    names = {f"boat {name}" for name in all_names(BoatSpec)} | {f"study {name}" for name in all_names(StudySpec)}
    assert set(LISTED) - names <= {"boat foil.*.same_as"}

"""What a boat file is asked about: each fault written into the demonstration boat is found, named by its key, and the
boat as she is has nothing to mend; what cannot float or reach is refused in one line."""

import re
from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.studies.boat.findings import findings
from seaload.studies.boat.question import (
    extensions_of,
    read_question,
    refuse_what_cannot_float,
    refuse_what_reaches_too_deep,
    speeds_of,
)
from tests.studies.boat.box_boat import BEAM, DEMO, LENGTH, SECOND, SIDE, box_question, demo_question


@pytest.fixture(scope="module")
def parts(demo_check):
    """The page of the demonstration boat as the studies floor has it."""
    data = demo_check.dataset
    return {name: (data[name].dims, data[name].values) for name in data.variables}


def found_by(question, parts):
    return {(finding.level, finding.about) for finding in findings(question, parts)}


def test_the_demonstration_boat_has_nothing_to_mend(parts):
    found = findings(demo_question(), parts)
    assert not [finding for finding in found if finding.level == "mend"]
    assert all(finding.words and finding.mend for finding in found)
    order = [("mend", "look", "know").index(finding.level) for finding in found]
    assert order == sorted(order)


RACED = (2, 9)  # reference extension, near the racing speed
SPOILT = {  # variable: (value there or everywhere, level, about)
    "calm_pitch": (-2.0 * DEGREE, "look", "cg_from_transom_m"),
    "leeway": (7.0 * DEGREE, "look", "leeway"),
    "rudder": (-9.0 * DEGREE, "look", "rudder"),
    "plunge_area": (0.5, "mend", "hull.plunge_depth_m"),
    "ventilation_demand": (1.1, "mend", "foil.section"),
    "rudder_wet_share": (0.5, "look", "rudder"),
    "calm_load_ratio": (-1.2, "mend", "foil.port.structure"),
    "balance_reason": ("heave and pitch do not balance", "mend", "balance"),
}
WHOLE = {
    "motion_growth": (np.array([-1.0, 0.2]), "mend", "motion"),
    "metacentric_height": (np.array(-0.1), "mend", "cg_height_m"),
    "freeboard_least": (np.array(-0.2), "mend", "hull.side_height_m"),
    "vanishing_heel": (np.array(40.0 * DEGREE), "look", "cg_height_m"),
    "trim_at_rest": (np.array(np.nan), "look", "cg_from_transom_m"),
    "floating_length": (np.array(12.0), "look", "hull.waterline_length_m"),
    "bending_frequency_wet": (np.full(4, 1.2), "look", "foil.port.structure"),
    "speed_attainable": (np.full(4, np.nan), "mend", "rig.reference_thrust_n"),
}


@pytest.mark.parametrize("name", SPOILT)
def test_one_spoilt_point_is_found_and_named(parts, name):
    value, level, about = SPOILT[name]
    dims, values = parts[name]
    spoilt = values.copy()
    spoilt[RACED] = value
    assert (level, about) not in found_by(demo_question(), parts)
    assert (level, about) in found_by(demo_question(), {**parts, name: (dims, spoilt)})


@pytest.mark.parametrize("name", WHOLE)
def test_one_spoilt_number_is_found_and_named(parts, name):
    value, level, about = WHOLE[name]
    assert (level, about) not in found_by(demo_question(), parts)
    assert (level, about) in found_by(demo_question(), {**parts, name: (parts[name][0], value)})


def test_thrust_and_drag_that_belong_to_two_boats(parts):
    asked = demo_question()
    spoilt = replace(asked, boat=replace(asked.boat, reference_thrust=1.3 * asked.boat.reference_thrust))
    assert ("mend", "rig.reference_thrust_n") in found_by(spoilt, parts)


def test_a_fault_past_every_speed_that_is_reached_is_no_fault_of_the_file(parts):
    dims, values = parts["ventilation_demand"]
    fast = values.copy()
    fast[:, -1] = 1.5
    assert ("know", "foil.section") in found_by(demo_question(), {**parts, "ventilation_demand": (dims, fast)})


WRITTEN = {  # what is changed in the file, and what is then said
    'limit_basis = "working".*': ("", "mend", "foil.port.structure.limit_basis"),
    'id = "demo-port-1".*': ("", "know", "foil.port.id"),
    "speed_table = .*": ("", "know", "speed_table"),
    r"pitch_gyradius_m = 4\.1": ("pitch_gyradius_m = 6.5", "look", "pitch_gyradius_m"),
    r"(?s)\[sensors\].*?(?=\[moves\])": ("", "look", "[sensors]"),
    r"(?s)\[uncertain\].*": ("", "know", "[uncertain]"),
}


@pytest.mark.parametrize("pattern", WRITTEN)
def test_what_is_left_out_of_the_file_is_said(tmp_path, parts, pattern):
    written, level, about = WRITTEN[pattern]
    text, count = re.subn(pattern, written, DEMO.read_text())
    assert count >= 1
    (tmp_path / "demo-speed-table.csv").write_text((DEMO.parent / "demo-speed-table.csv").read_text())
    (tmp_path / "boat.toml").write_text(text)
    assert (level, about) not in found_by(demo_question(), parts)
    assert (level, about) in found_by(read_question(tmp_path / "boat.toml"), parts)


def test_defaults_used_are_those_that_the_file_leaves_out():
    defaults = read_question(SECOND).defaults
    assert "hull.pile_up = 1.5708" in defaults and "foil.port.section.cl_max = 1.2" in defaults
    assert not [line for line in defaults if line.startswith(("hull.deadrise_deg", "moves", "mass_kg"))]


def test_extensions_and_speeds_cover_what_the_boat_does():
    asked = demo_question()
    assert asked.extensions == pytest.approx([0.5, 0.65, 0.8, 1.0])
    assert extensions_of(replace(asked.foil, least_extension=0.8), 0.8) == pytest.approx([0.8, 1.0])
    knots = speeds_of(asked.boat) / (1852.0 / 3600.0)
    assert knots[0] == pytest.approx(6.0) and knots[-1] == pytest.approx(32.0)  # worked up to 32
    assert asked.extensions[asked.reference] == pytest.approx(0.8)


REFUSED = [
    ({"mass_kg = 7600": "mass_kg = 90000"}, {}, "mass_kg"),
    ({}, {"heel_deg": 60.0}, "heel_deg"),
    ({}, {"rake_deg": float("nan")}, "rake_deg"),
    ({}, {"foil": "middle"}, "foil"),
]


@pytest.mark.parametrize(("changes", "options", "field"), REFUSED)
def test_what_cannot_be_is_refused_in_one_line(tmp_path, changes, options, field):
    text = DEMO.read_text().replace("speed_table", "# speed_table")
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    (tmp_path / "boat.toml").write_text(text)
    with pytest.raises(InputError) as refusal:
        read_question(tmp_path / "boat.toml", **options)
    assert refusal.value.field == field and "\n" not in str(refusal.value) and refusal.value.exit_code == 2


def test_what_goes_under_heeled_or_reaches_too_deep_is_refused():
    """A box carries 1025 kg for each m3 under its deck, upright or not (Archimedes)."""
    asked = box_question()
    full = LENGTH * BEAM * SIDE * 1025.0
    refuse_what_cannot_float("box.toml", replace(asked.boat, mass=0.9 * full), 0.3)
    with pytest.raises(InputError, match="cannot carry"):
        refuse_what_cannot_float("box.toml", replace(asked.boat, mass=1.1 * full), 0.3)
    boat = demo_question().boat
    refuse_what_reaches_too_deep("demo.toml", boat, demo_question().foil)
    with pytest.raises(InputError, match="m under water"):
        deep = replace(boat, keel=replace(boat.keel, span=12.0))
        refuse_what_reaches_too_deep("demo.toml", deep, demo_question().foil)

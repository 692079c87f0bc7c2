"""Ways of backing off: size and words stand once in the boat file; sizes have defaults; one size serves both ways."""

import math
import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

from seaload.basis.errors import InputError
from seaload.files.log.setting_changes import RECORDED, tolerances
from seaload.scenario.boat_spec import WorkedSpec
from seaload.scenario.crew_records import WorkedRange
from seaload.scenario.move_spec import MovesSpec
from seaload.scenario.read_boat import read_boat

BOATS = Path(__file__).resolve().parents[2] / "scenarios" / "boats"

WORKED = {
    "rake_deg": WorkedSpec(least=0.0, most=5.0, step=0.5), "cant_deg": WorkedSpec(least=0.0, most=38.0, step=2.0),
    "extension_percent": WorkedSpec(least=50.0, most=100.0, step=5.0),
    "ballast_shift_m": WorkedSpec(least=-0.5, most=0.5, step=0.1),
}  # fmt: skip
KNOT = (
    1852.0 / 3600.0
)  # [m/s] the international nautical mile is 1852 m (First Extraordinary Hydrographic Conference 1929)


def ways(**written):
    """{name: Way} of moves as written, over WORKED."""
    return {way.name: way for move in MovesSpec.model_validate(written).si(WORKED) for way in move.ways}


def test_a_size_that_is_not_said_is_two_steps_of_the_actuator():
    found = ways(rake={"minutes": 1.0}, extension={"minutes": 5.0}, ballast={"minutes": 6.0}, cant={"minutes": 2.0})
    assert found["rake more"].changes == (("rake", pytest.approx(math.radians(1.0))),)
    assert found["cant less"].changes == (("cant", pytest.approx(-math.radians(4.0))),)
    assert found["extension less"].changes == (("extension", pytest.approx(-0.1)),)
    assert found["ballast more"].words == "Ballast 0.2 m forward" and found["ballast less"].words == "Ballast 0.2 m aft"


def test_an_actuator_without_range_and_size_is_no_move():
    assert MovesSpec.model_validate({"rake": {"minutes": 1.0}}).si({})[0].ways == ()


def test_a_step_that_nothing_takes_is_refused_with_its_successor(tmp_path):
    boat = (BOATS / "demo.toml").read_text(encoding="utf-8")
    stepped = boat.replace("least = 12, most = 32,", "least = 12, most = 32, step = 1,")
    (tmp_path / "boat.toml").write_text(stepped, encoding="utf-8")
    shutil.copy(BOATS / "demo-speed-table.csv", tmp_path)
    with pytest.raises(InputError, match=r"worked\.speed_knots\.step = 1\.0: retired: knots .* of \[moves\]"):
        read_boat(tmp_path / "boat.toml")


@pytest.mark.parametrize("step", [0.5, 0.1])
def test_half_of_a_step_off_is_another_setting_in_a_log(step):
    worked = {"rake": WorkedRange(0.0, 0.1, 0.0, math.radians(step))}
    found = tolerances(SimpleNamespace(worked=worked))
    assert found["rake"] == pytest.approx(0.5 * math.radians(step)) and found["cant"] == RECORDED["cant"]
    assert tolerances(SimpleNamespace(worked={"rake": WorkedRange(0.0, 0.1, 0.0)})) == RECORDED


@pytest.mark.parametrize("degrees", [5.0, 15.0, 22.5])
def test_the_words_hold_the_size_that_is_simulated(degrees):
    found = ways(bear_away={"minutes": 0.2, "degrees": degrees})
    assert found["bear_away"].changes == (("waves_from_bow", pytest.approx(math.radians(degrees))),)
    assert found["bear_away"].words == f"Bear away {degrees:g}°" and found["head_up"].words == f"Head up {degrees:g}°"
    assert found["bear_away"].simulated and not found["head_up"].simulated


def test_own_words_stand_before_the_size():
    found = ways(
        ease_sheets={"minutes": 0.1, "knots": 1.5, "words": "Dump the sheet"},
        reef={"minutes": 9.0, "heel_degrees": 3.0, "words": "Second reef"},
        bear_away={"minutes": 0.2, "words": "Down", "words_back": "Up"},
    )
    assert found["ease_sheets"].words == "Dump the sheet: 1.5 kn less"
    assert found["ease_sheets"].changes == (("speed", pytest.approx(-1.5 * KNOT)),)
    assert found["reef"].words == "Second reef: 2 kn, 3° heel less" and found["head_up"].words == "Up 15°"

"""Boats that no one could build were once simulated: each is one line with the number and what is allowed there."""

import copy
from pathlib import Path
from types import SimpleNamespace

import pytest

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.basis.errors import InputError
from seaload.boat.hydrostatics import section_corners
from seaload.scenario.boat_geometry import FLOATS, volume_under_deck
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.read_boat import read_boat, with_twins
from seaload.scenario.read_toml import checked, read_tables

ROOT = Path(__file__).resolve().parents[2]
BOATS = [ROOT / "scenarios" / "boats" / "demo.toml", *sorted((ROOT / "tests" / "boats").glob("[fs]*.toml"))]


@pytest.fixture(scope="module")
def demo():
    return with_twins(read_tables(BOATS[0]), BOATS[0])


def refused(tables, **changes):
    """The line that refuses the tables with these changes, {dotted name: value}."""
    tables = copy.deepcopy(tables)
    for name, value in changes.items():
        inner, *steps = tables, *name.split("__")
        for step in steps[:-1]:
            inner = inner[step]
        inner[steps[-1]] = value
    with pytest.raises(InputError) as caught:
        checked(BoatSpec, tables, "b.toml")
    assert "\n" not in str(caught.value) and caught.value.exit_code == 2
    return str(caught.value)


@pytest.mark.parametrize("path", BOATS, ids=lambda path: path.stem)
def test_the_boats_of_the_checkout_are_boats(path):
    read_boat(path)


ABSURD = [
    ({"rudder__root_from_transom_m": 60}, "aft of the keel"),
    ({"rudder__root_from_transom_m": 8.0}, "aft of the keel"),
    ({"foil__port__exit_from_transom_m": 50}, "within the hull"),
    ({"foil__port__exit_from_centre_m": 9.0}, "within the hull's beam"),
    ({"foil__port__exit_height_m": 5.0}, "between keel and deck where it leaves"),
    ({"foil__port__exit_height_m": -1.0}, "between keel and deck"),
    ({"keel__root_from_transom_m": 18.0}, "within the hull"),
    ({"keel__root_to_leeward_m": 4.0}, "within the hull's beam"),
    ({"cg_from_transom_m": 16.0}, "within the hull"),
    ({"cg_height_m": 4.5}, "between keel and deck"),
    ({"tanks__aft__from_transom_m": 40}, "within the hull"),
    ({"tanks__aft__to_leeward_m": -9.0}, "within the hull's beam"),
    ({"roll_inertia_kg_m2": 100}, "with this mass, beam and rig"),
    ({"roll_inertia_kg_m2": 1e8}, "with this mass, beam and rig"),
    ({"pitch_gyradius_m": 20}, "with this length"),
    ({"rig__roll_damping_n_m_s_per_rad": 1e7}, "with this inertia"),
    ({"motion__speed_hold_n_per_s_per_m_per_s": 1e4}, "with this mass"),
    ({"mass_kg": 100000}, "m3 under its deck"),
    ({"mass_kg": 200, "bulb_mass_kg": 0}, "m3 under its deck"),
    ({"mass_kg": 20000, "tanks__aft__mass_kg": 20000, "tanks__forward__mass_kg": 20000}, "full tanks the hull carries"),
    ({"hull__half_beam_per_heel_m_per_deg": -0.4}, "of heel"),
    ({"hull__deadrise_per_heel_deg_per_deg": 2, "hull__deadrise_deg": 40}, "a deadrise of"),
    ({"hull__keel_rise_m": [1.0] * 12}, "the least must be 0"),
    ({"keel__effective_aspect": 30}, "with this span and area"),
    ({"rudder__area_m2": 19.0}, "with this span"),
    ({"rig__reference_thrust_n": 1e6}, "of this boat's weight"),
    ({"rig__sail_height_m": 5e-324}, "above hull and mass"),
    ({"foil__port__structure__strain_limit_normal_microstrain": 0.001}, "from 50 to 30000 (microstrain"),
    ({"foil__port__structure__fill_percent": 5e-324}, "from 5 to 100"),
    ({"foil__port__section__cavitation_normal": [0.25, 1e12]}, "from 0 to 3"),
    ({"foil__port__section__cavitation_reverse": [0, 0]}, "at least 0.05"),
    ({"foil__port__section__onset_chords": 5e-324}, "from 0.1 to 100"),
    ({"foil__port__chord_m": [3.0] * 7, "foil__port__thickness_percent": [40.0] * 7}, "the foil weighs"),
    ({"foil__port__material_m": [0.0, 2.4, 2.4000001, 3.1, 3.7, 4.3, 4.8]}, "by a millimetre at least"),
    ({"foil__starboard__id": "demo-port-1"}, "the other foil has this id"),
    ({"worked__rake_deg": {"least": 0, "most": 5, "step": 6}}, "must be at most the range, 5"),
    ({"worked__rake_deg": {"least": 0, "most": 90, "step": 1}}, "worked.rake_deg.most = 90"),
    ({"moves__rake": {"minutes": 5e-324}}, "from 0.01 to 240"),
    ({"uncertain__limit_reverse": {"spread_percent": 100}}, "from 0 to 80"),
]


@pytest.mark.parametrize(("changes", "said"), ABSURD, ids=lambda v: str(v)[:60])
def test_a_boat_that_cannot_be_is_refused_in_one_line(demo, changes, said):
    line = refused(demo, **changes)
    assert said in line, line


def test_the_volume_under_the_deck_is_that_of_the_sections(demo):
    """Against the corners that hydrostatics integrates, ninety slices of them; straight lines between stations differ
    from its smooth ones by a few per cent.
    """
    _, boat = read_boat(BOATS[0])
    x, y, z = section_corners(boat.hull)
    area = 0.5 * abs((y * (z.take([1, 2, 3, 4, 0], axis=1) - z.take([4, 0, 1, 2, 3], axis=1))).sum(axis=1))
    volume = area.sum() * (x[1] - x[0])
    spec = checked(BoatSpec, demo, "b.toml")
    assert volume_under_deck(spec.hull) == pytest.approx(volume, rel=0.03)
    assert FLOATS[0] < boat.mass / SEA_WATER_DENSITY / volume < FLOATS[1]


def test_volume_under_the_deck_of_a_prism_is_its_area_by_its_length():
    """A right-angled V of half beam 3 m under sides of 1 m, 10 m long: (9 + 6) m2 by 10 m."""
    prism = SimpleNamespace(half_beam_m=3.0, half_beam_share=[1, 1], deadrise_deg=45.0, side_height_m=1.0,
                            station_m=[0.0, 10.0])  # fmt: skip
    assert volume_under_deck(prism) == pytest.approx(150.0)


def test_a_thrust_of_a_ten_thousandth_of_the_weight_is_the_least(demo):
    weight = demo["mass_kg"] * STANDARD_GRAVITY
    assert "of this boat's weight" in refused(demo, rig__reference_thrust_n=0.99e-4 * weight)
    tables = {**demo, "rig": {**demo["rig"], "reference_thrust_n": 1.01e-4 * weight}}
    checked(BoatSpec, tables, "b.toml")


def test_a_speed_table_of_zeros_is_refused(tmp_path):
    for path in BOATS[0].parent.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    table = tmp_path / "demo-speed-table.csv"
    table.write_text("true_wind_speed_knots,60,90\n12,0,0\n20,0,0\n")
    with pytest.raises(InputError, match="the boat must move in some wind"):
        read_boat(tmp_path / "demo.toml")
    table.write_text("true_wind_speed_knots;60;90\r\n12;10,5;11\r\n20;12;13,5\r\n", encoding="utf-16")
    assert read_boat(tmp_path / "demo.toml")[1].speed_table.speed.shape == (2, 2)


@pytest.mark.parametrize("coding", ["utf-8-sig", "utf-16"])
def test_a_file_saved_with_a_mark_is_read(tmp_path, coding):
    path = tmp_path / "b.toml"
    path.write_bytes(BOATS[-1].read_text().replace("\n", "\r\n").encode(coding))
    assert read_boat(path)[1].mass == 3000


def test_a_decimal_comma_is_named(tmp_path):
    path = tmp_path / "b.toml"
    path.write_text(BOATS[-1].read_text().replace("pitch_gyradius_m = 2.9", "pitch_gyradius_m = 2,9"))
    with pytest.raises(InputError, match="numbers have a decimal point"):
        read_boat(path)

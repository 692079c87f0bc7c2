"""Natural motions: known matrices give their oscillators back, and a box rolls as its metacentric height says."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.basis.units import KNOT
from seaload.studies.boat.calm_points import plain_model
from seaload.studies.boat.natural_motion import STATES, motions_of, small_motions, state_matrix
from tests.studies.boat.box_boat import demo_question

FREQUENCIES = st.lists(st.floats(0.3, 9.0), min_size=3, max_size=3)
RATIOS = st.lists(st.floats(0.0, 3.0), min_size=3, max_size=3)


def oscillators(frequencies, ratios, lags=2):
    """State matrix of three oscillators that do not know each other, and wake states that nobody feels."""
    matrix = np.zeros((len(STATES) + lags, len(STATES) + lags))
    for k in range(3):
        matrix[k, k + 3] = 1.0
        matrix[k + 3, k] = -(frequencies[k] ** 2)
        matrix[k + 3, k + 3] = -2.0 * ratios[k] * frequencies[k]
    matrix[len(STATES) :, len(STATES) :] = -np.diag(np.arange(20.0, 20.0 + lags))
    return matrix


@settings(max_examples=60, deadline=None)
@given(FREQUENCIES, RATIOS)
def test_three_oscillators_give_back_their_periods_and_damping(frequencies, ratios):
    """Natural frequency and share of critical damping of x'' + 2 z w x' + w^2 x = 0, swinging or not (any text)."""
    found = motions_of(oscillators(frequencies, ratios))
    assert found.period == pytest.approx(2.0 * np.pi / np.array(frequencies), rel=1e-4)
    assert found.damping == pytest.approx(ratios, rel=1e-3, abs=1e-4)
    assert found.growth <= 1e-9


def test_what_grows_and_what_does_not_come_back_is_told():
    growing = motions_of(oscillators([2.0, 3.0, 4.0], [0.1, -0.05, 0.2]))
    assert growing.growth == pytest.approx(0.15) and growing.swing_damping == pytest.approx(-0.05)
    matrix = oscillators([2.0, 3.0, 4.0], [0.1, 0.1, 0.1])
    matrix[5, 2] = 1.0  # roll falls over
    assert np.isnan(motions_of(matrix).period[2]) and motions_of(matrix).growth > 0.0


@pytest.fixture(scope="module")
def floating_box():
    """A wall-sided box that runs slowly with her fins and foil left out or in the air: (question, setting, model)."""
    asked = demo_question()
    hull = replace(
        asked.boat.hull, length=10.0, waterline_length=10.0, station_x=np.array([0.0, 10.0]), keel_rise=np.zeros(2),
        half_beam_share=np.ones(2), half_beam=2.0, half_beam_per_heel=0.0, deadrise=np.radians(8.0),
        deadrise_per_heel=0.0, side_height=3.0, transom_relief=True, draught=None, bow_from_cg=9.0, plunge_depth=5.0,
    )  # fmt: skip
    foil = replace(asked.foil, exit_z=8.0, exit_y=0.0)
    boat = replace(
        asked.boat, hull=hull, mass=30000.0, cg_height=1.2, cg_from_transom=5.0, bulb_mass=0.0, rig_pitch_damping=0.0,
        rig_roll_damping=0.0, foils={asked.side: foil}, windage_area=0.0, hump_resistance=0.0,
        effort_from_transom=5.0,
    )  # fmt: skip
    setting = replace(asked.setting, heel=0.0, cant=0.0, speed=0.4 * KNOT)
    model = {**plain_model(), "keel_fin": 0.0, "rudders": 0.0, "leeway_held": 1.0, "held_leeway": 0.0}
    return boat, foil, setting, model


def test_roll_alone_swings_as_the_metacentric_height_says(floating_box):
    """T = 2 pi sqrt(I / (rho g V GM)), undamped (any text on naval architecture); GM from KB + BM - KG of the V box."""
    boat, foil, setting, model = floating_box
    found = small_motions(boat, foil, setting, model)
    volume = boat.mass / SEA_WATER_DENSITY
    wedge = 2.0 * np.tan(boat.hull.deadrise)  # [m] height of the V under the chine
    area = volume / 10.0
    draught = area / 4.0 + 0.5 * wedge
    centre = (2.0 * wedge * (2.0 / 3.0 * wedge) + 4.0 * (draught - wedge) * 0.5 * (draught + wedge)) / area
    gm = centre + 4.0**3 * 10.0 / 12.0 / volume - boat.cg_height
    expected = 2.0 * np.pi * np.sqrt(boat.roll_inertia / (boat.mass * STANDARD_GRAVITY * gm))
    assert found.period[2] == pytest.approx(expected, rel=0.01)


def test_heave_alone_swings_on_its_waterplane(floating_box):
    """T = 2 pi sqrt((m + a) / (rho g A)); the added mass a of the wall-sided box is that of the plate of its beam."""
    boat, foil, setting, model = floating_box
    found = small_motions(boat, foil, setting, model)
    added = boat.hull.added_mass_share * SEA_WATER_DENSITY * 0.5 * np.pi * 2.0**2 * 10.0
    stiffness = SEA_WATER_DENSITY * STANDARD_GRAVITY * 4.0 * 10.0
    expected = 2.0 * np.pi * np.sqrt((boat.mass + added) / stiffness)
    assert found.period[0] == pytest.approx(expected, rel=0.06)  # the transom's relief takes some added mass off


def test_the_state_matrix_holds_the_roll_stiffness_of_the_march(floating_box):
    from seaload.simulation.calm import calm_trim
    from seaload.simulation.layout import BOAT, LANES
    from seaload.simulation.prepare import carried_righting, march_arrays

    boat, foil, setting, model = floating_box
    march, _, _ = march_arrays(boat, foil, [setting] * LANES, [1.0] * LANES, model)
    trim = calm_trim(march, model, carried_righting(boat, [setting] * LANES))
    matrix = state_matrix(march, trim)
    line = march.boat[BOAT["righting_slope"], 0] * trim.hull_lift[0] / march.boat[BOAT["roll_inertia"], 0]
    assert matrix[5, 2] == pytest.approx(-line, rel=1e-3)
    assert np.array_equal(matrix[:3, 3:6], np.eye(3))

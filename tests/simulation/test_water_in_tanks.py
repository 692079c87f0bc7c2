"""A tank's water in the calm trim and in a move of the crew: heavier, lower, and where it is."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.deciding.moves import move_changes
from seaload.simulation.calm import calm_trim
from seaload.simulation.layout import BOAT, LANES
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare import carried_righting, lane_centre, march_arrays
from tests.simulation.still_water import demo_study

WATER = 800.0  # [kg]


@pytest.fixture(scope="module")
def trimmed():
    """(march arrays, trim) with lanes 0 to 4: empty; a tank at the centre of gravity; aft; to leeward; high up.

    Leeway is held: less sail would make less of it, and of the fin's own heeling moment.
    """
    study = demo_study()
    boat, foil, model = study.boat, study.boat.foils["port"], model_factors({**study.model, "leeway": "held"})
    first = study.settings[0]
    x, y, z = lane_centre(boat, first)
    places = [(x, y, z), (1.0, y, z), (x, y + 2.0, z), (x, y, z + 2.0)]
    settings = [first]
    for place in places:
        shift = WATER * (place[0] - boat.cg_from_transom) / (boat.mass + WATER)
        settings.append(replace(first, water=((WATER, *place),), ballast_shift=shift))
    settings += [first] * (LANES - len(settings))
    march, _, _ = march_arrays(boat, foil, settings, [1.0] * LANES, model)
    return boat, settings, march, calm_trim(march, model, carried_righting(boat, settings))


def test_hull_and_foil_carry_the_water(trimmed):
    boat, _, march, trim = trimmed
    assert trim.balanced[:5].all()
    weight = (boat.mass + WATER) * STANDARD_GRAVITY
    assert march.boat[BOAT["mass"], 1:5] == pytest.approx(boat.mass + WATER)
    assert march.boat[BOAT["weight"], 1:5] == pytest.approx(weight)
    more = trim.hull_lift[1:5] + trim.vertical_lift[1:5] - trim.hull_lift[0] - trim.vertical_lift[0]
    share = more / (WATER * STANDARD_GRAVITY)
    assert np.all((0.3 < share) & (share < 1.0))  # canted keel and rudder carry the rest
    assert trim.heave[1] < trim.heave[0]


def test_water_aft_lifts_the_bow_and_water_to_leeward_takes_heeling_moment_away(trimmed):
    _, _, march, trim = trimmed
    assert trim.pitch[2] > trim.pitch[1] + 1e-3
    lever = trim.heel_moment[1] - trim.heel_moment[3]  # what the sails need no more: m g y cos(heel), and as much of
    pressed = 1.0 + march.boat[BOAT["down_force"], 1] / march.boat[BOAT["weight"], 1]  # what carries their down force
    assert lever == pytest.approx(WATER * STANDARD_GRAVITY * 2.0 * 0.951 * pressed, rel=0.05)
    assert trim.heel_moment[4] < trim.heel_moment[1]  # water up high heels her too


def test_water_far_from_the_centre_adds_inertia(trimmed):
    boat, settings, march, _ = trimmed
    roll, pitch = march.boat[BOAT["roll_inertia"]], march.boat[BOAT["pitch_inertia"]]
    assert roll[1] == pytest.approx(boat.roll_inertia) and pitch[1] == pytest.approx(pitch[0])
    reduced = WATER * boat.mass / (WATER + boat.mass)
    assert pitch[2] - pitch[0] == pytest.approx(reduced * (boat.cg_from_transom - 1.0) ** 2)
    assert roll[3] - roll[0] == pytest.approx(reduced * 4.0)


def test_the_ways_of_backing_off_keep_the_water(trimmed):
    boat, settings, *_ = trimmed
    changes = move_changes(settings[2], boat, boat.foils["port"], demo_study().seas[0])
    assert changes and all(change.setting.water == settings[2].water for change in changes)

"""A boat that turns off her heading: a bow that comes out of a wave does not spin her, a broach ends a case by name.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from seaload.basis.records import STATUS_BROACHED
from seaload.basis.units import DEGREE, KNOT
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study

STUDIES = Path(__file__).parents[2] / "scenarios" / "studies"
OFF = dict(  # every input one deviation off, the storm turned by 17 degrees: here all eight span round within 30 s once
    cavitation_factor=0.85, heading_shift=16.875 * DEGREE, hull_damping_factor=1.25, hull_wave_factor=1.15,
    lift_slope_factor=0.92, rake_zero_shift=-0.5 * DEGREE, roll_inertia_factor=0.827, steering_gain_factor=1.3,
    tail_factor=0.7, wind_sea_factor=1.3,
)  # fmt: skip


@pytest.fixture(scope="module")
def storm():
    """(study, its setting at 80 %, half a minute of its storm)."""
    study = load_study(STUDIES / "settings-map.toml")
    setting = replace(next(s for s in study.settings if s.extension == 0.8), speed=15.0 * KNOT)
    return study, setting, replace(study.sampling, run_in=12.0, realisation_time=30.0)


def marched(storm, boat, realisations, named):
    """The records of some realisations in the storm."""
    study, setting, sampling = storm
    foil = boat.foils[study.foil_side]
    cases = [(setting, r) for r in range(realisations)]
    return march_block(boat, foil, study.seas[0], cases, sampling, {**study.model, **named})[0]


def test_a_bow_that_comes_out_of_a_wave_does_not_spin_her_round(storm):
    """The water that it moved sideways is left behind; given back it tripled her rate of turn in half a second."""
    for record in marched(storm, storm[0].boat, 8, OFF):
        assert record.stopped_at != record.stopped_at  # nan: she sailed to the end


def test_a_boat_steered_the_wrong_way_broaches_and_the_case_says_so(storm):
    boat = storm[0].boat
    wrong = replace(boat, steering=replace(boat.steering, gain=-boat.steering.gain))
    for record in marched(storm, wrong, 2, {}):
        assert record.status == STATUS_BROACHED and record.stopped_at <= 12.0

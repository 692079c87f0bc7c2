"""A boat of boxes for closed forms: the demonstration boat's record with a box for a hull and a plank for a foil."""

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY
from seaload.studies.boat.question import read_question

ROOT = Path(__file__).resolve().parents[3]
DEMO = ROOT / "scenarios" / "boats" / "demo.toml"
SECOND = ROOT / "tests" / "boats" / "second.toml"
LENGTH, BEAM, DRAUGHT, SIDE = 10.0, 4.0, 1.0, 3.0  # [m]
CENTRE_HEIGHT = 1.2  # [m] of gravity above the bottom
MASS = SEA_WATER_DENSITY * LENGTH * BEAM * DRAUGHT


@lru_cache
def demo_question():
    """What is asked of the demonstration boat."""
    return read_question(DEMO)


def box_question(*, ahead=0.0, mass=MASS, height=CENTRE_HEIGHT, **boat_changes):
    """The question with a box for a hull, upright, its keel not canted; gravity `ahead` [m] of the middle."""
    asked = demo_question()
    hull = replace(
        asked.boat.hull, length=LENGTH, waterline_length=LENGTH, station_x=np.array([0.0, LENGTH]),
        keel_rise=np.zeros(2), half_beam_share=np.ones(2), half_beam=0.5 * BEAM, deadrise=1e-9, side_height=SIDE,
    )  # fmt: skip
    boat = replace(
        asked.boat, hull=hull, mass=mass, cg_height=height, cg_from_transom=0.5 * LENGTH + ahead, bulb_mass=0.0,
        **boat_changes,
    )  # fmt: skip
    setting = replace(asked.setting, heel=0.0, cant=0.0)
    return replace(asked, boat=boat, setting=setting)


def plank_question(*, length=3.0, angle=0.0, extensions=(0.5, 1.0), **foil_changes):
    """The question with a straight, even foil of a `length` [m] at an `angle` [rad], outward-up +."""
    asked = demo_question()
    foil = replace(
        asked.foil, shaft_length=length, elbow_length=0.0, tip_length=0.0, shaft_angle=angle, tip_angle=angle,
        least_extension=0.5, material_s=np.array([0.0, length]), chord=np.full(2, 0.6),
        thickness_share=np.full(2, 0.12), zero_lift=np.zeros(2), incidence=np.zeros(2),
        stations=np.array([0.2 * length, 0.75 * length]), **foil_changes,
    )  # fmt: skip
    boat = replace(asked.boat, foils={asked.side: foil})
    return replace(asked, boat=boat, extensions=np.array(extensions))

"""Sails the small sweep of the tests in a process of its own: folder, workers, realisations, optional scheduler."""

import sys
from dataclasses import replace

from seaload.deciding import choice, triggers, uncertainty, variants
from seaload.sailing.sail_cases import Account
from seaload.scenario.records import PrescribedMotion
from seaload.studies.load_study import load_study
from tests.small_study import STUDIES, shortened


def small_sweep(realisations=3):
    """Two settings in one sea, twenty seconds a realisation, limits of validity out of the way; one motion."""
    study = load_study(STUDIES / "quick-look.toml")
    wide = replace(study.boat.limits_of_validity, pitch=9.0, speed_ratio=9.0, speed_held=9.0)
    few = tuple(move for move in study.boat.moves if move.name in ("ease_sheets", "bear_away", "rake"))
    boat = replace(study.boat, limits_of_validity=wide, moves=few)
    roll = PrescribedMotion("roll", "", True, (0.0, 1.0), (0.3, -0.2), None, None, None, None)
    return shortened(replace(study, boat=boat, settings=study.settings[:2], prescribed=(roll,)), realisations)


def few_realisations():
    """Fewer realisations in everything that compares, for the speed of the tests."""
    choice.GUST_REALISATIONS, triggers.REALISATIONS = 2, 1
    uncertainty.REALISATIONS = variants.REALISATIONS = 4


if __name__ == "__main__":
    from seaload.studies.sweep import sweep_study

    few_realisations()
    folder, workers = sys.argv[1], int(sys.argv[2])
    show = lambda done, total, hours: print(done, total, flush=True)  # noqa: E731
    sweep_study(small_sweep(), out=folder, workers=workers, account=Account(show))

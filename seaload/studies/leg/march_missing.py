"""Seas of a leg that the library does not tell, marched into it before the leg is planned."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT, MINUTE
from seaload.deciding.library.coordinates import SEA
from seaload.deciding.library.emulator import recipes_of
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.scenario.crew_records import Fill
from seaload.scenario.records import Gust, RiskLevels, Study
from seaload.scenario.risk_spec import ModelSpec, SamplingSpec
from seaload.scenario.sea_spec import SeaSpec
from seaload.simulation.layout import LANES
from seaload.studies.build_sea import build_sea
from seaload.studies.library.fill import FEWEST_SETTINGS, Filling
from seaload.studies.library.shelf_file import keep_shelf, shelf_for, writing

HOURS = 1.0  # of each setting in each sea, as the example library has
PACE = 3000.0  # [-] times real time that a core marches at, with what is uncertain changed in the first seas


def told_words(missing, file):
    """Plain words, in a tuple, on what is `Missing`, what marching it would take, and how to have it marched."""
    if missing.share == 0.0:
        return ()
    found = f"{missing.share:.0%} of the seas that may be met are not told by the library"
    if missing.steep:
        found += f", {missing.steep:.0%} because they are steeper than a march is valid for"
    if not len(missing.seas):
        return (found,)
    hours = hours_of(missing)
    minutes = np.ceil(hours * HOUR / PACE / MINUTE)
    return (f"{found}: {len(missing.seas)} seas are missing. seaload leg {file} --march-missing marches them first, "
            f"some {hours:.0f} h of sea, about {minutes:.0f} minutes of one core",)  # fmt: skip


def hours_of(missing):
    """Hours of sea that marching takes, at most."""
    realisations = SamplingSpec(hours=HOURS).si().realisations
    return len(missing.seas) * HOURS * max(LANES // realisations, FEWEST_SETTINGS)


def study_for(leg, inputs, cover):
    """`Study` that fills the library of a `Leg` with seas like those in it; `cover` : its `Cover`."""
    like, boat = dict(zip(SEA, cover.low[-len(SEA) :], strict=True)), leg.boat
    table = {
        "name": f"{leg.name}: a sea of the way", "spectrum": "jonswap", "hs_m": float(like["sea_hs"]),
        "tp_s": float(like["sea_tp"]), "gamma": float(like["peak_enhancement"]), "waves_from_bow_deg": 45.0,
        "spreading_s": float(like["spreading"]) if np.isfinite(like["spreading"]) else "long-crested",
        "true_wind_speed_knots": boat.reference_wind_speed / KNOT,
        "true_wind_angle_deg": boat.reference_wind_angle / DEGREE,
    }  # fmt: skip
    sea = build_sea(SeaSpec.model_validate(table), 0, path=leg.file, boat=boat, starboard_tack=True)
    sampling = SamplingSpec(seed=leg.check.seed, hours=HOURS).si()
    fill = Fill(0.0, (0.5, 20.0), (3.0, 25.0), (-np.pi, np.pi))
    return Study(
        name=f"{leg.name}-missing", boat=boat, boat_name=leg.boat_name, foil_side=next(iter(boat.foils)), seas=(sea,),
        settings=leg.settings, risk=RiskLevels(sampling.realisation_time, 1.0, 1.0), sampling=sampling,
        gust=Gust(0.0, 1.0, 0.0, np.inf), model=ModelSpec().si(), raw={"sea": [table]}, path=str(leg.file),
        uncertain=inputs.entries, library=leg.library, fill=fill,
    )  # fmt: skip


def march_missing(leg, inputs, cover, missing, means):
    """March what is `Missing` into the library of a `Leg`; means : (results folder, workers, scheduler, account)."""
    out, workers, scheduler, account = means
    study = study_for(leg, inputs, cover)
    filling = Filling(study)
    folder = Path(out) / study.name
    with writing(out, study.library), CaseStore(folder) as store, crew(workers, scheduler) as hands:
        filling.load_kernels(account)
        shelf = shelf_for(study, out)
        points, _ = filling.march(shelf, missing.seas, (store, hands, account))
        shelf = shelf.with_points(points)
        keep_shelf(replace(shelf, surfaces=recipes_of(shelf)), study, out)

"""What a person writes, broken by lot: a study whose every number is finite, or one line that says what to mend.

The boats and studies of the checkout are mutated as texts, with a fixed seed here and fresh seeds in the slow part.
There two hundred of the boats that were accepted are also marched for a minute: finite, or refused in one line.
"""

import math
import os
import random
from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from seaload.basis.errors import SealoadError
from seaload.scenario.read_boat import read_boat
from seaload.studies import load_study
from tests.strangers import mutate_toml
from tests.strangers.accounts import Account

ROOT = Path(__file__).resolve().parents[2]
BOATS = [ROOT / "tests" / "boats" / "second.toml", ROOT / "scenarios" / "boats" / "demo.toml"]
STUDIES = sorted((ROOT / "scenarios" / "studies").glob("*.toml"))
MAY_BE_UNKNOWN = {"speed", "lever"}  # nan: not yet worked out, not said
USUAL, FRESH, MARCHED = 2000, 10_000, 200
MAY_BE_ENDLESS = ("spreading", "filter", "only", "wear", "ease", "trim")  # first letters of names
FURTHER = """
name = "further"
boat = "../boats/second.toml"
foil = "port"
[[sea]]
name = "x"
spectrum = "jonswap"
hs_m = 3.0
tp_s = 9.0
gamma = 2.5
waves_from_deg_true = 300.0
heading_deg_true = 250.0
spreading_s = "long-crested"
true_wind_speed_knots = 20
true_wind_angle_deg = 110
depth_m = 500
[[sea.system]]
spectrum = "torsethaugen"
hs_m = 2.0
tp_s = 12.0
waves_to_deg_true = 120.0
heading_deg_true = 250.0
[settings]
extension_percent = [70, 80]
rake_deg = 2.0
heel_deg = 18
cant_deg = 30
ballast_shift_m = 0.1
speed_knots = 16
[risk]
exposure_hours = 3
reverse_odds = 0.02
normal_odds = 0.02
wear_swings_per_hour = 5
sea_growth_m_per_hour = 1
[sampling]
seed = 3
hours = 1
precision_percent = 20
max_hours = 10
realisation_minutes = 20
run_in_s = 180
step_s = 0.02
components = 240
[gust]
strength_percent = 30
rise_s = 5
hold_s = 20
ease_after_s = 15
[model]
roll = "free"
bending = "mode"
[uncertain.lift_slope]
spread_percent = 8
"""


def only_numbers_that_are(record, name=""):
    """AssertionError for a number in a record that is not finite where it must be."""
    if is_dataclass(record):
        for entry in fields(record):
            only_numbers_that_are(getattr(record, entry.name), entry.name)
    elif isinstance(record, dict):
        for value in record.values():
            only_numbers_that_are(value, name)
    elif isinstance(record, list | tuple):
        for value in record:
            only_numbers_that_are(value, name)
    elif isinstance(record, np.ndarray) and record.dtype.kind == "f":
        assert np.all(np.isfinite(record)), name
    elif isinstance(record, float):
        unknown = math.isnan(record) and name in MAY_BE_UNKNOWN
        endless = record == math.inf and name.startswith(MAY_BE_ENDLESS)
        assert math.isfinite(record) or unknown or endless, f"{name} = {record}"


@pytest.fixture
def folders(tmp_path):
    """Folders of boats, studies and data, laid out as in the checkout."""
    for name in ("boats", "studies", "data"):
        (tmp_path / name).mkdir()
    for path in [*BOATS, *(ROOT / "scenarios" / "boats").iterdir()]:
        (tmp_path / "boats" / path.name).write_bytes(path.read_bytes())
    lines = (ROOT / "scenarios" / "data" / "46042-1996-03.txt").read_text().splitlines()
    kept = [line for line in lines if line.startswith(("YY", "#")) or line.startswith("96 03 13")]
    (tmp_path / "data" / "46042-1996-03.txt").write_text("\n".join(kept) + "\n")
    return tmp_path


def broken_studies(folders, seed, tries, patch):
    """(`Account`, boats that were accepted) of so many broken files, one in two a boat."""
    lot, account, boats = random.Random(seed), Account(seed), []
    known = lru_cache(lambda path: read_boat(path))
    patch.setattr(load_study, "read_boat", lambda path: known(path) if path.name != "broken.toml" else read_boat(path))
    texts = {path: path.read_text() for path in [*BOATS, *STUDIES]}
    texts["further"] = FURTHER
    smallest = FURTHER.split("[risk]")[0].replace("second.toml", "broken.toml")
    (folders / "studies" / "smallest.toml").write_text(smallest)
    for _ in range(tries):
        boat = lot.random() < 0.5
        path = folders / ("boats" if boat else "studies") / "broken.toml"
        path.write_bytes(mutate_toml.mutated(texts[lot.choice(BOATS if boat else [*STUDIES, "further"])], lot))

        def load(path=path, boat=boat):
            study = load_study.load_study(folders / "studies" / "smallest.toml" if boat else path)
            only_numbers_that_are(study)
            return study

        study = account.attempt(load)
        if boat and study is not None:
            boats.append(study)
    return account, boats


def test_two_thousand_slips_of_the_hand_are_a_study_or_one_line(folders, monkeypatch):
    account, _ = broken_studies(folders, 21, USUAL, monkeypatch)
    account.judge(most_accepted=0.5)


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_ten_thousand_slips_of_fresh_seeds(folders, monkeypatch, fresh_seed):
    account, _ = broken_studies(folders, fresh_seed, FRESH, monkeypatch)
    account.judge(most_accepted=0.5)


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_two_hundred_accepted_boats_march_for_a_minute(folders, monkeypatch, fresh_seed):
    """Settings at the ends of what is worked, in a sea of 3 m: numbers that are, or a named end, or one line."""
    from seaload.basis.records import STATUS_NAMES
    from seaload.simulation.block import march_block

    account, boats = broken_studies(folders, fresh_seed, 8 * MARCHED, monkeypatch)
    account.judge(most_accepted=0.6)
    marched, ended = Account(fresh_seed), []
    for study in boats[: int(os.environ.get("SEALOAD_FUZZ_MARCHED", MARCHED))]:
        sampling = replace(study.sampling, realisation_time=60.0, run_in=120.0, realisations=1)
        foil = study.boat.foils[study.foil_side]

        def march(study=study, sampling=sampling, foil=foil):
            try:
                cases = tuple((setting, 0) for setting in study.settings)
                records, _ = march_block(study.boat, foil, study.seas[0], cases, sampling, study.model)
            except SealoadError as error:
                assert error.exit_code in (2, 3) and "\n" not in str(error)
                return
            for record in records:
                if record.status:
                    ended.append(STATUS_NAMES[record.status])
                else:
                    finite = (record.moment_mean, record.moment_max, record.moment_min, record.speed_mean)
                    assert all(np.all(np.isfinite(part)) for part in finite)

        marched.attempt(march)
    print(f"marched {marched.tries} boats, {len(ended)} ended early: {sorted(set(ended))}")
    marched.judge()

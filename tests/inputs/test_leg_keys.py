"""Every key of a leg's description acts: another value changes a number of its plan, or a word that a user sees.

Settings spend by a formula instead of a library, so that a leg is planned in a moment.
"""

import tomllib
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.deciding.leg import policy
from seaload.deciding.leg.asked import Told
from seaload.deciding.leg.leg_doubt import CASES
from seaload.deciding.leg.whole_odds import doubt_cases
from seaload.deciding.library.coordinates import NAMES, Cover
from seaload.scenario import leg_spec
from seaload.scenario.leg_spec import LegSpec
from seaload.studies.leg import leg_question, plan_leg
from tests.inputs.leaf_keys import all_names, leaves, name_of, others, value_at, with_value

LEGS = Path(__file__).resolve().parents[2] / "scenarios" / "legs"
DEMO = tomllib.loads((LEGS / "demo.toml").read_text(encoding="utf-8"))
DEMO["settings"].update(extension_percent=[60, 100], rake_deg=[0.0, 2.0], speed_knots=[12, 20])
DEMO["stretch_nm"] = 40
COURSES = (215.0, 235.0, 250.0)
BOUNDS = {"extension_percent": (55.0, 90.0), "rake_deg": (-0.5, 3.0), "speed_knots": (11.0, 17.0)}
SEGMENTS = {
    "name": "bounded", "boat": "../boats/demo.toml", "library": "demo.nc", "forecast": "one-member.nc",
    "forecast_utc": "2026-03-13T12:00Z", "start_utc": "2026-03-14T06:00Z", "start_latitude_deg": 48.4,
    "start_longitude_deg": -31.0,
    "segment": [
        {"heading_deg_true": course, "distance_nm": 30.0, "change": True,
         **{f"{word}_{key}": ends[k] for key, ends in BOUNDS.items() for k, word in enumerate(("least", "most"))}}
        for course in COURSES
    ],
    "settings": {**DEMO["settings"], "ballast_shift_m": 0.0},
    "budget": {"reverse_odds": 0.2, "normal_odds": 0.3, "wear_cycles": 5000.0},
    "crew": {"least_minutes": 100.0},
    "wind": {"from_deg_true": 300.0, "speed_knots": 20.0},
    "current": {"to_deg_true": 200.0, "speed_knots": 1.0},
    "later_start_hours": [3.0],
    "forecast_error": {"hs_percent": 12.0, "hs_percent_per_day": 3.0, "tp_percent": 15.0, "tp_percent_per_day": 1.25,
                       "heading_deg": 15.0, "heading_deg_per_day": 3.75, "hs_tp_correlation": 0.4},
    "check": {"marches": 0, "seed": 1},
}  # fmt: skip
FILES = {"demo": DEMO, "bounded": SEGMENTS}
LISTED = {
    "settings.tanks.*": "becomes the ballast shift by the record of a study, see test_nothing_written_is_ignored",
    "library": "names the file that is asked, see tests/studies/leg",
    "check.marches": "marches of the check, see tests/studies/leg/test_check.py",
    "check.seed": "marches of the check, see tests/studies/leg/test_check.py",
}
OTHERS = {
    "name": ["another"], "boat": ["second.toml"], "forecast": ["other.nc"], "track": ["other.csv"],
    "forecast_utc": ["2026-03-10T12:00Z"], "start_utc": ["2026-03-14T09:00Z"], "change": [False],
    "later_start_hours": [[5.0]], "least_minutes": [400.0],
    **{f"least_{key}": [{"extension_percent": 75.0, "rake_deg": 1.0, "speed_knots": 14.0}[key]] for key in BOUNDS},
    **{f"most_{key}": [{"extension_percent": 70.0, "rake_deg": 1.0, "speed_knots": 14.0}[key]] for key in BOUNDS},
}  # fmt: skip


def told(table, met, lead, needed):
    """`Told` by a formula: worse in high and short seas from ahead, with speed, foil and rake; surer soon."""
    named = dict(zip(NAMES, table.settings.T, strict=False))
    hard = met.hs[..., None] ** 3 / met.tp[..., None] * (1.5 + np.cos(met.angle[..., None]))
    hard = hard * named["extension"] * (1.0 + 4.0 * (named["rake"] - 0.03) ** 2) * (named["speed_set"] / 8.0) ** 4
    hard = hard * (1.0 + 0.1 * named["heel"] + 0.2 * named["cant"] + 0.1 * named["ballast_shift"])
    spread = np.zeros(met.hs.shape[:2])
    if table.error_at is not None:
        hs, tp, angle = table.error_at(lead)
        spread = np.sqrt(9.0 * hs**2 + tp**2 + angle**2 - 6.0 * table.correlation * hs * tp)
    deviations, weights = doubt_cases(CASES)
    doubt = np.exp(spread[:, :, None, None, None] * deviations)
    rate = {side: size * hard[..., None] * doubt for side, size in (("reverse", 3e-8), ("normal", 1e-8))}
    speed = np.broadcast_to(named["speed_set"], hard.shape)
    never = np.zeros(hard.shape, dtype=bool)
    return Told(rate, 1e-9 * hard**1.2, speed, never, never, never, np.full(speed.shape, 10.6), weights)


@pytest.fixture
def plan(tmp_path, monkeypatch):
    """Function that plans tables: everything that a user sees, by name."""
    with xr.open_dataset(LEGS / "made-forecast.nc", decode_timedelta=False) as whole:
        bare = whole.isel(member=[0]).drop_vars(["uwnd", "vwnd"]).load()
        higher = whole.load().copy()
    bare.to_netcdf(tmp_path / "one-member.nc")
    higher["hs"] = higher["hs"] * 1.1
    higher.to_netcdf(tmp_path / "other.nc")
    (tmp_path / "made-forecast.nc").write_bytes((LEGS / "made-forecast.nc").read_bytes())
    (tmp_path / "demo-track.csv").write_text((LEGS / "demo-track.csv").read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "other.csv").write_text("lat,lon\n48.4,-31.0\n46.0,-34.0\n44.9,-37.6\n", encoding="utf-8")
    (tmp_path / "boats").mkdir()
    boat = (LEGS.parent / "boats" / "demo.toml").read_text(encoding="utf-8")
    (tmp_path / "boats" / "second.toml").write_text(boat.replace('name = "demo"', 'name = "second"', 1), "utf-8")
    for name in (LEGS.parent / "boats").iterdir():
        (tmp_path / "boats" / name.name).write_bytes(name.read_bytes())
    (tmp_path / "legs").mkdir()
    for name in ("one-member.nc", "other.nc", "made-forecast.nc", "demo-track.csv", "other.csv"):
        (tmp_path / name).rename(tmp_path / "legs" / name)
    wide = Cover(np.full(len(NAMES), -100.0), np.full(len(NAMES), 100.0), np.zeros((1, 2)), np.zeros(1))
    library = SimpleNamespace(emulator=SimpleNamespace(cover=wide))
    monkeypatch.setattr(leg_question, "library_for", lambda leg, out: library)
    for room in (leg_question, policy):
        monkeypatch.setattr(room, "told_by", told)
    monkeypatch.setattr(plan_leg, "QUICK_WAYS", 60)
    monkeypatch.setattr(plan_leg, "gauge_of", lambda *asked: None)
    monkeypatch.setattr(plan_leg, "wear_span", lambda table, settings, *rest: np.zeros((2, len(settings))))
    monkeypatch.setattr(leg_question, "held_shares",
                        lambda leg, account: [[row.thrust] * len(leg.settings) for row in leg.ladder])  # fmt: skip

    def planned(tables):
        tables = {**tables, "boat": f"../boats/{Path(tables['boat']).name}", "check": {"marches": 0}}
        monkeypatch.setattr(leg_spec, "read_tables", lambda path: tables)
        data = plan_leg.leg_file(tmp_path / "legs" / "leg.toml", out=tmp_path / "results").dataset
        seen = {str(name): part.values.tobytes() for name, part in data.variables.items()}
        return seen | {name: data.attrs[name] for name in ("title", "boat", "notes", "defaults_used")}

    return planned


KEYS = [(name, path) for name, tables in FILES.items() for path in leaves(tables)]
FIRST = {}
for name, path in KEYS:
    FIRST.setdefault(name_of(LegSpec, path), (name, path))
    if path[-1] == "change":
        FIRST[name_of(LegSpec, path)] = name, path  # of the last segment: the first begins with any setting


ACTING = [pytest.param(FIRST[key], id=key) for key in FIRST if key not in LISTED]
BASE = {}


@pytest.mark.slow
@pytest.mark.parametrize("key", ACTING)
def test_another_value_changes_what_a_user_sees(key, plan):
    name, path = key
    if name not in BASE:
        BASE[name] = plan(FILES[name])
    before, tried = BASE[name], False
    for other in others(LegSpec, path, value_at(FILES[name], path), OTHERS):
        changed = with_value(FILES[name], path, other)
        try:
            after = plan(changed)
        except InputError:
            continue
        tried = True
        if after != before:
            return
    assert not tried, "another value changes nothing"
    raise AssertionError("no other value of this key was accepted")


LADDER = {  # what of the boat file's ladder is changed, of the row that holds in the wind of the forecast
    "wind_from_knots": ("wind_from_knots = 20 ", "wind_from_knots = 26 "),
    "heel_deg": ("about the wind that the thrust is stated for\nheel_deg = 18", "about that\nheel_deg = 12"),
    "thrust_percent": ("thrust_percent = 100", "thrust_percent = 80"),
}


@pytest.mark.parametrize("key", LADDER)
def test_every_key_of_a_ladder_of_sails_acts(key, plan, tmp_path):
    """Another value changes the plan, or leaves none."""
    fast = {**FILES["demo"], "budget": {"reverse_odds": 0.99}}  # as fast as the sails allow
    if "ladder" not in BASE:
        BASE["ladder"] = plan(fast)
    path = tmp_path / "boats" / "demo.toml"
    text = path.read_text(encoding="utf-8")
    before, after = LADDER[key]
    assert text.count(before) == 1
    path.write_text(text.replace(before, after), encoding="utf-8")
    try:
        found = plan(fast)
    except InputError as error:
        assert "sails carried there" in str(error)
        return
    assert found["stretch_setting"] != BASE["ladder"]["stretch_setting"]


def test_every_key_that_may_be_written_stands_in_a_file_here():
    assert [name for name in all_names(LegSpec) if name not in {*FIRST, *LISTED}] == []
    assert set(LISTED) <= set(all_names(LegSpec))

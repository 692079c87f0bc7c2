"""A library is filled by marches, the same bytes however it came about; asked in the words of a study; refused in a
line when it is not this boat's, not whole, or no library.
"""

import re
from dataclasses import replace
from math import radians

import numpy as np
import pytest
import xarray as xr

import seaload
from seaload.basis.errors import CannotRun, InputError
from seaload.basis.machine_code import PACKAGE
from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.basis.vocabulary import attributes
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.effects import RUN
from seaload.deciding.library.point import HELD, UNREACHABLE, unreachable_point
from seaload.files.result_file import read_result
from seaload.report.library.table import library_table
from seaload.report.write_pages import report_result
from seaload.sailing.case_store import CaseStore
from seaload.sailing.sail_cases import Account
from seaload.studies.library import fill
from seaload.studies.library.ask import open_library
from seaload.studies.library.shelf_file import (
    POINT_FILES,
    SURFACE_FILES,
    made_for_study,
    read_shelf,
    writing,
)
from seaload.studies.load_study import load_study
from seaload.studies.single_run import run_study
from seaload.studies.sweep import sweep_study
from tests.deciding.library.invented import points_at
from tests.small_study import STUDIES, shortened

FLAG_WORDS = {"flag_values", "flag_meanings", "coverage_content_type"}
PLACES = 6
ASKED = {"extension_percent": 80, "rake_deg": 1, "speed_knots": 18, "hs_m": 3.2, "tp_s": 9, "waves_from_bow_deg": 40}
SMALL = {"extension": (0.6, 1.0), "rake": (0.0, 2.0 * DEGREE), "speed": (12.0 * KNOT, 34.0 * KNOT)}


@pytest.fixture(scope="module")
def study():
    """The example with seconds of sea at each of eight settings, half of them faster than she sails."""
    whole = shortened(load_study(STUDIES / "library.toml"), realisations=2)
    like = whole.settings[0]
    settings = tuple(
        replace(like, extension=extension, rake=rake, speed=speed)
        for extension in SMALL["extension"] for rake in SMALL["rake"] for speed in SMALL["speed"]
    )  # fmt: skip
    return replace(whole, settings=settings, fill=replace(whole.fill, time=800.0))


@pytest.fixture(scope="module")
def marched(study, tmp_path_factory):
    """Outcome of the short filling on one worker."""
    return sweep_study(study, out=tmp_path_factory.mktemp("library"), workers=1)


def invented(monkeypatch, left=None):
    """Have rounds invented instead of marched; after `left` of them the power goes."""
    rounds = []

    def march(self, shelf, asked, means):
        seas = asked.seas
        if left is not None and len(rounds) == left:
            raise KeyboardInterrupt
        rounds.append(seas)
        first = self.first_realisation(shelf) // 16
        points = points_at(seas, self.settings, first=first)
        nowhere = unreachable_point(PLACES)
        for point in points:
            for name in NAMES:
                point.setdefault(name, np.asarray(self.like.get(name, 0.0)))
            point["wave_name"] = np.asarray(fill.wave_number(self.study.seas[0].name))
            for name, value in nowhere.items():
                point[name] = np.asarray(point.get(name, value)).astype(value.dtype)
            point["log_rate"][:], point["log_rate_error"][:] = -9.0, 0.5
        return points, []

    monkeypatch.setattr(fill.Filling, "march", march)
    monkeypatch.setattr(fill.Filling, "load_kernels", lambda self, account: None)
    return rounds


def test_marched_points_hold_what_a_library_promises(marched, study):
    data = marched.dataset
    assert set(np.unique(data["status"])) >= {HELD, UNREACHABLE}
    fast = data["speed_set"].values > 30.0 * KNOT
    assert np.all(data["status"].values[fast] == UNREACHABLE) and np.all(data["cases"].values[fast] == 0)
    held = data["status"].values == HELD
    assert np.all(np.isfinite(data["speed_mean"].values[held]))
    assert float(data["duration_total"].sum()) >= study.fill.time
    steepness = data["sea_hs"] / (9.80665 * data["sea_tp"] ** 2 / (2.0 * np.pi))
    assert float(steepness.max()) <= 1.0 / 16.0 + 1e-9


def test_some_seas_have_further_runs(marched):
    """Every third one: twelve designed runs of each point, and three realisations with the speed free."""
    data = marched.dataset
    simulated = data["cases"].values > 0
    further = simulated & (data["wave_first"].values // 16 % 3 == 0)
    assert marched.done == 2 * simulated.sum() + further.sum() * (12 * 2 + 3) and further.sum() == 12
    speed = np.isfinite(data["speed_attainable_in_sea"].values)
    wear = np.isfinite(data["wear_effect"].values[:, : len(RUN)])
    assert not speed[~further].any() and speed[further].any()
    assert not wear[~further].any() and wear[further].any()


def test_every_name_stands_in_the_vocabulary(marched):
    for name, variable in marched.dataset.variables.items():
        said = {key: value for key, value in variable.attrs.items() if key not in FLAG_WORDS}
        assert said == attributes(name), name
    assert all(isinstance(value, str) for value in marched.dataset.attrs.values())


def test_workers_and_the_order_of_the_settings_are_no_matter(marched, study, tmp_path):
    """Three workers instead of one; every setting that can be sailed is marched in each sea, whatever the order that
    they were written in.
    """
    turned = replace(study, settings=study.settings[::-1])
    again = sweep_study(turned, out=tmp_path, workers=3)
    assert again.result_path.read_bytes() == marched.result_path.read_bytes()


def test_an_interrupted_round_goes_on_to_the_same_bytes(marched, study, tmp_path, monkeypatch):
    """The power goes at the sixth block of cases; finished ones are kept."""
    add, added = CaseStore.add, []

    def once(self, cases):
        if len(added) == 5:
            raise KeyboardInterrupt
        added.append(cases)
        add(self, cases)

    with monkeypatch.context() as patch:
        patch.setattr(CaseStore, "add", once)
        with pytest.raises(KeyboardInterrupt):
            sweep_study(study, out=tmp_path, workers=1)
    again = sweep_study(study, out=tmp_path, workers=2)
    assert again.reused > 0
    assert again.result_path.read_bytes() == marched.result_path.read_bytes()


@pytest.fixture(scope="module")
def long(study):
    """A filling of several rounds, some of which go where the points so far send them."""
    return replace(study, fill=replace(study.fill, time=8.0 * 40.0 * 2.0 * HOUR))


@pytest.fixture(scope="module")
def kept(long, tmp_path_factory):
    """Outcome of the long filling with invented rounds."""
    with pytest.MonkeyPatch.context() as patch:
        rounds = invented(patch)
        outcome = sweep_study(long, out=tmp_path_factory.mktemp("kept"))
    assert [len(seas) for seas in rounds] == [8, 8, 8, 1, 8, 8]  # the first 25 span the range
    return outcome


@pytest.fixture
def filled(kept, tmp_path):
    """The same, its file in a folder of its own."""
    path = tmp_path / "filled" / kept.result_path.name
    path.parent.mkdir()
    path.write_bytes(kept.result_path.read_bytes())
    return replace(kept, result_path=path)


def test_rounds_that_follow_the_points_go_on_from_any_round_to_the_same_bytes(filled, long, tmp_path, monkeypatch):
    for left in (1, 4):
        with monkeypatch.context() as patch:
            invented(patch, left)
            with pytest.raises(KeyboardInterrupt):
                sweep_study(long, out=tmp_path / str(left))
        invented(monkeypatch)
        again = sweep_study(long, out=tmp_path / str(left))
        assert again.result_path.read_bytes() == filled.result_path.read_bytes()
    rounds = invented(monkeypatch)
    assert sweep_study(long, out=tmp_path / "1").result_path.read_bytes() == filled.result_path.read_bytes()
    assert rounds == []


def test_a_question_in_the_words_of_a_study(filled, long):
    library = seaload.open_library(filled.result_path, study=long)
    told = library.ask(**ASKED)
    for name, variable in told.variables.items():
        assert {k: v for k, v in variable.attrs.items() if k not in FLAG_WORDS} == attributes(name), name
    assert float(told["waves_from_bow"]) == pytest.approx(radians(40.0))
    assert np.all(np.diff(told["load_at_rate"]) > 0.0) and np.all(told["load_at_rate_error"] > 0.0)
    assert library.ask(**ASKED).identical(told)
    assert library.ask(**ASKED, gamma=3.3, spreading_s=10).identical(told)


def test_channels_are_told_with_their_errors(filled):
    library = open_library(filled.result_path)
    told = library.channels("speed_mean", "load_ratio_std", **ASKED)
    assert float(told["speed_mean"]) == pytest.approx(18.0 * KNOT, abs=0.05)
    assert told["load_ratio_std"].dims == told["load_ratio_std_error"].dims == ("place",)
    for name, variable in told.variables.items():
        assert {k: v for k, v in variable.attrs.items() if k not in FLAG_WORDS} == attributes(name), name
    with pytest.raises(InputError, match="names = 'heave': the library holds heave_std"):
        library.channels("heave", **ASKED)


def test_many_questions_at_once(filled):
    """In the words of a study, one array a key; what one question tells, each of many does."""
    library = open_library(filled.result_path)
    rates = library.rates(**{**ASKED, "hs_m": np.array([2.2, 3.2, 4.2, 9.0])})
    assert rates.told.tolist() == [True, True, True, False] and rates.outside.tolist() == [False, False, False, True]
    alone = library.ask(**ASKED)
    assert rates.load[1] == pytest.approx(alone["load_at_rate"].values)
    assert rates.log_wear[1] == pytest.approx(float(alone["log_wear"]))
    assert library.rates(**ASKED).log_rate.shape == (1, 2)
    with pytest.raises(InputError, match="numbers, or arrays"):
        library.rates(**{**ASKED, "hs_m": np.ones(3), "tp_s": np.ones(4)})
    with pytest.raises(InputError, match="hs_m = .*: a number"):
        library.rates(**{**ASKED, "hs_m": np.array([2.0, np.nan])})
    with pytest.raises(InputError, match="rake_deg = .*: a number"):
        library.ask(**{**ASKED, "rake_deg": [1.0, 2.0]})


def test_odds_in_the_words_of_a_study(filled, long):
    """Names of a sweep; longer exposures have higher odds; forecasts of later days do not make them surer."""
    library = open_library(filled.result_path, study=long)
    rough = {**ASKED, "hs_m": 4.4, "tp_s": 9.0, "extension_percent": 95}
    told = library.odds(**rough)
    for name, variable in told.variables.items():
        assert {k: v for k, v in variable.attrs.items() if k not in FLAG_WORDS} == attributes(name), name
    assert float(told["exposure_time"]) == long.risk.exposure and "forecast_hs" in told["uncertain_name"].values
    longer, later = library.odds(exposure_hours=24, **rough), library.odds(lead_hours=96, **rough)
    for side in ("reverse", "normal"):
        assert float(longer[f"{side}_odds_all_told"]) > float(told[f"{side}_odds_all_told"])
        worst = f"{side}_worst_one_in_twenty"
        assert float(later[worst]) > float(told[worst]) > float(told[f"{side}_worst_median"])
    with pytest.raises(InputError, match="exposure_hours = 0: hours above 0"):
        library.odds(exposure_hours=0, **ASKED)
    with pytest.raises(InputError, match="open the library with a study"):
        open_library(filled.result_path).odds(**ASKED)


def test_the_readmes_question_is_answered(filled, capsys):
    readme = (STUDIES.parents[1] / "README.md").read_text(encoding="utf-8")
    (example,) = [part for part in readme.split("\n\n") if "seaload.open_library(" in part]
    written = '"results/demo.nc", study="scenarios/studies/library.toml"'
    assert written in example
    exec("import seaload\n" + example.replace(written, repr(str(filled.result_path))), {})
    assert "of the limit, at" in capsys.readouterr().out


@pytest.mark.parametrize("change, words", [
    ({"hs_m": 6.0}, "hs_m = 6.0: the library holds 1.5 to 5; nothing"),
    ({"hs_m": 4.9, "tp_s": 6.3}, "hs_m = 4.9: with tp_s = 6.3 the library holds 1.5 to"),
    ({"extension_percent": 50.0}, "extension_percent = 50.0: the library holds 60 to 100"),
    ({"heel_deg": 20.0}, "heel_deg = 20.0: the library holds 18 alone"),
    ({"speed_knot": 12.0}, "speed_knot = 12.0: unknown; did you mean speed_knots?"),
    ({"rake_deg": "two"}, "rake_deg = 'two': a number"),
    ({"rake_deg": float("nan")}, "rake_deg = nan: a number"),
    ({"tp_s": -3.0}, "tp_s = -3.0: a number"),
])  # fmt: skip
def test_questions_that_cannot_be_answered(filled, change, words):
    library = open_library(filled.result_path)
    with pytest.raises(InputError) as error:
        library.ask(**{**ASKED, **change})
    assert words in str(error.value) and "\n" not in str(error.value)
    with pytest.raises(InputError, match="hs_m = 'missing': needed"):
        library.ask(**{key: value for key, value in ASKED.items() if key != "hs_m"})


def test_the_table_tells_what_is_covered_and_what_was_missed(filled, marched):
    text = library_table(filled.dataset)
    assert "Covers extension 60 to 100 %, rake 0 to 2°" in text and "Hs 1.5 to 5 m" in text
    assert max(map(len, text.splitlines())) <= 100
    assert "Too few seas" in library_table(marched.dataset)
    assert "that cannot be sailed" in library_table(marched.dataset)


@pytest.mark.parametrize("part, change", [
    ("another boat", lambda study: replace(study, boat=replace(study.boat, mass=8000.0))),
    ("another foil", lambda study: replace(study, boat=replace(study.boat, foils={
        "port": replace(study.boat.foils["port"], cl_max=1.1)}))),
    ("other choices of the model", lambda study: replace(study, model={**study.model, "lag": "off"})),
    ("another run-in", lambda study: replace(study, sampling=replace(study.sampling, run_in=11.0))),
])  # fmt: skip
def test_a_library_of_another_boat_is_one_line(filled, long, part, change):
    other = change(long)
    with pytest.raises(InputError) as error:
        sweep_study(other, out=filled.result_path.parent)
    assert str(error.value).startswith("demo.nc: library = 'demo.nc': made for " + part)
    assert "\n" not in str(error.value)
    assert made_for_study(other) != made_for_study(long)


def test_another_version_is_one_line(filled, long, monkeypatch):
    monkeypatch.setattr("seaload.studies.library.shelf_file.source_fingerprint", lambda rooms: "0" * 16)
    with pytest.raises(InputError, match="made for another version of seaload"):
        sweep_study(long, out=filled.result_path.parent)
    with pytest.raises(InputError, match="made for another boat|another version"):
        open_library(filled.result_path, study=long)


def reached_from(file):
    """Source files of evidence and of the library that a `file` imports, itself and whatever those import too."""
    found, left = set(), [file]
    while left:
        file = left.pop()
        found.add(file)
        text = (PACKAGE / file).read_text(encoding="utf-8")
        names = re.findall(r"^from seaload\.((?:evidence|deciding)[\w.]*) import", text, flags=re.MULTILINE)
        left += [new for name in names if (new := name.replace(".", "/") + ".py") not in found]
    return found


def test_all_sources_that_make_points_are_in_their_hash():
    """And those that draw surfaces through them: those are drawn anew by another version, the points stay."""
    assert set(POINT_FILES) == reached_from("deciding/library/point.py")
    drawn = reached_from("deciding/library/emulator.py") - set(POINT_FILES)
    assert {file for file in drawn if "/library/" in file} - {"deciding/library/shelf.py"} == set(SURFACE_FILES)


def test_surfaces_of_another_version_are_drawn_anew(filled, monkeypatch):
    assert read_shelf(filled.result_path, {}).surfaces
    monkeypatch.setattr("seaload.studies.library.shelf_file.surfaces_hash", lambda: "0" * 32)
    assert read_shelf(filled.result_path, {}).surfaces == {}


def broken(dataset, name, values):
    """The Dataset with other values of one name."""
    return dataset.assign({name: (dataset[name].dims, values, dataset[name].attrs)})


@pytest.mark.parametrize("change", [
    lambda data: data.drop_vars("load_at_rate"),
    lambda data: data.assign_attrs(surfaces="{"),
    lambda data: data.assign_attrs(surfaces='{"load_swing_reverse": {"kind": "smooth"}}'),
    lambda data: data.assign_attrs(surfaces='{"else": 1}'),
    lambda data: data.isel(rate=slice(3)),
    lambda data: data.isel(side=[1, 0]),
    lambda data: data.rename({"level": "rung"}),
    lambda data: broken(data, "sea_hs", np.full(data.sizes["point"], np.nan)),
    lambda data: broken(data, "status", np.full(data.sizes["point"], 9, dtype=np.int32)),
    lambda data: broken(data, "load_at_rate", data["load_at_rate"].values.astype("f8")),
])  # fmt: skip
def test_a_damaged_library_is_one_line(filled, long, change):
    with xr.open_dataset(filled.result_path) as opened:
        data = change(opened.load())
    data.to_netcdf(filled.result_path)
    with pytest.raises(InputError) as error:
        sweep_study(long, out=filled.result_path.parent)
    assert "damaged, or made by another version" in str(error.value) and "\n" not in str(error.value)


@pytest.mark.parametrize("left", [0, 100, 0.5, 0.98])
def test_a_truncated_library_is_one_line(filled, long, left):
    whole = filled.result_path.read_bytes()
    filled.result_path.write_bytes(whole[: int(left * len(whole)) if isinstance(left, float) else left])
    with pytest.raises(InputError, match="not a readable netCDF file") as error:
        sweep_study(long, out=filled.result_path.parent)
    assert "\n" not in str(error.value)


def test_another_kind_of_file_is_one_line(filled, long):
    xr.Dataset({"x": 1.0}).to_netcdf(filled.result_path)
    with pytest.raises(InputError, match="not a result of seaload"):
        sweep_study(long, out=filled.result_path.parent)
    xr.Dataset({"x": 1.0}, attrs={"kind": "run", "source_fingerprint": "0"}).to_netcdf(filled.result_path)
    with pytest.raises(InputError, match="another kind of result"):
        sweep_study(long, out=filled.result_path.parent)


def test_a_second_writer_is_refused(study, tmp_path):
    with writing(tmp_path, study.library), pytest.raises(CannotRun, match="another seaload process"):
        sweep_study(study, out=tmp_path)


def test_no_page_is_made_of_a_library(filled):
    with pytest.raises(InputError, match="no pages are known for it"):
        report_result(filled.result_path)
    assert read_result(filled.result_path).attrs["kind"] == "library"


def test_a_run_leaves_its_points_in_the_library(study, tmp_path):
    """Three seas of which one is no sea of one wave system; again with more of it, which takes the place."""
    whole = load_study(STUDIES / "bow-quarter-swell.toml", one_setting=True)
    assert whole.library == ""
    table = {**study.raw["sea"][0], "name": "a wind sea", "hs_m": 2.0, "tp_s": 7.0}
    two = shortened(replace(
        study, fill=None, name="use", settings=study.settings[:1], seas=(study.seas[0], whole.seas[0]),
        raw={**study.raw, "sea": [table, whole.raw["sea"][0]]},
    ), realisations=2)  # fmt: skip
    said = []
    run_study(two, out=tmp_path, workers=1, rates_only=True, account=Account(say=said.append))
    assert any("not kept in demo.nc" in line for line in said)
    data = read_result(tmp_path / "demo.nc")
    assert data.sizes["point"] == 1 and int(data["cases"][0]) == 2
    assert float(data["sea_hs"][0]) == 2.0 and float(data["sea_tp"][0]) == 7.0
    more = replace(two, sampling=replace(two.sampling, realisations=3))
    run_study(more, out=tmp_path, workers=1, rates_only=True)
    data = read_result(tmp_path / "demo.nc")
    assert data.sizes["point"] == 1 and int(data["cases"][0]) == 3
    run_study(two, out=tmp_path, workers=1, rates_only=True)
    assert (tmp_path / "demo.nc").exists() and int(read_result(tmp_path / "demo.nc")["cases"][0]) == 3

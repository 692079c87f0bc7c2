"""A study file, its boat and its sea records become one record, with every assumption said."""

import json
import shutil
from math import inf, pi
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from seaload.basis.errors import InputError
from seaload.basis.units import KNOT
from seaload.studies.load_study import load_study
from seaload.waves.bulk import spectral_moment

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
STUDIES = sorted((SCENARIOS / "studies").glob("*.toml"))
NAMED = 'spectrum = "jonswap"\nhs_m = 3.0\ntp_s = 9.0\nwaves_from_bow_deg = 45.0\n'
RECORD = 'file = "../data/46042-1996-03.txt"\nrecord = "1996-03-13T16:00Z"\n'


@pytest.fixture
def folder(tmp_path):
    """A copy of the demonstration boat and the record, and a folder for studies."""
    shutil.copytree(SCENARIOS / "boats", tmp_path / "boats")
    shutil.copytree(SCENARIOS / "data", tmp_path / "data")
    (tmp_path / "studies").mkdir()
    return tmp_path


def written(folder, sea=NAMED, settings="", more=""):
    path = folder / "studies" / "s.toml"
    text = f'name = "s"\nboat = "../boats/demo.toml"\n{more}\n[settings]\n{settings}\n[[sea]]\nname = "x"\n{sea}'
    path.write_text(text)
    return path


def refused(path, **options):
    with pytest.raises(InputError) as caught:
        load_study(path, **options)
    assert "\n" not in str(caught.value)
    return str(caught.value)


@pytest.mark.parametrize("path", STUDIES, ids=lambda path: path.stem)
def test_every_study_in_the_checkout_loads(path):
    study = load_study(path)
    assert study.name == path.stem and study.boat_name == "demo" and study.foil_side == "port"
    assert all(sea.notes for sea in study.seas)
    assert not any(sea.steep for sea in study.seas)
    json.dumps(study.raw, allow_nan=False)


def test_the_first_study_is_the_measured_hour():
    study = load_study(SCENARIOS / "studies" / "bow-quarter-swell.toml")
    (sea,) = study.seas
    (system,) = sea.systems
    # 4.45 m: sum of the bands of the record times 0.01 Hz, derived here; trapezoid and tail add 0.3 %
    assert sea.hs == pytest.approx(4.45, abs=0.03)
    assert sea.tp == pytest.approx(1 / 0.09)
    assert 4 * np.sqrt(spectral_moment(system.omega, system.density, 0)) == pytest.approx(sea.hs)
    assert system.direction == pytest.approx(0.75 * pi) and system.spreading == 10
    assert system.omega[-1] == pytest.approx(3.6)
    assert study.sampling.realisations == 9 and study.settings[0].speed == pytest.approx(20 * KNOT)
    said = " ".join(sea.notes)
    assert "assumed: the record has none" in said and "0.40 Hz" in said and "no current" in said


def test_the_settings_map_has_the_grid_it_promises():
    study = load_study(SCENARIOS / "studies" / "settings-map.toml")
    assert len(study.settings) == 5 * 5 * 2 and len(study.seas) == 3
    assert [len(sea.systems) for sea in study.seas] == [1, 1, 2]
    assert study.sampling.precision == pytest.approx(0.2) and study.sampling.most_realisations == 120


def test_both_foils_are_there_and_equal():
    boat = load_study(STUDIES[0]).boat
    assert set(boat.foils) == {"port", "starboard"}
    port = boat.foils["port"]
    assert port.outside_length == pytest.approx(4.8) and port.limit_basis == "working"
    assert port.strain_reverse == pytest.approx(0.4 * port.strain_normal)
    assert {move.name for move in boat.moves} >= {"ease_sheets", "bear_away", "rake", "extension"}
    assert boat.speed_table.speed.shape == (
        len(boat.speed_table.wind_speed),
        len(boat.speed_table.wind_angle),
    )
    row = np.argmin(abs(boat.speed_table.wind_speed - boat.reference_wind_speed))
    column = np.argmin(abs(boat.speed_table.wind_angle - boat.reference_wind_angle))
    assert boat.speed_table.speed[row, column] == pytest.approx(boat.reference_speed)


def test_a_seed_from_outside_goes_before_the_written_one():
    assert load_study(STUDIES[0], seed=12).sampling.seed == 12
    assert "seed" in refused(STUDIES[0], seed=-1)


def test_unsaid_wind_spreading_and_peak_are_assumed_and_said(folder):
    (sea,) = load_study(written(folder)).seas
    said = " ".join(sea.notes)
    for word in ("wind speed not said", "wind angle not said", "gamma = 3.3", "s = 10"):
        assert word in said


def test_a_long_crested_sea(folder):
    (sea,) = load_study(written(folder, NAMED + 'spreading_s = "long-crested"')).seas
    assert sea.systems[0].spreading == inf


@pytest.mark.parametrize(
    "spectrum",
    ['"bretschneider"\ntp_s = 9', '"torsethaugen"\ntp_s = 9', '"torsethaugen"\ntp_s = 14', '"ochi-hubble"'],
)
def test_every_named_spectrum_holds_its_height(folder, spectrum):
    text = f"spectrum = {spectrum}\nhs_m = 3.0\nwaves_from_bow_deg = 30"
    (sea,) = load_study(written(folder, text)).seas
    assert sea.hs == pytest.approx(3.0, rel=0.01)


@pytest.mark.parametrize(("tail", "end"), [("f-5", 3.6), ("f-4", 3.6), ("none", 0.4 * 2 * pi)])
def test_the_tail_is_a_stated_choice(folder, tail, end):
    (sea,) = load_study(written(folder, RECORD + f'waves_from_bow_deg = 45\ntail = "{tail}"')).seas
    assert sea.systems[0].omega[-1] == pytest.approx(end)
    assert any("tail" in note for note in sea.notes) == (tail != "none")


def test_a_steep_sea_is_flagged_and_not_refused(folder):
    text = NAMED.replace("hs_m = 3.0", "hs_m = 4.0").replace("tp_s = 9.0", "tp_s = 6.0")
    (sea,) = load_study(written(folder, text)).seas
    assert sea.steep and any("steep" in note for note in sea.notes)


UNFIT = "wind and sea do not fit"


@pytest.mark.parametrize(
    ("hs", "tp", "knots", "unfit"),
    [
        (4.5, 9.0, 24, True),  # 24 kn raise 3.75 m with 9.5 s at most, by the fits of waves/fetch_growth
        (4.5, 9.0, 28, False),
        (3.7, 9.0, 24, False),
        (4.4, 11.0, 24, False),  # longer than 24 kn can make: swell, as steep as 1 in 43
        (7.0, 10.5, 24, True),  # as long, but as steep as 1 in 25: driven by more wind
        (1.5, 14.0, 2, False),
        (0.4, 2.5, 0, True),
    ],
)
def test_a_wind_sea_higher_than_its_wind_can_raise_is_told(folder, hs, tp, knots, unfit):
    text = NAMED.replace("hs_m = 3.0", f"hs_m = {hs}").replace("tp_s = 9.0", f"tp_s = {tp}")
    (sea,) = load_study(written(folder, text + f"true_wind_speed_knots = {knots}\n")).seas
    assert any(UNFIT in note for note in sea.notes) == unfit


def test_the_line_names_the_wind_that_would_fit(folder):
    text = NAMED.replace("hs_m = 3.0", "hs_m = 4.5") + "true_wind_speed_knots = 24\n"
    (sea,) = load_study(written(folder, text)).seas
    (note,) = (note for note in sea.notes if UNFIT in note)
    assert "4.5 m with 9.0 s" in note and "24 knots" in note and "27 knots" in note
    more = "[[sea.system]]\n" + NAMED.replace("hs_m = 3.0", "hs_m = 1.0").replace("tp_s = 9.0", "tp_s = 15.0")
    (sea,) = load_study(written(folder, text + more)).seas
    assert sum(UNFIT in note for note in sea.notes) == 1  # the swell beside it is no matter


def test_gustiness_is_as_written_or_that_of_the_open_sea(folder):
    gusts = '\n[model]\nwind = "gusts"\n'
    (unsaid,) = load_study(written(folder, NAMED + "true_wind_speed_knots = 24\n", more=gusts)).seas
    assert 0.08 < unsaid.gustiness < 0.12
    (said,) = load_study(written(folder, NAMED + "gustiness_percent = 15\n", more=gusts)).seas
    assert said.gustiness == pytest.approx(0.15)
    (still,) = load_study(written(folder, NAMED + "gustiness_percent = 0\n", more=gusts)).seas
    assert still.gustiness == 0.0
    assert "gustiness_percent" in refused(written(folder, NAMED + "gustiness_percent = 15\n"))


@pytest.mark.parametrize("tp", [2.0, 2.9, 4.7, 7.3, 11.0, 15.1])
def test_height_and_period_are_simulated_as_asked(folder, tp):
    """Waves of 2 s once lost 7 % of their height at the end of the table, and every period snapped to it."""
    text = NAMED.replace("hs_m = 3.0", "hs_m = 0.5").replace("tp_s = 9.0", f"tp_s = {tp}")
    (sea,) = load_study(written(folder, text)).seas
    assert sea.hs == pytest.approx(0.5, rel=6e-3) and sea.tp == pytest.approx(tp, rel=1e-9)
    told = any("simulated" in note for note in sea.notes)
    assert told == (abs(sea.hs - 0.5) > 0.0025)


def test_a_grid_of_spectra_is_named_by_number_or_by_latitude_and_longitude(folder):
    """Data: spectra of a reanalysis on a coarse grid, see tests/published/data."""
    path = Path(__file__).parents[1] / "published" / "data" / "sea_era5_2d_spectra.nc"
    shutil.copy(path, folder / "data" / "g.nc")
    with xr.open_dataset(path) as grid:
        latitudes, longitudes = grid["latitude"].values.tolist(), grid["longitude"].values.tolist()
    number = latitudes.index(36.0) * len(longitudes) + longitudes.index(216.0)
    text = 'file = "../data/g.nc"\nrecord = "2019-12-01T00:00Z"\nheading_deg_true = 30\nplace = '
    (there,) = load_study(written(folder, text + "[36.0, 216.0]")).seas
    (counted,) = load_study(written(folder, text + f"{number}")).seas
    assert np.array_equal(there.systems[0].density, counted.systems[0].density)
    assert "latitude" in refused(written(folder, text + "[36.0]"))
    assert "latitude" in refused(written(folder, text + "[216.0, 36.0]"))
    assert "allowed is" in refused(written(folder, text + '"north"'))


def test_what_would_be_ignored_is_refused(folder):
    bow = "waves_from_bow_deg = 45\n"
    assert "from the bow" in refused(written(folder, NAMED + "heading_deg_true = 20"))
    assert "one place" in refused(written(folder, RECORD + bow + "place = 1"))
    assert "in its systems" in refused(written(folder, "spreading_s = 5\n[[sea.system]]\n" + NAMED))


def test_swell_and_wind_sea_add_their_energy(folder):
    system = NAMED.replace("hs_m = 3.0", "hs_m = 4.0")
    (sea,) = load_study(written(folder, NAMED + "[[sea.system]]\n" + system)).seas
    assert sea.hs == pytest.approx(5.0, rel=2e-3)


def test_tanks_become_a_shift_and_a_mass(folder):
    study = load_study(written(folder, settings="tanks = { aft = 100 }"))
    (setting,) = study.settings
    assert setting.ballast_mass == pytest.approx(800)
    assert setting.ballast_shift == pytest.approx(800 * (0.9 - study.boat.cg_from_transom) / 8400)
    assert "the boat's tanks are forward, aft" in refused(written(folder, settings="tanks = { mid = 5 }"))


def test_port_tack_works_the_starboard_foil(folder):
    study = load_study(written(folder, more='foil = "starboard"'))
    assert study.foil_side == "starboard"


def test_forecast_doubts_are_there_unless_said_otherwise(folder):
    doubts = {doubt.name: doubt for doubt in load_study(written(folder)).uncertain}
    assert doubts["forecast_hs"].spread == pytest.approx(0.12 + 0.03 * 0.5)  # half a day ahead
    assert {"tail_level", "wind_sea_share"} <= set(doubts)
    more = "[uncertain.forecast_hs]\nspread_percent = 20"
    doubts = {doubt.name: doubt for doubt in load_study(written(folder, more=more)).uncertain}
    assert doubts["forecast_hs"].spread == pytest.approx(0.20) and "lift_slope" in doubts


def test_a_sea_says_how_long_ahead_it_was_forecast(folder):
    """Stated errors of the study go before those of the lead time; what is assumed is said."""
    (sea,) = load_study(written(folder, sea=NAMED + "lead_hours = 48")).seas
    assert {entry.name: entry.spread for entry in sea.forecast}["forecast_hs"] == pytest.approx(0.18)
    off = "it may be off by Hs 18 %, Tp 18 %, heading 22 degrees (one deviation, from memory)"
    assert f"forecast 48 h ahead: {off}" in sea.notes
    (sea,) = load_study(written(folder)).seas
    assert any(note.startswith("forecast 12 h ahead (assumed)") for note in sea.notes)
    more = "[forecast]\nhs_percent = 20\nhs_tp_correlation = 0.1\n[uncertain.forecast_tp]\nspread_percent = 7"
    study = load_study(written(folder, more=more, sea=NAMED + "lead_hours = 0"))
    assert [entry.name for entry in study.seas[0].forecast] == ["forecast_hs", "forecast_heading"]
    assert study.seas[0].forecast[0].spread == pytest.approx(0.20) and study.hs_tp_correlation == 0.1
    assert {entry.name: entry.spread for entry in study.uncertain}["forecast_tp"] == pytest.approx(0.07)


MISTAKES = [
    ({"sea": NAMED + "depth_m = 20"}, ["sea[1].depth_m = 20", "deep water only"]),
    ({"sea": RECORD}, ["sea[1].waves_from_bow_deg", "no direction"]),
    ({"sea": RECORD.replace("T16", "T01") + "waves_from_bow_deg = 45"}, ["missing"]),
    ({"sea": RECORD.replace("1996-03-13", "1997-03-13") + "waves_from_bow_deg = 45"}, ["nearest is"]),
    ({"sea": RECORD.replace("46042", "none") + "waves_from_bow_deg = 45"}, ["no such file"]),
    ({"sea": 'file = "../boats/demo.toml"\nwaves_from_bow_deg = 45'}, ["demo.toml"]),
    ({"sea": f'file = "{"x" * 5000}"\nwaves_from_bow_deg = 45'}, ["xxx"]),
    ({"sea": 'file = "\\u001b[2J"\nwaves_from_bow_deg = 45'}, ["\\\\x1b[2J", "no such file"]),
    ({"settings": "extension_percent = 40"}, ["settings.extension_percent = 40", "from 50 to 100"]),
    ({"settings": 'speed_knots = "attainable"', "sea": NAMED + "true_wind_speed_knots = 50"}, ["attainable"]),
]


@pytest.mark.parametrize(("parts", "words"), MISTAKES, ids=lambda v: str(v)[:50])
def test_a_mistake_that_shows_only_when_files_meet_gives_one_line(folder, parts, words):
    line = refused(written(folder, **parts))
    for word in words:
        assert word in line, line


def test_run_refuses_lists_and_names_sweep(folder):
    path = written(folder, settings="rake_deg = [1, 2]")
    line = refused(path, one_setting=True)
    assert "settings.rake_deg = [1, 2]" in line and "seaload sweep" in line
    assert len(load_study(path).settings) == 2


def test_a_large_grid_asks_first_and_tells_time_and_memory(folder):
    numbers = ", ".join(f"{60 + 0.1 * i:.1f}" for i in range(400))
    rakes = ", ".join(f"{0.01 * i:.2f}" for i in range(400))
    path = written(folder, settings=f"extension_percent = [{numbers}]\nrake_deg = [{rakes}]")
    line = refused(path)
    assert "1,440,000 cases" in line and "hours of sea" in line and "--yes" in line
    assert "core-hours" in line and "GB of memory" in line


def test_the_largest_budget_counts_and_not_the_first_hours(folder):
    """1.2 million cases once went through: three hours each, with a hundred thousand allowed."""
    rakes = ", ".join(f"{0.5 * i:.1f}" for i in range(4))
    more = "[sampling]\nhours = 3\nprecision_percent = 20\nmax_hours = 100000"
    path = written(folder, settings=f"rake_deg = [{rakes}]", more=more)
    assert "1,200,000 cases" in refused(path)
    assert len(load_study(path, allow_large=True).settings) == 4


def test_ten_thousand_hours_of_one_setting_ask_first(folder):
    path = written(folder, more="[sampling]\nhours = 10000")
    line = refused(path, one_setting=True)
    assert "sampling.hours = 10000" in line and "10,000 hours of sea" in line and "without --yes" in line
    assert load_study(path, one_setting=True, allow_large=True).sampling.realisations == 30_000


def test_run_does_not_count_hours_that_only_a_sweep_spends(folder):
    path = written(folder, more="[sampling]\nhours = 3\nprecision_percent = 20\nmax_hours = 100000")
    assert load_study(path, one_setting=True).sampling.realisations == 9
    assert "sampling.max_hours = 100000" in refused(path)


def test_a_grid_beyond_all_machines_is_refused_even_when_asked_for(folder):
    """Two thousand values of each of three settings would fill the memory before anything is marched."""
    numbers = ", ".join(f"{i / 1000:.3f}" for i in range(2000))
    path = written(folder, settings=f"rake_deg = [{numbers}]\nheel_deg = [{numbers}]\ncant_deg = [{numbers}]")
    assert "split the study" in refused(path, allow_large=True)


def test_every_wave_system_has_its_components(folder):
    """Fewer components than systems need once ended in a traceback, in the middle of a run."""
    system = "[[sea.system]]\n" + NAMED
    path = written(folder, NAMED + system, more="[sampling]\ncomponents = 40")
    assert "2 wave systems: at least 48" in refused(path)


def test_a_named_sea_steeper_than_waves_can_be_is_refused(folder):
    """Michell 1893: no wave is higher than a seventh of its length; 25 m of 1 s were accepted."""
    line = refused(written(folder, NAMED.replace("tp_s = 9.0", "tp_s = 2.0")))
    assert "sea[1].hs_m = 3.0" in line and "a seventh of the length" in line


@pytest.mark.parametrize("name", ["x" * 3000, "\x1b[2J", "a\x00b"])
def test_a_boat_of_an_impossible_name_is_one_line(folder, name):
    path = written(folder)
    path.write_text(path.read_text().replace("../boats/demo.toml", json.dumps(name)[1:-1]))
    line = refused(path)
    assert line.isprintable() and ("no such file" in line or "name too long" in line)


def test_a_missing_boat_is_named(folder):
    (folder / "boats" / "demo.toml").unlink()
    assert "no such file" in refused(written(folder))


@pytest.mark.parametrize(
    ("content", "word"),
    [("", "first column"), ("true_wind_speed_knots,60,90\n12,10\n20,10", "columns"),
     ("true_wind_speed_knots,90,60\n12,10,11\n20,10,11", "rise"),
     ("true_wind_speed_knots,60,90\n12,x,11\n20,10,11", "number from")],
)  # fmt: skip
def test_a_crooked_speed_table_is_refused(folder, content, word):
    (folder / "boats" / "demo-speed-table.csv").write_text(content)
    assert word in refused(written(folder))


def test_an_empty_spectrum_is_refused(folder):
    data = folder / "data" / "46042-1996-03.txt"
    lines = data.read_text().splitlines()
    empty = [" ".join(line.split()[:4] + [".00"] * 38) if "96 03 13 16" in line else line for line in lines]
    data.write_text("\n".join(empty))
    assert "empty" in refused(written(folder, RECORD + "waves_from_bow_deg = 45"))


def test_every_choice_of_the_model_is_known_to_the_simulation():
    from typing import get_args

    from seaload.scenario.risk_spec import ModelSpec
    from seaload.simulation.model_options import SWITCHES

    written = {name: set(get_args(field.annotation)) for name, field in ModelSpec.model_fields.items()}
    choices = {name: options for name, options in written.items() if all(isinstance(one, str) for one in options)}
    assert choices == {name: set(options) for name, options in SWITCHES.items()}

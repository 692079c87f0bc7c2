"""What a person may write wrongly about a library is one line, before anything is simulated."""

import tomllib

import pytest

from seaload.basis.errors import InputError
from seaload.studies import load_study
from tests.small_study import STUDIES

TABLES = tomllib.loads((STUDIES / "library.toml").read_text(encoding="utf-8"))


def loaded(monkeypatch, tables, **options):
    """The study of these tables."""
    reader = load_study.read_tables
    monkeypatch.setattr(load_study, "read_tables", lambda path: tables if path.name == "x.toml" else reader(path))
    return load_study.load_study(STUDIES / "x.toml", **options)


def changed(**tables):
    """The example with other tables; None takes one away."""
    return {name: table for name, table in {**TABLES, **tables}.items() if table is not None}


SEA, FILL, SAMPLING, SETTINGS = TABLES["sea"][0], TABLES["fill"], TABLES["sampling"], TABLES["settings"]
SWELL = {"spectrum": "jonswap", "hs_m": 1.0, "tp_s": 13.0, "waves_from_bow_deg": 120.0}


@pytest.mark.parametrize("tables, words", [
    (changed(library=None), 'fill = \'this table\': goes with a library: write library = "NAME.nc" too'),
    (changed(library="../demo.nc"), "library = '../demo.nc': allowed is name of the boat's library"),
    (changed(library="/elsewhere/demo.nc"), "library = '/elsewhere/demo.nc'"),
    (changed(library="demo"), "library = 'demo'"),
    (changed(fill={**FILL, "hs_m": [5.0, 1.5]}), "fill.hs_m = [5.0, 1.5]: two rising numbers"),
    (changed(fill={**FILL, "hs_m": [1.5]}), "fill.hs_m = [1.5]: allowed is [least, most] significant wave height"),
    (changed(fill={**FILL, "tp_s": 9.0}), "fill.tp_s = 9.0: allowed is [least, most] period"),
    (changed(fill={**FILL, "waves_from_bow_deg": [0.0, 200.0]}), "fill.waves_from_bow_deg"),
    (changed(fill={"hs_m": [1.5, 5.0], "tp_s": [6.0, 14.0]}), "fill.hours = 'missing': needed"),
    (changed(fill={**FILL, "hour": 3.0}), "fill.hour = 3.0: unknown key; did you mean hours?"),
    (changed(risk={"exposure_hours": 3.0}), "risk = 'this table': leave it out: with [fill] nothing is decided"),
    (changed(sampling={**SAMPLING, "max_hours": 30.0}), "sampling.max_hours = 30.0: leave it out"),
    (changed(sampling={**SAMPLING, "precision_percent": 20.0}), "sampling.precision_percent = 20.0: leave it out"),
    (changed(fill={**FILL, "hours": 9000.0}), "fill.hours = 9000.0: up to"),
])  # fmt: skip
def test_what_is_written_wrongly(monkeypatch, tables, words):
    with pytest.raises(InputError) as error:
        loaded(monkeypatch, tables)
    assert words in str(error.value) and "\n" not in str(error.value)


@pytest.mark.parametrize("tables, words", [
    (changed(sea=[SEA, {**SEA, "name": "another"}]), "sea = 2: with [fill] one [[sea]]"),
    (changed(sea=[{**SEA, "spectrum": "torsethaugen", "gamma": None}]), "sea[1] = 'torsethaugen': a library holds"),
    (changed(sea=[{**SEA, "system": [SWELL]}]), "a library holds seas of one wave system"),
    (changed(settings={**SETTINGS, "speed_knots": "attainable"}), "settings.speed_knots = 'attainable': with [fill]"),
    (changed(settings={**SETTINGS, "tanks": {"aft": 50.0}}), "settings.tanks = 'this table': with [fill]"),
    (changed(fill={**FILL, "hs_m": [6.0, 9.0], "tp_s": [5.0, 7.0]}), "fill.tp_s = [5.0, 7.0]: no sea of these"),
])  # fmt: skip
def test_what_no_library_can_hold(monkeypatch, tables, words):
    tables = {**tables, "sea": [{k: v for k, v in sea.items() if v is not None} for sea in tables["sea"]]}
    with pytest.raises(InputError) as error:
        loaded(monkeypatch, tables)
    assert words in str(error.value) and "\n" not in str(error.value)


def test_run_fills_no_library(monkeypatch):
    one = {**SETTINGS, "extension_percent": 80, "rake_deg": 2.0, "speed_knots": 16}
    with pytest.raises(InputError, match="run fills no library; use: seaload sweep"):
        loaded(monkeypatch, changed(settings=one), one_setting=True)


def test_what_a_library_does_not_ask_is_no_default_either(monkeypatch):
    study = loaded(monkeypatch, changed())
    assert not any(line.startswith(("risk", "gust", "forecast")) for line in study.defaults_used)
    assert any(line.startswith("model") for line in study.defaults_used)

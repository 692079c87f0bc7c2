"""The command line: help is quick, wrong input is one line and exit 2, and nothing is written."""

import json
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from seaload.basis.errors import CannotRun
from seaload.command_line import main as command
from seaload.command_line import work
from seaload.command_line.home import some_home
from seaload.command_line.summary import as_json

ROOT = Path(__file__).resolve().parents[2]
STUDY = ROOT / "scenarios" / "studies" / "quick-look.toml"
ONE = ROOT / "scenarios" / "studies" / "bow-quarter-swell.toml"
LINE = [sys.executable, "-m", "seaload.command_line.main"]


def process(*words, **options):
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run([*LINE, *words], capture_output=True, text=True, env=environment, **options)


def test_help_is_quick_and_loads_no_heavy_library():
    code = (
        "import sys\nfrom seaload.command_line.main import exit_code_of\nexit_code_of(['--help'])\n"
        "heavy = {'numpy', 'scipy', 'numba', 'xarray', 'netCDF4', 'matplotlib', 'pydantic'}\n"
        "heavy &= set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, env=environment)
    taken = lambda: sum(os.times()[2:4])  # noqa: E731  [s] of processor that processes took: whoever else is at work
    times = []
    for _ in range(3):
        began = taken()
        done = process("--help")
        times.append(taken() - began)
        assert done.returncode == 0
    for verb in ("run", "sweep", "cycles", "report"):
        assert verb in done.stdout
    assert min(times) < 0.5, times


@pytest.fixture
def called(capsys, tmp_path, monkeypatch):
    """Call the command line in this process, in an empty folder: code, output, errors, files written."""
    monkeypatch.chdir(tmp_path)

    def call(*words):
        code = command.exit_code_of([str(word) for word in words])
        out, err = capsys.readouterr()
        return code, out, err, sorted(path.name for path in tmp_path.rglob("*"))

    return call


WRONG_OPTIONS = [
    ["run"],
    ["run", "none.toml"],
    ["run", ONE, "--seed", "x"],
    ["run", ONE, "--seed", "-1"],
    ["run", ONE, "--workers", "0"],
    ["run", ONE, "--workers", "2", "--scheduler", "tcp://127.0.0.1:1"],
    ["run", ONE, "--owt", "x"],
    ["runn", ONE],
    ["run", STUDY],
    ["cycles", "none.csv"],
    ["report", "none.nc"],
    ["run", ROOT],
    ["run", ONE, "extra"],
]


@pytest.mark.parametrize("words", WRONG_OPTIONS, ids=lambda words: " ".join(str(w)[-20:] for w in words))
@pytest.mark.parametrize("json_too", [False, True])
def test_bad_input_is_one_line_exit_2_and_nothing_written(called, words, json_too):
    code, out, err, files = called(*words, *(["--json"] if json_too else []))
    assert code == 2 and out == "" and files == []
    assert len(err.strip().splitlines()) == 1 and "Traceback" not in err


def test_run_names_sweep_for_a_list(called):
    _, _, err, _ = called("run", STUDY)
    assert "settings.extension_percent" in err and "seaload sweep" in err


def test_bad_input_as_a_whole_process(tmp_path):
    study = tmp_path / "s.toml"
    study.write_text(ONE.read_text().replace("\nspeed_knots", "\nspeed_kn"))
    done = process("run", str(study), cwd=tmp_path)
    assert done.returncode == 2 and done.stdout == ""
    assert len(done.stderr.splitlines()) == 1 and "did you mean speed_knots?" in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["s.toml"]


def test_a_page_that_fails_is_one_line_and_with_verbose_shows_where(called, tmp_path, monkeypatch):
    from seaload.report import write_pages

    def no_such_page(dataset, folder):
        return {}["a chart"]

    (tmp_path / "result.nc").write_bytes((ROOT / "tests/strangers/versions/0.1.0/run.nc").read_bytes())
    monkeypatch.setattr(write_pages, "write_run_pages", no_such_page)
    code, out, err, files = called("report", "result.nc")
    assert code == 2 and out == "" and files == ["result.nc"]
    assert len(err.splitlines()) == 1 and "KeyError: 'a chart'" in err and "--verbose" in err
    code, out, told, _ = called("report", "result.nc", "--verbose")
    assert code == 2 and out == "" and told.endswith(err)
    assert "Traceback" in told and "no_such_page" in told


OUTCOME = SimpleNamespace(
    result_path=Path("results/bow-quarter-swell/result.nc"),
    dataset=None,
    done=9,
    reused=0,
    failed=[],
    missing=(),
    settings=[{"reverse_odds": float("nan")}],
    real_time_factor=2500.0,
    compile_s=1.5,
)


@pytest.fixture
def pretend(monkeypatch):
    """Put a stand-in in place of the work itself."""

    def put(outcome=OUTCOME, error=None):
        def sail(*words, **options):
            if error is not None:
                raise error
            return outcome

        monkeypatch.setattr(work, "watched", sail)
        monkeypatch.setattr(work, "tables_of", lambda verb, dataset: "the table")
        monkeypatch.setattr(work, "answers_of", lambda outcome: {"settings": outcome.settings, "seas": []})
        monkeypatch.setattr(work, "figures_of", lambda verb, outcome: [])

    return put


def test_json_is_exactly_one_object_on_standard_output(called, pretend):
    pretend()
    code, out, err, _ = called("run", ONE, "--json")
    tree = json.loads(out, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))
    keys = "command version result exit cautions cases failed missing settings seas real_time_factor wall_s compile_s"
    assert code == 0 and set(tree) == set(keys.split())
    assert tree["cases"] == {"done": 9, "reused": 0, "failed": 0}
    assert tree["settings"] == [{"reverse_odds": None}]
    assert out.count("\n") == 1 and "assumed" in err


def test_a_missing_minute_and_broken_figures_are_named_beside_the_whole_answer(called, pretend, monkeypatch):
    def broken(verb, outcome):
        raise ValueError("no such\ncolour")

    pretend(SimpleNamespace(**{**vars(OUTCOME), "missing": ("the minute",)}))
    monkeypatch.setattr(work, "figures_of", broken)
    code, out, err, _ = called("run", ONE, "--json", "--quiet")
    told = ["the minute", "the figures beside the result (ValueError: no such colour)"]
    assert code == 0 and json.loads(out)["missing"] == told
    assert err.splitlines() == [f"missing: {what}" for what in told]
    code, out, err, _ = called("run", ONE)
    assert code == 0 and "the table" in out and "result: " in out and "figures beside it" not in out
    assert f"missing: {told[0]}" in err


def test_the_table_goes_to_standard_output_with_the_cautions_once(called, pretend):
    pretend()
    code, out, err, _ = called("run", ONE)
    assert code == 0 and "the table" in out and out.count("not a warrant") == 1
    assert "sampling.step_s = 0.02" in err


def test_quiet_says_nothing_but_the_answer(called, pretend):
    pretend()
    _, _, err, _ = called("run", ONE, "--quiet")
    assert err == ""


def test_failed_cases_are_named_and_give_exit_1(called, pretend):
    pretend(SimpleNamespace(**{**vars(OUTCOME), "failed": ["realisation 4: not_finite"]}))
    code, _, err, _ = called("run", ONE)
    assert code == 1 and "realisation 4: not_finite" in err


@pytest.mark.parametrize(
    ("error", "code", "word"),
    [
        (OSError(28, "No space left on device", "result.nc"), 3, "No space left"),
        (CannotRun("no scheduler at tcp://x"), 3, "scheduler"),
        (KeyboardInterrupt(), 130, "interrupted"),
        (MemoryError(), 3, "memory"),
    ],
)
def test_expected_errors_are_one_line_and_a_code(called, pretend, error, code, word):
    pretend(error=error)
    found, out, err, _ = called("run", ONE, "--quiet")
    assert found == code and out == "" and word in err and len(err.splitlines()) == 1


def test_a_folder_that_cannot_be_written_gives_exit_3(called, pretend, tmp_path):
    pretend()
    (tmp_path / "taken").write_text("a file where the folder should be")
    code, out, err, _ = called("run", ONE, "--quiet", "--out", "taken")
    assert code == 3 and out == "" and "cannot be written" in err and len(err.splitlines()) == 1


def test_json_holds_no_nan_or_infinity():
    assert as_json({"a": [float("inf"), 1.0, float("nan")]}) == '{"a": [null, 1.0, null]}'


def test_a_process_without_a_home_has_one_while_pages_are_written(monkeypatch):
    def unknown(number):
        raise KeyError(number)

    pwd = pytest.importorskip("pwd")
    monkeypatch.setattr(pwd, "getpwuid", unknown)
    monkeypatch.delenv("HOME", raising=False)
    with some_home():
        home = Path.home()
        assert home.is_dir() and not list(home.iterdir())
    assert not home.exists()
    with pytest.raises(RuntimeError):
        Path.home()
    monkeypatch.setenv("HOME", str(ROOT))
    with some_home():
        assert Path.home() == ROOT

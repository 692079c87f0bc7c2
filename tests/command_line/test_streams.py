"""Standard streams that are closed, full, cut off or plain: the work goes on, or one line says why not."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SEALOAD = f"{sys.executable} -m seaload.command_line.main"
ONE = ROOT / "scenarios" / "studies" / "bow-quarter-swell.toml"
posix = pytest.mark.skipif(os.name != "posix", reason="a shell of POSIX")
PRETEND = """
import sys
from types import SimpleNamespace
from pathlib import Path
from seaload.command_line import main, work
done = Path({mark!r})
outcome = SimpleNamespace(result_path=Path("r"), dataset=None, done=1, reused=0, failed=[], missing=(), settings=[])
def sail(*words, **options):
    {body}
    done.write_text("finished")
    return outcome
work.watched, work.figures_of = sail, lambda verb, outcome: []
work.tables_of = lambda verb, dataset: {table!r}
main.main()
"""


def shell(command, **options):
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **options.pop("env", {})}
    return subprocess.run(["bash", "-c", command], capture_output=True, text=True, env=environment, **options)


def pretended(folder, *, body="pass", table="the table"):
    """The command line with a stand-in for the work, as a script; the file `finished` is written at its end."""
    script = folder / "pretend.py"
    script.write_text(PRETEND.format(mark=str(folder / "finished"), body=body, table=table))
    return f"{sys.executable} {script} run {ONE} --out {folder / 'out'}"


@posix
def test_closed_streams_are_no_traceback(tmp_path):
    done = shell(f"{SEALOAD} --version >&-")
    assert done.returncode == 0 and done.stderr == ""
    done = shell(f"{SEALOAD} run none.toml <&- >&- 2>&-", cwd=tmp_path)
    assert done.returncode == 2


@posix
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device")
def test_a_full_standard_output_is_one_line_and_exit_3():
    done = shell(f"{SEALOAD} --version > /dev/full")
    assert done.returncode == 3 and done.stderr.splitlines() == ["seaload: No space left on device"]


@posix
def test_a_reader_that_goes_does_not_stop_the_work(tmp_path):
    """Remarks before the work once met a closed pipe, and the study was never simulated."""
    done = shell(f"set -o pipefail; {pretended(tmp_path, table='x' * 200_000)} 2>&1 | true")
    assert done.returncode == 0 and (tmp_path / "finished").exists() and "Traceback" not in done.stderr


@posix
def test_a_narrow_terminal_of_plain_letters_shows_all_it_can(tmp_path):
    env = {"PYTHONIOENCODING": "ascii", "COLUMNS": "40"}
    done = shell(pretended(tmp_path, table="heel 18\u00b0, \u00b110\u2009%, \u6ce2"), env=env)
    assert done.returncode == 0 and "heel 18 deg, +-10 %, ?" in done.stdout


@posix
def test_a_polite_end_is_an_interrupt(tmp_path):
    line = pretended(tmp_path, body="print('under way', flush=True); import time; time.sleep(60)").split()
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment) as process:
        assert process.stdout.readline() == "under way\n"
        time.sleep(0.1)
        process.send_signal(signal.SIGTERM)
        _, err = process.communicate(timeout=60)
    assert process.returncode == 130 and "goes on from there" in err.splitlines()[-1]
    assert "Traceback" not in err and not (tmp_path / "finished").exists()

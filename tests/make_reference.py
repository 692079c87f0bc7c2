"""Makes the results in results/reference anew, as their users would: run or sweep, then the pages.

    python -m tests.make_reference results/reference [bow-quarter-swell] [risk-board]

Everything is made in a temporary folder; only the files of KEPT are copied. The board is a sweep of a quarter of an
hour on two cores with wide vectors. Without names, both are made.
"""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

STUDIES = Path(__file__).resolve().parents[1] / "scenarios" / "studies"
KEPT = {
    "bow-quarter-swell": ("run", ("result.nc", "load-envelope.png", "worst-minute.png")),
    "risk-board": ("sweep", ("board.html", "card.pdf")),
}


def seaload(*words):
    """Run a command of seaload; CalledProcessError when it fails."""
    subprocess.run([sys.executable, "-m", "seaload.command_line.main", *map(str, words)], check=True)


def make(name, target):
    """Make one reference anew and put its kept files into `target`/`name`."""
    verb, kept = KEPT[name]
    with tempfile.TemporaryDirectory() as folder:
        seaload(verb, STUDIES / f"{name}.toml", "--out", folder)
        made = Path(folder) / name
        seaload("report", made / "result.nc")
        (target / name).mkdir(parents=True, exist_ok=True)
        for file in kept:
            shutil.copyfile(made / file, target / name / file)


if __name__ == "__main__":
    for each in sys.argv[2:] or KEPT:
        make(each, Path(sys.argv[1]))

"""Break one formula at a time in a copy of the package, and see whether the test named for it fails.

    python -m tests.mutation.run_mutations

prints one line a formula and ends with 1 when a broken formula was not noticed. Slow: one test run a formula.
The files of the checkout itself are never changed.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("seaload", "tests", "scenarios")
MUTATIONS = (  # file, right, broken, test file
    ("waves/encounter.py", "return omega - omega**2 /", "return omega + omega**2 /", "published/test_sea_kinematics.py"),
    ("waves/spectra.py", "0.3125 * hs**2", "0.625 * hs**2", "published/test_sea_spectra.py"),
    ("waves/fetch_growth.py", "3.5 * zeta**-0.33", "3.5 * zeta**-0.22", "published/test_sea_statistics.py"),
    ("waves/spreading.py", "** (2.0 * s)", "** (1.0 * s)", "published/test_sea_spreading.py"),
    ("waves/direct_sum.py", "scale * decay * np.sin(psi)", "-scale * decay * np.sin(psi)", "published/test_sea_kinematics.py"),
    ("boat/savitsky.py", "trim_deg**1.1 * (", "trim_deg**1.3 * (", "published/test_boat_calm_running.py"),
    ("boat/lewis_form.py", "+ 3.0 * a3**2", "- 3.0 * a3**2", "published/test_boat_added_mass.py"),
    ("foil/lag_states.py", "decay * semichord_rate *", "2.0 * decay * semichord_rate *", "published/test_foil_unsteady.py"),
    ("foil/strip_axes.py", "return cosine * z - sine * y", "return cosine * z + sine * y", "published/test_foil_strip_axes.py"),
    ("foil/free_surface.py", "speed**2 * thickness**2", "speed**2 * thickness", "published/test_foil_free_surface.py"),
    ("foil/bending.py", "np.pi * 0.25 * chord**2", "np.pi * 0.5 * chord**2", "published/test_structure_bending.py"),
    ("fatigue/miner.py", "amplitude / (1.0 - mean / ultimate)", "amplitude / (1.0 + mean / ultimate)", "published/test_fatigue_miner.py"),
    ("fatigue/spectral.py", "math.gamma(1.0 + 0.5 * slope) / strength", "math.gamma(1.0 + slope) / strength", "published/test_fatigue_spectral.py"),
    ("risk/poisson.py", "-math.log1p(-odds) / exposure", "-2.0 * math.log1p(-odds) / exposure", "risk/test_rates.py"),
    ("risk/gumbel.py", "location + scale * math.log(blocks)", "location - scale * math.log(blocks)", "published/test_risk_extremes.py"),
    ("simulation/wave_rows.py", "np.exp(-np.outer(nodes * depth_scale,", "np.exp(-2.0 * np.outer(nodes * depth_scale,", "simulation/test_wave_field.py"),
)  # fmt: skip


def _copy(folder):
    for name in COPIED:
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)


def verdict(folder, test):
    """What a test file says in a copy: 'passed', 'failed', or 'no test ran'."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", f"tests/{test}"]
    environment = {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"}
    ended = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    return {0: "passed", 1: "failed"}.get(ended.returncode, "no test ran")


def broken_verdict(folder, mutation):
    """Break one formula in the copy, ask its test, mend it again."""
    name, right, broken, test = mutation
    path = folder / "seaload" / name
    text = path.read_text(encoding="utf-8")
    if right not in text:
        return "formula not found"
    path.write_text(text.replace(right, broken), encoding="utf-8")
    try:
        return verdict(folder, test)
    finally:
        path.write_text(text, encoding="utf-8")


def main():
    """Print one line a formula; 0 when every broken formula was noticed and every test passes unbroken."""
    missed = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _copy(folder)
        whole = {test: verdict(folder, test) for test in sorted({m[3] for m in MUTATIONS})}
        for mutation in MUTATIONS:
            found = broken_verdict(folder, mutation)
            noticed = found == "failed" and whole[mutation[3]] == "passed"
            missed += not noticed
            said = "noticed" if noticed else f"NOT NOTICED (broken: {found}; unbroken: {whole[mutation[3]]})"
            print(f"{mutation[0]:26s} {mutation[1]:42s} {mutation[3]:40s} {said}", flush=True)
    print(f"{len(MUTATIONS) - missed} of {len(MUTATIONS)} broken formulas were noticed")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())

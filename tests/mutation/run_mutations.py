"""Break one formula at a time in a copy of the package, and see whether the test named for it fails.

    python -m tests.mutation.run_mutations results/validation

prints one line a formula, writes mutations.json into the named folder (if one is named), and ends with 1 when a
broken formula was not noticed. Slow: one process a formula. The checkout itself is never changed: every formula is
broken in a fresh copy in a temporary folder, which has a kernel cache of its own. Formulas run as plain
Python there (NUMBA_DISABLE_JIT), because compiling them again for every break would cost minutes and say nothing more.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COPIED = ("seaload", "tests", "scenarios")
SECONDS = 240  # a named test that takes longer counts as no result
KINEMATICS = "published/test_sea_kinematics.py::"
UNSTEADY = "published/test_foil_unsteady.py::"
MUTATIONS = (  # file, right, broken, what is wrong, named test
    ("waves/encounter.py", "return omega - omega**2 /", "return omega + omega**2 /", "sign",
     KINEMATICS + "test_encounter_frequency"),
    ("waves/spectra.py", "0.3125 * hs**2", "0.625 * hs**2", "factor 2",
     "published/test_sea_spectra.py::test_spot_values"),
    ("waves/fetch_growth.py", "_sea(1.6e-7 * zeta, 3.5 * zeta**-0.33,", "_sea(1.6e-7 * zeta, 3.5 * zeta**-0.22,",
     "exponent", "published/test_sea_statistics.py::test_fetch_growth"),
    ("waves/spreading.py", "** (2.0 * s)", "** (1.0 * s)", "exponent",
     "published/test_sea_spreading.py::test_cos2s_density"),
    ("waves/direct_sum.py", "level * leeward, scale * decay * np.sin(psi)",
     "level * leeward, -scale * decay * np.sin(psi)", "sign", KINEMATICS + "test_water_motion_under_a_single_wave"),
    ("boat/savitsky.py", "trim_deg**1.1 * (", "trim_deg**1.3 * (", "exponent",
     "published/test_boat_calm_running.py::test_savitsky_example"),
    ("boat/lewis_form.py", "+ 3.0 * a3**2", "- 3.0 * a3**2", "sign",
     "published/test_boat_added_mass.py::test_lewis_sections"),
    ("boat/hull_section.py", "2.0 * added_mass_factor * wetted * wetted_slope",
     "added_mass_factor * wetted * wetted_slope", "factor 2",
     "boat/test_hull_section.py::test_momentum_is_the_rate_of_added_mass_times_speed"),
    ("boat/righting.py", "return floating.centre_y - heeled(", "return floating.centre_y + heeled(", "sign",
     "boat/test_hydrostatics_and_righting.py::test_box_rights_itself_as_wall_sided_formula"),
    ("boat/lifting_appendage.py", "0.5 * density * speed * speed * area * held", "0.5 * density * speed * area * held",
     "exponent", "boat/test_resistance_and_appendages.py::test_fin_heave_damping_equals_the_closed_form"),
    ("foil/lag_states.py", "decay * semichord_rate *", "2.0 * decay * semichord_rate *", "factor 2",
     UNSTEADY + "test_march_of_the_lag_states"),
    ("foil/strip_axes.py", "return cosine * z - sine * y", "return cosine * z + sine * y", "sign",
     "published/test_foil_strip_axes.py::test_velocity_of_an_inclined_element"),
    ("foil/free_surface.py", "speed**2 * thickness**2", "speed**2 * thickness", "exponent",
     "published/test_foil_free_surface.py::test_spray_drag"),
    ("foil/bending.py", "np.pi * 0.25 * chord**2", "np.pi * 0.5 * chord**2", "factor 2",
     "published/test_structure_bending.py::test_worked_example"),
    ("fatigue/miner.py", "amplitude / (1.0 - mean / ultimate)", "amplitude / (1.0 + mean / ultimate)", "sign",
     "published/test_fatigue_miner.py::test_mean_load_corrections"),
    ("fatigue/spectral.py", "math.gamma(1.0 + 0.5 * slope) / strength", "math.gamma(1.0 + slope) / strength",
     "argument", "published/test_fatigue_spectral.py::test_damage_rates"),
    ("risk/poisson.py", "-math.log1p(-odds) / exposure", "-2.0 * math.log1p(-odds) / exposure", "factor 2",
     "risk/test_rates.py::test_odds_and_rate_are_inverse"),
    ("risk/gumbel.py", "location + scale * math.log(blocks)", "location - scale * math.log(blocks)", "sign",
     "published/test_risk_extremes.py::test_block_to_long_exposure"),
    ("simulation/wave_rows.py", "np.exp(-np.outer(nodes * depth_scale,", "np.exp(-2.0 * np.outer(nodes * depth_scale,",
     "factor 2", "simulation/test_wave_field.py"),
)  # fmt: skip


def _copy(folder):
    """The package and its tests, without caches, in `folder`."""
    for name in COPIED:
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)


def verdict(folder, test):
    """What the named test says in a copy: 'passed', 'failed', or why there is no result."""
    command = [sys.executable, "-m", "pytest", "-x", "-rf", "-p", "no:cacheprovider",
               "-m", "slow or not slow", f"tests/{test}"]  # fmt: skip
    own = {"PYTHONPATH": str(folder), "SEALOAD_CACHE": str(folder / "cache")}
    own["NUMBA_DISABLE_JIT"] = "0" if test.startswith("simulation/") else "1"  # the march is too slow uncompiled
    environment = {**os.environ, **own, "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        ended = subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, text=True, check=False, timeout=SECONDS
        )
    except subprocess.TimeoutExpired:
        return f"no result in {SECONDS} s"
    if ended.returncode == 1 and "\nFAILED " not in ended.stdout:
        return "test could not be set up"
    return {0: "passed", 1: "failed"}.get(ended.returncode, "no test ran")


def in_a_copy(test, name=None, right="", broken=""):
    """Verdict of a test in a fresh copy, with one formula broken when a file is named."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        _copy(folder)
        if name:
            path = folder / "seaload" / name
            text = path.read_text(encoding="utf-8")
            if text.count(right) != 1:
                return f"formula occurs {text.count(right)} times"
            path.write_text(text.replace(right, broken), encoding="utf-8")
        return verdict(folder, test)


def row_of(mutation):
    """One row of the table: the test first on the right formula, then on the broken one."""
    name, right, broken, kind, test = mutation
    whole = in_a_copy(test)
    found = in_a_copy(test, name, right, broken) if whole == "passed" else "not tried"
    return {"file": name, "right": right, "broken": broken, "kind": kind, "test": test,
            "unbroken": whole, "with_the_break": found, "noticed": found == "failed"}  # fmt: skip


def main(arguments):
    """Print one line a formula; 0 when every named test passes unbroken and fails with the break."""
    rows = []
    for mutation in MUTATIONS:
        rows.append(row_of(mutation))
        row = rows[-1]
        said = "noticed" if row["noticed"] else "NOT NOTICED"
        print(
            f"{said}: {row['file']}, {row['kind']}, {row['test']}"
            f" (unbroken {row['unbroken']}, broken {row['with_the_break']})",
            flush=True,
        )
    noticed = sum(row["noticed"] for row in rows)
    print(f"{noticed} of {len(rows)} broken formulas were noticed")
    if arguments:
        text = json.dumps(rows, indent=1, sort_keys=True) + "\n"
        (Path(arguments[0]) / "mutations.json").write_text(text, encoding="utf-8")
    return 0 if noticed == len(rows) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""March rows: real time of one setting and of a study, the ODE solver's answer, threads, the integrator."""

import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from statistics import median

import numpy as np

from seaload.scenario.records import WaveSystem
from seaload.waves.spectra import jonswap
from tests.benchmarks.first_study import ROOT, marched, real_time, sixteen_settings
from tests.benchmarks.measuring import REPEATS, alternating, row
from tests.other_processors import vector_bits

LENGTH = 60.0  # [s] of sea in one timing
WORKED = 600.0  # [s] of sea in a block of the comparison of workers: what is done once a block is small beside it
SOLVED = 4.0  # [s] of sea given to the solver
STEPS = (0.01, 0.02, 0.025, 0.04)


def real_time_rows(study):
    """Rows of speed, and the core-seconds it takes to decide one setting by direct counting."""
    s = study.settings[0]
    blocks = {
        "one setting, its 9 realisations": [(s, r) for r in range(9)],
        "one setting, 16 realisations": [(s, r) for r in range(16)],
        "settings study, 16 settings in one sea": [(each, 0) for each in sixteen_settings(study)],
    }
    found = {name: [] for name in blocks}
    for cases in blocks.values():
        marched(study, cases, 2.0)
    for _ in range(REPEATS):
        for name, cases in blocks.items():
            found[name].append(real_time(marched(study, cases, LENGTH)[1]))
    speed = {name: median(values) for name, values in found.items()}
    goals = {name: 7000 if "study" in name else 2000 for name in blocks} if vector_bits() == 512 else {}
    rows = [
        row(f"real time, one core: {name}", 1.0 / value, 1.0, goals.get(name), ">=")
        for name, value in speed.items()
    ]
    hours = -3.0 * np.log(0.05) / -np.log(0.98)
    seconds = hours * 3600.0 / speed["one setting, 16 realisations"]
    name = f"core-seconds to call one setting within 2 % in 3 h by direct counting ({hours:.0f} h without an event)"
    rows.append(row(name, seconds, None, None, "", ratio=speed["one setting, 16 realisations"]))
    return rows, speed


def solver_row(study, speed):
    """scipy's RK45 over vectorised numpy strips with direct sums, against one lane's share of a block."""
    from scipy.integrate import solve_ivp

    sys.path.insert(0, str(ROOT / "tests" / "simulation"))
    from test_reference_march import plain_march

    from tests.benchmarks.numpy_boat import NumpyBoat

    plain, _, _ = plain_march(study, study.settings[0], study.sampling)
    boat = NumpyBoat(plain)
    check_same(plain, boat)
    count = []

    def solve():
        answer = solve_ivp(boat.rates, (10.0, 10.0 + SOLVED), boat.start(), method="RK45", max_step=0.1)
        count.append(answer.nfev)

    other = alternating([solve], 3)[0] / SOLVED
    ours = 1.0 / speed["one setting, 16 realisations"]
    return row(
        f"solve_ivp RK45, numpy strips, direct sums (rtol 1e-3, {count[-1] / SOLVED:.0f} calls a second)",
        ours,
        other,
        500,
        ">=",
    )


def check_same(plain, boat):
    """The numpy boat must have the plain march's rates, or the comparison means nothing."""
    state = boat.start()
    state[5:8] = 0.3, 0.02, 0.05
    expected, lags, _, _ = plain.evaluate(12.3, state[:10], plain.lags, (0.0, 0.0))
    ours = boat.rates(12.3, state)
    assert np.allclose(ours[4:10], expected[4:10], rtol=1e-6, atol=1e-9), (ours[:10], expected)
    assert np.allclose(ours[10:], lags.reshape(-1), rtol=1e-6, atol=1e-9)


def worker_row(study):
    """Two blocks on one thread against two threads, wall time."""
    cases = [(study.settings[0], r) for r in range(16)]
    task = lambda _: marched(study, cases, WORKED)  # noqa: E731

    def run(workers):
        with ThreadPoolExecutor(workers) as pool:
            list(pool.map(task, range(2)))

    two, one = alternating([lambda: run(2), lambda: run(1)], clock=time.perf_counter)
    return row("two workers against one, wall time of two blocks", two, one, 1.8, ">=")


def smooth_sea(study):
    """A low, long-crested swell-like sea: Hs 1 m, Tp 12 s, from where the study's first sea comes."""
    omega = np.linspace(0.3, 1.4, 200)
    first = study.seas[0].systems[0]
    system = WaveSystem(omega, jonswap(omega, 1.0, 12.0, 3.3), first.direction, first.spreading)
    return replace(study.seas[0], name="smooth", systems=(system,), hs=1.0, tp=12.0)


def integrator_rows(study):
    """Heave and pitch of each step against a tenth of it, 60 s of a smooth sea with the bending mode."""
    sea, rows = smooth_sea(study), []
    for extension in (0.5, 1.0):
        setting = replace(study.settings[0], extension=extension)
        runs = {}
        for step in STEPS:
            for h in (step, step / 10.0):
                if h not in runs:
                    (record,), _ = marched(study, [(setting, 0)], 60.0, sea=sea, step=h, keep=0, run_in=0.0)
                    runs[h] = record.series
        for step in STEPS:
            coarse, fine = runs[step], runs[step / 10.0]
            for name, goal, unit in (("heave", 1e-4, "m"), ("pitch", 2e-4, "rad")):
                error = float(np.sqrt(np.mean((coarse[name] - fine[name][::10]) ** 2)))
                scale = float(np.std(fine[name]))
                size = f"integrator, step {step} s, extension {extension:.0%}: "
                size += f"{name} over its spread ({scale:.3g} {unit})"
                rows.append(
                    row(
                        size,
                        error,
                        scale,
                        goal if step == study.sampling.step else None,
                        "<=",
                        ratio=error / scale,
                    )
                )
    return rows

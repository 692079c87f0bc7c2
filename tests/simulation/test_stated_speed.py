"""The stated speed (simulated seconds over processor seconds) against a stopwatch that knows nothing of the march."""

import time

from tests.benchmarks.first_study import first_study, marched


def test_real_time_factor_agrees_with_an_outside_stopwatch():
    """The marginal speed from a short block to a long one, so that what is done once a block drops out."""
    study = first_study()
    cases = [(study.settings[0], realisation) for realisation in range(16)]
    marched(study, cases, 2.0)
    outside, inside = [], []
    for seconds in (5.0, 165.0):
        began = time.thread_time()
        _, times = marched(study, cases, seconds)
        outside.append(time.thread_time() - began)
        inside.append(times)
    sea = inside[1].simulated - inside[0].simulated
    by_stopwatch = sea / (outside[1] - outside[0])
    stated = sea / ((inside[1].march + inside[1].count) - (inside[0].march + inside[0].count))
    assert sea == 16 * 160.0
    assert abs(stated / by_stopwatch - 1.0) < 0.1

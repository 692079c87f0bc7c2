"""The stated speed (simulated seconds over processor seconds) against a stopwatch that knows nothing of the march."""

import time

from tests.benchmarks.first_study import first_study, marched


def test_real_time_factor_agrees_with_an_outside_stopwatch():
    """Of a block of some length, less what it states to have prepared: nothing else takes time."""
    study = first_study()
    cases = [(study.settings[0], realisation) for realisation in range(16)]
    marched(study, cases, 2.0)
    began = time.thread_time()
    _, times = marched(study, cases, 165.0)
    outside = time.thread_time() - began - times.prepare
    assert times.simulated == 16 * (10.0 + 165.0)  # with the run-in
    assert abs((times.march + times.count) / outside - 1.0) < 0.1

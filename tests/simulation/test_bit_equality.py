"""The numbers of a case have the same bits in any company, at any lane, with any number of threads.

Runs are compared with runs of the same process, never with stored bits.
"""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation import block
from seaload.simulation.block import march_block
from seaload.simulation.layout import LANES
from seaload.studies.load_study import load_study

STUDY = Path(__file__).resolve().parents[2] / "scenarios" / "studies" / "bow-quarter-swell.toml"


@pytest.fixture(scope="module")
def study():
    one_blas_thread()
    loaded = load_study(STUDY)
    return replace(loaded, sampling=replace(loaded.sampling, run_in=8.0, realisation_time=24.0))


@pytest.fixture(scope="module")
def other_settings(study):
    s = study.settings[0]
    return (
        replace(s, extension=0.5),
        replace(s, extension=1.0, rake=s.rake - 0.03),
        replace(s, heel=s.heel - 0.05, speed=s.speed * 0.8),
        replace(s, cant=0.2, ballast_shift=-0.4, speed=s.speed * 1.2),
    )


def marched(study, cases, keep=None):
    foil = study.boat.foils[study.foil_side]
    return march_block(study.boat, foil, study.seas[0], cases, study.sampling, study.model, keep=keep)[0]


def same_bits(ours, other, without=()):
    """Names of the entries of two records that differ by a bit."""
    wrong = []
    for entry in fields(ours):
        a, b = getattr(ours, entry.name), getattr(other, entry.name)
        if entry.name in without or isinstance(a, dict):
            continue
        if isinstance(a, tuple):
            equal = len(a) == len(b) and all(x.tobytes() == y.tobytes() for x, y in zip(a, b, strict=True))
        else:
            equal = np.asarray(a).tobytes() == np.asarray(b).tobytes()
        if not equal:
            wrong.append(entry.name)
    return wrong


@pytest.fixture(scope="module")
def alone(study):
    return marched(study, [(study.settings[0], 0)])[0]


def test_the_case_is_not_trivial(alone, study):
    assert alone.moment_std.max() > 0.0 and alone.damage.max() > 0.0
    assert same_bits(alone, marched(study, [(study.settings[0], 1)])[0])


@pytest.mark.parametrize("place", [0, 5, LANES - 1])
def test_same_bits_among_other_settings(study, other_settings, alone, place):
    cases = [(other_settings[i % 4], i) for i in range(LANES)]
    cases[place] = (study.settings[0], 0)
    assert same_bits(alone, marched(study, cases)[place]) == []


def test_same_bits_when_permuted(study, other_settings):
    cases = [(s, r) for s in (study.settings[0], *other_settings) for r in range(3)]
    order = np.random.default_rng(4).permutation(len(cases))
    first, second = marched(study, cases), marched(study, [cases[i] for i in order])
    for there, here in enumerate(order):
        assert same_bits(first[here], second[there]) == []


def test_same_bits_beside_a_lane_that_ends(study, alone, monkeypatch):
    bad = replace(study.settings[0], rake=study.settings[0].rake + 0.02)
    real = block.lanes_gone
    monkeypatch.setattr(block, "lanes_gone", lambda work: real(work) | (np.arange(LANES) == 1))
    records = marched(study, [(study.settings[0], 0), (bad, 0)])
    assert np.isfinite(records[1].stopped_at)
    assert same_bits(alone, records[0]) == []


def test_same_bits_on_two_threads(study, other_settings, alone):
    blocks = [
        [(study.settings[0], 0), (other_settings[0], 2)],
        [(other_settings[1], 1)],
        [(other_settings[2], 0)],
    ]
    serial = [marched(study, cases) for cases in blocks]
    with ThreadPoolExecutor(2) as pool:
        parallel = list(pool.map(lambda cases: marched(study, cases), blocks))
    for one, two in zip(serial, parallel, strict=True):
        for a, b in zip(one, two, strict=True):
            assert same_bits(a, b) == []
    assert same_bits(alone, parallel[0][0]) == []


def test_same_bits_when_series_are_kept(study, alone):
    kept = marched(study, [(study.settings[0], 0)], keep=0)[0]
    assert same_bits(alone, kept) == []
    assert kept.series["heave"].shape == (int(round(study.sampling.realisation_time / study.sampling.step)),)


def test_the_march_does_not_care_how_it_is_cut(study, alone, monkeypatch):
    """Chunks of another length: the counts are the same, sums of samples the same to rounding."""
    monkeypatch.setattr(block, "CHUNK", 20)
    cut = marched(study, [(study.settings[0], 0)])[0]
    sums = [
        e.name for e in fields(alone) if e.name.endswith(("_mean", "_std", "_rms", "reverse_time"))
    ]  # the order of an addition changes
    assert same_bits(alone, cut, without=sums) == []
    for name in sums:
        assert np.allclose(getattr(alone, name), getattr(cut, name), rtol=1e-9, atol=1e-9)

"""Readings of the display and the trigger that tells a worse sea, on made-up signals."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from seaload.deciding import triggers
from seaload.deciding.display import averaged, shown
from seaload.deciding.triggers import (
    AGAIN,
    OTHER_SEAS,
    REALISATIONS,
    Readings,
    Watch,
    displayed,
    nearer_the_beam,
    read_off,
)
from seaload.deciding.variants import FRESH
from seaload.evidence.trigger_rule import SPREAD, Rule, Shown
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.gust_event import CALM
from seaload.sailing.sail_cases import Account, CaseSailer
from seaload.simulation.layout import LANES
from seaload.studies.load_study import load_study
from tests.small_study import STUDIES, shortened

SENSORS = SimpleNamespace(
    display="percent_of_normal", rate=10.0, running_mean=1.0, noise=0.01, zero_taken="retracted", zero_drift=0.0
)
STEP = 0.02


def signal(reverse_width, height=1.0, seconds=1200):
    """Normal load 0.3 with a reverse pulse each minute, `reverse_width` [s] long; places 0 to 2, 2 silent."""
    time = STEP * np.arange(int(seconds / STEP))
    pulse = (np.mod(time, 60.0) < reverse_width) * -0.5 * height
    swing = 0.1 * height * np.sin(2.0 * np.pi * time / 9.0)
    load = 0.3 + swing + pulse
    return np.stack([load, load, np.zeros_like(load)], axis=1)


def series(width, height=1.0):
    return displayed([signal(width, height)] * 12, STEP, SENSORS)


def calm():
    level = signal(0.0, 0.0, seconds=20)
    return displayed([level], STEP, SENSORS)


def test_scales_of_the_display():
    moment, normal, reverse = np.array([[50.0], [-20.0]]), 100.0, 40.0
    scale = lambda name: shown(moment, normal, reverse, SimpleNamespace(display=name), 2e-3).ravel()  # noqa: E731
    assert scale("percent_of_normal") == pytest.approx([0.5, -0.2])
    assert scale("percent_of_own_limit") == pytest.approx([0.5, -0.5])
    assert scale("microstrain") == pytest.approx([1e-3, -4e-4])


def test_running_mean_shortens_a_pulse():
    long, short = (averaged(signal(w), STEP, SENSORS)[:, 0].min() for w in (5.0, 0.2))
    true = signal(5.0)[:, 0].min()
    assert long == pytest.approx(true, abs=0.02)
    assert short > 0.0  # a fifth of a second of reverse load is not on the display at all


def test_display_rate():
    assert len(averaged(signal(1.0, seconds=60), STEP, SENSORS)) == pytest.approx(600, abs=12)


def test_blocks_of_waves():
    values = np.arange(300.0)[None, :, None]
    assert Shown(values, 10.0).extremes(1).ravel().tolist() == [99.0, 199.0, 299.0]
    assert Shown(values, 10.0).extremes(-1).ravel().tolist() == [0.0, 100.0, 200.0]


def readings(width):
    noise = np.random.default_rng(1)
    return read_off((series(width), series(width, 1.5), calm()), SENSORS, 1.0, noise, (1e-4, 5e-5, 2e-4), 1.25)


def test_long_pulses_are_seen_and_the_worse_sea_is_told():
    found = readings(5.0)
    assert found.attenuation[1] > 0.9 and found.silent.tolist() == [False, False, True]
    assert found.rule.place == 1 and found.rule.missed_alarm < 0.05 and found.rule.false_alarm <= 0.1
    assert found.lowest[1, 1] == pytest.approx(-0.28, abs=0.06)


def test_a_pulse_too_short_for_the_display_gets_a_trigger_the_crew_can_see():
    found = readings(0.2)
    assert found.attenuation[1] < 0.7
    assert found.rule.side == 1 and np.isfinite(found.rule.threshold)  # a high reading, a swing or a spread


def test_the_lowest_reading_told_is_that_of_five_minutes():
    """Waves of ten seconds whose lowest readings are even from 0 to 1, told apart by nothing else: the lowest of
    thirty has its median at 1 - 0.5^(1/30) (order statistics of an even law)."""
    draw = np.random.default_rng(3)
    lowest = draw.uniform(size=(60, 120, 1))  # realisations, waves, place
    slow = SimpleNamespace(**{**vars(SENSORS), "rate": 1.0, "noise": 0.0})
    rows = np.repeat(lowest, 10, axis=1), np.zeros(1), np.zeros(1)
    found = read_off([rows, rows, rows], slow, 1.0, draw, (1e-4, 5e-5, 2e-4), 1.25)
    assert found.lowest[1] == pytest.approx(1.0 - 0.5 ** (1.0 / 30.0), rel=0.3)
    assert found.highest[1] == pytest.approx(0.5 ** (1.0 / 30.0), abs=0.01)


@pytest.mark.parametrize(("degrees", "sign"), [(135.0, -1.0), (-135.0, 1.0), (30.0, 1.0), (-30.0, -1.0)])
def test_waves_turned_to_the_beam(degrees, sign):
    assert nearer_the_beam(np.radians(degrees)) == sign


def test_the_readings_come_from_fresh_waves_the_same_for_every_sea(small_study):
    """A rule is told from waves that chose nothing: realisations from FRESH on, of every sea; calm water is short."""
    asked = []

    class Sailer:
        study, crew = small_study, SimpleNamespace(submit=lambda task: task)

        def __init__(self, **changes):
            self.changes = changes

        def variant(self, **changes):
            return Sailer(**changes)

        def task(self, cases, keep, sampling=small_study.sampling):
            asked.append((tuple(self.changes.items()), sampling.realisation_time, [r for _, _, r in cases]))

    Watch(Sailer(), SimpleNamespace(setting=2, sea=0, hs_most=1.4)).begin_worse()
    of = lambda *changes: sorted(r for made, _, cases in asked if made == changes for r in cases)  # noqa: E731
    fresh = list(range(FRESH, FRESH + REALISATIONS))
    assert of() == of(("hs_factor", 1.4)) == fresh
    assert [(time, len(cases)) for made, time, cases in asked if made == (("hs_factor", CALM),)] == [(20.0, 1)]


def test_the_rule_told_is_the_one_set_anew_in_other_waves(small_study, monkeypatch):
    """Waves from AGAIN on, of the sea as assumed and of the higher one, which picked nothing."""
    asked, picked = [], Rule(place=2, kind=SPREAD, threshold=0.5)

    class Sailer:
        study, settings = small_study, {(0, 0): small_study.settings[0]}
        crew = SimpleNamespace(submit=lambda task: task)

        def __init__(self, **changes):
            self.changes, self.model = changes, small_study.model

        def variant(self, **changes):
            return Sailer(**changes)

        def task(self, cases, keep, sampling=None):
            asked.append((self.changes.get("hs_factor", 1.0), [r for _, _, r in cases]))

    places = np.zeros(len(small_study.boat.foils[small_study.foil_side].stations) + 1)
    nothing = Readings(*[places] * 5, picked, (0.0, 0.0, 0.0), 1.4)
    monkeypatch.setattr(Watch, "_seen", lambda self, futures: ((np.zeros((2, 4, len(places))), places, places), []))
    monkeypatch.setattr(triggers, "rates_at", lambda *_: (0.0, 0.0, 0.0))
    monkeypatch.setattr(triggers, "read_off", lambda *_: nothing)
    monkeypatch.setattr(triggers, "set_anew", lambda rule, *_: replace(rule, threshold=0.7))
    found = Watch(Sailer(), SimpleNamespace(setting=0, sea=0, hs_most=1.4)).readings()
    assert found.rule == replace(picked, threshold=0.7)
    other = list(range(AGAIN, AGAIN + REALISATIONS))
    for height in (1.0, 1.4):
        assert sorted(r for factor, cases in asked if factor == height for r in cases if r >= AGAIN) == other


@pytest.mark.slow
def test_a_marched_pair_of_seas_is_told_apart_and_calm_water_calls_nothing(tmp_path):
    """The foil of the example boat on the bow, waves as assumed and 1.6 times as high, five minutes each."""
    study = shortened(load_study(STUDIES / "quick-look.toml"), time=300.0)
    with CaseStore(tmp_path) as store, crew(2) as hands:
        sailer = CaseSailer(study, {(0, 0): study.settings[0]}, store, hands, Account())
        sailer.compile_first()
        watch = Watch(sailer, SimpleNamespace(setting=0, sea=0, hs_most=1.6), realisations=LANES)
        found = watch.readings()
    rule = found.rule
    assert np.isfinite(rule.threshold) and rule.missed_alarm <= 0.2 and rule.realisations == LANES
    assert list(found.called) == [name for name, _, _ in OTHER_SEAS] and found.others == LANES
    assert all(0.0 <= odds <= 1.0 for odds in found.called.values())
    at_rest = found.mean[rule.place]
    if rule.statistic.drifts:
        assert rule.side * (rule.threshold - at_rest) > 0.0

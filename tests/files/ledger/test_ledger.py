"""The ledger: any cutting, order and overlap of files gives the totals of the whole history; nothing counts twice."""

import os
import signal
import sqlite3
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.errors import CannotRun, InputError
from seaload.fatigue.cycle_list import list_cycles
from seaload.files.ledger.store import LEDGER_NAME, Ledger
from seaload.files.ledger.stretch import PlaceCounter
from seaload.files.ledger.totals import events, full_load_cycles, page_totals, place_total
from tests.files.ledger.recorded_loads import CURVE, MORNING, STEP, rough_load, stretches_of

LOAD = rough_load(600)
TIMES = MORNING + STEP * np.arange(600)  # runs over midnight
WHOLE = place_total(stretches_of(TIMES, LOAD), CURVE)


def same_totals(ours, whole):
    assert np.array_equal(ours.cycles, whole.cycles)
    assert np.allclose(ours.damage, whole.damage, rtol=1e-12, atol=0.0)
    assert ours.groups.keys() == whole.groups.keys()
    for name, row in whole.groups.items():
        assert np.allclose(ours.groups[name], row, rtol=1e-12, atol=1e-12)
    ends = ("highest", "highest_time", "lowest", "lowest_time")
    assert [getattr(ours, e) for e in ends] == [getattr(whole, e) for e in ends]
    for name, rows in whole.excursions.items():
        assert np.array_equal(ours.excursions[name], rows)


def added_in_order(files):
    """Totals of files (times, load) added one by one, each only with its time that is not counted yet."""
    kept = []
    for times, load in files:
        kept += stretches_of(times, load, counted=[(s.start, s.stop) for s in kept])
    return place_total(sorted(kept, key=lambda s: s.start), CURVE)


def test_the_whole_history_is_that_of_the_standard():
    counts = list_cycles(LOAD)[2]
    assert WHOLE.cycles.sum() == counts.sum()
    assert len(WHOLE.groups) == 2 and len(WHOLE.excursions["reverse"]) > 3


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(st.integers(0, 600), st.integers(1, 400)), max_size=5), st.randoms(use_true_random=False))
def test_any_files_in_any_order_give_the_totals_of_the_whole(pieces, random):
    """Pieces overlap as they like; the whole comes last and fills what is left."""
    files = [(TIMES[a : a + n], LOAD[a : a + n]) for a, n in pieces if a < 600]
    random.shuffle(files)
    same_totals(added_in_order([*files, (TIMES, LOAD)]), WHOLE)


@settings(deadline=None, max_examples=20)
@given(st.permutations(range(6)))
def test_six_files_in_every_order(order):
    cuts = np.split(np.arange(600), [90, 100, 101, 250, 480])
    same_totals(added_in_order([(TIMES[cuts[i]], LOAD[cuts[i]]) for i in order]), WHOLE)


def test_a_file_given_twice_adds_nothing():
    same_totals(added_in_order([(TIMES, LOAD), (TIMES, LOAD), (TIMES + 0.3 * STEP, LOAD)]), WHOLE)


def test_a_stack_that_would_fill_ends_the_stretch_instead():
    growing = np.arange(1.0, 9000.0) * np.where(np.arange(8999) % 2, 1.0, -1.0) / 6000.0
    times = MORNING + 3600.0 + STEP * np.arange(len(growing))
    kept = stretches_of(times, growing)
    assert len(kept) > 2
    assert place_total(kept, CURVE).cycles.sum() == list_cycles(growing)[2].sum()


def test_a_gap_is_joined_when_only_time_is_missing_and_broken_when_the_setting_changed():
    first, second = (TIMES[:300] - 1000.0, LOAD[:300]), (TIMES[300:] + 3600.0, LOAD[300:])
    one = stretches_of(*first, setting="A")
    joined = place_total([*one, *stretches_of(*second, setting="A")], CURVE)
    broken = place_total([*one, *stretches_of(*second, setting="B")], CURVE)
    alone = [place_total(stretches_of(*part), CURVE) for part in (first, second)]
    assert np.array_equal(joined.cycles, WHOLE.cycles) and (joined.joined_over, joined.broken_at) == (1, 0)
    assert np.array_equal(broken.cycles, alone[0].cycles + alone[1].cycles)
    assert (broken.joined_over, broken.broken_at) == (0, 1)


def test_a_new_zero_breaks_even_without_a_gap():
    counter = PlaceCounter(1, CURVE)
    counter.add(TIMES[200:400], LOAD[200:400], STEP)
    counter.add(TIMES[400:], LOAD[400:], STEP, anew=True)
    assert place_total(counter.take(), CURVE).broken_at == 1


def test_a_million_full_load_cycles_use_up_the_reference_curve():
    """The reference of the default curve: 10^6 cycles from 0 to 100 % of the normal limit make wear 1."""
    load = np.tile([0.0, 1.0], 1000)
    times = MORNING + 86400.0 + STEP * np.arange(2000)
    wear = place_total(stretches_of(times, load), CURVE).damage
    assert np.allclose(full_load_cycles(wear), 999.5, rtol=1e-9)


def test_events_hold_excursions_of_all_places_together():
    places = {place: place_total(stretches_of(TIMES, LOAD, place=place), CURVE) for place in (1, 2)}
    assert np.array_equal(events(places, "reverse"), events({1: WHOLE}, "reverse"))
    assert len(events(places, "reverse")) > 1


def test_what_is_stored_comes_back_the_same(tmp_path):
    kept = stretches_of(TIMES, LOAD)
    with Ledger(tmp_path) as ledger:
        ledger.add(ledger.page("P-1", "as built", CURVE), "a.csv", kept)
    with Ledger(tmp_path) as ledger:
        page = ledger.page("P-1", "as built", CURVE)
        same_totals(page_totals(ledger.stretches(page), CURVE)[1], WHOLE)
        assert np.array_equal(ledger.counted(page)[1], [(s.start, s.stop) for s in kept])
        assert ledger.counted(ledger.page("P-1", "after the repair", CURVE)) == {}
        assert [name for _, name, _ in ledger.pages("P-1")] == ["as built", "after the repair"]


def test_another_curve_on_the_same_page_is_refused(tmp_path):
    with Ledger(tmp_path) as ledger:
        ledger.page("P-1", "as built", CURVE)
        with pytest.raises(InputError, match="slope = 12.0: the ledger counted page 'as built'.*with 10"):
            ledger.page("P-1", "as built", CURVE._replace(slope=12.0))


def test_a_second_writer_is_refused_and_the_first_goes_on(tmp_path):
    with Ledger(tmp_path) as ledger:
        page = ledger.page("P-1", "as built", CURVE)
        with pytest.raises(CannotRun, match="another seaload process"):
            Ledger(tmp_path)
        ledger.add(page, "a.csv", stretches_of(TIMES, LOAD))
        assert len(ledger.counted(page)) == 1


def test_a_full_disk_loses_that_file_alone(tmp_path):
    with Ledger(tmp_path) as ledger:
        page = ledger.page("P-1", "as built", CURVE)
        ledger.add(page, "a.csv", stretches_of(TIMES[:300], LOAD[:300]))
        pages = ledger._base.execute("PRAGMA page_count").fetchone()[0]
        ledger._base.execute(f"PRAGMA max_page_count={pages}")
        rest = [s for shift in range(40) for s in stretches_of(TIMES[300:] + 86400.0 * shift, LOAD[300:])]
        with pytest.raises(CannotRun, match="full"):
            ledger.add(page, "b.csv", rest)
        ledger._base.execute(f"PRAGMA max_page_count={pages + 1000}")
        assert ledger.files(page) == ["a.csv"]
        ledger.add(page, "b.csv", stretches_of(TIMES[300:], LOAD[300:]))
        same_totals(page_totals(ledger.stretches(page), CURVE)[1], WHOLE)


def test_a_damaged_ledger_is_said_in_one_line(tmp_path):
    (tmp_path / LEDGER_NAME).write_bytes(b"no database at all" * 100)
    with pytest.raises(CannotRun, match="not a database"):
        Ledger(tmp_path)


def fill_ledger(folder, parts):
    """Every part that is not counted yet, a transaction each."""
    with Ledger(folder) as ledger:
        page = ledger.page("P-1", "as built", CURVE)
        for number, part in enumerate(parts):
            counted = ledger.counted(page).get(1, ())
            if kept := stretches_of(TIMES[part], LOAD[part], counted=counted):
                ledger.add(page, f"{number}.csv", kept)


def killed_while_filling(folder, parts, after):
    """Fill the ledger in a process of its own and kill that after so many seconds; whether it was killed."""
    child = os.fork()
    if child == 0:
        try:
            fill_ledger(folder, parts)
        finally:
            os._exit(0)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    return os.waitpid(child, 0)[1] != 0


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that forks")
@pytest.mark.parametrize("kills", [6, pytest.param(50, marks=pytest.mark.slow)])
def test_killed_at_random_moments_the_ledger_is_right_after_going_on(tmp_path, kills):
    generator = np.random.default_rng(kills)
    parts = np.array_split(np.arange(600), 60)
    generator.shuffle(parts)
    fill_ledger(tmp_path / "warm", parts[:2])
    began = time.perf_counter()
    fill_ledger(tmp_path / "timed", parts)
    whole_time = time.perf_counter() - began
    struck = sum(killed_while_filling(tmp_path, parts, generator.uniform(0, whole_time)) for _ in range(kills))
    assert struck > 0
    fill_ledger(tmp_path, parts)
    with Ledger(tmp_path) as ledger:
        page = ledger.page("P-1", "as built", CURVE)
        same_totals(page_totals(ledger.stretches(page), CURVE)[1], WHOLE)
    assert sqlite3.connect(tmp_path / LEDGER_NAME).execute("PRAGMA integrity_check").fetchone() == ("ok",)

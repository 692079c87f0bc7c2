"""Events one by one, as the march's counters follow them: against a plain look at the whole history, and what a crew
feels against closed forms.
"""

import numpy as np
import pytest

from seaload.boat.slamming import slam_speed
from seaload.fatigue.excursions import EVENT_GAP, RELEASE_MARGIN
from seaload.foil.load_cause import (
    CAUSES,
    Parts,
    cause_of,
    heave_part,
    jolt_part,
    limit_part,
    pitch_part,
    roll_part,
    speed_part,
)
from seaload.simulation import count_events as C
from seaload.simulation import layout as L
from seaload.simulation.count_motion import PEAK_BINS, PEAK_WIDTH, count_peaks, count_slams, highest_tenth
from seaload.simulation.layout import LANES, NORMAL_SIDE, REVERSE_SIDE
from seaload.simulation.sampling import BOAT_SAMPLES, R_SPEED, R_WORST_NORMAL, R_WORST_REVERSE
from seaload.simulation.workspace import blank_held

STRIPS, DT, LANE, LEVEL = 3, 0.1, 5, 0.4


def plain_events(share):
    """(depth, step of it, time past the level) of every event of a history, each sample looked at by itself."""
    inside, beyond = [], False
    for value in share:
        beyond = value >= LEVEL or (beyond and value >= LEVEL - RELEASE_MARGIN)
        inside.append(beyond)
    found = []
    for i in np.flatnonzero(inside):
        if not found or (i - found[-1][-1]) * DT >= EVENT_GAP:
            found.append([i])
        found[-1].append(i)
    told = []
    for steps in found:
        span = np.unique(steps)
        deepest = span[np.argmax(share[span])]
        told.append((share[deepest], deepest, DT * np.sum(share[span] >= LEVEL)))
    return told


class March:
    foil_strips = STRIPS


def counted(reverse, normal, chunk, most=50):
    """Events of two histories counted chunk by chunk, the deepest moment of each held as the march holds it."""
    held = blank_held(March, LEVEL, np.zeros((2, LANES)))
    tally, alive = C.new_event_tally(STRIPS, most), np.zeros(LANES, dtype=np.int64)
    alive[LANE] = 1
    buffer = np.zeros((BOAT_SAMPLES, chunk, LANES), dtype=np.float32)
    for first in range(0, len(reverse), chunk):
        count = min(chunk, len(reverse) - first)
        held.share[:] = held.level - 1e-6
        for side, share in ((REVERSE_SIDE, reverse), (NORMAL_SIDE, normal)):
            part = share[first : first + count]
            buffer[R_WORST_REVERSE + side, :count, LANE] = part
            buffer[R_SPEED, :count, LANE] = first + np.arange(count)
            step = int(np.argmax(part))
            if part[step] >= LEVEL:
                held.share[side, LANE] = part[step]
                rows = held.moment.reshape(2, -1, LANES)[side]
                rows[L.M_STEP, LANE], rows[L.M_WAVE, LANE] = step, -1.0 if side == REVERSE_SIDE else 1.0
                rows[L.MOMENT_ROWS :, LANE] = first + step + np.arange(STRIPS)
        C.count_events(buffer, count, first * DT, 0, held, tally, DT, alive)
    return [C.events_of(tally, LANE, side) for side in (REVERSE_SIDE, NORMAL_SIDE)]


@pytest.fixture(scope="module")
def histories():
    """Twenty minutes of two shares that pass the level often, some passes close together."""
    generator = np.random.default_rng(7)
    t = DT * np.arange(12000)
    found = []
    for _ in range(2):
        phases = generator.uniform(0.0, 2.0 * np.pi, (6, 1))
        waves = np.sin(generator.uniform(0.4, 2.5, (6, 1)) * t + phases).sum(axis=0)
        found.append((0.13 * waves - 0.05 + 0.02 * generator.standard_normal(t.size)).astype(np.float32))
    return found


@pytest.mark.parametrize("chunk", [17, 50, 90])
def test_events_joined_across_chunks_are_those_of_one_look(histories, chunk):
    for (kept, peaks), share in zip(counted(*histories, chunk), histories, strict=True):
        plain = plain_events(share)
        assert len(plain) > 5
        assert list(peaks) == [depth for depth, _, _ in plain]
        deepest = sorted(plain, key=lambda each: -each[0])[: C.KEPT_EVENTS]
        assert list(kept[:, C.K_DEPTH]) == [depth for depth, _, _ in deepest]
        assert kept[:, C.K_TIME] == pytest.approx([DT * step for _, step, _ in deepest], abs=1e-3)
        assert kept[:, C.K_DURATION] == pytest.approx([time for _, _, time in deepest], abs=1e-9)
        assert list(kept[:, C.K_SPEED]) == [step for _, step, _ in deepest]  # the state of that very step
        assert [CAUSES[int(cause)] for cause in kept[:, C.K_CAUSE]] == ["wave"] * len(kept)
        assert list(kept[:, C.KEPT_ROWS + 2]) == [step + 2 for _, step, _ in deepest]


def spikes(depths):
    """A history with one sample of each depth, twenty seconds apart."""
    share = np.zeros(200 * len(depths), dtype=np.float32)
    share[100::200] = depths
    return share


def test_of_more_events_than_there_is_room_for_the_deepest_stay():
    depths = np.random.default_rng(3).permutation(np.linspace(0.42, 1.3, 3 * C.KEPT_EVENTS)).astype(np.float32)
    (kept, peaks), (none, nothing) = counted(spikes(depths), np.zeros(200 * len(depths), dtype=np.float32), 50)
    assert list(peaks) == list(depths)
    assert list(kept[:, C.K_DEPTH]) == sorted(depths, reverse=True)[: C.KEPT_EVENTS]
    assert len(none) == len(nothing) == 0


@pytest.mark.parametrize(("between", "events"), [(EVENT_GAP - DT, 1), (EVENT_GAP, 2)])
def test_excursions_less_than_the_gap_apart_are_one_event(between, events):
    share = np.zeros(300, dtype=np.float32)
    share[50] = share[50 + int(round(between / DT))] = 0.6
    _, peaks = counted(share, 0.0 * share, 50)[REVERSE_SIDE]
    assert len(peaks) == events


@pytest.mark.parametrize(("between", "events"), [(LEVEL - 0.8 * RELEASE_MARGIN, 1), (LEVEL - 1.2 * RELEASE_MARGIN, 2)])
def test_an_event_goes_on_until_the_load_is_back_by_the_release(between, events):
    share = np.zeros(400, dtype=np.float32)
    share[50], share[51:200], share[200] = 0.6, between, 0.7
    kept, peaks = counted(share, 0.0 * share, 50)[REVERSE_SIDE]
    assert len(peaks) == events and kept[0, C.K_DURATION] == pytest.approx(2 * DT if events == 1 else DT)


def test_a_lane_that_has_ended_has_no_further_events():
    share = spikes([0.6, 0.7])
    held, tally = blank_held(March, LEVEL, np.zeros((2, LANES))), C.new_event_tally(STRIPS, 5)
    held.share[:] = 0.6
    buffer = np.repeat(share[80:130, None], LANES, axis=1)[None].repeat(BOAT_SAMPLES, axis=0)
    C.count_events(buffer, 50, 0.0, 0, held, tally, DT, np.zeros(LANES, dtype=np.int64))
    assert not tally.state.any()


def test_a_mean_load_towards_a_limit_moves_the_level_and_one_the_other_way_does_not():
    levels = C.event_levels(np.array([-0.3, 0.0, 0.25, 1.0, np.nan]))
    assert levels == pytest.approx([0.4, 0.4, 0.55, 1.0, 0.4])


NONE = dict.fromkeys(Parts._fields, 0.0)


@pytest.mark.parametrize(
    ("toward", "parts", "rise", "vented", "cause"),
    [
        (-1.0, {"heave": -2.0, "wave": -1.0}, 2.0, 0.0, "rise"),
        (1.0, {"heave": 2.0, "wave": 1.0}, -2.0, 0.0, "plunge"),
        (-1.0, {"pitch": -2.0, "heave": 0.5}, -0.5, 0.0, "bow down"),
        (1.0, {"pitch": 2.0}, 0.0, 0.0, "bow up"),
        (-1.0, {"heave": -2.0, "pitch": 1.8, "wave": -0.5}, 2.0, 0.0, "wave"),  # she only follows the wave's slope
        (-1.0, {"roll": -1.0, "wave": -0.9}, 0.0, 0.0, "roll"),
        (1.0, {"speed": 1.0, "wave": 0.9}, 0.0, 0.0, "speed"),
        (-1.0, {"jolt": -1.0, "wave": 3.0}, 0.0, 0.0, "jolt"),  # what acts the other way is no cause
        (-1.0, {"limit": -1.0}, 0.0, 0.2, "stall"),
        (-1.0, {"limit": -1.0}, 0.0, 0.9, "ventilation"),
    ],
)
def test_the_largest_part_towards_the_load_is_its_cause(toward, parts, rise, vented, cause):
    assert CAUSES[cause_of(toward, Parts(**{**NONE, **parts}), rise, vented)] == cause


def test_a_boat_that_follows_a_slope_meets_no_inflow_by_it():
    """At 10 m/s up a slope of 0.1 she rises at 1 m/s with her bow up by 0.1."""
    assert heave_part(0.9, 1.0) + pitch_part(0.9, 10.0, 0.1) == pytest.approx(0.0, abs=1e-12)


def test_a_little_speed_loads_as_twice_its_share_of_the_inflow():
    angle, speed, more = 0.06, 10.0, 1e-4
    lift = lambda u: u * u * angle  # noqa: E731
    by_inflow = lambda v: speed * (speed * angle + v)  # noqa: E731
    assert by_inflow(speed_part(angle, speed + more, speed)) == pytest.approx(lift(speed + more), rel=1e-9)


def test_a_strip_that_rolls_meets_the_water_that_its_own_velocity_leaves():
    """Leeward side down: a point (y, z) of a rigid body moves at (z, -y) times the rate; + is against the normal."""
    y, z, ny, nz = 2.0, -1.5, -0.6, 0.8
    assert roll_part((0.3, y, z, ny, nz), 0.2) == pytest.approx(-0.2 * np.dot((z, -y), (ny, nz)))


def test_lift_that_is_lost_and_a_load_by_inertia_count_as_the_inflow_of_as_much_lift():
    slope, speed, per_area = 2.0 * np.pi, 10.0, 0.5 * 1025.0 * 10.0**2
    lost = limit_part(0.7, 1.0, slope, speed)
    assert per_area * slope * lost / speed == pytest.approx(per_area * (0.7 - 1.0))
    per_inflow = per_area * slope / speed
    assert per_inflow * jolt_part(-300.0, per_inflow) == pytest.approx(-300.0)


def test_a_ship_of_520_feet_slams_from_12_feet_a_second_on():
    """Ochi and Motter 1973, from memory; other lengths by Froude's law."""
    foot = 0.3048
    assert slam_speed(520.0 * foot, 9.80665) == pytest.approx(12.0 * foot, rel=5e-3)
    assert slam_speed(4.0, 9.80665) == pytest.approx(2.0 * slam_speed(1.0, 9.80665))


def test_extremes_along_the_span_are_those_of_any_chunk_of_a_lane_that_counts():
    tally, alive = C.new_event_tally(STRIPS, 5), np.zeros(LANES, dtype=np.int64)
    held = blank_held(March, 9.0, np.zeros((2, LANES)))
    alive[LANE] = 1
    buffer = np.zeros((BOAT_SAMPLES, 2, LANES), dtype=np.float32)
    chunks = np.random.default_rng(5).standard_normal((4, *held.span.shape)).astype(np.float32)
    for span in chunks:
        held.span[:], held.share[:] = span, 0.0
        C.count_events(buffer, 2, 0.0, 0, held, tally, DT, alive)
    assert np.all(tally.span[LANE, 0::2] == chunks[:, 0::2, LANE].max(axis=0))
    assert np.all(tally.span[LANE, 1::2] == chunks[:, 1::2, LANE].min(axis=0))
    assert np.all(np.isinf(tally.span[np.arange(LANES) != LANE]))


def binned(peaks):
    count, sums = np.zeros(PEAK_BINS), np.zeros(PEAK_BINS)
    crest = 0.0
    for peak in peaks:
        crest = count_peaks(np.array([0.5 * peak, peak, -1.0]), 3, crest, count, sums)
    return highest_tenth(count, sums)


@pytest.mark.parametrize(
    ("quantile", "over_mean"),
    [(lambda p: np.sqrt(-2.0 * np.log1p(-p)), 2.03099), (lambda p: -np.log1p(-p), 3.30259)],
    ids=["rayleigh", "exponential"],
)
def test_highest_tenth_of_known_peaks(quantile, over_mean):
    """planing_peak_distribution_factors of the gathered tables (derived): Rayleigh and exponential peaks, N = 10."""
    peaks = 3.0 * quantile((np.arange(20000) + 0.5) / 20000)
    assert binned(peaks) / peaks.mean() == pytest.approx(over_mean, rel=2e-3)


def test_the_highest_tenth_of_a_sine_is_its_amplitude_and_of_nothing_nothing():
    t = np.arange(0.0, 400.0, 0.02)
    count, sums = np.zeros(PEAK_BINS), np.zeros(PEAK_BINS)
    crest = 0.0
    for part in np.split(5.0 * np.sin(2.0 * t), 40):  # in chunks
        crest = count_peaks(part, len(part), crest, count, sums)
    assert highest_tenth(count, sums) == pytest.approx(5.0, rel=1e-3)
    assert count.sum() == pytest.approx(400.0 * 2.0 / (2.0 * np.pi), abs=1.0)
    assert highest_tenth(np.zeros(PEAK_BINS), sums) == 0.0
    assert PEAK_BINS * PEAK_WIDTH > 100.0  # [m/s2]


@pytest.mark.parametrize(("share", "slams"), [(0.99, 20), (1.01, 0)])
def test_a_re_entry_is_a_slam_from_the_stated_speed_on(share, slams):
    """A forefoot in regular motion meets the water at amplitude times frequency."""
    t = 0.02 * np.arange(6284)  # twenty periods
    depth, least = 1.5 * np.sin(t + 0.5), share * 1.5 * 0.02
    found, before = 0.0, np.nan
    for part in np.split(depth, 4):
        more, before = count_slams(part, len(part), before, least)
        found += more
    assert found == pytest.approx(slams, abs=1) and (found > 0) == (slams > 0)
    assert before == depth[-1]
    assert count_slams(np.abs(depth) + 0.1, len(depth), np.nan, 0.0)[0] == 0.0  # never out of the water


def test_worst_rows_stand_in_the_order_of_the_sides():
    assert (R_WORST_REVERSE, R_WORST_NORMAL) == (REVERSE_SIDE, NORMAL_SIDE)

"""A library of the demo boat against points that it was never told, marched directly over waves of their own.

The goals are the project's own: an error of ln(rate past the limit) of 0.3 from 0.1 to 3 an hour and 0.5 from 0.001 to
0.1, of the load met once in three hours 3 % of the limit, what the direct marches leave open taken off.
`SEALOAD_LIBRARY` is the path of a filled library, else one is filled with `SEALOAD_LIBRARY_HOURS` of sea;
`SEALOAD_LIBRARY_DIRECT` a folder that keeps the direct marches, some 13 minutes of processor, when it is run again.
"""

import os
from dataclasses import replace
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.deciding.library.coordinates import NAMES, SEA, covered
from seaload.deciding.library.emulator import Emulator, often_ends
from seaload.deciding.library.held_out import ABOUT, BANDS, MARGIN, compared, rates_at_limit
from seaload.deciding.library.next_seas import Round, spread_seas
from seaload.deciding.library.point import HELD
from seaload.evidence.verdict import SIDES
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account
from seaload.studies.library.ask import Library
from seaload.studies.library.fill import Filling, fill_study
from seaload.studies.library.seas import setting_row
from seaload.studies.library.shelf_file import read_shelf
from seaload.studies.load_study import load_study
from seaload.studies.single_run import run_study
from tests.small_study import STUDIES

HOURS, SEAS, EACH = float(os.environ.get("SEALOAD_LIBRARY_HOURS", 300.0)), 25, 2
DIRECT = 64  # realisations at each held-out point: 21.3 h, whole blocks
DRAWN = 12  # settings by lot in each sea that is looked at
GOALS = (0.3, 0.5), 0.03
FIRST, LAST = 1, 8  # numbers in RATES of 3 an hour and 0.001 an hour


def settings_between(study, draws):
    """Settings anywhere between those of the grid, by lot."""
    like, found = study.settings[0], []
    for _ in range(DRAWN):
        extension, rake, speed = draws.uniform((0.6, 0.0, 12.0), (1.0, 4.0, 20.0))
        found.append(replace(like, extension=extension, rake=rake * DEGREE, speed=speed * KNOT))
    return found


def that_matter(emulator, rows, by_rate):
    """Which of `rows` (n, names) are covered, hold, do not end, and are told a load near a limit once in three hours;
    `by_rate` such that the limit is passed once in 20 minutes to once in 1000 hours.
    """
    usable = covered(emulator.cover, rows) & ~often_ends(emulator.surface("ended_share").value(rows))
    usable &= rows[:, NAMES.index("speed_set")] < emulator.surface("speed_attainable").value(rows)
    loads = np.stack([emulator.loads(rows, side)[0] for side in SIDES], axis=1)
    near = (loads[:, :, MARGIN] > ABOUT[0]) & (loads[:, :, MARGIN] < ABOUT[1])
    if by_rate:
        near = (loads[:, :, FIRST] < 1.0) & (loads[:, :, LAST] > 1.0)
    return usable & near.any(axis=1)


def places_that_matter(study, filling, emulator):
    """[(sea, settings)] by lot within the range: in turns where the limit is passed at a rate of BANDS and where a load
    near it is met; where too few seas have such rates, more of the others.
    """
    draws, found, others = np.random.default_rng(50), [], []
    like = np.array([filling.like[name] for name in SEA])
    for sea in spread_seas(filling.span, 20_000, 3000):
        settings = settings_between(study, draws)
        rows = np.array([[*setting_row(setting), *sea, *like[3:]] for setting in settings])
        for kind, kept in ((True, found), (False, others)):
            numbers = np.flatnonzero(that_matter(emulator, rows, by_rate=kind))[:EACH]
            if len(numbers) == EACH and len(kept) < (SEAS // 2 if kind else SEAS):
                kept.append((sea, tuple(settings[number] for number in numbers)))
                break
        if len(found) == SEAS // 2 and len(others) >= SEAS - len(found):
            break
    return [*found, *others[: SEAS - len(found)]]


def direct_points(study, shelf, folder):
    """[{name: value}] of points within the range, marched over waves that no point of the shelf has met."""
    filling, found = Filling(study), []
    places = places_that_matter(study, filling, Emulator(shelf))
    with CaseStore(folder) as store, crew() as hands:
        filling.load_kernels(Account())
        for sea, settings in places:
            sampling = replace(study.sampling, realisations=DIRECT)
            one = Filling(replace(study, settings=settings, sampling=sampling))
            asked = Round(sea[None], np.ones((1, len(settings))))
            points, _ = one.march(shelf.with_points(found), asked, (store, hands, Account()))
            found += points
    return found


def told_and_met(emulator, points):
    """{name: (n, 2 sides, ...)} of what the library tells at held points that it covers, and what was met there."""
    rows = {name: [] for name in ("load", "error", "load_met", "load_own")}
    for point in points:
        place = np.array([float(point[name]) for name in NAMES])
        if point["status"] != HELD or emulator.refusal(place) is not None:
            continue
        answer = emulator.answer(place)
        sides = [answer.sides[side] for side in SIDES]
        rows["load"].append([side.load for side in sides])
        rows["error"].append([side.load_error for side in sides])
        for name, column in (("load_met", "load_at_rate"), ("load_own", "load_at_rate_error")):
            rows[name].append(point[column])
    return {name: np.array(values, dtype=float) for name, values in rows.items()}


def compared_with(met):
    """({(side, band): HeldOut of ln(rate)}, {side: HeldOut of the margin}) of what `told_and_met` gives."""
    rates, margins = {}, {}
    for i, side in enumerate(SIDES):
        rate, error = rates_at_limit(met["load"][:, i], met["error"][:, i])
        there, own = rates_at_limit(met["load_met"][:, i], met["load_own"][:, i])
        for number, (low, high) in enumerate(BANDS):
            used = (rate >= np.log(low)) & (rate < np.log(high)) & np.isfinite(there)
            rates[side, number] = compared((there - rate)[used], own[used], np.hypot(error, own)[used])
        load, own = met["load_met"][:, i, MARGIN], met["load_own"][:, i, MARGIN]
        used = (load > ABOUT[0]) & (load < ABOUT[1])
        foreseen = np.hypot(met["error"][:, i, MARGIN], own)
        margins[side] = compared((load - met["load"][:, i, MARGIN])[used], own[used], foreseen[used])
    return rates, margins


@pytest.fixture(scope="module")
def study():
    whole = load_study(STUDIES / "library.toml")
    return replace(whole, fill=replace(whole.fill, time=HOURS * HOUR))


@pytest.fixture(scope="module")
def shelf(study, tmp_path_factory):
    """The library of the demo boat."""
    given = os.environ.get("SEALOAD_LIBRARY")
    path = Path(given) if given else fill_study(study, out=tmp_path_factory.mktemp("library")).result_path
    return read_shelf(path, {})


@pytest.fixture(scope="module")
def met(study, shelf, tmp_path_factory):
    """What the library tells at the held-out points, and what was met there."""
    emulator = Emulator(shelf)
    folder = Path(os.environ.get("SEALOAD_LIBRARY_DIRECT") or tmp_path_factory.mktemp("direct"))
    folder.mkdir(parents=True, exist_ok=True)
    found = told_and_met(emulator, direct_points(study, shelf, folder))
    assert len(found["load"]) >= 20
    return found


@pytest.mark.slow
@pytest.mark.timeout(7200)
def test_held_out_points_lie_within_the_errors_told(met, shelf, logbook):
    """Of loads met once in 20 minutes to once in 33 hours, 90 % within the interval of both errors together; the bound
    is what 50 points in 25 seas, alike by two, may scatter by.
    """
    print(f"{len(met['load'])} points; load told, met, and errors once in 3.3 h:")
    print(np.round([met[name][:, :, MARGIN].T for name in ("load", "load_met", "error", "load_own")], 3))
    used = slice(1, 6)
    off = np.abs(met["load_met"] - met["load"])[:, :, used]
    inside = float(np.mean(off < 1.645 * np.hypot(met["error"], met["load_own"])[:, :, used]))
    rates, margins = compared_with(met)
    for (side, number), found in rates.items():
        low, high = (end * HOUR for end in BANDS[number])
        print(f"{side}, {low:g} to {high:g} an hour: {found}")
    for side, found in margins.items():
        print(f"{side}, margin: {found}")
    note_goals(logbook, rates, margins, shelf.hours / HOUR)
    assert 0.75 < inside <= 1.0


def note_goals(logbook, rates, margins, hours):
    """Rows of the logbook: what held-out points missed, against the project's own goals."""
    source = f"direct marches of 21 h, a library of {hours:.0f} h; the goal is our own"
    for (side, number), found in rates.items():
        if found.points >= 5:
            low, high = (end * HOUR for end in BANDS[number])
            logbook(
                stage="library", quantity=f"{side}: error of ln(rate past the limit), {low:g} to {high:g} an hour",
                source=source, origin="derived", published=GOALS[0][number], ours=found.error, tolerance="at most",
                met=found.error <= GOALS[0][number], reason="more sea narrows it", of=Emulator,
            )  # fmt: skip
    for side, found in margins.items():
        if found.points >= 5:
            logbook(
                stage="library", quantity=f"{side}: error of the load once in 3.3 h, share of the limit",
                source=source, origin="derived", published=GOALS[1], ours=found.error, tolerance="at most",
                met=found.error <= GOALS[1], reason="more sea narrows it", of=Emulator,
            )  # fmt: skip


@pytest.mark.slow
@pytest.mark.timeout(7200)
def test_a_question_takes_fifty_milliseconds(shelf):
    library = Library("demo.nc", shelf)
    question = dict(extension_percent=75, rake_deg=2, speed_knots=16, hs_m=3.2, tp_s=9.5, waves_from_bow_deg=40)
    library.ask(**question)
    took = []
    for turn in range(20):
        began = perf_counter()
        library.ask(**{**question, "waves_from_bow_deg": 18.0 * turn - 180.0})
        took.append(perf_counter() - began)
    print(f"{1e3 * np.median(took):.1f} ms a question, {len(shelf)} points")
    assert np.median(took) < 0.05


@pytest.mark.slow
@pytest.mark.timeout(7200)
def test_a_hundred_questions_at_once_take_no_longer_than_one_may(shelf):
    library, draws = Library("demo.nc", shelf), np.random.default_rng(3)
    question = dict(extension_percent=75, rake_deg=2, speed_knots=16, tp_s=9.5, waves_from_bow_deg=40)
    library.rates(**question, hs_m=2.0)
    took = []
    for _ in range(20):
        heights = draws.uniform(1.6, 4.9, 100)
        began = perf_counter()
        library.rates(**question, hs_m=heights)
        took.append(perf_counter() - began)
    print(f"{1e3 * np.median(took):.1f} ms a hundred questions, {len(shelf)} points")
    assert np.median(took) < 0.05


SWEPT = """
name = "swept"
boat = "{boat}"
[[sea]]
name = "waves that no point of the library met"
spectrum = "jonswap"
hs_m = {hs_m}
tp_s = {tp_s}
gamma = 3.3
waves_from_bow_deg = {waves_from_bow_deg}
spreading_s = 10
true_wind_speed_knots = 24
true_wind_angle_deg = 110
[settings]
extension_percent = {extension_percent}
rake_deg = {rake_deg}
heel_deg = 18
cant_deg = 30
speed_knots = {speed_knots}
[sampling]
seed = 5
hours = 4.0
"""
ONE = {"extension_percent": 80, "rake_deg": 2, "speed_knots": 16, "hs_m": 3.6, "tp_s": 9.0, "waves_from_bow_deg": 60}


@pytest.mark.slow
@pytest.mark.timeout(7200)
def test_odds_by_the_library_alone_are_those_of_a_run_within_the_errors_told(study, shelf, tmp_path):
    """A run of the same setting in the same sea, over waves of its own, with designed runs of its own."""
    path = tmp_path / "swept.toml"
    path.write_text(SWEPT.format(boat=(STUDIES.parent / "boats" / "demo.toml").as_posix(), **ONE), encoding="utf-8")
    run = run_study(load_study(path, one_setting=True), out=tmp_path, workers=1).dataset
    told = Library("demo.nc", shelf, study).odds(**ONE)
    assert "not told" not in str(told["uncertain_untold"].values)
    for side in SIDES:
        for name in (f"{side}_odds_all_told", f"{side}_worst_median", f"{side}_worst_one_in_twenty"):
            ends = [f"{name}_low", name, f"{name}_high"]
            ours, its = ([float(data[end].squeeze()) for end in ends] for data in (told, run))
            print(f"{name}: library {ours[1]:.4g} ({ours[0]:.4g} to {ours[2]:.4g}), run {its[1]:.4g} ({its[0]:.4g} to "
                  f"{its[2]:.4g})")  # fmt: skip
            assert ours[0] <= its[2] and its[0] <= ours[2], name
    print(dict(zip(told["uncertain_name"].values, told["uncertain_effect_reverse"].values.round(3), strict=True)))
    print("bears", float(told["bears_hs"]), "run", float(run["bears_hs"].squeeze()) if "bears_hs" in run else None)

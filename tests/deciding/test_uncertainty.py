"""The designed ensemble gives back effects that are known, and bends where there are any."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from seaload.basis.records import STATUS_BROACHED, STATUS_NOT_FINITE
from seaload.deciding.doubt import ByExtension
from seaload.deciding.uncertainty import (
    NO_TAIL,
    REALISATIONS,
    Ensemble,
    design,
    deviation,
    ensembles_of,
    inputs_of,
    jobs_of,
    no_doubt,
    of_forecast,
    sail_ensembles,
    sorted_inputs,
    ultimate_effect,
)
from seaload.evidence.bend import NODES
from seaload.evidence.verdict import judge, sampled_rates
from seaload.fatigue.constant_life import cycle_damage, reference_scale
from seaload.scenario.crew_records import UncertainInput
from seaload.simulation.layout import LANES
from tests.deciding.fake_sailer import BELOW, SCALE, FakeSailer

TRUE = {"hs_factor": 0.30, "lift_slope_factor": 0.20, "rake_zero_shift": 4.0}  # location per unit
SMALL = 0.02  # of forecast errors: the made-up loads then act in proportion


@pytest.mark.parametrize("count", [1, 9, 11, 12, 15, 19])
def test_design_is_balanced_and_orthogonal(count):
    """Plackett & Burman 1946: every column half up, half down, every pair of columns unrelated."""
    d = design(count)
    runs = 12 if count <= 11 else 20
    assert d.shape == (runs, count) and set(np.unique(d)) == {-1, 1}
    assert np.array_equal(d.T @ d, runs * np.eye(count, dtype=int)) and not d.sum(axis=0).any()


def test_more_inputs_than_a_design_holds_are_refused():
    with pytest.raises(ValueError, match="at most 19"):
        design(20)


@pytest.fixture
def sure(small_study):
    """The study with a forecast that errs little, so that its effects are in proportion."""
    sea = small_study.seas[0]
    near = tuple(replace(entry, spread=SMALL) for entry in sea.forecast)
    return replace(small_study, seas=(replace(sea, forecast=near),))


@pytest.fixture
def doubt(sure, made_case):
    def severity(setting, model):
        moved = TRUE["hs_factor"] * (model.get("hs_factor", 1.0) - 1.0)
        moved += TRUE["lift_slope_factor"] * (model.get("lift_slope_factor", 1.0) - 1.0)
        return 0.5 + moved + TRUE["rake_zero_shift"] * model.get("rake_zero_shift", 0.0)

    sailer = FakeSailer(sure, {(0, 0): sure.settings[0]}, made_case, severity)
    return sail_ensembles(sailer, {0: [(0, 0)]})[0]


def test_loads_move_by_what_the_inputs_do_to_the_load(sure, doubt):
    """The made-up boat's load moves by known amounts: the doubt in load is those, whatever the tail does to rates."""
    entries = {entry.name: entry for entry in inputs_of(sure, sure.seas[0])}
    found = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    for name, factor in (("forecast_hs", "hs_factor"), ("lift_slope", "lift_slope_factor"),
                         ("rake_zero", "rake_zero_shift")):  # fmt: skip
        assert found[name] == pytest.approx(TRUE[factor] * deviation(entries[name]), rel=0.02)
    for name in ("roll_inertia", "tail_level", "wind_sea_share", "hull_damping", "hull_wave_force"):
        assert abs(found[name]) < 1e-9


def curved(setting, model):
    """A made-up load that rises with the fourth power of the height and falls on either side of the period."""
    return 0.3 + 0.2 * (model.get("hs_factor", 1.0) ** 4 - 1.0) - 0.5 * (model.get("tp_factor", 1.0) - 1.0) ** 2


def test_height_and_period_act_by_what_was_run_at_each_deviation(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, curved)
    found = sail_ensembles(sailer, {0: [(0, 0)]})[0]
    entries = {entry.name: entry for entry in inputs_of(small_study, small_study.seas[0])}
    height, period = found.bends["reverse"]
    assert [found.names[bend.number] for bend in (height, period)] == ["forecast_hs", "forecast_tp"]
    hs, tp = (np.array([of_forecast(entries[name], node) for node in NODES]) for name in ("forecast_hs", "forecast_tp"))
    assert height.shifts == pytest.approx(0.2 * (hs**4 - 1.0), abs=1e-6)
    assert period.shifts == pytest.approx(-0.5 * (tp - 1.0) ** 2, abs=1e-6)
    assert np.abs(height.growths).max() < 1e-6
    slope = 0.5 * (height.shifts[3] - height.shifts[1])
    assert found.effects("reverse")[height.number] == pytest.approx(slope, abs=1e-6)
    assert found.correlation == small_study.hs_tp_correlation != 0.0


def test_errors_of_height_and_period_are_lognormal():
    """The mean of the logarithm is the forecast, and no height is ever negative."""
    entry = UncertainInput("forecast_hs", "normal", 0.8, "factor", "")
    assert of_forecast(entry, 1.0) * of_forecast(entry, -1.0) == pytest.approx(1.0)
    assert of_forecast(entry, -5.0) > 0.0


def steeper(study, steepness):
    """The study with her first sea so steep, Hs over peak wavelength."""
    sea = study.seas[0]
    return replace(study, seas=(replace(sea, hs=steepness * 9.80665 * sea.tp**2 / (2.0 * np.pi)),))


def test_a_sea_past_the_limit_of_steepness_is_not_simulated_and_the_last_step_goes_on(small_study, made_case):
    """1/22 as it is: a period two deviations (0.156 each) shorter makes it 1/12, the limit being 1/16."""
    study = steeper(small_study, 1.0 / 22.0)
    sailer = FakeSailer(study, {(0, 0): study.settings[0]}, made_case, curved)
    ensemble = Ensemble(sailer, (0, 0))
    assert ("forecast_tp", 0) not in ensemble.nodes and ("forecast_tp", 1) in ensemble.nodes
    found = sail_ensembles(sailer, {0: [(0, 0)]})[0]
    period = found.bends["reverse"][1]
    assert period.shifts[0] == pytest.approx(2.0 * period.shifts[1])
    assert found.untold == ("steeper than 1/16, not simulated: Tp -2 deviations",)


def test_a_sea_that_is_too_steep_as_it_is_tells_by_its_gentler_side(small_study, made_case):
    study = steeper(small_study, 1.0 / 12.0)
    ensemble = Ensemble(FakeSailer(study, {(0, 0): study.settings[0]}, made_case, curved), (0, 0))
    assert set(ensemble.nodes) == {("forecast_hs", 0), ("forecast_hs", 1), ("forecast_tp", 3), ("forecast_tp", 4)}


def test_an_input_that_is_worse_either_way_off_is_told_so(small_study, made_case):
    """Half the difference of both ways, all that a design sees, is nothing here; the odds are those of many draws."""
    study = replace(small_study, seas=(replace(small_study.seas[0], forecast=()),), uncertain=tuple(
        entry for entry in small_study.uncertain if entry.name in ("hull_damping", "lift_slope")))  # fmt: skip
    valley = lambda setting, model: 0.5 + 0.8 * abs(model.get("hull_damping_factor", 1.0) - 1.0)  # noqa: E731
    sailer = FakeSailer(study, {(0, 0): study.settings[0]}, made_case, valley)
    doubt = sail_ensembles(sailer, {0: [(0, 0)]})[0]
    step = deviation(next(entry for entry in study.uncertain if entry.name == "hull_damping"))
    ((bend,),) = (doubt.steps["reverse"],)
    assert bend.number == doubt.names.index("hull_damping")
    assert bend.shifts == pytest.approx(0.8 * step * np.abs(NODES), rel=0.1)
    assert abs(doubt.effects("reverse")[bend.number]) < 0.02 < doubt.spreads("reverse")[bend.number]
    sailer.sail([(0, 0, r) for r in range(60)])
    sampled = sampled_rates([sailer.records[0, 0, r] for r in range(60)], study.risk)
    level = 0.5 + 0.8 * step * np.abs(np.random.default_rng(1).standard_normal(40000))
    expected = np.mean(-np.expm1(-np.exp(-(1.0 - level) / SCALE) / 10.0 * study.risk.exposure))
    _, low, high = doubt.odds("reverse", sampled, study.risk)
    assert low <= expected * 1.1 and expected <= high * 1.1


def test_a_run_that_ended_tells_nothing(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, curved)
    ensemble = Ensemble(sailer, (0, 0))
    for run, wanted in ensemble.jobs():
        run.submit(wanted)
    worst = ensemble.nodes["forecast_hs", 4]
    worst.records[0, 0, 3] = replace(worst.records[0, 0, 3], status=STATUS_NOT_FINITE)
    found = ensemble.doubt()
    height = found.bends["reverse"][0]
    assert height.shifts[4] == pytest.approx(2.0 * height.shifts[3])
    assert found.untold == ("cases ended early: Hs +2 deviations",)


@pytest.mark.parametrize(("ended", "blind"), [(2, False), (3, True)])
@pytest.mark.parametrize("spread", [False, True])
def test_a_run_is_told_by_the_realisations_it_ended_well_until_too_few_of_its_own_are_left(
    small_study, made_case, ended, blind, spread
):  # fmt: skip
    """Paired runs: what is left of each tells the same, and no run is told by a quarter less than was to tell it; cases
    that ended in different runs (`spread`) leave each of those enough."""
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, curved)
    ensemble = Ensemble(sailer, (0, 0))
    for run, wanted in ensemble.jobs():
        run.submit(wanted)
    whole = ensemble.doubt()
    for r in range(ended):
        run = ensemble.runs[r if spread else 0]
        harsh = np.full_like(run.records[0, 0, r].place_block_reverse, 40.0)  # what it met is not to be read
        run.records[0, 0, r] = replace(run.records[0, 0, r], status=STATUS_BROACHED, place_block_reverse=harsh)
    found = ensemble.doubt()
    assert found.blind == (blind and not spread) and not whole.blind
    if not found.blind:
        assert found.effects("reverse") == pytest.approx(whole.effects("reverse"), rel=0.3, abs=0.01)
        cases = 8 * (len(ensemble.runs) + len(ensemble.steps))
        assert found.untold[-1].startswith(f"{ended} of {cases} cases that tell what is uncertain ended early")


def test_where_no_case_ended_each_run_is_read_beside_all_others(small_study, made_case):
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, curved)
    ensemble = Ensemble(sailer, (0, 0))
    for run, wanted in ensemble.jobs():
        run.submit(wanted)
    told, blind = ensemble.through()
    ((keys, groups),) = ensemble.side_by_side(told)
    assert not blind and keys == [*range(len(ensemble.runs)), *ensemble.steps, *ensemble.nodes]
    assert len(groups) == 1 + len(keys)


def test_loads_without_a_tail_tell_nothing_of_what_is_uncertain_and_it_is_said(small_study, made_case):
    """A reverse load that never leaves its mean: what an input does to it cannot be read."""
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, curved)
    ensemble = Ensemble(sailer, (0, 0))
    for run, wanted in ensemble.jobs():
        run.submit(wanted)
        for case in wanted:
            flat = np.full_like(run.records[case].place_block_reverse, -run.records[case].moment_mean[0])
            run.records[case] = replace(run.records[case], place_block_reverse=flat)
    found = ensemble.doubt()
    assert NO_TAIL in found.untold and not np.any(found.effects("reverse"))


@pytest.mark.parametrize("severity", [0.2, 0.5, 0.7])
def test_the_odds_told_are_those_of_the_load_with_the_doubt_in_it(sure, made_case, doubt, severity):
    """A Gumbel law of scale 0.06 whose mean is known as well as the doubt says: the mean over many draws."""
    sailer = FakeSailer(sure, {(0, 0): sure.settings[0]}, made_case, lambda *_: severity)
    sailer.sail([(0, 0, r) for r in range(60)])
    records = [sailer.records[0, 0, r] for r in range(60)]
    risk = sure.risk
    verdict = judge(sampled_rates(records, risk), doubt.told(sampled_rates(records, risk), risk), risk)
    mean = severity - BELOW
    shifts, growths = doubt.shifts["reverse"], doubt.growths["reverse"]
    draws = np.random.default_rng(1).standard_normal((40000, len(doubt.names)))
    level = mean + (1.0 - mean - draws @ shifts) * np.exp(-draws @ growths)
    rate = np.exp(-(level - severity) / SCALE) / 10.0
    expected = np.mean(-np.expm1(-rate * risk.exposure))
    _, low, high = verdict.odds("reverse", risk.exposure)
    assert low <= expected * 1.05 and expected <= high * 1.05
    if severity < 0.3:  # rare: the draws that bring it near rule the odds
        assert verdict.rates["reverse"][0] > 1.5 * verdict.sampling_rates["reverse"][0]


def test_a_working_limit_is_a_line_and_not_a_strength(small_study, made_case, doubt):
    """The example boat's limits are working ones: their spread is nothing. Where the foil breaks, it counts."""
    entries = {entry.name: entry for entry in small_study.uncertain}
    effect = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    assert effect["limit_reverse"] == effect["limit_normal"] == 0.0
    foil = replace(small_study.boat.foils[small_study.foil_side], limit_basis="break")
    boat = replace(small_study.boat, foils={**small_study.boat.foils, small_study.foil_side: foil})
    study = replace(small_study, boat=boat)
    sailer = FakeSailer(study, {(0, 0): study.settings[0]}, made_case, lambda *_: 0.5)
    strong = sail_ensembles(sailer, {0: [(0, 0)]})[0]
    effect = dict(zip(strong.names, strong.effects("reverse"), strict=True))
    assert effect["limit_reverse"] == deviation(entries["limit_reverse"]) and effect["limit_normal"] == 0.0
    worn = dict(zip(strong.names, strong.wears, strict=True))  # wear is counted in shares of the normal limit
    assert worn["limit_normal"] == pytest.approx(foil.fatigue.slope * deviation(entries["limit_normal"]))


def test_crests_act_as_the_height_does(sure, doubt):
    entries = {entry.name: entry for entry in inputs_of(sure, sure.seas[0])}
    found = dict(zip(doubt.names, doubt.effects("reverse"), strict=True))
    ratio = deviation(entries["second_order_crests"]) / deviation(entries["forecast_hs"])
    assert found["second_order_crests"] == pytest.approx(ratio * found["forecast_hs"])


def test_even_spread_has_its_own_deviation(small_study):
    even = next(e for e in small_study.uncertain if e.distribution == "uniform")
    assert deviation(even) == pytest.approx(even.spread / sqrt(3.0))


def test_ensemble_is_small(small_study, made_case):
    """The setting as it is, which the rounds sail anyway, a design of 12 runs, 8 of height and period, and 4 of what
    makes the hull follow the waves."""
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    jobs = Ensemble(sailer, (0, 0)).jobs()
    assert len(jobs) == 1 + 12 + 8 + 4 and all(len(wanted) == REALISATIONS for _, wanted in jobs)
    assert jobs[0][0].model == sailer.model and not sailer.records  # what the rounds judge by stays theirs


def test_one_setting_fills_a_block_with_shorter_realisations_and_two_with_whole_ones(small_study, made_case):
    """As much sea either way; a block takes as long with half of its lanes."""
    settings = {(i, 0): replace(small_study.settings[0], extension=share) for i, share in enumerate((0.6, 1.0))}
    sailer = FakeSailer(small_study, settings, made_case, lambda *_: 0.5)
    whole = small_study.sampling.realisation_time
    for pairs, each in (([(0, 0)], 0.5 * whole), (list(settings), whole)):
        jobs = jobs_of(ensembles_of(sailer, {0: pairs}))
        assert len(jobs) == 25 * len(pairs) and len(jobs[0][1]) * len(pairs) == LANES
        assert {run.study.sampling.realisation_time for run, _ in jobs} == {each}
        assert len(jobs[0][1]) * each == REALISATIONS * whole


def test_each_extension_has_its_own_doubt(small_study, made_case):
    """A made-up boat whose load hangs on the lift's slope the more the longer the foil: in between by a straight line.
    """
    settings = {(i, 0): replace(small_study.settings[0], extension=share) for i, share in enumerate((0.6, 1.0))}

    def severity(setting, model):
        return 0.4 + (setting.extension - 0.6) * (model.get("lift_slope_factor", 1.0) - 1.0)

    sailer = FakeSailer(small_study, settings, made_case, severity)
    found = sail_ensembles(sailer, {0: list(settings)})[0]
    assert isinstance(found, ByExtension)
    number = found.at(0.6).names.index("lift_slope")
    spread = deviation(next(e for e in small_study.uncertain if e.name == "lift_slope"))
    for share in (0.5, 0.6, 0.7, 0.85, 1.0, 1.1):
        effect = found.at(share).effects("reverse")[number]
        assert effect == pytest.approx((min(max(share, 0.6), 1.0) - 0.6) * spread, abs=1e-9)
    assert found.at(0.6) is found.doubts[0] and found.at(1.0) is found.doubts[1]


def test_no_doubt_widens_nothing(small_study, made_case):
    nothing = no_doubt(small_study)
    assert nothing.load_spread("reverse") == nothing.load_spread("normal") == nothing.wear == 0.0
    sailer = FakeSailer(small_study, {(0, 0): small_study.settings[0]}, made_case, lambda *_: 0.5)
    assert sail_ensembles(sailer, {0: [(0, 0)]})[0].names == nothing.names


def test_a_sea_of_its_own_lead_time_has_its_own_errors(small_study):
    """What a sea tells goes before what holds for all; what nobody tells of a sea stays."""
    far = UncertainInput("forecast_hs", "normal", 0.27, "factor", "five days ahead")
    sea = replace(small_study.seas[0], forecast=(far,))
    found = {entry.name: entry for entry in inputs_of(small_study, sea)}
    assert found["forecast_hs"] is far and len(found) == len(small_study.uncertain)
    assert [len(part) for part in sorted_inputs(small_study.uncertain)][1] == 2


def test_wear_is_told_from_the_wear_of_the_runs(small_study, made_case):
    """Wear that goes with the tenth power of a load which goes with the lift's slope: ten deviations of that."""
    def make(**values):
        return made_case(**{**values, **make.wear})

    class Wearing(FakeSailer):
        def draw(self, i, j, r):
            growth = self.model.get("lift_slope_factor", 1.0)
            make.wear = {"damage": np.full(6, 1e-6 * growth**10), "grid_damage": np.full(51, 1e-6 * growth**10)}
            return super().draw(i, j, r)

    sailer = Wearing(small_study, {(0, 0): small_study.settings[0]}, make, lambda *_: 0.5)
    found = sail_ensembles(sailer, {0: [(0, 0)]})[0]
    spread = deviation(next(e for e in small_study.uncertain if e.name == "lift_slope"))
    expected = 0.5 * 10.0 * np.log((1.0 + spread) / (1.0 - spread))
    wears = dict(zip(found.names, found.wears, strict=True))
    assert wears["lift_slope"] == pytest.approx(expected) and wears["hull_damping"] == pytest.approx(0.0, abs=1e-9)
    assert found.wear == pytest.approx(expected)


def test_an_ultimate_load_acts_on_wear_as_another_number_in_the_boat_file_would(small_study, made_case):
    """One cycle, by the constant-life formula itself, at both ends of the spread."""
    curve = small_study.boat.foils[small_study.foil_side].fatigue
    counts = np.zeros((6, 48, 28))
    counts[2, 19, 13] = 3.0  # range 0.975, mean 0.15
    damage = np.zeros(6)
    damage[2] = 1.0
    record = made_case(rainflow_count=counts, damage=damage, normal_limit=np.ones(6), reverse_limit=np.full(6, 0.8))

    def wear(normal, reverse):
        scale = reference_scale(1.0, normal, reverse, curve.slope)
        return cycle_damage(0.975, 0.15, normal, reverse, curve.slope, scale)

    normal, reverse = curve.ultimate_normal, 0.8 * curve.ultimate_reverse
    expected = 0.5 * np.log(wear(1.15 * normal, reverse) / wear(0.85 * normal, reverse))
    assert ultimate_effect([record], curve, 0, 0.15) == pytest.approx(expected) and expected != 0.0
    expected = 0.5 * np.log(wear(normal, 1.15 * reverse) / wear(normal, 0.85 * reverse))
    assert ultimate_effect([record], curve, 1, 0.15) == pytest.approx(expected) and expected != 0.0
    assert ultimate_effect([made_case()], curve, 0, 0.15) == 0.0

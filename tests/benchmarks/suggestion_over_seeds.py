"""How often the suggested setting truly meets the levels: one small study, repeated with many seeds.

A few speeds in one named sea, weak reverse limits so that events can be counted, levels between the speeds. Every seed
goes through the rounds, the choice and the fresh waves as a sweep does. Two ways:

exact : every input is exact, so that the interval holds sampling alone: the hardest case, for nothing hides behind
    model doubt. The truth of a speed is the direct count over the waves of all seeds together.
doubt : forecast and model are uncertain, the crew sets within its tolerances and the sea grows. The truth of a speed,
    all told, is counted: in each of many draws every uncertain input takes a value by its own law, and four exposures
    are sailed in that world; how many see an event, over all draws.

Every suggestion is held against the truth; the best that could be suggested is the fastest speed whose upper bound
there is within the levels. At an interval of 90 % two-sided, 95 of 100 suggestions or more are to meet the levels, and
at most 0.3 kn is to be given up on average. What is done is kept in FILE after every seed and every draw, and goes on
from there while the model's sources stay the same.

    python -m tests.benchmarks.suggestion_over_seeds exact|doubt SEEDS FILE.json [DRAWS]
"""

import json
import sys
import tempfile
from collections import Counter
from contextlib import contextmanager, nullcontext
from dataclasses import replace
from math import sqrt
from pathlib import Path
from unittest.mock import patch

import numpy as np

from seaload.basis.machine_code import source_fingerprint
from seaload.basis.units import HOUR, MINUTE
from seaload.deciding import choice, rounds
from seaload.deciding.rounds import sail_rounds
from seaload.deciding.uncertainty import BENT, MARCHED, inputs_of, no_doubt, of_forecast, perturbed
from seaload.risk.poisson import rate_for_odds, rate_interval
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account, CaseSailer
from seaload.scenario.records import RiskLevels
from seaload.studies.load_study import load_study

BOATS = Path(__file__).resolve().parents[2] / "scenarios" / "boats"
SEEDS, DRAWS = 40, 300
EACH = 4  # exposures in the world of one draw
SPEEDS = (12.0, 15.0, 18.0, 24.0)  # knots
HEIGHTS = {"exact": 6.0, "doubt": 4.5}  # [m] with doubts she meets 6 m too, and broaches there
WEAKER = {"exact": 0.43, "doubt": 0.45}  # [-] of the demonstration boat's reverse limit: levels fall between the speeds
RISKS = {
    "exact": RiskLevels(HOUR, 0.865, 0.865),  # 2 an hour: 15 kn has 0.4 of it, 18 kn 1.15 of it
    "doubt": RiskLevels(10.0 * MINUTE, 0.31, 0.31, sea_growth=0.5 / HOUR),  # 0.24 at 18 kn, 0.39 at 24 kn
}
STUDY = """
name = "suggestion-over-seeds"
boat = "{boat}"
[[sea]]
name = "high sea on the bow quarter"
spectrum = "jonswap"
hs_m = {height}
tp_s = 11.0
waves_from_bow_deg = 45.0
[settings]
extension_percent = 90
rake_deg = 0
speed_knots = {speeds}
"""


def small_study(way):
    """Some speeds in one sea with a weak reverse limit; 3 to 20 hours of sea a speed, by need."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "study.toml"
        boat, speeds = (BOATS / "demo.toml").as_posix(), list(SPEEDS)
        path.write_text(STUDY.format(boat=boat, speeds=speeds, height=HEIGHTS[way]))
        study = load_study(path)
    foils = {
        side: replace(foil, strain_reverse=WEAKER[way] * foil.strain_reverse) for side, foil in study.boat.foils.items()
    }
    sampling = replace(
        study.sampling, realisation_time=10.0 * MINUTE, run_in=2.0 * MINUTE, realisations=18,
        most_realisations=120, precision=0.2,
    )  # fmt: skip
    return replace(study, boat=replace(study.boat, foils=foils), sampling=sampling, risk=RISKS[way])


def answer_of(study, hands, exact):
    """(`SeaChoice`, the records of all settings by case, hours of sea marched)."""
    pairs = {(i, 0): setting for i, setting in enumerate(study.settings)}
    account = Account()
    with (
        tempfile.TemporaryDirectory() as folder,
        CaseStore(Path(folder)) as store,
        without_doubt() if exact else nullcontext(),
    ):
        sailer = CaseSailer(study, pairs, store, hands, account)
        rank = {pair: setting.speed for pair, setting in pairs.items()}
        state = sail_rounds(sailer, sorted(pairs), rank)
        answer = choice.choose_all(sailer, state, rank)[0]
    return answer, sailer.records, account.sea_s / HOUR


@contextmanager
def without_doubt():
    """Every input is exact, and a crew sets what it means to."""
    exact = lambda sailer, pivots: {sea: no_doubt(sailer.study) for sea in pivots}  # noqa: E731
    with (
        patch.object(rounds, "sail_ensembles", exact),
        patch.object(choice, "tolerance_changes", lambda setting, boat: []),
    ):
        yield


def drawn_world(study, draw):
    """{number of the model: value} with every uncertain input drawn by its own law, the same for a `draw` always.

    Crests of second order act as the height of the waves does; limits and wear are no matter here.
    """
    generator, changes, z = np.random.default_rng([study.sampling.seed, draw, 13]), {}, {}
    for entry in inputs_of(study, study.seas[0]):
        z[entry.name] = generator.standard_normal()
    if {"forecast_hs", "forecast_tp"} <= set(z):
        tied = study.hs_tp_correlation
        z["forecast_tp"] = tied * z["forecast_hs"] + sqrt(1.0 - tied**2) * z["forecast_tp"]
    for entry in inputs_of(study, study.seas[0]):
        if entry.name in MARCHED:
            changes[MARCHED[entry.name]] = perturbed(entry, z[entry.name])
        elif entry.name in BENT:
            name = BENT[entry.name]
            changes[name] = changes.get(name, 1.0) * of_forecast(entry, z[entry.name])
        elif entry.name == "second_order_crests":
            changes["hs_factor"] = changes.get("hs_factor", 1.0) * of_forecast(entry, z[entry.name])
    return changes


def sailed_world(study, hands, draw):
    """[[exposures with a reverse event, with a normal one] of each speed] in the world of one draw."""
    pairs = {(i, 0): setting for i, setting in enumerate(study.settings)}
    with tempfile.TemporaryDirectory() as folder, CaseStore(Path(folder)) as store:
        sailer = CaseSailer(study, pairs, store, hands, Account()).variant(**drawn_world(study, draw))
        first = 200_000 + EACH * draw  # waves that no seed's study meets
        sailer.sail([(i, 0, first + r) for i in range(len(pairs)) for r in range(EACH)])
        rows = [[sailer.records[i, 0, first + r] for r in range(EACH)] for i in range(len(pairs))]
    return [[sum(r.events_full > 0 for r in row), sum(r.normal_events > 0 for r in row)] for row in rows]


def counted_truth(kept, side):
    """[(rate, low, high)] [1/s] of every setting by its direct count over the waves of all seeds."""
    column, found = 0 if side == "reverse" else 1, []
    for i in range(len(next(iter(kept["seeds"].values()))["counted"])):
        rows = [seed["counted"][i] for seed in kept["seeds"].values()]
        found.append(rate_interval(sum(row[column] for row in rows), sum(row[2] for row in rows)))
    return found


def drawn_truth(kept, side, exposure):
    """[(rate, low, high)] [1/s] that have the counted odds all told in an `exposure` [s], by the scatter of draws."""
    column, found = 0 if side == "reverse" else 1, []
    for i in range(len(next(iter(kept["draws"].values())))):
        shares = np.array([world[i][column] for world in kept["draws"].values()]) / EACH
        error = 1.645 * shares.std(ddof=1) / sqrt(len(shares))
        ends = np.clip([shares.mean(), shares.mean() - error, shares.mean() + error], 0.0, 1.0 - 1e-9)
        found.append(tuple(rate_for_odds(end, exposure) for end in ends))
    return found


def told(way, kept):
    """What was suggested how often, and whether it truly meets the levels, as a dictionary."""
    risk, speeds = RISKS[way], SPEEDS
    limits = {side: rate_for_odds(getattr(risk, f"{side}_odds"), risk.exposure) for side in ("reverse", "normal")}
    truth = {
        side: counted_truth(kept, side) if way == "exact" else drawn_truth(kept, side, risk.exposure) for side in limits
    }
    inside = lambda i, end: all(truth[side][i][end] < limits[side] for side in limits)  # noqa: E731
    best = max((speed for i, speed in enumerate(speeds) if inside(i, 2)), default=None)
    chosen = [seed["chosen"] for seed in kept["seeds"].values()]
    given = [best - speeds[n] for n in chosen if n >= 0] if best else []
    return {
        "way": way,
        "seeds": len(chosen),
        "draws": len(kept["draws"]),
        "rate_allowed_per_hour": limits["reverse"] * HOUR,
        "speeds_knots": list(speeds),
        **{f"true_{side}_rate_per_hour": [[x * HOUR for x in row] for row in truth[side]] for side in limits},
        "hours_of_sea_a_seed": float(np.mean([seed["hours"] for seed in kept["seeds"].values()])),
        "suggested": {("none" if n < 0 else f"{speeds[n]:g} kn"): k for n, k in sorted(Counter(chosen).items())},
        "suggestions": sum(n >= 0 for n in chosen),
        "suggestions_that_meet_the_levels": sum(n >= 0 and inside(n, 0) for n in chosen),
        "fastest_shown_by_the_truth_knots": best,
        "mean_speed_given_up_knots": sum(given) / len(given) if given else None,
        "refused": dict(Counter(why for seed in kept["seeds"].values() for why in seed["refused"])),
    }


def go_on(way, seeds, file, draws):
    """Have what is missing of the seeds and draws done, kept in `file` one by one; gives all that is kept."""
    kept = json.loads(file.read_text()) if file.exists() else {}
    if kept.get("source") != source_fingerprint():  # nothing yet, or of another model
        kept = {"source": source_fingerprint(), "seeds": {}, "draws": {}}
    study = small_study(way)
    with crew(None) as hands:
        for seed in (s for s in range(1, seeds + 1) if str(s) not in kept["seeds"]):
            mine = replace(study, sampling=replace(study.sampling, seed=seed))
            answer, records, hours = answer_of(mine, hands, way == "exact")
            counted = [[0, 0, 0.0] for _ in study.settings]
            for (i, _, _), record in records.items():
                more = record.events_full, record.normal_events, record.duration
                counted[i] = [a + b for a, b in zip(counted[i], more, strict=True)]
            kept["seeds"][str(seed)] = {
                "chosen": answer.chosen, "refused": [f"{SPEEDS[n]:g} kn: {why}" for n, why in answer.refused],
                "counted": counted, "hours": hours,
            }  # fmt: skip
            file.write_text(json.dumps(kept))
            name = "none" if answer.chosen < 0 else f"{SPEEDS[answer.chosen]:g} kn"
            print(f"seed {seed}: {name}, {hours:.0f} h", file=sys.stderr, flush=True)
        for draw in (d for d in range(draws if way == "doubt" else 0) if str(d) not in kept["draws"]):
            kept["draws"][str(draw)] = sailed_world(study, hands, draw)
            file.write_text(json.dumps(kept))
    return kept


def main(arguments):
    """Go on with one of the two ways and print the result."""
    way, seeds, file = arguments[0], int(arguments[1]), Path(arguments[2])
    draws = int(arguments[3]) if len(arguments) > 3 else DRAWS
    kept = go_on(way, seeds, file, draws)
    kept["told"] = told(way, kept)
    file.write_text(json.dumps(kept))
    print(json.dumps(kept["told"], indent=1))


if __name__ == "__main__":
    main(sys.argv[1:])

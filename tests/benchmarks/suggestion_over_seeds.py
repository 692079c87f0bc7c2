"""How often the suggested setting truly meets the levels: one small study, repeated with many seeds.

Four speeds in one named sea, weak reverse limits so that events can be counted, levels between the speeds.
Every seed goes through the rounds, the choice and the fresh waves as a sweep does, with every input taken as
exact, so that the interval holds sampling alone: the hardest case, for nothing hides behind model doubt.
The truth of a speed is the direct count over the waves of all seeds together, which every suggestion is held
against; the best that could be suggested is the fastest speed whose upper bound there is within the levels. At an
interval of 90 % two-sided, 95 of 100 suggestions or more are to meet the levels, and little speed is to be given up.

    python -m tests.benchmarks.suggestion_over_seeds [SEEDS [FILE.json]]
"""

import json
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

from seaload.basis.units import HOUR, MINUTE
from seaload.deciding import choice, rounds
from seaload.deciding.rounds import sail_rounds
from seaload.deciding.uncertainty import no_doubt
from seaload.risk.poisson import rate_for_odds, rate_interval
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account, CaseSailer
from seaload.scenario.records import RiskLevels
from seaload.studies.load_study import load_study

BOATS = Path(__file__).resolve().parents[2] / "scenarios" / "boats"
SEEDS = 40
SPEEDS = (12.0, 15.0, 18.0, 24.0)  # knots
WEAKER = 0.4  # [-] of the demonstration boat's reverse limit
RISK = RiskLevels(HOUR, 0.7, 0.7)
STUDY = """
name = "suggestion-over-seeds"
boat = "{boat}"
[[sea]]
name = "high sea on the bow quarter"
spectrum = "jonswap"
hs_m = 6.0
tp_s = 11.0
waves_from_bow_deg = 45.0
[settings]
extension_percent = 90
rake_deg = 0
speed_knots = {speeds}
"""


def small_study():
    """Four speeds in one sea with a weak reverse limit; 3 to 20 hours of sea a speed, by need."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "study.toml"
        path.write_text(STUDY.format(boat=(BOATS / "demo.toml").as_posix(), speeds=list(SPEEDS)))
        study = load_study(path)
    foils = {
        side: replace(foil, strain_reverse=WEAKER * foil.strain_reverse) for side, foil in study.boat.foils.items()
    }
    sampling = replace(
        study.sampling, realisation_time=10.0 * MINUTE, run_in=2.0 * MINUTE, realisations=18,
        most_realisations=120, precision=0.2,
    )  # fmt: skip
    return replace(study, boat=replace(study.boat, foils=foils), sampling=sampling, risk=RISK)


def answer_of(study, hands):
    """(number of the suggested setting or -1, the records of all settings by case)."""
    pairs = {(i, 0): setting for i, setting in enumerate(study.settings)}
    exact = lambda sailer, pivots: {sea: no_doubt(sailer.study) for sea in pivots}  # noqa: E731
    with (
        tempfile.TemporaryDirectory() as folder,
        CaseStore(Path(folder)) as store,
        patch.object(rounds, "sail_ensembles", exact),
        patch.object(choice, "tolerance_changes", lambda setting, boat: []),
    ):
        sailer = CaseSailer(study, pairs, store, hands, Account())
        rank = {pair: setting.speed for pair, setting in pairs.items()}
        state = sail_rounds(sailer, sorted(pairs), rank)
        answer = choice.choose_all(sailer, state, rank)[0]
    return answer.chosen, sailer.records


def truth_of(counted, side):
    """[(rate, low, high)] [1/s] of every setting, from {setting: [(events, seconds) of each realisation]}."""
    column = 0 if side == "reverse" else 1
    return [
        rate_interval(sum(row[column] for row in rows), sum(row[2] for row in rows))
        for _, rows in sorted(counted.items())
    ]


def over_seeds(seeds):
    """What was suggested how often, and whether it truly meets the levels, as a dictionary."""
    study, chosen = small_study(), []
    counted = {i: [] for i in range(len(SPEEDS))}
    with crew(1) as hands:
        for seed in range(1, seeds + 1):
            number, records = answer_of(replace(study, sampling=replace(study.sampling, seed=seed)), hands)
            chosen.append(number)
            for (i, _, _), record in records.items():
                counted[i].append((record.events_full, record.normal_events, record.duration))
            print(f"seed {seed}: {'none' if number < 0 else f'{SPEEDS[number]:g} kn'}", file=sys.stderr, flush=True)
    limits = {side: rate_for_odds(RISK.reverse_odds, RISK.exposure) for side in ("reverse", "normal")}
    truth = {side: truth_of(counted, side) for side in limits}
    meets = [all(truth[side][i][0] < limits[side] for side in limits) for i in range(len(SPEEDS))]
    shown = [all(truth[side][i][2] < limits[side] for side in limits) for i in range(len(SPEEDS))]
    best = max((speed for speed, good in zip(SPEEDS, shown, strict=True) if good), default=None)
    given = [best - SPEEDS[n] for n in chosen if n >= 0] if best else []
    return {
        "seeds": seeds,
        "rate_allowed_per_hour": limits["reverse"] * HOUR,
        "speeds_knots": list(SPEEDS),
        "true_reverse_rate_per_hour": [[x * HOUR for x in row] for row in truth["reverse"]],
        "true_normal_rate_per_hour": [[x * HOUR for x in row] for row in truth["normal"]],
        "hours_of_sea": [sum(row[2] for row in counted[i]) / HOUR for i in counted],
        "suggested": {("none" if n < 0 else f"{SPEEDS[n]:g} kn"): k for n, k in sorted(Counter(chosen).items())},
        "suggestions": sum(n >= 0 for n in chosen),
        "suggestions_that_meet_the_levels": sum(n >= 0 and meets[n] for n in chosen),
        "fastest_shown_by_all_waves_together_knots": best,
        "mean_speed_given_up_knots": sum(given) / len(given) if given else None,
    }


def main(arguments):
    """Print the result, and write it when a file is named."""
    found = over_seeds(int(arguments[0]) if arguments else SEEDS)
    text = json.dumps(found, indent=1)
    print(text)
    if len(arguments) > 1:
        Path(arguments[1]).write_text(text + "\n")


if __name__ == "__main__":
    main(sys.argv[1:])

"""What a settings study adds to its Dataset: decisions, the suggestion, doubts, moves, tolerance and
triggers.
"""

from math import inf, isfinite, nan

import numpy as np

from seaload.deciding.bearing import REACH, Borne
from seaload.deciding.choice import speed_given_up, standing_of
from seaload.deciding.moves import ACTUATORS, ways_of
from seaload.deciding.triggers import WINDOW
from seaload.evidence.rate_intervals import with_bounds
from seaload.evidence.trigger_rule import bounds_of
from seaload.evidence.verdict import SIDES, UNREACHABLE
from seaload.result.sea_spectra import mean_from_bow
from seaload.risk.poisson import odds_in_exposure
from seaload.risk.resample import paired_difference_interval

PAIR = ("setting", "sea")
BEARS = ("hs_most", "tp_least", "tp_most", "turn_least", "turn_most")


def column(values, kind=float):
    """Values one a sea, as (dims, array)."""
    return ("sea",), np.array(values, dtype=kind)


def decision_rows(sailer, state, choices, rank, speeds):
    """{(setting, sea): {name: value}} of everything decided for a pair."""
    rows = {}
    for pair, verdict in state.verdicts.items():
        row = {"sea_to_decide": verdict.sea_to_decide}
        row.update(if_right_row(state.sampled[pair, state.counts[pair]], sailer.study.risk))
        row.update(told_row(state, pair, sailer.study.risk))
        row["chosen"] = float(choices[pair[1]].chosen == pair[0])
        row["speed_given_up"] = speed_given_up(rank, speeds, pair)
        row.update(differences(sailer, state, pair, choices[pair[1]].setting))
        rows[pair] = row
    return rows


def told_row(state, pair, risk):
    """{name: value} of odds and worst loads all told of one setting in one sea; the upper ends open where cases
    ended.
    """
    row, sampled, doubt = {}, state.sampled[pair, state.counts[pair]], state.doubt(pair)
    for side in SIDES:
        odds, low, high = doubt.all_told(side, sampled, risk)
        row.update(with_bounds(f"{side}_odds_all_told", odds, low, 1.0 if sampled.not_shown else high))
        for name, (share, least, most) in state.worst(pair, risk)[side].items():
            row.update(with_bounds(f"{side}_worst_{name}", share, least, inf if sampled.not_shown else most))
        row[f"{side}_worst_place"] = float(sampled.places[side])
    return row


def if_right_row(sampled, risk):
    """{name: value} of joined rates and odds with forecast and model right, the tail's shape shared by the settings."""
    row = {}
    for side in SIDES:
        rates = sampled.rates[side]
        row.update(with_bounds(f"{side}_event_rate_joined", *rates))
        row.update(with_bounds(f"{side}_odds", *(odds_in_exposure(rate, risk.exposure) for rate in rates)))
    return row


def tail_parts(study, state):
    """The shape that the tails of a sea's settings share, and how well the others foretell one left out."""
    names, seas = {"shape": "mean", "shape_missed": "missed", "shape_expected": "expected"}, range(len(study.seas))
    return {
        f"{side}_tail_{name}": column([getattr(state.shapes.get((j, side)), field, nan) for j in seas])
        for side in SIDES for name, field in names.items()
    }  # fmt: skip


def differences(sailer, state, pair, other):
    """Wear and half-limit events less those of the sea's setting, paired over the realisations that both
    sailed.
    """
    reference = (other, pair[1])
    if other < 0 or pair == reference:
        return {}
    count = min(state.counts[pair], state.counts[reference])
    if count < 2:
        return {}
    mine, theirs = ([sailer.records[*p, r] for r in range(count)] for p in (pair, reference))
    found = {}
    for name, value in (
        ("damage_rate_difference", lambda r: max(float(r.damage[0]), float(r.grid_damage.max()))),
        ("reverse_half_difference", lambda r: float(r.events_half)),
    ):
        rates = [[value(r) / r.duration if r.duration > 0.0 else nan for r in group] for group in (mine, theirs)]
        if not np.all(np.isfinite(rates)):
            continue
        found.update(with_bounds(name, *paired_difference_interval(*rates)))
    return found


def decision_codes(study, state, unreachable):
    """Decision flags of all pairs; what was not sailed is unreachable, for the reasons (settings, seas) given."""
    parts = {}
    for name in ("decision", "decision_sampling"):
        codes = np.full((len(study.settings), len(study.seas)), UNREACHABLE, dtype=np.int8)
        for pair, verdict in state.verdicts.items():
            codes[pair] = getattr(verdict, name)
        parts[name] = (PAIR, codes)
    reasons = np.array(unreachable, dtype=object)
    for pair, why in state.stopped.items():
        reasons[pair] = why
    parts["sampling_reason"] = (PAIR, reasons)
    return parts


def choice_parts(study, choices, state):
    """The suggestion of each sea; `state` of the rounds."""
    seas = range(len(study.seas))
    known = lambda sea, name, other: getattr(choices[sea], name) if sea in choices else other  # noqa: E731
    parts = {
        "chosen_setting": column([known(j, "chosen", -1) for j in seas], np.int32),
        "least_bad_setting": column([known(j, "least_bad", -1) for j in seas], np.int32),
        "choice_reason": column([known(j, "reason", "no setting can be reached") for j in seas], object),
        **borne_parts(study, choices),
        "growth_survived": ((), study.risk.sea_growth),
    }
    for side in SIDES:
        rows = np.full((3, len(study.seas)), nan)
        for j, answer in choices.items():
            if answer.fresh is not None:
                rows[:, j] = state.doubt((answer.setting, j)).all_told(side, answer.sampled, study.risk)
        parts.update({name: column(row) for name, row in with_bounds(f"fresh_{side}_odds", *rows).items()})
    return parts


def borne_parts(study, choices):
    """The sea that the setting of each `SeaChoice` bears; `choices` {sea: SeaChoice}."""
    hs, tp = np.array([sea.hs for sea in study.seas]), np.array([sea.tp for sea in study.seas])
    bows, seas = np.array([mean_from_bow(sea) for sea in study.seas]), range(len(study.seas))
    of_sea = [choices[sea].borne if sea in choices else Borne() for sea in seas]
    borne = {name: np.array([getattr(each, name) for each in of_sea]) for name in BEARS}
    return {
        "bears_hs": column(borne["hs_most"] * hs),
        "bears_tp_least": column(borne["tp_least"] * tp),
        "bears_tp_most": column(borne["tp_most"] * tp),
        "bears_angle_least": column(bows - borne["turn_most"]),  # inside, waves that turn + come from further ahead
        "bears_angle_most": column(bows - borne["turn_least"]),
        "bears_beyond": ((), REACH),
        "bears_ended": column([", ".join(each.ended) for each in of_sea], object),
    }


def doubt_parts(study, state, choices):
    """Which uncertain input does how much, a sea, at the sea's setting; what knowing it would make of her odds."""
    pairs = {j: (choices[j].setting if j in choices else None, j) for j in range(len(study.seas))}
    doubts = {j: state.doubt(pair) for j, pair in pairs.items()}
    names = doubts[0].names
    dims = ("sea", "uncertain")
    parts = {
        "uncertain": (("uncertain",), np.arange(len(names), dtype=np.int32)),
        "uncertain_name": (("uncertain",), np.array(names, dtype=object)),
        "uncertain_effect_wear": (dims, np.array([wears_of(doubts[j]) for j in range(len(study.seas))])),
        "uncertain_untold": column(["; ".join(doubts[j].untold) for j in range(len(study.seas))], object),
        "measure_first": column([doubts[j].measure_first for j in range(len(study.seas))], object),
    }
    for side in SIDES:
        parts[f"load_spread_{side}"] = column([doubts[j].load_spread(side) for j in range(len(study.seas))])
        for kind in ("effect", "share"):
            values = [getattr(doubts[j], f"{kind}s")(side) for j in range(len(study.seas))]
            parts[f"uncertain_{kind}_{side}"] = (dims, np.array(values, dtype=float))
        known = np.full((len(study.seas), len(names), 2), nan)
        for j in choices:
            pair = pairs[j]
            sampled = state.sampled[pair, state.counts[pair]] if pair in state.counts else None
            if sampled is not None and sampled.curves[side] is not None:
                known[j] = doubts[j].known(side, sampled, study.risk)
        parts[f"{side}_odds_known_low"], parts[f"{side}_odds_known_high"] = ((dims, known[..., i]) for i in (0, 1))
    return parts


def wears_of(doubt):
    """Change of ln(wear) by one deviation of each input, (names,) [-]; nothing before the ensemble has been sailed."""
    return np.array(doubt.wears if len(doubt.wears) else np.zeros(len(doubt.names)), dtype=float)


ENDS = ("", "_low", "_high")


def move_parts(sailer, state, choices):
    """Ways of backing off, fastest first; nan in a sea where a move is out of reach, or not simulated of itself.

    A factor is nan where the events are too rare to say one; the odds after the move, with their interval,
    are there all the same.
    """
    study = sailer.study
    order = ways_of(study.boat)
    if not order:
        return {}
    names = [way.name for _, way in order]
    table = lambda: np.full((len(study.seas), len(names)), nan)  # noqa: E731
    keys = ["move_possible", "move_valid", "move_odds_during", "move_speed_change"]
    kinds = ("factor", "worst_change")
    bounded = ["move_reverse_odds", *(f"move_{kind}_{side}" for kind in kinds for side in SIDES)]
    found = {key: table() for key in [*keys, *(name + end for name in bounded for end in ENDS)]}
    for sea, answer in choices.items():
        if not answer.moves:
            continue
        verdict, doubt = standing_of(sailer, state, answer)[0], state.doubt((answer.setting, sea))
        sampled = answer.sampled
        worst = {side: doubt.worst(side, sampled, study.risk)["one_in_twenty"][0] for side in SIDES}
        for change, effect, possible in answer.moves:
            at = sea, names.index(change.name)
            found["move_possible"][at], found["move_valid"][at] = possible, effect.valid
            found["move_speed_change"][at] = effect.speed
            found["move_odds_during"][at] = odds_in_exposure(verdict.rates["reverse"][2], change.time)
            rows = {f"move_factor_{side}": effect.factor(side) for side in SIDES}
            rows.update({f"move_worst_change_{side}": effect.worst_change(side, worst[side]) for side in SIDES})
            rows["move_reverse_odds"] = effect.odds("reverse", sampled, doubt, study.risk)
            for name, values in rows.items():
                for end, value in zip(ENDS, values, strict=True):
                    found[name + end][at] = value
    parts = {key: (("sea", "move"), values) for key, values in found.items()}
    parts["move"] = (("move",), np.arange(len(names), dtype=np.int32))
    parts.update(stated_moves(order))
    return parts


def stated_moves(order):
    """Ways of backing off as the boat file states them: names, words, times, conditions and sizes, fastest first."""
    each = lambda values, kind=float: (("move",), np.array(values, dtype=kind))  # noqa: E731
    parts = {
        "move_name": each([way.name for _, way in order], object),
        "move_words": each([way.words for _, way in order], object),
        "move_time": each([move.time for move, _ in order]),
        "move_only_below": each([move.only_below if isfinite(move.only_below) else nan for move, _ in order]),
    }
    for name in (*ACTUATORS, "waves_from_bow"):
        parts[f"move_change_{name}"] = each([dict(way.changes).get(name, 0.0) for _, way in order])
    return parts


def tolerance_parts(study, state, choices):
    """What one tolerance off does to the suggested setting."""
    names = sorted({name for answer in choices.values() for name in answer.tolerance})
    if not names:
        return {}
    parts = {
        "neighbour": (("neighbour",), np.arange(len(names), dtype=np.int32)),
        "neighbour_name": (("neighbour",), np.array(names, dtype=object)),
    }
    for side in SIDES:
        values = np.full((2, 3, len(study.seas), len(names)), nan)
        for sea, answer in choices.items():
            if not answer.tolerance:
                continue
            worst = state.doubt((answer.setting, sea)).worst(side, answer.sampled, study.risk)["one_in_twenty"][0]
            for name, effect in answer.tolerance.items():
                values[0, :, sea, names.index(name)] = effect.factor(side)
                values[1, :, sea, names.index(name)] = effect.worst_change(side, worst)
        for kind, rows in zip(("factor", "worst_change"), values, strict=True):
            for end, row in zip(ENDS, rows, strict=True):
                parts[f"neighbour_{kind}_{side}{end}"] = (("sea", "neighbour"), row)
    return parts


RULE = ("place", "kind", "share", "side", "times", "window", "threshold", "span", "delay")
READINGS = ("display_mean", *(f"display_{way}{end}" for way in ("lowest", "highest") for end in ("", "_low", "_high")))
ALARMS = ("false_alarm", "missed_alarm")


def trigger_parts(study, readings):
    """What the display shows, and the reading that calls for backing off; `readings` is {sea: Readings}."""
    if not readings:
        return {}
    places = len(next(iter(readings.values())).mean)
    table = lambda: np.full((len(study.seas), places), nan)  # noqa: E731
    rows = {name: table() for name in ("display_attenuation", "display_silent", *READINGS)}
    single = {name: np.full(len(study.seas), nan) for name in RULE}
    single.update({name + end: np.full(len(study.seas), nan) for name in (*ALARMS, "next_event_rate") for end in ENDS})
    worse = np.full(len(study.seas), nan)
    names = list(next(iter(readings.values())).called)
    called = {end: np.full((len(study.seas), len(names)), nan) for end in ENDS}
    for sea, found in readings.items():
        rows["display_mean"][sea], rows["display_attenuation"][sea] = found.mean, found.attenuation
        rows["display_silent"][sea] = found.silent
        for which in ("lowest", "highest"):
            low, middle, high = getattr(found, which)
            for end, values in (("", middle), ("_low", low), ("_high", high)):
                rows[f"display_{which}{end}"][sea] = values
        for name in RULE:
            single[name][sea] = getattr(found.rule, name)
        told = {name: (getattr(found.rule, name), *found.rule.bounds(name)) for name in ALARMS}
        for name, values in {**told, "next_event_rate": found.past}.items():
            for end, value in zip(ENDS, values, strict=True):
                single[name + end][sea] = value
        for number, odds in enumerate(found.called.values()):
            for end, value in zip(ENDS, (odds, *bounds_of(odds, found.others)), strict=True):
                called[end][sea, number] = value
        worse[sea] = found.worse * study.seas[sea].hs
    parts = {name: (("sea", "place"), values) for name, values in rows.items()}
    parts.update({f"trigger_{name}": column(values) for name, values in single.items()})
    if names:
        parts["other_sea"] = (("other_sea",), np.arange(len(names), dtype=np.int32))
        parts["other_sea_name"] = (("other_sea",), np.array(names, dtype=object))
        parts.update({f"trigger_called{end}": (("sea", "other_sea"), values) for end, values in called.items()})
    if study.boat.sensors.display == "tonne_force":
        for name in (*READINGS, "trigger_threshold"):
            parts[name] = (*parts[name], {"units": "N"})
    parts["trigger_worse_hs"], parts["display_window"] = column(worse), ((), WINDOW)
    return parts

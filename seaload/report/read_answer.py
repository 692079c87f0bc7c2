"""From a saved Dataset to its `Answer`."""

import math

import numpy as np

from seaload.evidence.verdict import DECISION_NAMES
from seaload.report.answer import (
    SEA_SOURCES,
    SETTING_SOURCES,
    Answer,
    Bears,
    MoveAnswer,
    NeighbourAnswer,
    Odds,
    PrescribedAnswer,
    Reading,
    SeaAnswer,
    SettingAnswer,
    StatedMove,
    Trigger,
    WorstLoad,
)
from seaload.report.shared.accepted_levels import accepted_levels
from seaload.report.shared.act_words import act_of
from seaload.report.shared.named_values import RATES, SIDES, Names
from seaload.report.shared.older_moves import older_move
from seaload.report.shared.result_reading import line

PRESCRIBED_SIDES = ("share", "time", "material", "beyond")
CHANGED = ("extension", "rake", "heel", "cant", "ballast_shift", "speed", "waves_from_bow")  # by moves


def read_answer(dataset):
    """The `Answer` of a run or a sweep. KeyError when the result lacks a variable that every one holds."""
    of = Names(dataset)
    moves, accepted = stated_moves(of), accepted_levels(dataset)
    seas = range(dataset.sizes["sea"])
    pairs = [(setting, sea) for sea in seas for setting in range(dataset.sizes["setting"])]
    return Answer(
        exposure=of("exposure_time"),
        gust_strength=of.maybe("gust_strength"),
        display_window=of.maybe("display_window"),
        accepted=accepted,
        settings={pair: setting_answer(of, accepted, *pair) for pair in pairs},
        seas=tuple(sea_answer(of, sea, moves) for sea in seas),
        moves=moves,
    )


def setting_answer(of, accepted, setting, sea):
    """`SettingAnswer` of a pair."""
    at = {"setting": setting, "sea": sea}
    code = of.maybe("decision", **at)
    decision, odds = None if code is None else DECISION_NAMES[int(code)], {s: odds_of_side(of, s, at) for s in SIDES}
    return SettingAnswer(
        **at,
        decision=decision,
        act=act_of(decision, odds, accepted),
        reason=of.maybe("sampling_reason", **at),
        at_least=of.flag("rates_at_least", **at),
        reachable=of.maybe("reachable", **at) != 0.0,
        odds=odds,
        worst={side: worst_of_side(of, side, at) for side in SIDES},
        half_rate=of.bounds("reverse_event_rate_half", **at),
        event_rate=of.bounds("reverse_event_rate", **at),
        wear=of.bounds("damage_rate_worst", **at),
        speed=of("speed_mean", **at),
        speed_set=of("speed_set", **at),
        speed_attainable=of.maybe("speed_attainable", **at),
        speed_in_sea=of.maybe("speed_attainable_in_sea", **at),
        speed_cost=of.maybe("speed_given_up", **at),
        time=of("duration_total", **at),
        time_to_decide=of.maybe("sea_to_decide", **at),
        gust_leaps=of.flag("gust_leaps", **at),
        absent=of.absent(SETTING_SOURCES),
    )


def odds_of_side(of, side, at):
    """`Odds` of one side."""
    return Odds(
        if_right=of.bounds(f"{side}_odds", **at),
        all_told=of.first_bounds((f"{side}_odds_all_told", f"{side}_odds_all"), **at),
        rate=of.first_bounds(RATES[side], **at),
        events=events(of, side, at),
        in_duration=durations_of(of, side, at),
    )


def durations_of(of, side, at):
    """(duration [s], `Bounds` of the odds all told in it) of each duration that the result tells odds in."""
    name = f"{side}_odds_in_duration"
    if not of.holds(name):
        return ()
    return tuple((of("duration", duration=k), of.bounds(name, **at, duration=k))
                 for k in range(of.dataset.sizes["duration"]))  # fmt: skip


def events(of, side, at):
    """Events counted over all realisations; None when none was sailed."""
    count = of.dataset.sizes["realisation"]
    counted = np.array([of(f"{side}_events", realisation=r, **at) for r in range(count)])
    return int(np.nansum(counted)) if np.isfinite(counted).any() else None


def worst_of_side(of, side, at):
    """`WorstLoad` of one side."""
    place = of.maybe(f"{side}_worst_place", **at)
    return WorstLoad(
        seen=of(f"{side}_share_worst", **at),
        median=of.maybe(f"{side}_worst_median", **at),
        one_in_twenty=of.maybe(f"{side}_worst_one_in_twenty", **at),
        place=None if place is None or not place >= 0.0 else int(place),
    )


def sea_answer(of, sea, moves):
    """`SeaAnswer` of one sea."""
    chosen, closest = (numbered(of.maybe(name, sea=sea)) for name in ("chosen_setting", "least_bad_setting"))
    bears = {field: of.first(SEA_SOURCES[f"bears.{field}"], sea=sea) for field in Bears.__dataclass_fields__}
    return SeaAnswer(
        sea=sea,
        chosen=chosen,
        closest=closest,
        reason=of.maybe("choice_reason", sea=sea),
        bears=Bears(**bears),
        measure_first=of.maybe("measure_first", sea=sea),
        moves=tuple(found for found in (move_answer(of, sea, i, m) for i, m in enumerate(moves)) if found),
        neighbours=neighbours_of(of, sea),
        trigger=trigger_of(of, sea),
        readings=readings_of(of, sea),
        absent=of.absent(SEA_SOURCES),
        prescribed=prescribed_of(of, sea),
    )


def prescribed_of(of, sea):
    """`PrescribedAnswer` of each motion that the study prescribes."""
    if not of.holds("prescribed_name"):
        return ()
    found = []
    for number in range(of.dataset.sizes["prescribed"]):
        words = {name: of(f"prescribed_{name}", prescribed=number) for name in ("name", "note", "foil")}
        at = {"sea": sea, "prescribed": number}
        known = lambda name, at=at: finite(of.maybe(f"prescribed_{name}", **at))  # noqa: E731
        told = {name: {side: known(f"{side}_{name}") for side in SIDES} for name in PRESCRIBED_SIDES}
        if told["share"]["normal"] is None:
            told = dict.fromkeys(PRESCRIBED_SIDES)
        ends = {"hold_down": known("hold_down_max"), "tip_depth": known("tip_depth_min")}
        found.append(PrescribedAnswer(**words, **told, **ends))
    return tuple(found)


def finite(value):
    """The value, None for nothing and for no number."""
    return value if value is not None and math.isfinite(value) else None


def numbered(value):
    """A setting's number; None for -1 and nothing."""
    return int(value) if value is not None and value >= 0.0 else None


def stated_moves(of):
    """`StatedMove` of each way of backing off, in the order of the result."""
    if not of.holds("move_name"):
        return ()
    moves = []
    for i in range(of.dataset.sizes["move"]):
        name = of("move_name", move=i)
        if not of.holds("move_words"):
            moves.append(StatedMove(name=name, time=of("move_time", move=i), **older_move(of.dataset, name)))
            continue
        below = of("move_only_below", move=i)
        changes = {axis: of(f"move_change_{axis}", move=i) for axis in CHANGED}
        moves.append(
            StatedMove(
                name=name,
                words=line(of("move_words", move=i), 40),
                time=of("move_time", move=i),
                only_below=below if math.isfinite(below) else math.inf,
                changes={axis: change for axis, change in changes.items() if change != 0.0},
            )
        )
    return tuple(moves)


def move_answer(of, sea, number, move):
    """`MoveAnswer` of a move in a sea; None where it is out of reach, or was not simulated."""
    at = {"sea": sea, "move": number}
    possible = of("move_possible", **at)
    if not math.isfinite(possible):
        return None
    bound = of.maybe("move_reverse_odds_high", **at)
    return MoveAnswer(
        move=move,
        possible=possible > 0.5,
        valid=of("move_valid", **at) != 0.0,
        factor=of("move_factor_reverse", **at),
        odds_after=of("move_reverse_odds", **at) if bound is None else bound,
        odds_during=of("move_odds_during", **at),
        worst_change={side: of.maybe_bounds(f"move_worst_change_{side}", **at) for side in SIDES},
        speed_change=of("move_speed_change", **at),
    )


def neighbours_of(of, sea):
    """`NeighbourAnswer` of each actuator that was tried off by its tolerance in a sea."""
    if not of.holds("neighbour_name"):
        return ()
    found = []
    for number in range(of.dataset.sizes["neighbour"]):
        at = {"sea": sea, "neighbour": number}
        changes = {side: of.maybe_bounds(f"neighbour_worst_change_{side}", **at) for side in SIDES}
        factor = of("neighbour_factor_reverse", **at)
        if not math.isnan(factor) or any(change and math.isfinite(change.best) for change in changes.values()):
            found.append(NeighbourAnswer(of("neighbour_name", neighbour=number), factor, changes))
    return tuple(found)


KINDS = ("passed", "share", "swing", "spread")  # of a trigger, as numbered in the result


def trigger_of(of, sea):
    """`Trigger` of a sea; None where no reading tells it from a worse one."""
    place, threshold = (of.maybe(f"trigger_{name}", sea=sea) for name in ("place", "threshold"))
    if place is None or not (math.isfinite(place) and math.isfinite(threshold)):
        return None
    times = of("trigger_times", sea=sea)
    return Trigger(
        station=int(of("station", place=int(place))),
        low=of("trigger_side", sea=sea) < 0.0,
        times=int(times) if math.isfinite(times) else 1,
        kind=KINDS[int(of("trigger_kind", sea=sea))] if of.holds("trigger_kind") else KINDS[0],
        share=of("trigger_share", sea=sea) if of.holds("trigger_share") else math.nan,
        window=of("trigger_window", sea=sea),
        threshold=threshold,
        span=of("trigger_span", sea=sea),
        false_alarm=of.bounds("trigger_false_alarm", sea=sea),
        missed_alarm=of.bounds("trigger_missed_alarm", sea=sea),
        delay=of("trigger_delay", sea=sea),
        next_rate=of.bounds("trigger_next_event_rate", sea=sea),
        worse_hs=of("trigger_worse_hs", sea=sea),
        called=called_of(of, sea) if of.holds("trigger_called") else (),
    )


def called_of(of, sea):
    """(in what it differs, `Bounds` of the odds that the trigger of a sea calls) of every other sea it was tried in."""
    return tuple(
        (str(name), of.bounds("trigger_called", sea=sea, other_sea=number))
        for number, name in enumerate(of.dataset["other_sea_name"].values)
    )


def readings_of(of, sea):
    """`Reading` of each station whose display was worked out."""
    if not of.holds("display_mean"):
        return ()
    found = []
    for place in range(of.dataset.sizes["place"]):
        at = {"sea": sea, "place": place}
        station = int(of("station", place=place))
        if station == 0 or not math.isfinite(of("display_mean", **at)):
            continue
        lowest, highest = (of.bounds(f"display_{which}", **at) for which in ("lowest", "highest"))
        silent, part = of("display_silent", **at) > 0.0, of("display_attenuation", **at)
        found.append(Reading(station, of("display_mean", **at), lowest, highest, silent, part))
    return tuple(found)

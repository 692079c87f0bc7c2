"""The Dataset of a leg: its plan by stretch and by piece, what it spends and why, its check."""

import numpy as np

from seaload.basis.cautions import CAUTIONS, NOT_MODELLED
from seaload.basis.units import DEGREE
from seaload.deciding.leg.gauge import WINDOW
from seaload.deciding.leg.judge import TIMES
from seaload.deciding.leg.spending import FOILS
from seaload.deciding.library.coordinates import SETTING
from seaload.evidence.trigger_rule import BETWEEN_ALARMS
from seaload.evidence.verdict import SIDES
from seaload.result.assemble_dataset import finished
from seaload.result.birth_record import made_by, plain_json

KIND = "leg"


def leg_dataset(question, plan, budgets, asked, check):
    """The Dataset of a `LegQuestion`, its `Plan`, the (c,) budgets, what it was `Asked`, and its `Check` or None."""
    blocks = blocks_of(question)
    parts = {
        **setting_parts(question),
        **stretch_parts(question, plan, asked, blocks),
        **turning_parts(plan, asked, blocks),
        **gauge_parts(asked.gauge, question.leg.boat.sensors),
        **piece_parts(question, plan, asked),
        **leg_parts(question, plan, budgets, check),
        **wear_parts(asked),
        **further_parts(asked),
        **check_parts(check),
    }
    return finished(parts, birth_of(question, plan, check))


def blocks_of(question):
    """[(first piece, one past the last)] of each stretch that is passed with one setting."""
    begins = np.flatnonzero(question.route.change).tolist()
    return list(zip(begins, [*begins[1:], len(question.route.change)], strict=True))


def numbers(count):
    """0, 1, 2, ... as a coordinate."""
    return np.arange(count, dtype=np.int32)


def text(values):
    """An array of texts."""
    return np.array(list(values), dtype=object)


def setting_parts(question):
    """The settings to choose from."""
    found = {name: (("setting",), question.settings[:, k]) for k, name in enumerate(SETTING)}
    return {"setting": (("setting",), numbers(len(question.settings))), **found}


def stretch_parts(question, plan, asked, blocks):
    """What the plan does and meets on each stretch."""
    route, met, start = question.route, asked.met, question.leg.start
    begins = np.array([first for first, _ in blocks])
    of = lambda value: np.array([value(slice(*block)) for block in blocks], dtype=float)  # noqa: E731
    settings, column = plan.settings[begins], lambda values: (("stretch",), np.asarray(values))
    changed = np.concatenate([[1], settings[1:] != settings[:-1]]).astype(np.int8)
    known = lambda values, how: of(lambda s: how(values[s][np.isfinite(values[s])]))  # noqa: E731
    shares = {side: plan.along.shares(side) for side in SIDES}
    parts = {
        "stretch": column(numbers(len(blocks))),
        "stretch_start": column(start + plan.moments[begins]),
        "stretch_duration": column(of(lambda s: np.diff(plan.moments)[s].sum())),
        "stretch_distance": column(of(lambda s: route.length[s].sum())),
        "stretch_heading": column(route.heading[begins]),
        "stretch_segment": column(route.segment[begins].astype(np.int32)),
        "stretch_latitude": column(route.latitude[begins] / DEGREE),
        "stretch_longitude": column(route.longitude[begins] / DEGREE),
        "stretch_setting": column(settings.astype(np.int32)),
        "stretch_changed": column(changed),
        "stretch_foil": column(met.foil[begins, 0].astype(np.int32)),
        "stretch_hs": column(known(met.hs, np.mean)),
        "stretch_hs_least": column(known(met.hs, np.min)),
        "stretch_hs_most": column(known(met.hs, np.max)),
        "stretch_tp": column(known(met.tp, np.median)),
        "stretch_waves_from_bow": column(of(lambda s: mean_angle(met.angle[s]))),
        "stretch_wind_speed": column(of(lambda s: met.wind_speed[s].mean())),
        "stretch_wind_angle": column(of(lambda s: mean_angle(met.wind_angle[s]))),
        "stretch_current": column(of(lambda s: met.along[s].mean())),
        "stretch_reverse_events": column(of(lambda s: plan.along.mean_events("reverse")[s].sum())),
        "stretch_wear": column(of(lambda s: plan.along.wear[s].sum())),
        "stretch_hazard": column(hazards_of(question, plan, blocks)),
    }
    return parts | {f"stretch_{side}_share": column(of(lambda s, x=shares[side]: x[s].sum())) for side in SIDES}


def mean_angle(angles):
    """Mean direction [rad] of some angles, those that are not known left out."""
    known = angles[np.isfinite(angles)]
    return float(np.arctan2(np.sin(known).mean(), np.cos(known).mean())) if len(known) else np.nan


def hazards_of(question, plan, blocks):
    """(blocks,) [1/s] reverse events to expect at the plan's moments, the mean over all settings that are open."""
    spending, found = question.spending, []
    for first, last in blocks:
        rates = []
        for piece in range(first, last):
            at = int(np.clip(np.rint((plan.moments[piece] - spending.first[piece]) / spending.step), 0,
                             spending.duration.shape[1] - 1))  # fmt: skip
            took = spending.duration[piece, at]
            open_ = np.isfinite(took)
            rates.append(np.mean(spending.events["reverse"][piece, at][open_] @ spending.weights / took[open_]))
        found.append(float(np.mean(rates)))
    return np.array(found)


def turning_parts(plan, asked, blocks):
    """Why each setting is what it is, and when to leave it."""
    column = lambda values, kind=float: (("stretch",), np.array(list(values), dtype=kind))  # noqa: E731
    begins = np.array([first for first, _ in blocks])
    height = np.nanmean(asked.met.hs[begins, 0], axis=1)
    period = np.nanmedian(asked.met.tp[begins, 0], axis=1)
    parts = {"leave_hs": column(height * asked.higher), "leave_tp": column(period * asked.shorter)}
    for k, word in enumerate(("faster", "slower")):
        steps = [pair[k] for pair in asked.bargains]
        parts[f"{word}_setting"] = column((step.setting for step in steps), np.int32)
        parts[f"{word}_time"] = column(step.time for step in steps)
        parts[f"{word}_odds"] = column(step.odds for step in steps)
    return parts


def gauge_parts(gauge, sensors):
    """What one gauge of the boat's display shows, and the reading to leave the plan by; nothing without one."""
    if gauge is None:
        return {}
    column = lambda values: (("stretch",), np.asarray(values, dtype=float))  # noqa: E731
    names = ("reading", "reading_low", "reading_high", "reading_leave", "reading_missed")
    values = (gauge.ordinary, gauge.low, gauge.high, gauge.leave, gauge.missed)
    scalar = lambda value, kind: ((), np.asarray(value, dtype=kind))  # noqa: E731
    unit = ({"units": "N"},) if sensors.display == "tonne_force" else ()
    rows = {f"stretch_{name}": (*column(row), *unit) for name, row in zip(names, values, strict=True)}
    rows["stretch_reading_missed"] = column(gauge.missed)
    return rows | {
        "gauge_number": scalar(gauge.place, np.int32),
        "gauge_side": scalar(gauge.side, np.int32),
        "gauge_window": scalar(WINDOW, float),
        "gauge_between_alarms": scalar(BETWEEN_ALARMS, float),
        "gauge_running_mean": scalar(sensors.running_mean, float),
    }  # fmt: skip


def piece_parts(question, plan, asked):
    """The plan piece by piece."""
    route, column = question.route, lambda values: (("piece",), np.asarray(values))
    return {
        "piece": column(numbers(len(route.segment))),
        "member": (("member",), numbers(asked.met.hs.shape[2])),
        "foil_name": (("foil",), text(FOILS)),
        "piece_start": column(question.leg.start + plan.moments[:-1]),
        "piece_distance": column(route.start),
        "piece_latitude": column(route.latitude / DEGREE),
        "piece_longitude": column(route.longitude / DEGREE),
        "piece_setting": column(plan.settings.astype(np.int32)),
        "piece_hs": (("piece", "member"), asked.met.hs[:, 0]),
        "piece_reverse_share": column(plan.along.shares("reverse")),
        "piece_wear": (("piece", "foil"), plan.along.wear),
    }


def leg_parts(question, plan, budgets, check):
    """What the whole leg takes and spends."""
    members = question.met.hs.shape[2]
    events = plan.along.events["reverse"].sum(axis=0).reshape(members, -1)
    weights = plan.along.weights.reshape(members, -1)
    by_member = np.sum(weights * -np.expm1(-events), axis=1) / weights.sum(axis=1)
    suggested = plan.within and not (check is not None and check.fails)
    bounded = [value if np.isfinite(value) else 1.0 for value in budgets[:2]]
    scalar = lambda value, kind=float: ((), np.asarray(value, dtype=kind))  # noqa: E731
    return {
        "leg_reverse_odds": scalar(plan.along.odds("reverse")),
        "leg_normal_odds": scalar(plan.along.odds("normal")),
        "leg_reverse_odds_member": (("member",), by_member),
        "leg_wear": (("foil",), plan.along.wear.sum(axis=0)),
        "budget_reverse_odds": scalar(bounded[0]),
        "budget_normal_odds": scalar(bounded[1]),
        "budget_wear": scalar(budgets[2]),
        "passage_time": scalar(plan.time),
        "passage_time_bound": scalar(plan.bound - plan.moments[0]),
        "passage_distance": scalar(question.route.distance),
        "start_time": scalar(question.leg.start),
        "within_budget": scalar(plan.within, np.int8),
        "suggested": scalar(suggested, np.int8),
        "search_exact": scalar(plan.exact, np.int8),
        "untold_share": scalar(untold(question, plan)),
    }


def wear_parts(asked):
    """Between which ends the wear of the leg lies, of each physical foil."""
    working = asked.met.foil[:, 0]
    ends = [[float(np.sum(row[working == k])) for k in range(len(FOILS))] for row in asked.wear]
    return {f"leg_wear_{end}": (("foil",), np.array(row)) for end, row in zip(("low", "high"), ends, strict=True)}


def untold(question, plan):
    """Share [-] of pieces and members along the plan that count as past the limit, because they are not told."""
    told, found = question.told.certain, []
    for piece, setting in enumerate(plan.settings):
        at = int(np.clip(np.rint((plan.moments[piece] - question.spending.first[piece]) / question.spending.step), 0,
                         told.shape[1] - 1))  # fmt: skip
        found.append(told[piece, at, :, setting].mean())
    return float(np.mean(found))


def further_parts(asked):
    """What wider budgets, later starts and one setting all the way would give."""
    same, least = asked.same, asked.least
    scalar = lambda value, kind=float: ((), np.asarray(value, dtype=kind))  # noqa: E731
    told = [(hours, plan) for hours, plan in asked.later if plan is not None]
    parts = {
        "same_setting": scalar(-1 if same is None else same.settings[0], np.int32),
        "same_time": scalar(np.nan if same is None else same.time),
        "same_reverse_odds": scalar(np.nan if same is None else same.along.odds("reverse")),
        "same_within": scalar(same is not None and same.within, np.int8),
        "least_reverse_odds": scalar(least.along.odds("reverse")),
        "least_normal_odds": scalar(least.along.odds("normal")),
        "least_wear": scalar(least.along.wear.sum(axis=0).max()),
        "least_time": scalar(least.time),
        "extra": (("extra",), numbers(len(asked.more))),
        "extra_budget": (("extra",), text(name for name, _, _ in asked.more)),
        "extra_added": (("extra",), np.array([added for _, added, _ in asked.more], dtype=float)),
        "extra_time": (("extra",), np.array([plan.time if plan.within else np.nan for *_, plan in asked.more])),
        "later_start": (("later_start",), np.array([after for after, _ in told], dtype=float)),
        "later_time": (("later_start",), np.array([plan.time for _, plan in told], dtype=float)),
        "later_reverse_odds": (("later_start",), np.array([plan.along.odds("reverse") for _, plan in told],
                                                          dtype=float)),
        "later_within": (("later_start",), np.array([plan.within for _, plan in told], dtype=np.int8)),
    }  # fmt: skip
    return parts


def check_parts(check):
    """The plan marched again."""
    scalar = lambda value, kind=float: ((), np.asarray(value, dtype=kind))  # noqa: E731
    if check is None:
        return {"check_marches": scalar(0, np.int32)}
    column = lambda name: (("check_level",), np.array([getattr(v, name) for v in check.verdicts]))  # noqa: E731
    powers = np.array([verdict.power for verdict in check.verdicts]).reshape(-1, len(TIMES))
    return {
        "check_level": column("level"),
        "check_counted": column("counted"),
        "check_told": column("told"),
        "check_odds": column("odds"),
        "check_odds_fewer": column("odds_fewer"),
        "check_power_twice": (("check_level",), powers[:, 0]),
        "check_power_four": (("check_level",), powers[:, 1]),
        "check_duration": scalar(check.time),
        "check_ended": scalar(check.ended, np.int32),
        "check_marches": scalar(check.marches, np.int32),
        "check_wear": scalar(check.wear[0]),
        "check_wear_low": scalar(check.wear[1]),
        "check_wear_high": scalar(check.wear[2]),
        "check_wear_told_low": scalar(check.told_span[0]),
        "check_wear_told_high": scalar(check.told_span[1]),
        "check_wear_joined": scalar(check.joined),
        "check_wear_told": scalar(check.wear_told),
        "check_failed": scalar(check.fails, np.int8),
    }


def birth_of(question, plan, check):
    """Attributes of the result of a leg, text only."""
    leg = question.leg
    return {
        **made_by(),
        "title": f"{leg.name}: settings for a leg",
        "summary": "A setting for every stretch of a leg, the fastest within a budget of odds and wear, by a forecast "
        "and the library of the boat.",
        "study": leg.name,
        "boat": leg.boat_name,
        "foil": " and ".join(leg.boat.foils),
        "foil_id": ", ".join(foil.id for foil in leg.boat.foils.values() if foil.id),
        "kind": KIND,
        "scenario": plain_json({"leg": leg.raw, "boat": leg.boat.raw}),
        "seed": str(leg.check.seed),
        "command": f"seaload leg {leg.file.name}",
        "limit_basis": next(iter(leg.boat.foils.values())).limit_basis or "not said",
        "cautions": "\n".join(CAUTIONS),
        "not_modelled": NOT_MODELLED,
        "notes": "\n".join(question.notes),
        "defaults_used": "\n".join(leg.defaults_used),
        "rounds": str(plan.rounds),
        "interval": "odds are the mean over the forecast's members and the doubt; a plan keeps the mean",
    }

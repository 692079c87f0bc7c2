"""Changes worth comparing: what a crew cannot set exactly, the ways of backing off, and a sea that gets
worse.
"""

from dataclasses import replace
from math import radians

from seaload.basis.units import DEGREE, KNOT
from seaload.deciding.variants import Change

ACTUATORS = ("extension", "rake", "heel", "cant", "ballast_shift", "speed")
STEPS = 2.0  # steps of an actuator that one move is
EASED = 2.0 * KNOT  # [m/s] given up by easing sheets or reefing
REEF_HEEL = 2.0 * DEGREE  # less heel with a reef
BEAR_AWAY = radians(15.0)  # turned away from the waves' side of the bow
HS_FACTORS = (1.1, 1.25, 1.5)
TP_FACTORS = (0.85, 1.2)
GROWN = "sea grown"  # while the slowest move is made
# names of the moves, as in a boat file, with the actuator that moves
BY_ACTUATOR = {"rake": "rake", "cant": "cant", "extension": "extension", "ballast": "ballast_shift"}


def grown_sea(setting, study, hs, time):
    """The setting in a sea of `hs` [m] that has grown for `time` [s]; none when it does not grow."""
    factor = 1.0 + study.risk.sea_growth * time / hs
    return [Change(GROWN, setting, (("hs_factor", factor),))] if factor > 1.0 else []


def within_reach(setting, boat, foil):
    """Whether a setting can be set at all on this boat."""
    if not foil.least_extension - 1e-9 <= setting.extension <= 1.0 + 1e-9 or setting.speed <= 0.0:
        return False
    for name, worked in boat.worked.items():
        value = getattr(setting, name)
        if name != "speed" and not worked.least - 1e-9 <= value <= worked.most + 1e-9:
            return False
    return True


def tolerance_changes(setting, boat):
    """The setting with every actuator off by its tolerance, one at a time, either way."""
    changes = []
    for name in ACTUATORS:
        worked = boat.worked.get(name)
        if worked is None or worked.tolerance == 0.0:
            continue
        for sign, word in ((-1.0, "less"), (1.0, "more")):
            value = getattr(setting, name) + sign * worked.tolerance
            if name == "extension":
                value = min(value, 1.0)
            changes.append(Change(f"{name} {word}", replace(setting, **{name: value})))
    return changes


def move_changes(setting, boat, foil):
    """The ways of backing off that the boat file lists, each way an actuator can move; those out of reach
    left out.
    """
    changes = []
    for move in boat.moves:
        if move.name in BY_ACTUATOR:
            name = BY_ACTUATOR[move.name]
            worked = boat.worked.get(name)
            if worked is None:
                continue
            for sign, word in ((-1.0, "less"), (1.0, "more")):
                moved = replace(setting, **{name: getattr(setting, name) + sign * STEPS * worked.step})
                if within_reach(moved, boat, foil):
                    changes.append(Change(f"{move.name} {word}", moved, time=move.time))
        elif move.name == "ease_sheets":
            changes.append(Change(move.name, replace(setting, speed=setting.speed - EASED), time=move.time))
        elif move.name == "reef":
            eased = replace(setting, speed=setting.speed - EASED, heel=setting.heel - REEF_HEEL)
            changes.append(Change(move.name, eased, time=move.time))
        elif move.name == "bear_away":
            # the boat turns away from the wind: waves on either bow come from further aft
            turn = (("heading_shift", -BEAR_AWAY),)
            changes.append(Change(move.name, setting, turn, time=move.time))
    return [change for change in changes if change.setting.speed > 0.0]


def only_below(boat, change_name):
    """Speed above which a move cannot be done [m/s]."""
    known = {move.name: move.only_below for move in boat.moves}
    return known[change_name.split(" ")[0]]


def worse_seas(setting):
    """Higher, shorter and longer seas."""
    higher = [Change(f"hs {f:g}", setting, (("hs_factor", f),)) for f in HS_FACTORS]
    return higher + [Change(f"tp {f:g}", setting, (("tp_factor", f),)) for f in TP_FACTORS]

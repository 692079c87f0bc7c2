"""Changes worth comparing: what a crew cannot set exactly, the ways of backing off, and a sea that gets
worse.
"""

from dataclasses import replace

from seaload.deciding.follow_on import eased_heel, turned_speed
from seaload.deciding.variants import GROWN, TOLERANCE, Change

ACTUATORS = ("extension", "rake", "heel", "cant", "ballast_shift", "speed")
EASE = "ease_sheets"  # as the boat file names it
FREE = {"speed", "heel"}  # a boat that is eased goes as slow and as upright as she does: no range bounds that


def growth_factor(study, hs, time):
    """Height of a sea of `hs` [m] that has grown for `time` [s] over what it was [-]."""
    return 1.0 + study.risk.sea_growth * time / hs


def grown_sea(setting, study, hs, time):
    """The setting in a sea of `hs` [m] that has grown for `time` [s]; none when it does not grow."""
    factor = growth_factor(study, hs, time)
    return [Change("sea grown", setting, (("hs_factor", factor),), kind=GROWN)] if factor > 1.0 else []


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
            changes.append(Change(f"{name} {word}", replace(setting, **{name: value}), kind=TOLERANCE))
    return changes


def move_changes(setting, boat, foil, sea, named_model=None):
    """The ways of backing off that the boat file lists, each way an actuator can move; those out of reach left out.

    A boat that turns away from the wind of the `sea` meets waves from windward further aft, inside the wave direction
    falls, and has another speed; one whose sheets are eased comes up. `named_model` the choices of the physics.
    """
    changes = []
    for move, way in ways_of(boat):
        turns = dict(way.changes).get("waves_from_bow", 0.0)
        steps = {name: getattr(setting, name) + step for name, step in way.changes if name != "waves_from_bow"}
        moved = replace(setting, **steps)
        if turns:
            moved = replace(moved, speed=turned_speed(setting, turns, boat, sea))
        if move.name == EASE and 0.0 < moved.speed < setting.speed:
            moved = replace(moved, heel=eased_heel(setting, moved.speed, boat, foil, named_model))
        if way.simulated and moved.speed > 0.0 and (set(steps) <= FREE or within_reach(moved, boat, foil)):
            changes.append(Change(way.name, moved, (("heading_shift", -turns),) if turns else (), time=move.time))
    return changes


def ways_of(boat):
    """[(Move, Way)] of everything the boat file lists, fastest first."""
    return sorted(((m, w) for m in boat.moves for w in m.ways), key=lambda found: (found[0].time, found[1].name))


def only_below(boat, change_name):
    """Speed above which a move cannot be done [m/s]."""
    return next(move.only_below for move, way in ways_of(boat) if way.name == change_name)

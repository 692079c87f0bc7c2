"""Names of what a run tells of single events, of the motions a crew feels, and of the loads along the span."""

from seaload.basis.vocabulary_entry import Entry

UP, SIDE = "up", "towards the design side"
LEADING_EDGE = "leading edge towards the design side"

MOTIONS = {
    "boat_place": Entry("1", "number of the place on board: bow, mast, cockpit"),
    "boat_place_name": Entry("", "place on board"),
    "boat_place_from_transom": Entry("m", "place on board, ahead of the transom"),
    "acceleration_rms": Entry("m s-2", "vertical acceleration, root mean square about the mean"),
    "acceleration_highest_tenth": Entry(
        "m s-2", "mean of the highest tenth of the upward peaks of the vertical acceleration, not filtered", positive=UP
    ),
    "acceleration_worst": Entry("m s-2", "highest vertical acceleration, not filtered", positive=UP),
    "slam_rate": Entry("s-1", "re-entries of the forefoot faster than slam_speed"),
    "slam_speed": Entry("m s-1", "relative velocity from which a re-entry counts as a slam (Ochi and Motter 1973)"),
    "thrust_std": Entry("N", "standard deviation of the sails' thrust, hold of speed included"),
}

SPAN = {
    "shear_max": Entry("N", "highest shear along the local normal at a strip edge", positive=SIDE),
    "shear_min": Entry("N", "lowest shear along the local normal at a strip edge", positive=SIDE),
    "torsion_max": Entry("N m", "highest torsion about the local axis at a strip edge", positive=LEADING_EDGE),
    "torsion_min": Entry("N m", "lowest torsion about the local axis at a strip edge", positive=LEADING_EDGE),
}

EVENTS = {
    "event_level_reverse": Entry("1", "share of the reverse limit past which an event is told in this realisation"),
    "event_level_normal": Entry("1", "share of the normal limit past which an event is told in this realisation"),
    "event_count_reverse": Entry("1", "events past event_level_reverse at any place"),
    "event_count_normal": Entry("1", "events past event_level_normal at any place"),
    "event": Entry("1", "number of an event told in full, the deepest first"),
    "event_setting": Entry("1", "number of the setting of the event"),
    "event_sea": Entry("1", "number of the sea of the event"),
    "event_realisation": Entry("1", "number of the realisation of the event"),
    "event_side": Entry("1", "-1 = towards the reverse limit, +1 = towards the normal one"),
    "event_time": Entry("s", "time since the start of the run-in of the event's deepest moment"),
    "event_material": Entry("m", "material at the place nearest to its limit then"),
    "event_depth": Entry("1", "share of the place's limit then"),
    "event_duration": Entry("s", "time past the level, all excursions of the event together"),
    "event_cause": Entry("1", "largest part of the inflow that loads the foil so, see flag_meanings"),
    "event_speed": Entry("m s-1", "speed through the water then"),
    "event_pitch": Entry("rad", "pitch then", positive="bow up"),
    "event_roll": Entry("rad", "roll about the mean heel then", positive="leeward side down"),
    "event_heave": Entry("m", "height of the centre of gravity above still water then", positive=UP),
    "event_elevation": Entry("m", "water surface amidships above still water then", positive=UP),
    "event_strip_load": Entry(
        "N", "net load of each foil strip then, inertia and weight included, along its normal", positive=SIDE
    ),
}

RECORD = {**MOTIONS, **SPAN, **EVENTS}

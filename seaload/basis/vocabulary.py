"""The one table of names in a result: units, meaning, CF standard name if there is one, positive sense.

Units are spelled as CF-1.11 wants them. A standard name is given only where the CF table (version 83, read)
has one of the same meaning; ours without one have a long name alone. Reverse means: bends the tip down and
outboard.
"""

from seaload.basis.vocabulary_boat import BOAT_CHECK
from seaload.basis.vocabulary_entry import UP_INBOARD, Entry
from seaload.basis.vocabulary_leg import LEG
from seaload.basis.vocabulary_library import LIBRARY
from seaload.basis.vocabulary_log import LOG
from seaload.basis.vocabulary_prescribed import PRESCRIBED
from seaload.basis.vocabulary_record import RECORD
from seaload.basis.vocabulary_size import SIZE
from seaload.basis.vocabulary_tail import TAIL

COORDINATES = {
    "setting": Entry("1", "number of the setting, from 0"),
    "sea": Entry("1", "number of the sea, from 0"),
    "realisation": Entry("1", "number of the realisation, from 0"),
    "place": Entry("1", "place on the foil: 0 = the material at the lower bearing, then the strain stations"),
    "station": Entry("1", "number of the strain station from the root outward; 0 = the moving bearing"),
    "range_bin": Entry("1", "range of a load cycle over the normal limit, middle of the bin"),
    "mean_bin": Entry("1", "mean of a load cycle over the normal limit, middle of the bin"),
    "range_bin_bounds": Entry("", "edges of the range bins"),
    "mean_bin_bounds": Entry("", "edges of the mean bins"),
    "material": Entry("m", "place in the foil's material, from the bearing of the fully extended foil outward"),
    "block": Entry("s", "start of a block of the block extremes, after the run-in"),
    "frequency": Entry("s-1", "wave frequency in the earth frame", "wave_frequency"),
    "time_minute": Entry("s", "time since the start of the run-in, around the deepest reverse load"),
    "time_whole": Entry("s", "time since the start of the run-in, whole realisation, thinned out"),
    "strip": Entry("1", "strip of the foil, from the bearing outward"),
    "strip_edge": Entry("1", "edge between strips, from the bearing outward"),
}

SETTINGS = {
    "extension": Entry("1", "share of the foil's outside length that is out"),
    "rake": Entry("rad", "rake of the foil", positive="leading edge up"),
    "heel": Entry("rad", "mean heel", positive="leeward side down"),
    "cant": Entry("rad", "keel cant", positive="to windward"),
    "ballast_shift": Entry("m", "shift of the centre of gravity by ballast", positive="forward"),
    "ballast_mass": Entry("kg", "water in the tanks"),
    "speed_set": Entry("m s-1", "mean speed through the water that the setting asks for in this sea"),
    "attainable": Entry("1", "1 where the speed is what the thrust can hold, worked out"),
    "speed_attainable": Entry("m s-1", "speed that thrust and righting moment can hold in calm water"),
    "speed_attainable_in_sea": Entry("m s-1", "mean speed that thrust and righting moment can hold in this sea"),
    "surf_riding_speed": Entry(
        "m s-1", "speed set from which a following wave of this sea's height and period can carry the boat along"
    ),
    "reachable": Entry("1", "0 where heel, side force, foil and thrust do not balance at this speed in this sea"),
    "unreachable_reason": Entry("", "why the setting cannot be sailed at this speed"),
    "place_material": Entry("m", "material at each place"),
    "place_inside": Entry("1", "1 where the place is inside the hull: its load is that between the bearings"),
    "material_inside": Entry("1", "1 where the material is inside the hull"),
    "normal_limit": Entry("N m", "limit of the bending moment in the design direction", positive=UP_INBOARD),
    "reverse_limit": Entry("N m", "size of the limit of the bending moment the wrong way round"),
    "grid_normal_limit": Entry("N m", "normal limit along the material", positive=UP_INBOARD),
    "grid_reverse_limit": Entry("N m", "size of the reverse limit along the material"),
    "foil_edge_lateral": Entry(
        "m", "strip edges from the centre of gravity at the mean heel, lateral", positive="to leeward"
    ),
    "foil_edge_height": Entry("m", "strip edges from the centre of gravity at the mean heel, height", positive="up"),
}

SEAS = {
    "sea_name": Entry("", "name of the sea; random streams follow it"),
    "sea_hs": Entry("m", "significant wave height", "sea_surface_wave_significant_height"),
    "sea_tp": Entry(
        "s",
        "period of the highest spectral peak",
        "sea_surface_wave_period_at_variance_spectral_density_maximum",
    ),
    "sea_steep": Entry("1", "1 where Hs over peak wavelength is above the limit of validity"),
    "waves_from_bow": Entry("rad", "where the waves come from, energy mean, 0 = dead ahead", positive="from windward"),
    "true_wind_speed": Entry("m s-1", "true wind speed", "wind_speed"),
    "true_wind_angle": Entry("rad", "true wind angle from the bow"),
    "gustiness": Entry("1", "standard deviation of the true wind speed over its mean, 0 = steady"),
    "spectrum_asked": Entry("m2 s", "wave spectrum asked for", "sea_surface_wave_variance_spectral_density"),
    "spectrum_realised": Entry(
        "m2 s",
        "wave spectrum of the realisations at a fixed point, mean",
        "sea_surface_wave_variance_spectral_density",
    ),
    "hs_realised": Entry(
        "m",
        "significant wave height of a realisation at a fixed point",
        "sea_surface_wave_significant_height",
    ),
    "duration_total": Entry("s", "sea sailed, run-in left out"),
    "realisations_sailed": Entry("1", "realisations sailed"),
}

LOADS = {
    "load_ratio_max": Entry("1", "highest bending moment over the normal limit", positive=UP_INBOARD),
    "load_ratio_min": Entry(
        "1", "lowest bending moment over the size of the reverse limit; -1 is the limit", positive=UP_INBOARD
    ),
    "load_ratio_mean": Entry("1", "mean bending moment over the normal limit", positive=UP_INBOARD),
    "load_ratio_std": Entry("1", "standard deviation of the bending moment over the normal limit"),
    "reversed_time_share": Entry("1", "share of time with a bending moment the wrong way round"),
    "excursion_time_share": Entry("1", "share of time past the reverse limit"),
    "excursion_longest": Entry("s", "longest excursion past half the reverse limit"),
    "reverse_excursion_rate": Entry("s-1", "excursions past the reverse limit at a place"),
    "reverse_excursion_rate_half": Entry("s-1", "excursions past half the reverse limit at a place"),
    "normal_exceedance_rate": Entry("s-1", "excursions past the normal limit at a place"),
    "damage_rate": Entry("s-1", "wear relative to the reference of the S-N curve"),
    "damage_rate_steep": Entry("s-1", "wear with the alternative, steeper S-N slope"),
    "damage_one_holds_most": Entry("1", "1 where one realisation holds over half of the wear"),
    "damage_too_few": Entry("1", "1 where too few realisations were sailed for an honest interval of the wear"),
    "rainflow_count": Entry("1", "load cycles counted by range and mean"),
    "grid_damage_rate": Entry("s-1", "wear along the material"),
    "grid_load_ratio_max": Entry(
        "1", "highest bending moment over the normal limit along the material", positive=UP_INBOARD
    ),
    "grid_load_ratio_min": Entry(
        "1", "lowest bending moment over the reverse limit along the material", positive=UP_INBOARD
    ),
    "grid_load_ratio_mean": Entry(
        "1", "mean bending moment over the normal limit along the material", positive=UP_INBOARD
    ),
    "grid_moment_max": Entry("N m", "highest bending moment along the material", positive=UP_INBOARD),
    "grid_moment_min": Entry("N m", "lowest bending moment along the material", positive=UP_INBOARD),
}

RISK = {
    "reverse_event_rate": Entry("s-1", "events past the reverse limit at any place, counted"),
    "reverse_event_rate_half": Entry("s-1", "events past half the reverse limit at any place, counted"),
    "normal_event_rate": Entry("s-1", "events past the normal limit at any place, counted"),
    "reverse_event_rate_joined": Entry("s-1", "events past the reverse limit at any place, count and tail together"),
    "normal_event_rate_joined": Entry("s-1", "events past the normal limit at any place, count and tail together"),
    "reverse_odds": Entry(
        "1", "odds of at least one event past the reverse limit in the exposure time, forecast and model right"
    ),
    "normal_odds": Entry(
        "1", "odds of at least one event past the normal limit in the exposure time, forecast and model right"
    ),
    "reverse_odds_all_told": Entry("1", "the same odds with every uncertain input drawn once an exposure"),
    "normal_odds_all_told": Entry("1", "the same odds with every uncertain input drawn once an exposure"),
    "reverse_worst_median": Entry(
        "1", "share of the reverse limit that the worst load of the exposure time passes with odds of a half, all told"
    ),
    "normal_worst_median": Entry(
        "1", "share of the normal limit that the worst load of the exposure time passes with odds of a half, all told"
    ),
    "reverse_worst_one_in_twenty": Entry("1", "the same share, passed with odds of 1 in 20"),
    "normal_worst_one_in_twenty": Entry("1", "the same share, passed with odds of 1 in 20"),
    "reverse_worst_place": Entry("1", "place likeliest to pass its reverse limit"),
    "normal_worst_place": Entry("1", "place likeliest to pass its normal limit"),
    "damage_rate_worst": Entry("s-1", "wear at the worst place of bearing and all material outside"),
    "reverse_share_worst": Entry("1", "highest share of the reverse limit reached at any place outside the hull"),
    "normal_share_worst": Entry("1", "highest share of the normal limit reached at any place outside the hull"),
    "rates_at_least": Entry("1", "1 where a realisation ended early or left the validity: rates are at least this"),
    "exposure_time": Entry("s", "exposure time of the odds"),
}

BOAT = {
    "speed_mean": Entry("m s-1", "mean speed through the water"),
    "speed_std": Entry("m s-1", "standard deviation of the speed"),
    "speed_max": Entry("m s-1", "highest speed"),
    "heave_std": Entry("m", "standard deviation of heave"),
    "pitch_mean": Entry("rad", "mean pitch", positive="bow up"),
    "pitch_std": Entry("rad", "standard deviation of pitch"),
    "pitch_max": Entry("rad", "largest pitch either way"),
    "roll_std": Entry("rad", "standard deviation of roll about the mean heel"),
    "vertical_lift_mean": Entry("N", "mean vertical lift of the foil", positive="up"),
    "lift_share_mean": Entry("1", "mean vertical lift of the foil over the boat's weight", positive="up"),
    "righting_moment_mean": Entry("N m", "mean righting moment of the foil", positive="rights the boat"),
    "foil_drag_mean": Entry("N", "mean drag of the foil", positive="aft"),
    "added_resistance": Entry(
        "N", "mean thrust of the sails less that of still water at the same mean speed", positive="waves slow the boat"
    ),
    "thrust_calm": Entry("N", "thrust that still water asks for at the mean speed"),
    "leeway_mean": Entry("rad", "mean leeway", positive="to leeward"),
    "rudder_mean": Entry("rad", "mean angle of the rudder", positive="turns the bow to leeward"),
    "sway_std": Entry("m s-1", "standard deviation of the velocity square to the heading"),
    "heading_std": Entry("rad", "standard deviation of the heading about the one steered for"),
    "heading_max": Entry("rad", "farthest off the heading steered for, either way"),
    "rudder_std": Entry("rad", "standard deviation of the rudder"),
    "rudder_max": Entry("rad", "largest angle of the rudder beside the balanced one, either way"),
    "broach_share": Entry("1", "share of time over 20 degrees off the heading, the rudder at its limit for a second"),
    "hold_down_load_mean": Entry("N", "mean load of the hold-down line"),
    "hold_down_load_max": Entry("N", "highest load of the hold-down line"),
    "hold_down_share_max": Entry("1", "highest load of the hold-down line over its breaking load"),
    "slack_time_share": Entry("1", "share of time with a slack hold-down line"),
    "pitch_beyond_share": Entry("1", "share of time with pitch beyond the validity of the hull model"),
    "foredeck_buried_share": Entry("1", "share of time with the middle of the foredeck under water"),
    "thrust_floor_share": Entry("1", "share of time faster than the sails can drive"),
    "hull_lift_min": Entry("N", "least that the hull carried, added mass left out; at most 0 = nothing", positive="up"),
}

REALISATIONS = {
    "status": Entry("1", "how the case ended"),
    "duration": Entry("s", "time kept of the realisation"),
    "stopped_at": Entry("s", "time since the start of the run-in at which the case was ended"),
    "reverse_events": Entry("1", "events past the reverse limit at any place"),
    "reverse_events_half": Entry("1", "events past half the reverse limit at any place"),
    "normal_events": Entry("1", "events past the normal limit at any place"),
    "damage": Entry("1", "wear of the realisation"),
    "block_worst_reverse": Entry("1", "highest share of the reverse limit at any place in each block"),
    "block_worst_normal": Entry("1", "highest share of the normal limit at any place in each block"),
    "deepest_reverse_time": Entry("s", "time since the start of the run-in of the deepest reverse load"),
}

GUST = {
    "gust_leaps": Entry("1", "1 where the boat leaps in the stated gust, or comes clear in the lull"),
    "gust_strength": Entry("1", "change of the true wind speed in the stated gust over it, negative in a lull"),
    "gust_hull_lift_min_calm": Entry(
        "N", "least that the hull carried, added mass left out, gust in calm water", positive="up"
    ),
    "gust_hull_lift_min_sea": Entry(
        "N", "least that the hull carried, added mass left out, gust in this sea", positive="up"
    ),
    "gust_tip_depth_min_calm": Entry(
        "m", "least depth of the outermost strip, gust in calm water", positive="below the surface"
    ),
    "gust_tip_depth_min_sea": Entry(
        "m", "least depth of the outermost strip, gust in this sea", positive="below the surface"
    ),
    "gust_reverse_share_calm": Entry("1", "highest share of the reverse limit, gust in calm water"),
    "gust_reverse_share_sea": Entry("1", "highest share of the reverse limit, gust in this sea"),
    "gust_normal_share_calm": Entry("1", "highest share of the normal limit, gust in calm water"),
    "gust_normal_share_sea": Entry("1", "highest share of the normal limit, gust in this sea"),
}

CHOICE = {
    "reverse_odds_known": Entry("1", "reverse odds all told once the input is known, where it may turn out"),
    "normal_odds_known": Entry("1", "normal odds all told once the input is known, where it may turn out"),
    "decision": Entry("1", "whether the setting is within the crew's levels, everything uncertain together"),
    "decision_sampling": Entry("1", "whether the setting is within the crew's levels, by sampling alone"),
    "sea_to_decide": Entry(
        "s", "sea in all that a decision would take; infinite when more sea does not help"
    ),
    "chosen": Entry("1", "1 for the suggested setting of a sea"),
    "chosen_setting": Entry("1", "number of the suggested setting; -1 = none"),
    "least_bad_setting": Entry("1", "number of the sailed setting nearest to the levels; -1 = none"),
    "choice_reason": Entry("", "why this setting, or why none"),
    "sampling_reason": Entry("", "why the setting got no more sea"),
    "speed_given_up": Entry("m s-1", "attainable speed, in the sea where known, less than that of the fastest setting"),
    "fresh_reverse_odds": Entry("1", "reverse odds all told of the suggested setting on fresh waves"),
    "fresh_normal_odds": Entry("1", "normal odds all told of the suggested setting on fresh waves"),
    "bears_hs": Entry("m", "significant wave height up to which the setting is within the levels"),
    "bears_tp_least": Entry("s", "peak period down to which the setting is within the levels"),
    "bears_tp_most": Entry("s", "peak period up to which the setting is within the levels"),
    "bears_angle_least": Entry(
        "rad", "least angle off the bow, the waves turned bodily, at which the setting is within the levels"
    ),
    "bears_angle_most": Entry("rad", "the same, the most angle"),
    "bears_beyond": Entry("1", "how many deviations of the forecast either way the sea was simulated"),
    "growth_survived": Entry(
        "m s-1", "growth of the significant wave height that the suggestion has to survive"
    ),
    "damage_rate_difference": Entry(
        "s-1", "wear at the worst place less that of the suggested or nearest setting"
    ),
    "reverse_half_difference": Entry("s-1", "events past half the reverse limit less those of that setting"),
    "uncertain": Entry("1", "number of the uncertain input"),
    "uncertain_name": Entry("", "uncertain input"),
    "uncertain_effect_reverse": Entry("1", "change of the rare reverse load by one deviation, share of limit"),
    "uncertain_effect_normal": Entry("1", "change of the rare normal load by one deviation, share of limit"),
    "uncertain_effect_wear": Entry("1", "change of the logarithm of the wear by one deviation"),
    "uncertain_untold": Entry("", "seas within two deviations of the forecast that could not be simulated"),
    "uncertain_share_reverse": Entry("1", "share of the squared spread of the rare reverse load"),
    "uncertain_share_normal": Entry("1", "share of the squared spread of the rare normal load"),
    "load_spread_reverse": Entry("1", "spread of the rare reverse load from forecast and model, share of limit"),
    "load_spread_normal": Entry("1", "spread of the rare normal load from forecast and model, share of limit"),
    "measure_first": Entry("", "input of boat or model that is worth measuring first"),
    "move": Entry("1", "number of the way of backing off, fastest first"),
    "move_name": Entry("", "way of backing off"),
    "move_time": Entry("s", "time from the order until it is done"),
    "move_words": Entry("", "way of backing off with its size, as the boat file says"),
    "move_only_below": Entry("m s-1", "boat speed above which it cannot be done; nan = always possible"),
    "move_change_extension": Entry("1", "what the move adds to the extension", positive="outward"),
    "move_change_rake": Entry("rad", "what the move adds to the rake", positive="leading edge up"),
    "move_change_heel": Entry("rad", "what the move adds to the mean heel", positive="leeward side down"),
    "move_change_cant": Entry("rad", "what the move adds to the keel cant", positive="to windward"),
    "move_change_ballast_shift": Entry("m", "what the move adds to the ballast shift", positive="forward"),
    "move_change_speed": Entry("m s-1", "what the move adds to the set speed"),
    "move_change_waves_from_bow": Entry(
        "rad", "what the move adds to the direction the waves come from", positive="boat turns away from the wind"
    ),
    "move_possible": Entry("1", "1 where the move can be made at the set speed"),
    "move_valid": Entry("1", "0 where a case with the move left the validity"),
    "move_factor_reverse": Entry("1", "reverse event rate after the move over that before"),
    "move_factor_normal": Entry("1", "normal event rate after the move over that before"),
    "move_reverse_odds": Entry("1", "reverse odds all told in the exposure time after the move"),
    "move_worst_change_reverse": Entry("1", "reverse_worst_one_in_twenty after the move less that before"),
    "move_worst_change_normal": Entry("1", "normal_worst_one_in_twenty after the move less that before"),
    "move_odds_during": Entry("1", "reverse odds while the move is made, at the setting as it was"),
    "move_speed_change": Entry("m s-1", "mean speed after the move less that before"),
    "neighbour": Entry("1", "number of the setting a tolerance away from the suggested one"),
    "neighbour_name": Entry("", "actuator that is off by its tolerance, and which way"),
    "neighbour_factor_reverse": Entry("1", "reverse event rate there over that of the suggested setting"),
    "neighbour_factor_normal": Entry("1", "normal event rate there over that of the suggested setting"),
    "neighbour_worst_change_reverse": Entry("1", "reverse_worst_one_in_twenty there less that of that setting"),
    "neighbour_worst_change_normal": Entry("1", "normal_worst_one_in_twenty there less that of that setting"),
}
TRIGGERS = {
    "display_mean": Entry("1", "mean reading of the boat's display, as a plain share or strain, or a force"),
    "display_lowest": Entry("1", "lowest reading in a window, median; bounds hold 90 % of the windows"),
    "display_highest": Entry("1", "highest reading in a window, median; bounds hold 90 % of the windows"),
    "display_attenuation": Entry("1", "lowest displayed over lowest true load"),
    "display_silent": Entry("1", "1 where the sensor reads nothing at this extension"),
    "display_window": Entry("s", "time whose lowest and highest reading are told"),
    "trigger_kind": Entry("1", "0 = reading passed so often, 1 = passed a share of the time, 2 = swing, 3 = spread"),
    "trigger_share": Entry("1", "share of the time that the reading is passed for"),
    "other_sea": Entry("1", "number of another sea that the trigger was tried in"),
    "other_sea_name": Entry("", "in what that sea differs from the one assumed"),
    "trigger_called": Entry("1", "odds that the trigger calls in a realisation of that sea"),
    "trigger_window": Entry("s", "time that the trigger looks back over"),
    "trigger_times": Entry("1", "how often the reading is passed in that time, each in other ten seconds"),
    "trigger_place": Entry("1", "place of the reading that calls for backing off"),
    "trigger_side": Entry("1", "-1 = low readings, +1 = high ones"),
    "trigger_threshold": Entry("1", "reading at which to back off, as a plain share or strain, or a force"),
    "trigger_false_alarm": Entry("1", "odds of a false alarm in a realisation of the sea as assumed"),
    "trigger_missed_alarm": Entry("1", "odds that a realisation of the worse sea goes unnoticed"),
    "trigger_delay": Entry("s", "mean time until the worse sea is noticed"),
    "trigger_span": Entry("s", "length of the realisations that the odds of alarms are told for"),
    "trigger_next_event_rate": Entry("s-1", "events past either limit in the worse sea"),
    "trigger_worse_hs": Entry("m", "significant wave height of the worse sea"),
}

SERIES = {
    "bending_moment": Entry("N m", "bending moment at the places", positive=UP_INBOARD),
    "grid_moment": Entry("N m", "bending moment along the material", positive=UP_INBOARD),
    "strip_force": Entry(
        "N",
        "net load of each foil strip, inertia and weight included, along its normal",
        positive="towards the design side",
    ),
    "strip_wet": Entry("1", "wetted share of each foil strip"),
    "heave": Entry("m", "height of the centre of gravity above still water", "platform_heave_up", "up"),
    "pitch": Entry("rad", "pitch", "platform_pitch_fore_up", "bow up"),
    "roll": Entry("rad", "roll about the mean heel", positive="leeward side down"),
    "speed": Entry("m s-1", "speed through the water"),
    "wave_elevation": Entry(
        "m", "water surface amidships above still water", "sea_surface_height_above_mean_sea_level", "up"
    ),
    "hold_down_load": Entry("N", "load of the hold-down line"),
    "hull_lift": Entry("N", "what the hull carries, added mass left out", positive="up"),
    "tip_depth": Entry("m", "depth of the outermost strip", positive="below the surface"),
    "kept_sea": Entry("1", "number of the sea whose series are kept"),
    "kept_realisation": Entry("1", "number of the realisation whose series are kept"),
}
WHOLE = {  # the same series over the whole realisation, thinned out
    f"{name}_whole": entry._replace(long_name=f"{entry.long_name}, whole realisation, thinned out")
    for name, entry in SERIES.items()
    if not name.startswith(("kept_", "strip_", "grid_"))
}

TABLE = {
    **LOG,
    **BOAT_CHECK,
    **COORDINATES,
    **SETTINGS,
    **SEAS,
    **LOADS,
    **RISK,
    **BOAT,
    **REALISATIONS,
    **RECORD,
    **GUST,
    **CHOICE,
    **TAIL,
    **TRIGGERS,
    **SERIES,
    **WHOLE,
    **PRESCRIBED,
    **LIBRARY,
    **LEG,
    **SIZE,
}
BOUNDS = {
    "_low": "lower bound of the 90 % interval of: ",
    "_high": "upper bound of the 90 % interval of: ",
    "_error": "standard error by the sampled waves of: ",
}


def entry_of(name):
    """`Entry` of a name of a result; `X_low` and `X_high` are the interval bounds of X, `X_error` its standard error.
    KeyError when unknown.
    """
    if name in TABLE:
        return TABLE[name]
    for ending, words in BOUNDS.items():
        base = name.removesuffix(ending)
        if base != name and base in TABLE:
            entry = TABLE[base]
            return entry._replace(long_name=words + entry.long_name, standard_name="")
    raise KeyError(f"{name} is not in the vocabulary")


def attributes(name):
    """CF attributes of a name, text only: units, long_name, standard_name and comment where they apply."""
    entry = entry_of(name)
    kept = {"units": entry.units, "long_name": entry.long_name, "standard_name": entry.standard_name}
    if entry.positive:
        kept["comment"] = f"positive: {entry.positive}"
    return {key: value for key, value in kept.items() if value}

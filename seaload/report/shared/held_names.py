"""Which variables a result has to hold before a page is made of it."""

SETTING = "extension rake heel cant ballast_shift speed_set place_inside place_material normal_limit reverse_limit"
SEA = "sea_name sea_hs sea_tp sea_steep waves_from_bow true_wind_speed true_wind_angle hs_realised station material"
RISK = """exposure_time duration_total realisations_sailed reverse_odds normal_odds
reverse_event_rate reverse_event_rate_half normal_event_rate
reverse_events normal_events reverse_share_worst normal_share_worst damage_rate_worst speed_mean"""
PLACES = """load_ratio_mean load_ratio_max load_ratio_min reversed_time_share reverse_excursion_rate
reverse_excursion_rate_half damage_rate damage_rate_low damage_rate_high damage_too_few rainflow_count range_bin_bounds
mean_bin_bounds grid_load_ratio_mean grid_load_ratio_min grid_moment_max grid_moment_min grid_normal_limit
grid_reverse_limit"""
BOAT = """speed_std speed_max heave_std pitch_mean pitch_std pitch_max roll_std vertical_lift_mean lift_share_mean
righting_moment_mean foil_drag_mean hold_down_load_mean hold_down_load_max slack_time_share"""
EVERY = " ".join((SETTING, SEA, RISK, PLACES, BOAT)).split()
SWEEP = "decision chosen_setting least_bad_setting".split()
TOGETHER = {  # with the first, all of the others
    "bending_moment": "time_minute kept_sea kept_realisation wave_elevation heave pitch speed deepest_reverse_time",
    "acceleration_rms": "boat_place_name acceleration_highest_tenth acceleration_worst slam_rate slam_speed shear_max "
    "shear_min torsion_max torsion_min",
    "event_depth": """event_setting event_sea event_realisation event_side event_time event_material event_duration
        event_cause event_speed event_pitch event_strip_load event_count_reverse""",
    "event_count_reverse": "event_count_normal event_level_reverse event_level_normal",
    "strip_force": "foil_edge_lateral foil_edge_height",
    "block_worst_reverse": "block block_worst_normal",
    "spectrum_asked": "frequency spectrum_realised",
    "gust_leaps": "gust_normal_share_calm gust_normal_share_sea gust_reverse_share_calm gust_reverse_share_sea",
    "move_name": """move_time move_possible move_valid move_factor_reverse move_reverse_odds move_odds_during
        move_speed_change""",
    "move_words": """move_only_below move_change_extension move_change_rake move_change_heel move_change_cant
        move_change_ballast_shift move_change_speed move_change_waves_from_bow""",
    "display_mean": "display_lowest display_highest display_silent display_attenuation",
    "trigger_threshold": """trigger_place trigger_side trigger_times trigger_window trigger_span trigger_false_alarm
        trigger_missed_alarm trigger_delay trigger_next_event_rate trigger_worse_hs""",
    "uncertain_name": "uncertain_share_reverse load_spread_reverse",
}


def missing_name(dataset, kind):
    """The first variable that pages of a "run" or "sweep" need and this result lacks; None when it holds all."""
    held = dataset.variables
    needed = [*EVERY, *(SWEEP if kind == "sweep" else ())]
    for first, others in TOGETHER.items():
        needed += others.split() if first in held else []
    return next((name for name in needed if name not in held), None)

"""Plain words for the uncertain inputs of a result, and what each of them is worth."""

import math

WORDS = {
    "lift_slope": "lift of the foil",
    "steering_gain": "how hard the helm steers",
    "sway_following": "how far the boat drifts with the water",  # of results from before
    "yaw_fluctuation": "steering in waves",
    "cavitation_limit": "cavitation of the foil",
    "rake_zero": "zero of the rake scale",
    "second_order_crests": "crests higher than linear waves",
    "roll_inertia": "roll inertia",
    "hull_damping": "damping of the hull",
    "hull_wave_force": "wave force on the hull",
    "tail_level": "short waves above 0.25 Hz",
    "wind_sea_share": "wind sea against swell",
    "forecast_hs": "wave height, forecast",
    "forecast_tp": "wave period, forecast",
    "forecast_heading": "wave direction, forecast",
    "limit_normal": "normal limit of the foil",
    "limit_reverse": "reverse limit of the foil",
    "ultimate_over_normal_limit": "ultimate load, normal side",
    "ultimate_over_reverse_limit": "ultimate load, reverse side",
}
LEAST_SHARE, LEAST_WEAR = 0.005, math.log(1.05)  # [-] under both an input is not shown


def uncertain_words(name):
    """An uncertain input in plain words; one that is not known here as it is written."""
    return WORDS.get(name, name.replace("_", " "))


def spread_words(share):
    """A `share` [-] of the spread in words."""
    return f"{100.0 * share:.0f} %" if share >= 0.01 else "under 1 %"


def wear_words(change):
    """What one deviation does to the wear, from `change` of its logarithm [-]: a factor, whichever way it goes."""
    factor = math.exp(min(abs(change), 50.0))
    if factor < 1.05:
        return "none"
    return "over × 1,000" if factor > 1000.0 else f"× {factor:.1f}" if factor < 10.0 else f"× {factor:,.0f}"


def worth_showing(share, change):
    """Whether an input does anything: `share` [-] of the spread of the reverse load, `change` of ln(wear) [-]."""
    return share >= LEAST_SHARE or (math.isfinite(change) and abs(change) >= LEAST_WEAR)

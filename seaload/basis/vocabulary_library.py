"""Names that only the library of a boat has; the table is `vocabulary.TABLE`."""

from seaload.basis.vocabulary_entry import Entry

AT_RATE = "load that comes at each rate over its limit, at any place"
LN_RATE = "natural logarithm of the rate [1/s] of events past each level, at any place"
TOWARDS = "towards the limit of the side"
LN_WEAR = "natural logarithm of the damage rate [1/s] at the worst place"

LIBRARY = {
    "point": Entry("1", "number of the point, from 0"),
    "side": Entry("", "side of the limit: reverse or normal"),
    "rate": Entry("s-1", "rate of events that a load is told at"),
    "level": Entry("1", "level that is passed over the limit"),
    "peak_enhancement": Entry("1", "peak enhancement of the wave spectrum, 1 = none"),
    "spreading": Entry("1", "exponent s of the cos-2s spreading of the waves, infinite for a long-crested sea"),
    "wave_name": Entry("1", "number made from the name that the random streams of the waves follow"),
    "wave_seed": Entry("1", "seed of the random streams of the waves"),
    "wave_first": Entry("1", "number of the first realisation"),
    "load_at_rate": Entry("1", AT_RATE),
    "place_load_at_rate": Entry("1", AT_RATE.replace("at any place", "at each place")),
    "log_rate": Entry("1", LN_RATE),
    "worst_place": Entry("1", "place likeliest to pass its limit, -1 = not known"),
    "load_mean": Entry("1", "mean load at that place over its limit", positive=TOWARDS),
    "load_calm": Entry("1", "mean load over the limit where the foil is bent most on the mean", positive=TOWARDS),
    "tail_swing": Entry("1", "load over that mean, over the limit, that a tenth of blocks of ten seconds pass there"),
    "tail_union": Entry("1", "ln of that swing of all places together over that of the one place"),
    "tail_log_rate": Entry("1", "ln of the rate [1/s] of groups of blocks past the load that a tenth of them pass"),
    "tail_excess": Entry("1", "mean of the highest loads of those groups over that load, over the swing"),
    "tail_l_cv": Entry("1", "second L-moment of those excesses over their mean, 1/2 for an exponential law"),
    "load_shift": Entry("1", "change of that mean load by one of the uncertain input's number", positive=TOWARDS),
    "load_growth": Entry("1", "change of ln(fluctuation of the load about its mean) by one of it"),
    "load_effect": Entry("1", "change of the load that comes as often as the limit by one of it", positive=TOWARDS),
    "wear_effect": Entry("1", "change of ln(wear) by one of the uncertain input's number"),
    "quantile": Entry("1", "share of the blocks of ten seconds below"),
    "channel_quantile": Entry("1", "quantile of the highest load in blocks of ten seconds over the limit of the side"),
    "log_wear": Entry("1", LN_WEAR),
    "rate_band": Entry("1", "band of rates past the limit, from 0"),
    "rate_band_low": Entry("s-1", "lower end of the band of rates"),
    "rate_band_high": Entry("s-1", "upper end of the band of rates"),
    "held_out_points": Entry("1", "points in the band, each told by all seas but its own"),
    "held_out_error": Entry("1", "error of ln(rate) past the limit of points so told, their own errors taken off"),
    "held_out_own": Entry("1", "error of ln(rate) past the limit of those points by their own waves"),
    "held_out_inside": Entry("1", "share of those points within the 90 % interval foreseen"),
    "held_out_margin_points": Entry("1", "points with that load between 0.5 and 1.5 of the limit"),
    "held_out_margin_error": Entry("1", "error of the load met once in 3.3 hours over its limit, of points so told"),
    "cases": Entry("1", "realisations of a point"),
    "cases_ended": Entry("1", "realisations that ended early or left the validity"),
}

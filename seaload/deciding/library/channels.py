"""What gauges and motion sensors show at a point: means and deviations, each with its error by the sampled waves.

Their scatter from realisation to realisation, which meet waves of their own, tells the error.
"""

import numpy as np

from seaload.deciding.library.load_at_rate import blocks_at
from seaload.evidence.pool_records import pooled_boat, pooled_loads, pooled_motions
from seaload.evidence.verdict import SIDES

MOTIONS = (
    "heave_std", "pitch_mean", "pitch_std", "roll_std", "speed_mean", "speed_std", "sway_std", "heading_std",
    "rudder_mean", "rudder_std", "leeway_mean", "vertical_lift_mean", "foil_drag_mean", "righting_moment_mean",
)  # fmt: skip
GAUGES = ("load_ratio_mean", "load_ratio_std", "reversed_time_share")  # at each place
ACCELERATIONS = ("acceleration_rms",)  # at bow, mast and cockpit
EXTREMES = ("channel_quantile",)  # at each place, both sides, of the highest load in each block
CHANNELS = MOTIONS + GAUGES + ACCELERATIONS + EXTREMES
QUANTILES = np.array([0.5, 0.9, 0.99])  # [-] of the blocks
WATCHED = 3  # places on board
ALONE = 0.1  # [-] of a value: its error where one realisation alone tells it; our own choice
LEAST_ERROR = 1e-9  # [any]


def shown_by(records):
    """{name of CHANNELS: value, an array at places} of finished cases; nan at places inside the hull."""
    limits = records[0].normal_limit, records[0].reverse_limit
    found = {**pooled_boat(records), **pooled_motions(records)}
    loads = pooled_loads(records, *limits)
    inside = np.isnan(np.asarray(records[0].place_block_normal, dtype=float)).all(axis=1)
    found |= {name: np.where(inside, np.nan, loads[name]) for name in GAUGES}
    found["channel_quantile"] = block_quantiles(records)
    missing = {name: np.full(WATCHED, np.nan) for name in ACCELERATIONS}
    return {name: np.asarray({**missing, **found}[name], dtype=float) for name in CHANNELS}


def block_quantiles(records):
    """QUANTILES of the highest share of either limit at each place in the blocks of finished cases, (places, sides,
    quantiles) [-]; nan at places inside the hull.
    """
    found = np.full((len(records[0].moment_mean), len(SIDES), len(QUANTILES)), np.nan)
    for place, i in np.ndindex(found.shape[:2]):
        blocks = blocks_at(records, SIDES[i], place)
        if np.any(np.isfinite(blocks)):
            found[place, i] = np.nanquantile(blocks, QUANTILES)
    return found


def channels_of(records):
    """{name: value, name_error: its standard error} of finished cases, for all CHANNELS."""
    found = shown_by(records)
    each = [shown_by([record]) for record in records if record.duration > 0.0]
    for name in CHANNELS:
        if len(each) > 1:
            spread = np.std([one[name] for one in each], axis=0, ddof=1) / np.sqrt(len(each))
        else:
            spread = ALONE * np.abs(found[name])
        found[f"{name}_error"] = np.maximum(spread, LEAST_ERROR)
    return found


def no_channels(places):
    """The same of a point that was not simulated, of a foil with so many `places`."""
    shapes = dict.fromkeys(MOTIONS, ()) | dict.fromkeys(GAUGES, (places,)) | dict.fromkeys(ACCELERATIONS, (WATCHED,))
    shapes |= dict.fromkeys(EXTREMES, (places, len(SIDES), len(QUANTILES)))
    return {f"{name}{end}": np.full(shapes[name], np.nan) for name in CHANNELS for end in ("", "_error")}

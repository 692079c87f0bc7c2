"""Realisations of one setting in one sea put together: loads, envelope and boat numbers, weighted by time
kept.
"""

import numpy as np


def time_weights(records):
    """Share of the sea sailed that each record holds, (n,) [-], and the sea sailed [s]."""
    kept = np.array([record.duration for record in records])
    total = float(kept.sum())
    return (kept / total if total > 0.0 else np.full(len(kept), np.nan)), total


def _mean(records, weights, name):
    values = np.array([np.asarray(getattr(record, name), dtype=float) for record in records])
    used = weights > 0.0
    return (
        np.tensordot(weights[used], values[used], axes=1) if used.any() else np.full(values.shape[1:], np.nan)
    )


def _extreme(records, weights, name, pick):
    values = np.array([np.asarray(getattr(record, name), dtype=float) for record in records])
    used = weights > 0.0
    return pick(values[used], axis=0) if used.any() else np.full(values.shape[1:], np.nan)


def _spread(records, weights, std_name, mean_name):
    """Standard deviation about the common mean, from those about each record's own."""
    mean = _mean(records, weights, mean_name)
    own = np.array(
        [np.asarray(getattr(r, std_name)) ** 2 + np.asarray(getattr(r, mean_name)) ** 2 for r in records]
    )
    used = weights > 0.0
    if not used.any():
        return np.full(own.shape[1:], np.nan)
    return np.sqrt(np.maximum(np.tensordot(weights[used], own[used], axes=1) - mean**2, 0.0))


def pooled_loads(records, normal, reverse):
    """Loads at the places by vocabulary name; `normal`, `reverse` (places,) [N m] limits."""
    weights, total = time_weights(records)
    span = total if total > 0.0 else np.nan
    summed = lambda name: np.sum([getattr(r, name) for r in records], axis=0)  # noqa: E731
    return {
        "load_ratio_max": _extreme(records, weights, "moment_max", np.max) / normal,
        "load_ratio_min": _extreme(records, weights, "moment_min", np.min) / reverse,
        "load_ratio_mean": _mean(records, weights, "moment_mean") / normal,
        "load_ratio_std": _spread(records, weights, "moment_std", "moment_mean") / normal,
        "reversed_time_share": summed("reversed_time") / span,
        "excursion_time_share": summed("excursion_time") / span,
        "excursion_longest": _extreme(records, weights, "excursion_longest", np.max),
        "rainflow_count": summed("rainflow_count"),
    }


def pooled_grid(records, normal, reverse):
    """Wear and envelope along the material by vocabulary name; limits (grid,) [N m]."""
    weights, total = time_weights(records)
    highest = _extreme(records, weights, "grid_moment_max", np.max)
    lowest = _extreme(records, weights, "grid_moment_min", np.min)
    damage = np.sum([record.grid_damage for record in records], axis=0)
    return {
        "grid_damage_rate": damage / (total if total > 0.0 else np.nan),
        "grid_load_ratio_max": highest / normal,
        "grid_load_ratio_min": lowest / reverse,
        "grid_load_ratio_mean": _mean(records, weights, "grid_moment_mean") / normal,
        "grid_moment_max": highest,
        "grid_moment_min": lowest,
    }


def pooled_motions(records):
    """Accelerations at the watched places, slams and spread of the thrust, by vocabulary name; what records lack is
    left out.
    """
    if any(record.acceleration_rms is None for record in records):
        return {}
    weights, total = time_weights(records)
    squares = np.array([record.acceleration_rms**2 for record in records])
    used = weights > 0.0
    return {
        "acceleration_rms": np.sqrt(weights[used] @ squares[used]) if used.any() else np.full(squares.shape[1], np.nan),
        "acceleration_highest_tenth": _mean(records, weights, "acceleration_highest_tenth"),
        "acceleration_worst": _extreme(records, weights, "acceleration_worst", np.max),
        "slam_rate": float(sum(record.slams for record in records) / (total if total > 0.0 else np.nan)),
        "thrust_std": float(_spread(records, weights, "thrust_std", "thrust_mean")),
    }


def pooled_span(records):
    """Extremes of shear and torsion along the span by vocabulary name; what records lack is left out."""
    if any(record.shear_max is None for record in records):
        return {}
    weights, _ = time_weights(records)
    kinds = ("shear", "torsion")
    found = {f"{kind}_max": _extreme(records, weights, f"{kind}_max", np.max) for kind in kinds}
    return found | {f"{kind}_min": _extreme(records, weights, f"{kind}_min", np.min) for kind in kinds}


def pooled_boat(records):
    """Numbers of the boat as a whole by vocabulary name."""
    weights, total = time_weights(records)
    span = total if total > 0.0 else np.nan
    mean = lambda name: float(_mean(records, weights, name))  # noqa: E731
    highest = lambda name: float(_extreme(records, weights, name, np.max))  # noqa: E731
    squared = lambda name: float(np.sqrt(np.sum(weights * [getattr(r, name) ** 2 for r in records])))  # noqa: E731
    return {
        "speed_mean": mean("speed_mean"),
        "speed_std": float(_spread(records, weights, "speed_std", "speed_mean")),
        "speed_max": highest("speed_max"),
        "heave_std": squared("heave_std"),
        "pitch_mean": mean("pitch_mean"),
        "pitch_std": float(_spread(records, weights, "pitch_std", "pitch_mean")),
        "pitch_max": highest("pitch_max"),
        "roll_std": squared("roll_std"),
        "vertical_lift_mean": mean("vertical_lift_mean"),
        "lift_share_mean": mean("lift_share_mean"),
        "righting_moment_mean": mean("righting_moment_mean"),
        "foil_drag_mean": mean("foil_drag_mean"),
        "leeway_mean": mean("leeway_mean"),
        "rudder_mean": mean("rudder_mean"),
        "sway_std": squared("sway_std"),
        "heading_std": squared("heading_std"),
        "heading_max": highest("heading_max"),
        "rudder_std": squared("rudder_std"),
        "rudder_max": highest("rudder_max"),
        "broach_share": float(sum(r.broach_time for r in records) / span),
        "hold_down_load_mean": mean("hold_down_mean"),
        "hold_down_load_max": highest("hold_down_max"),
        "slack_time_share": float(sum(r.slack_time for r in records) / span),
        "pitch_beyond_share": float(sum(r.pitch_beyond_time for r in records) / span),
        "foredeck_buried_share": float(sum(r.foredeck_time for r in records) / span),
        "thrust_floor_share": float(sum(r.thrust_floor_time for r in records) / span),
        "hull_lift_min": float(_extreme(records, weights, "hull_lift_min", np.min)),
    }

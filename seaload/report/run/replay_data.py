"""What the replay of the worst seconds needs: the kept minute, the foil's front view, an outline of the
hull."""

import numpy as np

from seaload.basis.units import DEGREE, KNOT
from seaload.report.run.drawings import kept_shares
from seaload.report.shared.result_reading import number, place_names, scenario

NEEDED = (
    "strip_force",
    "strip_wet",
    "heave",
    "pitch",
    "roll",
    "wave_elevation",
    "tip_depth",
    "bending_moment",
)
WINDOW = 10.0  # [s]
WINDOWS = 3  # so many separate moments to choose from


def can_replay(dataset):
    """Whether the result holds the series of a worst minute."""
    return all(name in dataset for name in NEEDED) and dataset.sizes.get("time_minute", 0) > 10


def replay_data(dataset, setting=0):
    """Plain lists for the page, human units: time in s, angles in degrees, strip load in N per m."""
    edge = {"setting": setting}
    lateral, height = (dataset[f"foil_edge_{way}"].isel(edge).values for way in ("lateral", "height"))
    length = np.hypot(np.diff(lateral), np.diff(height))
    shares = kept_shares(dataset, setting)
    inside = dataset["place_inside"].isel(edge).values > 0
    time = dataset["time_minute"].values
    steps = {
        "elevation_m": (dataset["wave_elevation"].values, 2),
        "heave_m": (dataset["heave"].values, 2),
        "pitch_deg": (dataset["pitch"].values / DEGREE, 1),
        "roll_deg": (dataset["roll"].values / DEGREE, 1),
        "speed_knots": (dataset["speed"].values / KNOT, 1),
        "tip_depth_m": (dataset["tip_depth"].values, 2),
    }
    return {
        "time_s": rounded(time, 2),
        **{name: rounded(values, digits) for name, (values, digits) in steps.items()},
        "share": [rounded(row, 0) for row in shares[:, ~inside]],
        "places": [name for name, hidden in zip(place_names(dataset), inside, strict=True) if not hidden],
        "load_n_per_m": [rounded(row, 0) for row in dataset["strip_force"].values / length],
        "wet": ["".join(str(int(round(9 * w))) for w in np.clip(row, 0, 1)) for row in dataset["strip_wet"].values],
        "edge_y": rounded(lateral, 3),
        "edge_z": rounded(height, 3),
        **outlines(dataset, setting, lateral[0], height[0]),
        "heel_deg": number(dataset, "heel", setting) / DEGREE,
        "windows": windows(time, shares[:, ~inside]),
    }


def replay_step(dataset, sea, event):
    """Step of the kept minute nearest to an `Event`'s deepest moment; None where it lies outside of it."""
    if not can_replay(dataset) or int(number(dataset, "kept_sea")) != sea:
        return None
    time = dataset["time_minute"].values
    if event.realisation != int(number(dataset, "kept_realisation")) or not time[0] <= event.time_s <= time[-1]:
        return None
    return int(np.argmin(np.abs(time - event.time_s)))


def rounded(values, digits):
    """Numbers cut to so many digits, whole ones as integers, so that the page stays small."""
    found = np.round(np.nan_to_num(np.asarray(values, dtype=float)), digits)
    return [int(value) if digits == 0 else float(value) for value in found]


def windows(time, shares):
    """Index triples (first, deepest, last) of ten-second windows round the deepest moments, worst first."""
    worst = shares.min(axis=1).copy()
    found = []
    for _ in range(WINDOWS):
        deepest = int(np.argmin(worst))
        if not np.isfinite(worst[deepest]) or (found and worst[deepest] >= 0.0):
            break
        begin = min(max(time[deepest] - 0.6 * WINDOW, time[0]), time[-1] - WINDOW)
        first = int(np.searchsorted(time, begin))
        last = int(np.searchsorted(time, begin + WINDOW, side="right")) - 1
        found.append([first, deepest, last])
        worst[np.abs(time - time[deepest]) < 0.5 * WINDOW] = np.inf
    return found


def outlines(dataset, setting, exit_y, exit_z):
    """Hull outlines from the centre of gravity [m]: its fullest section at the mean heel, and its side view.

    The hull exit of the foil is a point known in both: in hull measures from the boat file, and relative to
    the centre of gravity in the result. Without a readable boat file both are empty.
    """
    try:
        boat = scenario(dataset)["boat"]
        hull, foil = boat["hull"], boat["foil"][dataset.attrs["foil"]]
        foil = boat["foil"][foil["same_as"]] if "same_as" in foil else foil
        heel = number(dataset, "heel", setting)
        half, side = float(hull["half_beam_m"]), float(hull["side_height_m"])
        rise = half * np.tan(float(hull["deadrise_deg"]) * DEGREE)
        y = np.array([0.0, half, half, -half, -half, 0.0]) - float(foil["exit_from_centre_m"])
        z = np.array([0.0, rise, rise + side, rise + side, rise, 0.0]) - float(foil["exit_height_m"])
        section_y = exit_y + y * np.cos(heel) + z * np.sin(heel)
        section_z = exit_z - y * np.sin(heel) + z * np.cos(heel)
        station, keel = np.array(hull["station_m"], dtype=float), np.array(hull["keel_rise_m"], dtype=float)
        centre = float(boat["cg_from_transom_m"]) + number(dataset, "ballast_shift", setting)
        low = float(np.min(section_z))
        return {
            "section_y": rounded(section_y, 3),
            "section_z": rounded(section_z, 3),
            "side_x": rounded(np.append(station, station[::-1]) - centre, 3),
            "side_z": rounded(np.append(keel, np.full(len(keel), rise + side)) + low, 3),
            "foil_x": round(float(foil["exit_from_transom_m"]) - centre, 3),
        }
    except (KeyError, TypeError, ValueError):
        return {"section_y": [], "section_z": [], "side_x": [], "side_z": [], "foil_x": 0.0}

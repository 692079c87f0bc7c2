"""A leg through a made forecast, with a library of loads by a formula that is known: nothing is marched."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from seaload.basis.units import DEGREE, KNOT
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.emulator import recipes_of
from seaload.deciding.library.next_seas import first_seas, spread_seas
from seaload.deciding.library.point import unreachable_point
from seaload.deciding.library.shelf import Shelf
from seaload.files.result_file import write_result
from seaload.result.library_dataset import library_dataset
from seaload.scenario.read_boat import read_boat
from seaload.scenario.risk_spec import ModelSpec, SamplingSpec
from seaload.studies.library.shelf_file import made_for, surfaces_hash
from tests.deciding.library.invented import SPAN, points_at

LEGS = Path(__file__).resolve().parents[3] / "scenarios" / "legs"
SETTINGS = np.array([
    [extension, 0.03, 0.3, 0.5, 0.0, speed] for extension in (0.6, 0.8, 1.0) for speed in (7.0, 9.0, 11.0)
])  # fmt: skip
PLACES = 6
GAUGE = 4  # place of the one gauge that tells anything
HARDER = 3.6  # times the loads of the invented boat: near the limit in the forecast's swell
TABLES = {
    "name": "made-leg",
    "boat": str(LEGS.parent / "boats" / "demo.toml"),
    "library": "made.nc",
    "forecast": str(LEGS / "made-forecast.nc"),
    "start_utc": "2026-03-14T06:00Z",
    "start_latitude_deg": 48.6,
    "start_longitude_deg": -31.2,
    "segment": [{"heading_deg_true": 215.0, "distance_nm": 20.0} for _ in range(5)]
    + [{"heading_deg_true": 335.0, "distance_nm": 20.0} for _ in range(2)],
    "settings": {
        "extension_percent": [80.0, 100.0], "rake_deg": 0.03 / DEGREE, "heel_deg": 0.3 / DEGREE,
        "cant_deg": 0.5 / DEGREE, "speed_knots": [7.0 / KNOT, 9.0 / KNOT, 11.0 / KNOT],
    },
    "budget": {"reverse_odds": 0.005},
    "check": {"marches": 0},
}  # fmt: skip


def quantiles_of(point):
    """50, 90 and 99 % of the highest load of ten seconds, (sides, 3) [share of the limit]: grows with height and speed.
    """
    size = 0.03 * point["sea_hs"] * point["speed_set"] / 9.0
    return np.array([0.05, 0.3])[:, None] + size * -np.log(1.0 - np.array([0.5, 0.9, 0.99]))


def made_points(seas, settings, **options):
    """Points of the invented boat, said to be of the demo boat, in `seas` (n, 3)."""
    points, nowhere = points_at(seas, settings, noise=0.004, **options), unreachable_point(PLACES)
    for point in points:
        for name, value in nowhere.items():
            point[name] = np.asarray(point.get(name, value)).astype(value.dtype)
        for name in ("load_at_rate", "load_calm", "tail_swing", "tail_swing_error"):
            point[name] *= HARDER
        point["channel_quantile"][GAUGE], point["channel_quantile_error"][GAUGE] = quantiles_of(point), 0.01
        point["log_rate"][:], point["log_rate_error"][:] = -9.0, 0.5
    return points


DEMO_SETTINGS = np.array([
    [extension, rake, 18.0 * DEGREE, 30.0 * DEGREE, 0.0, speed * KNOT]
    for extension, rake in ((0.6, 0.0), (0.8, 2.0 * DEGREE), (1.0, 4.0 * DEGREE)) for speed in (12.0, 16.0, 20.0)
])  # fmt: skip  # of the example leg, some of its grid


def made_library(folder, seas=44, lowest_only=np.inf, settings=SETTINGS, file="made.nc"):
    """Writes a library `file` into a folder: the invented one, said to be of the demo boat; of seas up to `lowest_only`
    [m].
    """
    first = first_seas(SPAN)
    nodes = np.concatenate([first, spread_seas(SPAN, 100, seas - len(first))])
    points = made_points(nodes[nodes[:, 0] <= lowest_only], settings)
    _, boat = read_boat(TABLES["boat"])
    wanted = made_for(boat, boat.foils["port"], ModelSpec().si(), SamplingSpec().si())
    shelf = Shelf(wanted).with_points(points)
    shelf = replace(shelf, surfaces=recipes_of(shelf))
    assert set(NAMES) <= set(points[0])
    dataset = library_dataset(shelf, ("demo", "port")).assign_attrs(surfaces_hash=surfaces_hash())
    return write_result(dataset, folder, file)

"""A sizing small enough for a test: two seas of a made-up table, a gust, a motion, a change; minutes of sea in all."""

from dataclasses import replace
from pathlib import Path

from seaload.studies.size.load_size import load_size
from tests.small_study import STUDIES

OTHER = Path(__file__).parent / "boats" / "former.toml"
TABLE = "hs_lower_m,tz_6,tz_7\n2,0.75,0\n3,0,0.25\n"
TOML = """
name = "small-size"
boat = "{boat}"
usage = "table.csv"
choosing_hours = 0.1
compare = ["{other}"]
[usage_sea]
height_edges_m = [2, 3, 4]
periods = 1
[[heading]]
waves_from_bow_deg = 45
share_percent = 100
true_wind_angle_deg = 110
[settings]
extension_percent = 80
speed_knots = [16, 18]
[targets]
season_hours = 100
[[change]]
name = "3 degrees more dihedral"
tip_angle_deg = 3
[[situation]]
name = "surf"
sea = "quarter"
setting = {{ extension_percent = 100, speed_knots = 20 }}
share_percent = 5
analysis = "both"
realisations = 5
[[situation]]
name = "gust"
sea = "quarter"
gust = {{ strength_percent = 30, rise_s = 1, hold_s = 1 }}
times_per_season = 20
partial_factor = 1.1
origin = "<b>made up</b>"
realisations = 5
[[situation]]
name = "drop"
motion = "drop"
times_per_season = 10
[[sea]]
name = "quarter"
spectrum = "jonswap"
hs_m = 3.5
tp_s = 9
waves_from_bow_deg = 135
[[prescribed]]
name = "drop"
time_s = [0, 1, 2]
speed_knots = [20, 18, 15]
height_m = [0, -0.2, 0]
"""


def written(folder, text=TOML, table=TABLE):
    """Path of the study in a folder, its table beside it."""
    (folder / "table.csv").write_text(table, encoding="utf-8")
    path = folder / "small.toml"
    path.write_text(text.format(boat=STUDIES.parent / "boats" / "demo.toml", other=OTHER), encoding="utf-8")
    return path


def small(folder, text=TOML, table=TABLE, *, doubts=("lift_slope", "rake_zero"), time=40.0):
    """The `SizeStudy` with realisations of `time` [s] and few uncertain inputs."""
    sized = load_size(written(folder, text, table))
    sampling = replace(sized.study.sampling, realisation_time=time, run_in=10.0, components=30, realisations=5)
    uncertain = tuple(entry for entry in sized.study.uncertain if entry.name in doubts)
    study = replace(sized.study, sampling=sampling, uncertain=uncertain)
    return replace(sized, study=study, choosing=2)

"""A library grows by use: what a run or a sweep has simulated anyway becomes points of it."""

from dataclasses import replace

from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.emulator import recipes_of
from seaload.deciding.library.point import point_of
from seaload.deciding.library.shelf import WAVES
from seaload.studies.library.seas import WANTED, coordinates_of, setting_row, wave_number
from seaload.studies.library.shelf_file import keep_shelf, shelf_for, writing


def refuse_other_library(study, out):
    """InputError, before anything is simulated, where the library that a study names in `out` is not its boat's."""
    if study.library:
        shelf_for(study, out)


def grow_library(study, sailer, counts, speeds, out):
    """Add the finished cases of a `sailer` to the library that its study names in `out`, if it names one.

    counts : {(setting, sea) numbers: realisations from the first on}; speeds : (settings, seas) [m/s] that the thrust
    holds in calm water.
    """
    if not study.library:
        return
    points = []
    for j in sorted({sea for _, sea in counts}):
        place = coordinates_of(study.raw["sea"][j], study.seas[j])
        if place is None:
            sailer.account.say(f"{study.seas[j].name}: not kept in {study.library}: {WANTED}")
            continue
        waves = dict(zip(WAVES, (wave_number(study.seas[j].name), study.sampling.seed, 0), strict=True))
        for i in sorted(i for i, sea in counts if sea == j):
            setting = sailer.settings[i, j]
            if setting.water:
                continue
            found = point_of([sailer.records[i, j, r] for r in range(counts[i, j])])
            own = dict(zip(NAMES, setting_row(setting), strict=False))
            points.append({**found, **place, **own, **waves, "speed_attainable": float(speeds[i, j])})
    with writing(out, study.library):
        shelf = shelf_for(study, out).with_points(points)
        if len(shelf):
            keep_shelf(replace(shelf, surfaces=recipes_of(shelf)), study, out)

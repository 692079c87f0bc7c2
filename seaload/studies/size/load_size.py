"""Loads a study that sizes a foil: its file, the boat, the scatter table and the foils to compare."""

from dataclasses import replace
from math import isnan
from pathlib import Path

from seaload.basis.errors import InputError
from seaload.files.scatter_table import read_scatter
from seaload.scenario.forecast_spec import FORECAST
from seaload.scenario.read_boat import read_boat
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.records import Study
from seaload.scenario.risk_spec import SEA_DOUBT
from seaload.scenario.setting_spec import GRID_KEYS
from seaload.scenario.size_records import BOTH, USAGE, Situation, SizeStudy
from seaload.scenario.size_spec import SizeSpec
from seaload.studies.build_sea import build_sea
from seaload.studies.load_study import (
    plain,
    refuse_attainable_without_table,
    refuse_no_windward_foil,
    refuse_outside_windows,
    refuse_short_extension,
)
from seaload.studies.size.usage_seas import usage_seas
from seaload.studies.study_size import StudySize, refuse_large

NORMAL_SAILING = "normal sailing"
FEWEST = 5  # realisations of a sea of the usage, the fewest that a tail is read from


def load_size(path, *, seed=None, allow_large=False):
    """The `SizeStudy` of a TOML file, SI inside; InputError, one line, for anything wrong.

    seed : whole number >= 0 that goes before the one written. allow_large : as of `load_study`.
    """
    path = Path(path)
    tables = read_tables(path)
    spec = checked(SizeSpec, tables, path)
    if seed is not None and (isinstance(seed, bool) or not isinstance(seed, int) or not 0 <= seed <= 10**15):
        raise InputError(shown(path), "seed", seed, "a whole number from 0 to 1e15")
    sampling = spec.sampling.si(seed)
    if sampling.realisations < FEWEST:
        allowed = f"at least {FEWEST} realisations of {spec.sampling.realisation_minutes:g} minutes"
        raise InputError(shown(path), "sampling.hours", spec.sampling.hours, allowed)
    scatter = read_scatter(path.parent / spec.usage)
    boat_spec, boat = read_boat(path.parent / spec.boat)
    refuse_other_foil(spec, boat, path)
    usage_written, usage = usage_seas(spec, scatter, path)
    written = [*usage_written, *spec.sea]
    seas = tuple(
        build_sea(sea, max(i - len(usage), 0), path=path, boat=boat, starboard_tack=spec.foil == "port")
        for i, sea in enumerate(written)
    )
    told = tuple(dict.fromkeys(f"seas of the usage: {note}" for sea in seas[: len(usage)] for note in sea.notes))
    seas = tuple(replace(sea, notes=()) if i < len(usage) else sea for i, sea in enumerate(seas))
    refuse_attainable_without_table(spec, seas[: len(usage)], boat, path)
    grid = spec.settings.si()
    situations, own = situations_of(spec, len(usage), len(grid))
    for one in own:
        refuse_setting(one, spec, boat, path)
    settings = (*grid, *(each for one in own for each in one.si()))
    refuse_no_windward_foil(spec, settings, boat, path)
    choosing = max(1, -int(-(spec.choosing_hours * 3600.0 / sampling.realisation_time) // 1))
    hours = (len(grid) * choosing + (2 + len(spec.change) + len(spec.compare)) * sampling.realisations) * len(usage)
    hours = (hours + sum(one.realisations for one in situations[1:])) * sampling.realisation_time / 3600.0
    size = StudySize(len(grid) * len(usage), int(hours * 3600.0 / sampling.realisation_time), hours)
    refuse_large(size, "sampling.hours", spec.sampling.hours, path, allowed=allow_large)
    doubts = {**SEA_DOUBT, **boat_spec.uncertain, **spec.uncertain}
    study = Study(
        name=spec.name, boat=boat, boat_name=boat_spec.name, foil_side=spec.foil, seas=seas, settings=settings,
        risk=spec.risk.si(), sampling=sampling, gust=spec_gust(situations), model=spec.model.si(), raw=plain(tables),
        path=str(path), uncertain=tuple(doubts[n].si(n) for n in sorted(doubts) if n not in FORECAST),
        defaults_used=spec.defaults_used(), notes=(*notes_of(spec, scatter, len(usage), situations), *told),
        prescribed=tuple(motion.si() for motion in spec.prescribed),
    )  # fmt: skip
    rig = rig_of(spec, boat, path)
    return SizeStudy(
        study, tuple(usage), len(grid), cells_of(scatter, spec), situations, spec.targets.si(), rig, choosing,
        tuple(change.si() for change in spec.change), compared_boats(spec, boat, path),
    )  # fmt: skip


def refuse_other_foil(spec, boat, path):
    """InputError for a foil that the boat has not, and for water in tanks, which a sizing does without."""
    if spec.foil not in boat.foils:
        raise InputError(shown(path), "foil", spec.foil, f"the boat file has {' and '.join(boat.foils)} only")
    if spec.settings.tanks is not None:
        raise InputError(shown(path), "settings.tanks", "this table", "give ballast_shift_m")
    refuse_short_extension(spec.settings, boat.foils[spec.foil], path)
    refuse_outside_windows(spec.settings, boat, path)


def refuse_setting(one, spec, boat, path):
    """InputError for the setting of a situation that the boat cannot have, or whose speed is not a number."""
    if one.speed_knots == "attainable":
        raise InputError(shown(path), "situation.setting.speed_knots", one.speed_knots, "a number of knots")
    refuse_short_extension(one, boat.foils[spec.foil], path)
    refuse_outside_windows(one, boat, path)


def situations_of(spec, first_sea, first_setting):
    """([`Situation`], the usage first, [`SettingsSpec`] of their settings) of a size specification.

    first_sea, first_setting : numbers of the first sea and setting that are the situations' own.
    """
    names, motions, own = [sea.name for sea in spec.sea], [motion.name for motion in spec.prescribed], []
    found = []
    for one in spec.situation:
        setting = None
        if one.sea != USAGE:
            setting = first_setting + len(own)
            own.append(one.setting or first_of(spec.settings))
        found.append(Situation(
            name=one.name,
            sea=None if one.sea in (None, USAGE) else first_sea + names.index(one.sea),
            setting=setting,
            share=(one.share_percent or 0.0) / 100.0,
            times=one.times_per_season or 0.0,
            gust=one.gust and one.gust.si(),
            motion=None if one.motion is None else motions.index(one.motion),
            analysis=one.analysis, realisations=one.realisations, factor=one.partial_factor, origin=one.origin,
        ))  # fmt: skip
    usage = [each for each in found if each.is_usage]
    if not usage:
        usage = [Situation(NORMAL_SAILING, None, None, 0.0, 0.0, None, None, BOTH, 5, 1.0, "not said: 1")]
    taken = sum(each.share for each in found)
    usage = [replace(usage[0], share=1.0 - taken)]
    return (*usage, *(each for each in found if not each.is_usage)), own


def first_of(settings):
    """The grid's first setting, as a specification."""
    first = {key: getattr(settings, key) for key in GRID_KEYS}
    first = {key: value[0] if isinstance(value, list) else value for key, value in first.items()}
    return settings.model_copy(update=first)


def spec_gust(situations):
    """The first gust of the situations, for the record of the study; none of its own is run."""
    from seaload.scenario.risk_spec import GustSpec

    return next((one.gust for one in situations if one.gust is not None), GustSpec().si())


def rig_of(spec, boat, path):
    """The `Rig` with the slope of the foil's own curve where none is stated; InputError for a station it has not."""
    rig, foil = spec.rig.si(), boat.foils[spec.foil]
    if rig.place > len(foil.stations):
        allowed = f"a station of the foil, 1 to {len(foil.stations)}, or 0 for the bearing"
        raise InputError(shown(path), "rig.station", rig.place, allowed)
    return replace(rig, slope=foil.fatigue.slope) if isnan(rig.slope) else rig


def cells_of(scatter, spec):
    """Cells of the table with mean up-crossing periods, whatever its own."""
    from seaload.studies.size.usage_seas import peak_over_mean

    ratio = 1.0 if scatter.period == "tz" else peak_over_mean(spec.usage_sea)
    return tuple((height, period / ratio, share) for height, period, share in scatter.cells)


def compared_boats(spec, boat, path):
    """((name, Boat), ...) of the foils to compare; InputError for one of another arrangement of stations."""
    found = []
    for i, name in enumerate(spec.compare, start=1):
        other_spec, other = read_boat(path.parent / name)
        field = f"compare[{i}]"
        if spec.foil not in other.foils:
            raise InputError(shown(path), field, shown(name), f"that boat file has no {spec.foil} foil")
        if len(other.foils[spec.foil].stations) != len(boat.foils[spec.foil].stations):
            raise InputError(shown(path), field, shown(name), "a foil with as many strain stations")
        refuse_short_extension(spec.settings, other.foils[spec.foil], path)
        if any(other_spec.name == known for known, _ in found) or other_spec.name == "":
            raise InputError(shown(path), field, shown(name), "a boat file with a name of its own")
        found.append((other_spec.name, other))
    return tuple(found)


def notes_of(spec, scatter, seas, situations):
    """Plain lines on what was assumed of the usage."""
    kind = "mean up-crossing" if scatter.period == "tz" else "peak"
    hours = "" if isnan(scatter.hours) else f" of {scatter.hours:,.0f} hours"
    notes = [
        f"usage: {len(scatter.cells)} cells{hours} of height and {kind} period, put together into {seas} seas over "
        f"{len(spec.heading)} heading{'s' if len(spec.heading) > 1 else ''}; a group of cells has their mean energy",
        "the setting in each sea is chosen by the levels of [risk] were the forecast right; it is kept as the sea is",
        "forecast errors are left out: over a season the table's own scatter stands in their place",
    ]
    if not any(one.is_usage and one.origin for one in situations):
        notes.append("partial factor of the usage: no origin said")
    return tuple(notes)

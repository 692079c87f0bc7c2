"""Loads a study: the file a person wrote, its boat and its sea records, as one record ready to run."""

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, HOUR, KNOT, PERCENT
from seaload.boat.tank_water import loaded_centre
from seaload.deciding.known_wind import reference_speed
from seaload.scenario.forecast_spec import USUAL_LEAD_HOURS, forecast_words
from seaload.scenario.read_boat import read_boat
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.records import Study, other_side
from seaload.scenario.risk_spec import SEA_DOUBT
from seaload.scenario.study_spec import StudySpec
from seaload.scenario.written import as_list
from seaload.studies.build_sea import build_sea
from seaload.studies.library.seas import refuse_unfit
from seaload.studies.study_size import StudySize, refuse_large, study_size
from seaload.waves.components import LEAST_COUNT


def load_study(path, *, seed=None, one_setting=False, allow_large=False):
    """The study of a TOML file as `records.Study`, SI inside.

    seed: whole number >= 0 that goes before the one written. one_setting: refuse lists of settings, as
    `run` does. allow_large: let a study through that may take more than 8,000 hours of sea or 100,000 cases. Raises
    InputError, one line with file, field, value and what is allowed.
    """
    path = Path(path)
    tables = read_tables(path)
    spec = checked(StudySpec, tables, path)
    if seed is not None and (isinstance(seed, bool) or not isinstance(seed, int) or not 0 <= seed <= 10**15):
        raise InputError(shown(path), "seed", seed, "a whole number from 0 to 1e15")
    if one_setting:
        refuse_lists(spec, path)
    sampling = spec.sampling.si(seed)
    refuse_large_study(spec, sampling, path, one_setting=one_setting, allow_large=allow_large)
    refuse_few_components(spec, path)
    boat_spec, boat = read_boat(path.parent / spec.boat)
    if spec.foil not in boat.foils:
        raise InputError(shown(path), "foil", spec.foil, f"the boat file has {' and '.join(boat.foils)} only")
    shift, water = water_in_tanks(spec.settings, boat, path)
    settings = spec.settings.si(ballast_shift=shift, water=water)
    refuse_short_extension(spec.settings, boat.foils[spec.foil], path)
    refuse_outside_windows(spec.settings, boat, path)
    seas = tuple(
        with_lead(build_sea(sea, index, path=path, boat=boat, starboard_tack=spec.foil == "port"), sea, spec, boat_spec)
        for index, sea in enumerate(spec.sea)
    )
    refuse_attainable_without_table(spec, seas, boat, path)
    refuse_no_windward_foil(spec, settings, boat, path)
    study = Study(
        name=spec.name,
        boat=boat,
        boat_name=boat_spec.name,
        foil_side=spec.foil,
        seas=seas,
        settings=settings,
        risk=spec.risk.si(),
        sampling=sampling,
        gust=spec.gust.si(),
        model=spec.model.si(),
        raw=plain(tables),
        path=str(path),
        uncertain=uncertain_inputs(spec, boat_spec),
        hs_tp_correlation=spec.forecast.hs_tp_correlation,
        defaults_used=spec.defaults_used(),
        notes=study_notes(spec, boat, boat.foils[spec.foil], settings),
        prescribed=tuple(motion.si() for motion in spec.prescribed),
        library=spec.library or "",
        fill=spec.fill and spec.fill.si(),
    )
    if study.fill is not None:
        refuse_unfit(study)
    return study


def refuse_lists(spec, path):
    """InputError when a setting is a list: `run` sails one setting, in every sea of the study."""
    key = spec.settings.first_list()
    if key is not None:
        value = getattr(spec.settings, key)
        allowed = "run takes one number; for a list use: seaload sweep"
        raise InputError(shown(path), f"settings.{key}", value, allowed)


def refuse_large_study(spec, sampling, path, *, one_setting, allow_large):
    """InputError for a study past what is marched without being asked, with the time and memory it would take."""
    if spec.fill is not None:
        if one_setting:
            raise InputError(shown(path), "fill", "this table", "run fills no library; use: seaload sweep")
        cases = int(spec.fill.hours * 60.0 / spec.sampling.realisation_minutes)
        size = StudySize(spec.settings.count, cases, spec.fill.hours)
        return refuse_large(size, "fill.hours", spec.fill.hours, path, allowed=allow_large)
    size = study_size(spec.settings.count, len(spec.sea), sampling, adaptive=not one_setting)
    budget = "max_hours" if not one_setting and (spec.sampling.max_hours or 0.0) > spec.sampling.hours else "hours"
    field, value = f"sampling.{budget}", getattr(spec.sampling, budget)
    if spec.settings.count > 1:
        field, value = "settings", spec.settings.count
    refuse_large(size, field, value, path, allowed=allow_large)


def refuse_few_components(spec, path):
    """InputError for fewer wave components than the wave systems of a sea need."""
    for number, sea in enumerate(spec.sea, start=1):
        systems = sea.has_source + len(sea.system)
        if spec.sampling.components < LEAST_COUNT * systems:
            allowed = f"sea[{number}] has {systems} wave systems: at least {LEAST_COUNT * systems} components"
            raise InputError(shown(path), "sampling.components", spec.sampling.components, allowed)


def water_in_tanks(settings, boat, path):
    """(shift forward of the centre of gravity [m], water as in `Setting`) of the tanks as filled, or (None, ())."""
    if settings.tanks is None:
        return None, ()
    known, water = {tank.name: tank for tank in boat.tanks}, []
    for name, percent in settings.tanks.items():
        if name not in known:
            allowed = f"the boat's tanks are {', '.join(known) or 'none'}"
            raise InputError(shown(path), f"settings.tanks.{shown(name)}", percent, allowed)
        tank = known[name]
        if percent > 0.0:
            water.append((tank.mass * percent * PERCENT, tank.from_transom, tank.to_leeward, tank.height))
    centre = loaded_centre(boat.mass, (boat.cg_from_transom, 0.0, 0.0), water)
    return centre[0] - boat.cg_from_transom, tuple(water)


def refuse_short_extension(settings, foil, path):
    """InputError for an extension below what the foil can be drawn in to."""
    value = settings.extension_percent
    shortest = min(value) if isinstance(value, list) else value
    if shortest < foil.least_extension / PERCENT - 1e-9:
        allowed = f"this foil works from {foil.least_extension / PERCENT:g} to 100 percent"
        raise InputError(shown(path), "settings.extension_percent", shortest, allowed)


def refuse_outside_windows(settings, boat, path):
    """InputError for a heel or cant beyond those that the waves at this boat are worked out for."""
    for key, window in (("heel_deg", boat.heel_window), ("cant_deg", boat.cant_window)):
        least, most = (end / DEGREE for end in window)
        for value in as_list(getattr(settings, key)):
            if not least - 1e-9 <= value <= most + 1e-9:
                allowed = f"this boat's waves are worked out for {least:.1f} to {most:.1f} degrees; "
                allowed += f"[worked.{key}] of the boat file widens that"
                raise InputError(shown(path), f"settings.{key}", value, allowed)


def refuse_attainable_without_table(spec, seas, boat, path):
    """InputError when "attainable" is asked for in a wind that neither table nor calibration covers."""
    speeds = spec.settings.speed_knots
    if "attainable" not in (speeds if isinstance(speeds, list) else [speeds]):
        return
    why = "the boat's speed table does not reach this wind"
    if boat.speed_table is None:
        why = "without a speed table it holds only near the reference wind"
    for sea in seas:
        wind, angle = sea.true_wind_speed, sea.true_wind_angle
        if reference_speed(boat, wind, angle) is None:
            shown_wind = f"{wind / KNOT:.0f} knots, {angle / DEGREE:.0f} degrees"
            raise InputError(shown(path), "settings.speed_knots", "attainable", f"{why} ({shown_wind})")


def refuse_no_windward_foil(spec, settings, boat, path):
    """InputError for a prescribed motion of a windward foil that the boat does not have, or not so far out."""
    other = other_side(spec.foil)
    for number, motion in enumerate(spec.prescribed, start=1):
        field = f"prescribed[{number}].foil"
        if motion.foil != "windward":
            continue
        if other not in boat.foils:
            raise InputError(shown(path), field, motion.foil, f"the boat file has no {other} foil")
        least, drawn_in = boat.foils[other].least_extension, min(setting.extension for setting in settings)
        if drawn_in < least - 1e-9:
            allowed = f"the {other} foil works from {least / PERCENT:g} to 100 percent out, the setting has less"
            raise InputError(shown(path), field, motion.foil, allowed)


def uncertain_inputs(spec, boat_spec):
    """Doubts of forecast, boat file and study; a study goes before its boat file, that before defaults.

    A forecast of the usual lead time stands for what the seas tell by their own.
    """
    stated = {name: doubt.si(name) for name, doubt in {**SEA_DOUBT, **boat_spec.uncertain, **spec.uncertain}.items()}
    usual = {entry.name: entry for entry in spec.forecast.inputs(USUAL_LEAD_HOURS * HOUR)}
    doubts = {**usual, **stated}
    return tuple(doubts[name] for name in sorted(doubts))


def with_lead(sea, written, spec, boat_spec):
    """The `sea` record with what its lead time, as `written`, leaves uncertain; what `[uncertain]` states goes before.
    """
    stated = {*boat_spec.uncertain, *spec.uncertain}
    lead = USUAL_LEAD_HOURS if written.lead_hours is None else written.lead_hours
    inputs = tuple(entry for entry in spec.forecast.inputs(lead * HOUR) if entry.name not in stated)
    if not inputs:
        return sea
    ahead = f"forecast {lead:g} h ahead" + (" (assumed)" if written.lead_hours is None else "")
    note = f"{ahead}: it may be off by {forecast_words(inputs)} (one deviation, from memory)"
    return replace(sea, forecast=inputs, notes=(*sea.notes, note))


def study_notes(spec, boat, foil, settings):
    """Plain lines on what was assumed, or lies outside what the crew works with."""
    notes = []
    if not foil.limit_basis:
        notes.append("the boat file does not say what its limits mean (limit_basis)")
    part_full = [name for name, percent in (spec.settings.tanks or {}).items() if 0.0 < percent < 100.0]
    if part_full:
        notes.append(f"part-full tanks ({', '.join(part_full)}): their water is taken as fixed, no free surface")
    for name, worked in boat.worked.items():
        values = [getattr(setting, name) for setting in settings]
        if any(value < worked.least - 1e-9 or value > worked.most + 1e-9 for value in values):
            notes.append(f"{name.replace('_', ' ')} is outside the range worked on this boat")
    return tuple(notes)


def plain(value):
    """Tables as written with dates and times as text, so that they can be stored as JSON."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, datetime | date | time) else value

"""What a leg asks, made whole: its way, its forecast, its boat's library, and what every setting would spend where."""

from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DAY, DEGREE, KNOT, MINUTE, PERCENT
from seaload.deciding.leg.asked import ENOUGH_MEMBERS, Told, spending_of, told_by
from seaload.deciding.leg.ladder import carried, rows_in
from seaload.deciding.leg.met import STILL, Met, met_on
from seaload.deciding.leg.missing import missing_seas
from seaload.deciding.leg.route import Route, rhumb_ways, route_of, shortest
from seaload.deciding.leg.sea_table import SeaTable
from seaload.deciding.leg.spending import Spending
from seaload.deciding.library.coordinates import HEIGHT, NAMES, PERIOD, SETTING
from seaload.deciding.library.doubt_there import Inputs
from seaload.deciding.uncertainty import STRENGTHS
from seaload.files.forecast_field import Forecast
from seaload.files.forecast_netcdf import Stretch, read_forecast
from seaload.files.track import read_track
from seaload.sailing.blas_threads import one_blas_thread
from seaload.scenario.leg_records import Leg, LegSegment
from seaload.scenario.leg_spec import read_leg_spec
from seaload.scenario.read_toml import shown
from seaload.scenario.risk_spec import SEA_DOUBT, ModelSpec, SamplingSpec
from seaload.studies.leg.march_missing import march_missing, told_words
from seaload.studies.leg.sails import held_shares
from seaload.studies.library.ask import Library
from seaload.studies.library.seas import setting_row
from seaload.studies.library.shelf_file import made_for, read_shelf

STEP = 60.0 * MINUTE  # [s] between moments at which the seas of a piece are looked at
SPARE_TIME = 1.1  # times the slowest passage in still water that the forecast has to cover
WORDS = {"extension": ("extension_percent", PERCENT), "rake": ("rake_deg", DEGREE), "heel": ("heel_deg", DEGREE),
         "cant": ("cant_deg", DEGREE), "ballast_shift": ("ballast_shift_m", 1.0),
         "speed_set": ("speed_knots", KNOT)}  # fmt: skip


class LegQuestion(NamedTuple):
    """A leg that can be planned."""

    leg: Leg
    route: Route
    forecast: Forecast
    table: SeaTable
    settings: np.ndarray  # (j, SETTING names) [SI]
    met: Met
    told: Told
    spending: Spending
    notes: tuple  # plain words on what was chosen, assumed, left out

    @property
    def emulator(self):
        """The library that is asked."""
        return self.table.emulator


class Means(NamedTuple):
    """What marches are done with, and whether seas that the library does not tell are marched first."""

    account: object  # Account
    workers: int | None = None
    scheduler: str | None = None
    march_missing: bool = False


def leg_question(path, out, means, seed=None):
    """`LegQuestion` of a description file `path`, its library in the results folder `out`; InputError if wrong. `seed`
    of the check in place of the one written; `means` : `Means`.
    """
    leg = read_leg_spec(path)
    if seed is not None:
        leg = replace(leg, check=replace(leg.check, seed=seed))
    segments, start_place, notes = way_of(leg)
    leg = replace(leg, segments=segments, start_place=start_place)
    try:
        route = route_of(leg.start_place, leg.segments)
    except ValueError as error:
        raise InputError(shown(leg.file), "segment", len(leg.segments), str(error)) from None
    library = library_for(leg, Path(out))
    emulator, settings = library.emulator, np.array([setting_row(setting) for setting in leg.settings])
    refuse_uncovered(leg, emulator, settings)
    speeds = settings[:, SETTING.index("speed_set")]
    slowest = route.distance / speeds.min() * SPARE_TIME
    latest = max(leg.later, default=0.0)
    end_place = np.array([leg.start_place, route.end])
    stretch = Stretch(leg.start, leg.start + slowest + latest,
                      np.concatenate([route.latitude, end_place[:, 0]]),
                      np.concatenate([route.longitude, end_place[:, 1]]))  # fmt: skip
    forecast = read_forecast(leg.forecast, stretch)
    refuse_two_winds(leg, forecast)
    moments, needed = window_of(route, speeds, latest)
    met = met_on(route, forecast, leg.start, moments, (leg.wind, leg.current))
    refuse_no_sea(leg, route, met, needed)
    inputs, lead = inputs_of(leg.boat), lead_time(leg, forecast, moments)
    table = SeaTable(emulator, settings, inputs, *errors_of(leg, forecast))
    told = told_by(table, met, lead, needed)
    missing = missing_of(leg, met, told, needed)
    if means.march_missing and len(missing.seas):
        march_missing(leg, inputs, emulator.cover, missing, (out, means.workers, means.scheduler, means.account))
        notes.append(f"{len(missing.seas)} seas of the way were marched into the library first")
        table = SeaTable(library_for(leg, Path(out)).emulator, settings, inputs, *errors_of(leg, forecast))
        told = told_by(table, met, lead, needed)
        missing = missing_of(leg, met, told, needed)
    notes += told_words(missing, leg.file.name)
    open_ = open_settings(leg, route, settings)[:, None, :]
    if leg.ladder:
        shares = held_shares(leg, means.account)
        open_ = open_ & carried(leg.ladder, settings, met.wind_speed, told.most.min(axis=2), shares)
        notes += sail_notes(leg.ladder, met.wind_speed[needed])
    spending = spending_of(told, met, route, open_, leg.least_between, STEP)
    notes += [*forecast.notes, *sea_notes(table, met, needed)]
    return LegQuestion(leg, route, forecast, table, settings, met, told, spending, tuple(dict.fromkeys(notes)))


def way_of(leg):
    """(segments, (latitude, longitude) of the start [rad], notes) of a leg: as written, or by its track."""
    if leg.track is None:
        return leg.segments, leg.start_place, []
    track = read_track(leg.track)
    segments = []
    for course, distance in rhumb_ways(track.places):
        count = max(1, int(np.ceil(distance / leg.stretch - 1e-9)))
        segments += [LegSegment(course, distance / count)] * count
    if not segments:
        raise InputError(shown(leg.track.name), "track", "one place", "places that are apart")
    whole = sum(segment.distance for segment in segments)
    more = whole / shortest(track.places) - 1.0
    notes = [*track.notes, f"rhumb lines between the places of the track, {more:.1%} longer than great circles"]
    return tuple(segments), tuple(map(float, track.places[0])), notes


def library_for(leg, out):
    """`Library` of a leg's boat in the results folder `out`; InputError where it is not that of her foils."""
    path = out / leg.library
    if not path.is_file():
        allowed = f"no such file in {out}: fill it with seaload sweep, or name the folder with --out"
        raise InputError(shown(leg.file), "library", leg.library, allowed)
    model, sampling = ModelSpec().si(), SamplingSpec().si()
    shelves = [read_shelf(path, made_for(leg.boat, foil, model, sampling)) for foil in leg.boat.foils.values()]
    one_blas_thread()
    return Library(path.name, shelves[-1])


def refuse_uncovered(leg, emulator, settings):
    """InputError for a setting that lies outside the library's."""
    cover = emulator.cover
    for row in settings:
        for number, name in enumerate(SETTING):
            low, high = cover.low[number], cover.high[number]
            if not low - 1e-9 <= row[number] <= high + 1e-9:
                key, size = WORDS[name]
                ends = f"{low / size:.4g} to {high / size:.4g}" if high > low else f"{low / size:.4g} alone"
                allowed = f"{leg.library} holds {ends}; nothing is told outside it"
                raise InputError(shown(leg.file), f"settings.{key}", float(f"{row[number] / size:.6g}"), allowed)


def refuse_two_winds(leg, forecast):
    """InputError where wind or current is written though the forecast has one, or no wind is known."""
    for key in ("wind", "current"):
        if getattr(leg, key) is not None and getattr(forecast, key) is not None:
            raise InputError(shown(leg.file), key, "this table", "leave it out: the forecast has its own")
    if leg.wind is None and forecast.wind is None:
        allowed = "needed: the forecast has no wind, and which foil works follows from it"
        raise InputError(shown(leg.file), "wind", "missing", allowed)


def window_of(route, speeds, latest):
    """(moments (n, q) [s] at which seas are looked at, (n, q) bool which of them may be needed) of a `Route`."""
    soonest = route.start / (speeds.max() * SPARE_TIME)
    last = (route.start + route.length) / speeds.min() * SPARE_TIME + latest
    first = np.floor(soonest / STEP) * STEP
    count = int(np.ceil((last - first).max() / STEP)) + 2
    moments = first[:, None] + STEP * np.arange(count)
    return moments, moments <= last[:, None] + STEP


def refuse_no_sea(leg, route, met, needed):
    """InputError for a piece on which no member of the forecast knows a sea."""
    nowhere = needed & ~np.isfinite(met.hs).any(axis=2)
    if nowhere.any():
        piece = int(np.argmax(nowhere.any(axis=1)))
        place = f"{route.latitude[piece] / DEGREE:.2f}, {route.longitude[piece] / DEGREE:.2f} degrees"
        allowed = "the forecast holds no sea about this place of the leg: land, or values that are missing"
        raise InputError(shown(leg.forecast.name), "forecast", place, allowed)


def missing_of(leg, met, told, needed):
    """`Missing` of the seas that may be met."""
    seas = needed[:, :, None] & np.isfinite(met.hs) & (met.hs > STILL)
    outside = told.outside.all(axis=-1)[seas]
    steepest = leg.boat.limits_of_validity.steepness
    return missing_seas(met.hs[seas], met.tp[seas], met.angle[seas], outside, steepest)


def inputs_of(boat):
    """What the boat file and every sea leave uncertain, as `Inputs`."""
    stated = {name: doubt.si(name) for name, doubt in SEA_DOUBT.items()}
    stated |= {entry.name: entry for entry in boat.uncertain}
    foil = next(iter(boat.foils.values()))
    entries = tuple(stated[name] for name in sorted(stated))
    return Inputs(entries, 0.0, foil.limit_basis in STRENGTHS, foil.fatigue.slope)


def errors_of(leg, forecast):
    """(function of lead times (k,) [s] giving one deviation of the forecast's (height [-], period [-], angle [rad]),
    correlation of the first two), or (None, 0) where its members tell it.
    """
    if forecast.members >= ENOUGH_MEMBERS:
        return None, 0.0
    error = leg.forecast_error

    def error_at(lead):
        days = np.asarray(lead) / DAY
        return ((error.hs_percent + error.hs_percent_per_day * days) * PERCENT,
                (error.tp_percent + error.tp_percent_per_day * days) * PERCENT,
                (error.heading_deg + error.heading_deg_per_day * days) * DEGREE)  # fmt: skip

    return error_at, error.hs_tp_correlation


def lead_time(leg, forecast, moments):
    """How long ahead the sea at `moments` (n, q) [s] is forecast, (n, q) [s]."""
    made = forecast.time[0] if leg.forecast_made is None else leg.forecast_made
    return np.maximum(leg.start + moments - made, 0.0)


def open_settings(leg, route, settings):
    """(n, j) bool: the settings that each piece's segment lets be chosen."""
    found = np.ones((len(route.segment), len(settings)), dtype=bool)
    for number, segment in enumerate(leg.segments):
        for name, (least, most) in segment.limits.items():
            values = settings[:, NAMES.index(name)]
            found[route.segment == number] &= (values >= least - 1e-9) & (values <= most + 1e-9)
        if not found[route.segment == number].any():
            raise InputError(shown(leg.file), f"segment[{number + 1}]", "its bounds", "leave a setting to choose from")
    return found


def sail_notes(ladder, wind):
    """Plain words on the sails carried in the `wind` (k,) [m/s] that may be met."""
    rows = np.unique(rows_in(ladder, wind))
    parts = [f"from {ladder[k].wind_from / KNOT:.0f} kn heel up to {ladder[k].heel / DEGREE:.0f} degrees and "
             f"{ladder[k].thrust / PERCENT:.0f} % of the thrust" for k in rows]  # fmt: skip
    return [f"wind {wind.min() / KNOT:.0f} to {wind.max() / KNOT:.0f} kn, sails by [[rig.ladder]]: {'; '.join(parts)}"]


def sea_notes(table, met, needed):
    """Plain words on how the seas of the leg were asked for."""
    cover, seas = table.emulator.cover, needed[:, :, None] & np.isfinite(met.hs)
    low = float(np.mean(met.hs[seas] < cover.low[HEIGHT]))
    long = float(np.mean(met.tp[seas] > cover.high[PERIOD]))
    notes = ["the library is asked with the height of all waves, and period and direction of the highest system"]
    if low:
        notes.append(f"{low:.0%} of the seas are lower than the library's lowest, {cover.low[HEIGHT]:.3g} m: as that")
    if long:
        most = cover.high[PERIOD]
        notes.append(f"{long:.0%} of the seas are longer than the library's longest, {most:.3g} s: as that")
    notes.append("how far off the forecast may be: by its members" if table.error_at is None else
                 "how far off the forecast may be: by its lead time, as [forecast_error] says")  # fmt: skip
    count = len(table.inputs.entries)
    notes.append(f"drawn once for the whole leg: {count} inputs of boat and seas, and the library's own "
                 "error")  # fmt: skip
    if table.unknown:
        words = ", ".join(name.replace("_", " ") for name in table.unknown)
        notes.append(f"not told by the library, counted as nothing there: {words}")
    notes.append("speed and heel are those of the wind that the library was filled in, whatever wind the forecast has")
    if np.any(np.abs(met.wind_angle[needed]) < np.radians(30.0)):
        notes.append("somewhere the wind is within 30 degrees of the course: nobody can sail there")
    return notes

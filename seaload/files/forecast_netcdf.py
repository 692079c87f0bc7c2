"""Reads a forecast of waves, wind and current from netCDF as it is published: heights, periods and directions of all
waves and of wave systems, or two-dimensional spectra, on a grid of latitudes and longitudes, with members or without.

A file is opened without being read; only the stretch of sea and time that a leg needs is.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, HOUR
from seaload.files import forecast_layouts as known
from seaload.files.forecast_field import LEAST_HEIGHT, Forecast
from seaload.files.forecast_points import ALONE, NAUTICAL_MILE, STATION, nearest_points, of_points
from seaload.files.forecast_reader import HERTZ, METRES, SECONDS, SPEEDS, Reader
from seaload.files.forecast_spectra import spectra_of, spectral_systems
from seaload.files.sea_netcdf import look_whole
from seaload.files.sea_record import existing_file, time_text
from seaload.waves.bulk import bulk_sea
from seaload.waves.spectra import frequency_table, jonswap

MOST_TIMES, MOST_MEMBERS = 20_000, 200
WIDEST_GAP = 12.0 * HOUR  # [s] between two times that is still bridged
USUAL_GAMMA = 3.3  # [-] shape by which a mean period becomes a peak period
FIT = 0.1  # [-] of the height: systems and all waves that differ by more do not fit
MOST_HEIGHT, LONGEST = 30.0, 40.0  # [m], [s] that a forecast may hold


class Stretch(NamedTuple):
    """What of a forecast is needed."""

    start: float  # [s] since 1970-01-01 UTC
    end: float  # [s]
    latitude: np.ndarray  # (n,) [rad]
    longitude: np.ndarray  # (n,) [rad]


def read_forecast(path, stretch):
    """`Forecast` over a `Stretch`; InputError, one line, for a file that is none, does not say what it means, or does
    not cover the stretch: then with the hours or the place that lack.
    """
    import xarray

    path = existing_file(path)
    try:
        look_whole(path)
        dataset = xarray.open_dataset(path, decode_timedelta=False)
    except Exception as error:  # a stranger's bytes make the libraries fail in every way they can
        raise InputError(path, "forecast", path.name, f"a readable netCDF file ({error})") from None
    with dataset:
        return forecast_of(path, one_time(dataset), stretch)


def one_time(dataset):
    """The dataset with its times of validity in a coordinate and dimension `time`."""
    if "valid_time" in dataset.variables and dataset["valid_time"].ndim == 1:
        (dim,) = dataset["valid_time"].dims
        rest = dataset.drop_vars("time") if "time" in dataset.variables else dataset
        return rest.swap_dims({dim: "valid_time"}).rename({"valid_time": "time"}) if dim != "valid_time" else (
            rest.rename({"valid_time": "time"}))  # fmt: skip
    return dataset


def forecast_of(path, dataset, stretch):
    """`Forecast` of an open dataset."""
    if of_points(dataset):
        at, axes, points, said = needed_points(path, dataset, stretch)
        part, places = dataset.isel(at).expand_dims({ALONE: 1}), (ALONE, STATION)
    else:
        at, axes = needed(path, dataset, stretch)
        part, points, said = dataset.isel(at), None, []
        places = tuple(next(n for n in names if n in dataset.variables)
                       for names in (known.LATITUDES, known.LONGITUDES))  # fmt: skip
    members = next((name for name in known.MEMBERS if name in part.dims), None)
    order = ("time", members, *places)
    if members and part.sizes[members] > MOST_MEMBERS:
        raise InputError(path, members, part.sizes[members], f"at most {MOST_MEMBERS} members")
    reader = Reader(path, part, order)
    density = spectra_of(reader.dataset)
    notes = []
    if density is not None:
        words, (hs, tp, where), of_spectra = spectral_systems(reader, density)
        total, notes = hs[0], notes + of_spectra
    else:
        total, words, (hs, tp, where), notes = parameters(reader)
    refuse_no_sea(path, (total, hs), tp)
    wind, current = wind_of(reader), flow_of(reader, known.CURRENTS)
    notes += [f"the forecast has {part.sizes[members]} members" if members else "the forecast has one member"]
    step = np.diff(axes[0])
    if len(step):
        often = " to ".join(dict.fromkeys(f"{hours:g} h" for hours in (step.min() / HOUR, step.max() / HOUR)))
        between_points = "" if of_points(dataset) else " and between its points"
        notes.append(f"forecast every {often}, interpolated in time{between_points}")
    notes += said
    lacking = float(np.mean(~np.isfinite(total)))
    notes += [f"{lacking:.0%} of the points about the leg are land or missing and are left out"] if lacking else []
    return Forecast(*axes, total, words, hs, tp, where, wind, current, tuple(notes), points)


def needed_points(path, dataset, stretch):
    """({dimension: places}, (times [s], latitudes, longitudes [rad]), points (k, 2) [rad], notes) that a `Stretch`
    needs of a file that tells seas at points.
    """
    times = times_of(path, dataset)
    at, (chosen, points, far) = {"time": span_of(path, times, stretch)}, nearest_points(path, dataset, stretch)
    at[STATION] = chosen
    said = (f"each place of the leg takes the nearest of {len(chosen)} points of the forecast, at most "
            f"{far / NAUTICAL_MILE:.0f} nautical miles away")  # fmt: skip
    return at, (times[at["time"]], points[:1, 0], points[:, 1]), points, [said]


def needed(path, dataset, stretch):
    """({dimension: places}, (times [s], latitudes [rad], longitudes [rad] rising)) that a `Stretch` needs."""
    times = times_of(path, dataset)
    at = {"time": span_of(path, times, stretch)}
    names = [next((n for n in names if n in dataset.variables), None) for names in
             (known.LATITUDES, known.LONGITUDES)]  # fmt: skip
    if None in names:
        raise InputError(path, "grid", "missing", "variables latitude and longitude")
    for name in names:
        if dataset[name].dims != (name,):
            allowed = "a grid of latitudes and longitudes, each a row of its own"
            raise InputError(path, f"{name} axes", ", ".join(map(str, dataset[name].dims)) or "none", allowed)
        if dataset[name].dtype.kind not in "fiu":
            raise InputError(path, name, f"of kind {dataset[name].dtype}", "numbers")
    latitude, longitude = (np.asarray(dataset[name].values, dtype=float) * DEGREE for name in names)
    if not latitude.size or not longitude.size:
        raise InputError(path, "grid", "empty", "a latitude and a longitude at least")
    if not (np.all(np.isfinite(latitude)) and np.all(np.isfinite(longitude))):
        raise InputError(path, "grid", "nan", "finite latitudes and longitudes")
    middle = stretch.longitude[0]
    about = np.mod(stretch.longitude - middle + np.pi, 2.0 * np.pi) - np.pi
    turned = np.mod(longitude - middle + np.pi, 2.0 * np.pi) - np.pi
    axes = [times[at["time"]]]
    for name, axis, wanted in ((names[0], latitude, stretch.latitude), (names[1], turned, about)):
        places = cover_of(path, name, axis, wanted, 0.0 if name == names[0] else middle)
        at[name] = places
        axes.append(axis[places] + (0.0 if name == names[0] else middle))
    return at, tuple(axes)


def times_of(path, dataset):
    """Times (t,) [s] since 1970-01-01 UTC, as the file has them. InputError where they are none, or do not rise."""
    if "time" not in dataset.variables or dataset["time"].dims != ("time",):
        raise InputError(path, "time", "missing", "a row of times: a variable time or valid_time")
    variable = dataset["time"]
    if variable.dtype.kind != "M":
        said = f"{variable.attrs.get('units', 'no units')}, calendar {variable.encoding.get('calendar', 'not said')}"
        raise InputError(path, "time", said, 'such as "hours since 1970-01-01", in the standard calendar')
    if not 1 <= variable.size <= MOST_TIMES:
        raise InputError(path, "time", variable.size, f"1 to {MOST_TIMES} times")
    values = variable.values.astype("datetime64[ms]")
    if np.any(np.isnat(values)):
        raise InputError(path, "time", "missing", "every time of the forecast")
    seconds = np.round(values.astype(np.int64) / 1000.0)
    if np.any(np.diff(seconds) <= 0.0):
        allowed = "rising times: join forecasts of two starts so that no time stands twice"
        raise InputError(path, "time", "not rising", allowed)
    return seconds


def moment(seconds):
    """A moment [s] since 1970 as people write it."""
    return time_text(np.datetime64(int(seconds), "s"))


def span_of(path, times, stretch):
    """Places of the times that cover a `Stretch`; InputError with the hours that lack."""
    lack = []
    if stretch.start < times[0]:
        lack.append((stretch.start, min(times[0], stretch.end)))
    for one, other in zip(times, times[1:], strict=False):
        if other - one > WIDEST_GAP and other > stretch.start and one < stretch.end:
            lack.append((max(one, stretch.start), min(other, stretch.end)))
    if stretch.end > times[-1]:
        lack.append((max(times[-1], stretch.start), stretch.end))
    if lack:
        words = ", ".join(f"{(b - a) / HOUR:.1f} h from {moment(a)} to {moment(b)}" for a, b in lack[:4])
        held = f"{moment(times[0])} to {moment(times[-1])}"
        raise InputError(path, "forecast", held, f"the leg may need {moment(stretch.start)} to {moment(stretch.end)}, "
                         f"at her slowest: {words} lack")  # fmt: skip
    first = int(np.searchsorted(times, stretch.start, side="right")) - 1
    last = int(np.searchsorted(times, stretch.end, side="left"))
    return np.arange(max(first, 0), min(last, len(times) - 1) + 1)


def cover_of(path, name, axis, wanted, middle):
    """Places, in rising order of an `axis` (k,) [rad], that lie about the `wanted` (n,) [rad]; InputError where the
    grid ends before. middle : [rad] that both are told from.
    """
    order = np.argsort(axis, kind="stable")
    rising = axis[order]
    keep = np.concatenate([[True], np.diff(rising) > 1e-9])  # the same meridian may stand twice, at both ends
    order, rising = order[keep], rising[keep]
    low, high = float(wanted.min()), float(wanted.max())
    if low < rising[0] - 1e-9 or high > rising[-1] + 1e-9:
        worst = low if low < rising[0] - 1e-9 else high
        ends = [(end + middle) / DEGREE for end in (rising[0], rising[-1])]
        allowed = f"the forecast's grid holds {ends[0]:.6g} to {ends[1]:.6g} degrees; the leg goes beyond it"
        raise InputError(path, name, float(f"{(worst + middle) / DEGREE:.6g}"), allowed)
    first = max(int(np.searchsorted(rising, low + 1e-12, side="right")) - 1, 0)
    last = min(int(np.searchsorted(rising, high - 1e-12, side="left")), len(rising) - 1)
    return order[first : last + 1]


def parameters(reader):
    """(hs of all waves, words of the systems, (hs, tp, from) of each, notes) of a file of heights and periods."""
    totals = [names for names in known.TOTALS if reader.held(names.height)]
    parts = [names for names in known.PARTITIONS if reader.held(names.height) and complete(reader, names)]
    if not any(names.words.startswith("swell") for names in parts) and reader.held(known.ALL_SWELL.height):
        parts += [known.ALL_SWELL] if complete(reader, known.ALL_SWELL) else []
    if not totals and not parts:
        found = ", ".join(sorted(map(str, reader.dataset.data_vars)))[:200]
        allowed = "heights of the waves (hs, swh, VHM0 or of partitions), or spectra (d2fd, efth)"
        raise InputError(reader.path, "variables", found, allowed)
    notes, read = [], []
    for names in parts or totals[:1]:
        columns, said = system_of(reader, names)
        read.append(columns)
        notes += said
    words = tuple(names.words for names in (parts or totals[:1]))
    hs, tp, where = (np.array([columns[k] for columns in read]) for k in range(3))
    summed = np.sqrt(np.nansum(hs**2, axis=0))
    if not totals:
        total = np.where(np.isfinite(hs).any(axis=0), summed, np.nan)
        return total, words, (hs, tp, where), [*dict.fromkeys(notes), "height of all waves from its wave systems"]
    total = reader.in_unit(totals[0].height, METRES)
    both = np.isfinite(total) & (total > LEAST_HEIGHT) & (summed > LEAST_HEIGHT)
    if parts and both.any():
        ratio = summed[both] / total[both]
        odd = float(np.mean(np.abs(ratio - 1.0) > FIT))
        notes.append(
            f"the wave systems hold {np.median(ratio):.0%} of the height of all waves (median)"
            + (f"; in {odd:.0%} of the points they differ by over {FIT:.0%}" if odd else "")
            + ": the height of all waves counts"
        )
    return total, words, (hs, tp, where), list(dict.fromkeys(notes))


def complete(reader, names):
    """Whether a file has a period and a direction for a system's `WaveNames`."""
    return any(reader.held(name) for name, _ in names.periods) and any(map(reader.held, names.directions))


def system_of(reader, names):
    """((hs [m], peak period [s], from [rad]) each (t, m, a, o), notes) of one system by its `WaveNames`."""
    period = next(((name, kind) for name, kind in names.periods if reader.held(name)), None)
    angle = next((name for name in names.directions if reader.held(name)), None)
    if period is None or angle is None:
        lacking = " or ".join(name for name, _ in names.periods) if period is None else " or ".join(names.directions)
        raise InputError(reader.path, lacking, "missing", f"needed beside {names.height}")
    name, kind = period
    with np.errstate(divide="ignore"):
        if kind == known.PEAK_FREQUENCY:
            tp = 1.0 / reader.in_unit(name, HERTZ)
        else:
            tp = reader.in_unit(name, SECONDS) / over_peak(kind)
    notes = []
    if kind in known.MEAN_PERIODS:
        notes.append(f"peak period from the {known.MEAN_PERIODS[kind]} by a JONSWAP shape (over {over_peak(kind):.3f})")
    return (reader.in_unit(names.height, METRES), np.where(tp > 0.0, tp, np.nan),
            reader.came_from(angle, names.usual)), notes  # fmt: skip


def over_peak(kind):
    """A mean period of `kind` over the peak period [-], of a JONSWAP sea with the usual peak enhancement."""
    if kind in (known.PEAK, known.PEAK_FREQUENCY):
        return 1.0
    omega = frequency_table(2.0 * np.pi / 10.0, highest=12.0 * np.pi, points=4000)
    return getattr(bulk_sea(omega, jonswap(omega, 1.0, 10.0, USUAL_GAMMA)), kind) / 10.0


def flow_of(reader, pairs):
    """(2, t, m, a, o) [m/s] towards east and north, of the first of `pairs` of names that the file has, or None."""
    names = next((pair for pair in pairs if all(map(reader.held, pair))), None)
    return None if names is None else np.array([reader.in_unit(name, SPEEDS) for name in names])


def wind_of(reader):
    """Wind (2, t, m, a, o) [m/s] towards east and north, or None."""
    speed, angle = known.WIND_BY_ANGLE
    if reader.held(speed) and reader.held(angle):
        came, fast = reader.came_from(angle, known.UNSAID), reader.in_unit(speed, SPEEDS)
        return np.array([-fast * np.sin(came), -fast * np.cos(came)])
    return flow_of(reader, known.WINDS)


def refuse_no_sea(path, heights, tp):
    """InputError for heights, of the sea or of a system, or periods that no sea has: another unit, or missing values
    that are numbers.
    """
    asked = [("wave height", values, MOST_HEIGHT, "m") for values in heights]
    for name, values, most, unit in (*asked, ("period", tp, LONGEST, "s")):
        there = values[np.isfinite(values)]
        wrong = there[(there < 0.0) | (there > most)]
        if len(wrong):
            allowed = f"0 to {most:g} {unit}: another unit, or a missing value not marked as one"
            raise InputError(path, name, float(f"{wrong[0]:.6g}"), allowed)

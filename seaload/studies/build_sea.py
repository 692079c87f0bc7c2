"""From what a person wrote about a sea to the record that is sailed through: spectra, directions, notes."""

from math import ceil, degrees, isnan, pi, radians
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import KNOT, PERCENT
from seaload.files.sea_reader import read_record
from seaload.scenario.read_toml import shown
from seaload.scenario.records import Sea, WaveSystem
from seaload.waves.boat_frame import direction_in_boat
from seaload.waves.bulk import bulk_sea, deep_wavelength, mean_direction
from seaload.waves.components import direction_widths
from seaload.waves.fetch_growth import fully_developed_sea, wind_for_height
from seaload.waves.gusts import gustiness
from seaload.waves.ochi_hubble import ochi_hubble
from seaload.waves.spectra import bretschneider, frequency_table, jonswap, tail_extension
from seaload.waves.torsethaugen import torsethaugen_1996

HIGHEST = 3.6  # [rad/s] above it waves are shorter than 5 m, too short to move the boat
ASSUMED_SPREADING = 10.0  # [-] s of cos-2s, between young wind sea and old swell
USUAL_GAMMA = 3.3  # [-] mean of the North Sea measurements of Hasselmann et al. 1973
SURELY_DRIVEN = 1.2 * 0.0268  # [-] Hs over peak wavelength: full-grown 0.0268, the fits differ by 20 %
MORE_THAN_GROWN = 1.1  # [-] times the height of a full-grown sea before a line says so: half of what the fits differ
AS_ASKED = 0.005  # [-] of Hs and Tp: a difference that is told
USUAL_TAIL = "f-5"
TAIL_POWER = {"f-5": "omega^-5", "f-4": "omega^-4", "none": "none"}


def build_sea(spec, index, *, path, boat, starboard_tack):
    """Sea record of one `[[sea]]` table (entry `index`, from 0) of the study `path`; InputError if wrong."""
    field = f"sea[{index + 1}]"
    parts = [(field, spec)] if spec.has_source else []
    parts += [(f"{field}.system[{i + 1}]", system) for i, system in enumerate(spec.system)]
    systems, notes = [], []
    for name, part in parts:
        system, said = build_system(part, name, path=path, starboard_tack=starboard_tack, depth=spec.depth_m)
        systems.append(system)
        prefix = f"wave system {len(systems)}: " if len(parts) > 1 else ""
        notes += [prefix + line for line in said]
    hs, tp = whole_sea(systems)
    steepness = hs / deep_wavelength(tp)
    steep = steepness > boat.limits_of_validity.steepness
    if steep:
        notes.append(
            f"steep: Hs over peak wavelength is 1/{1 / steepness:.0f}, beyond the limit of validity; "
            "such seas break, and breaking waves are not modelled"
        )
    speed, angle = boat.reference_wind_speed, boat.reference_wind_angle
    if spec.true_wind_speed_knots is not None:
        speed = spec.true_wind_speed_knots * KNOT
    else:
        notes.append(f"wind speed not said: {speed / KNOT:.0f} knots assumed, the boat's reference wind")
    if spec.true_wind_angle_deg is not None:
        angle = radians(spec.true_wind_angle_deg)
    else:
        notes.append(f"wind angle not said: {degrees(angle):.0f} degrees assumed, the boat's reference wind")
    gusty = gustiness(speed) if spec.gustiness_percent is None else spec.gustiness_percent * PERCENT
    notes += [line for system in systems if (line := more_than_the_wind_raises(system, speed))]
    notes.append("no current")
    return Sea(spec.name, tuple(systems), speed, angle, tuple(notes), hs, tp, steep, gustiness=float(gusty))


def more_than_the_wind_raises(system, wind):
    """A line where a `WaveSystem` is a wind sea higher than its `wind` [m/s] can raise, else "".

    A wind sea is one no older than the wind can make it, or steeper than any full-grown one; anything else is swell,
    which owes this wind nothing.
    """
    found, most = bulk_sea(system.omega, system.density), fully_developed_sea(wind)
    driven = found.tp <= most.tp or found.steepness > SURELY_DRIVEN
    if not driven or found.hs <= MORE_THAN_GROWN * most.hs:
        return ""
    return (
        f"wind and sea do not fit: waves of {found.hs:.1f} m with {found.tp:.1f} s are a wind sea, {wind / KNOT:.0f} "
        f"knots raise {most.hs:.1f} m at most, and {found.hs:.1f} m take {ceil(wind_for_height(found.hs) / KNOT)} "
        "knots; check both"
    )


def build_system(spec, field, *, path, starboard_tack, depth):
    """(WaveSystem, notes) of one spectrum with its direction."""
    if spec.file is not None:
        return recorded_system(spec, field, path=path, starboard_tack=starboard_tack, depth=depth)
    omega, density, notes = named_spectrum(spec)
    notes += not_as_asked(spec, omega, density)
    refuse_shallow(omega, density, depth, field, path)
    spreading = spec.si_spreading(ASSUMED_SPREADING)
    if spec.spreading_s is None:
        notes.append(f"spreading not said: s = {ASSUMED_SPREADING:g} assumed")
    return WaveSystem(omega, density, spec.si_direction(starboard_tack=starboard_tack), spreading), notes


def named_spectrum(spec):
    """(omega, density, notes) of a spectrum with a name."""
    notes = []
    if spec.spectrum == "ochi-hubble":
        omega = frequency_table(0.25, highest=HIGHEST)
        return omega, ochi_hubble(omega, spec.hs_m), notes
    lowest_peak = 2.0 * pi / spec.tp_s
    if spec.spectrum == "torsethaugen":
        omega = frequency_table(lowest_peak, highest=HIGHEST, lowest_peak=0.3)
        return omega, torsethaugen_1996(omega, spec.hs_m, spec.tp_s), notes
    omega = frequency_table(lowest_peak, highest=HIGHEST)
    if spec.spectrum == "bretschneider":
        return omega, bretschneider(omega, spec.hs_m, spec.tp_s), notes
    if spec.gamma is None:
        notes.append(f"peak enhancement not said: gamma = {USUAL_GAMMA} assumed")
    return omega, jonswap(omega, spec.hs_m, spec.tp_s, spec.gamma or USUAL_GAMMA), notes


def not_as_asked(spec, omega, density):
    """Notes where height or peak period of a tabulated spectrum differ from what was asked by half a per cent."""
    found, notes = bulk_sea(omega, density), []
    if abs(found.hs / spec.hs_m - 1.0) > AS_ASKED:
        notes.append(
            f"Hs {spec.hs_m:.2f} m asked, {found.hs:.2f} m simulated: waves shorter than "
            f"{deep_wavelength(2.0 * pi / omega[-1]):.1f} m are left out"
        )
    if spec.tp_s is not None and abs(found.tp / spec.tp_s - 1.0) > AS_ASKED:
        notes.append(f"Tp {spec.tp_s:.2f} s asked; the highest peak of this spectrum is at {found.tp:.2f} s")
    return notes


def recorded_system(spec, field, *, path, starboard_tack, depth):
    """(WaveSystem, notes) of a measured or forecast record."""
    record = record_of(spec, path)
    notes = [note for note in record.notes if "no direction" not in note]
    if depth is None and not isnan(record.depth):
        depth = record.depth
    refuse_shallow(record.omega, record.total, depth, field, path)
    tail = spec.tail or USUAL_TAIL
    omega, density = tail_extension(record.omega, record.total, HIGHEST, TAIL_POWER[tail])
    if len(omega) > len(record.omega):
        top = record.omega[-1] / (2.0 * pi)
        share = 1.0 - np.trapezoid(record.total, record.omega) / np.trapezoid(density, omega)
        notes.append(
            f"the record stops at {top:.2f} Hz; above it a tail falling as {tail.replace('-', '^-')} "
            f"is assumed, {share:.1%} of the energy"
        )
    if record.direction is not None and not spec.has_direction and spec.spreading_s is not None:
        allowed = "leave it out: the record has its own directions; or say the direction too"
        raise InputError(shown(path), f"{field}.spreading_s", spec.spreading_s, allowed)
    if record.direction is None or spec.has_direction:
        return directed_by_study(spec, field, record, omega, density, notes, path, starboard_tack)
    if spec.heading_deg_true is None:
        allowed = "needed: degrees true the bow points to, for the directions of the record"
        raise InputError(shown(path), f"{field}.heading_deg_true", "missing", allowed)
    tack = "starboard" if starboard_tack else "port"
    mu = direction_in_boat(record.direction, radians(spec.heading_deg_true), tack)
    bands = record.density
    if len(omega) > len(record.omega):
        top = int(np.flatnonzero(record.total > 0.0)[-1])  # the last bands may be printed as zero
        last = bands[top] / record.total[top]
        bands = np.vstack([bands, density[len(record.omega) :, None] * last])
        notes.append("the tail keeps the directions of the record's last band")
    mean, _ = mean_direction(mu, (bands * np.gradient(omega)[:, None]).sum(axis=0) * direction_widths(mu))
    system = WaveSystem(omega, density, mean, spec.si_spreading(ASSUMED_SPREADING), mu, bands)
    return system, notes


def directed_by_study(spec, field, record, omega, density, notes, path, starboard_tack):
    """(WaveSystem, notes) of a record whose direction the study gives."""
    if not spec.has_direction:
        allowed = "the record has no direction: say it, 0 = from dead ahead, + from windward"
        raise InputError(shown(path), f"{field}.waves_from_bow_deg", "missing", allowed)
    spreading = spec.si_spreading(ASSUMED_SPREADING)
    if record.direction is None:
        said = "long-crested" if spreading == float("inf") else f"s = {spreading:g}"
        notes.append(f"direction and spreading ({said}) assumed: the record has none")
    else:
        notes.append("direction and spreading as the study says, in place of the record's own")
    return WaveSystem(omega, density, spec.si_direction(starboard_tack=starboard_tack), spreading), notes


def record_of(spec, path):
    """SeaRecord of the file a sea names, its path from the folder of the study `path`."""
    file = Path(path).parent / spec.file
    try:
        return read_record(file, spec.record, spec.place, spec.directions or "none")
    except OSError as error:
        raise InputError(shown(file), "file", shown(file.name), error.strerror or "cannot be read") from None


def refuse_shallow(omega, density, depth, field, path):
    """InputError when the water is under half the peak wavelength deep: waves here are deep-water waves."""
    if depth is None or isnan(depth):
        return
    tp = 2.0 * pi / float(omega[int(np.argmax(density))])
    needed = 0.5 * deep_wavelength(tp)
    if depth < needed:
        allowed = f"deep water only: at least {needed:.0f} m, half the peak wavelength ({tp:.1f} s)"
        raise InputError(shown(path), f"{field.split('.')[0]}.depth_m", depth, allowed)


def whole_sea(systems):
    """(Hs [m], Tp [s]) of the sum of wave systems."""
    omega = np.unique(np.concatenate([system.omega for system in systems]))
    density = sum(np.interp(omega, system.omega, system.density, left=0.0, right=0.0) for system in systems)
    energy = sum(float(np.trapezoid(system.density, system.omega)) for system in systems)
    return 4.0 * float(np.sqrt(energy)), bulk_sea(omega, density).tp

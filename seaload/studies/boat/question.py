"""What is asked of a boat file: the foil, the setting it is looked at, speeds, extensions, the wind of its thrust."""

from dataclasses import dataclass, replace
from math import pi
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.boat.hydrostatics import flotation
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.defaults import defaults_used
from seaload.scenario.read_boat import read_boat
from seaload.scenario.read_toml import shown
from seaload.scenario.records import Boat, Foil, Sea, Setting, WaveSystem
from seaload.simulation.layout import LANES
from seaload.simulation.windows import depth_scale

LEAST_SPEED = 6.0 * KNOT  # [m/s] slowest speed looked at
SLOW_SHARE = 0.4  # [-] of the top speed, where that is a slow one
ABOVE_REFERENCE = 1.5  # [-] top speed over the reference speed, where neither [worked] nor a speed table says more
WIDE_GAP = 0.25  # [-] between two extensions: one more is put between
NEAREST = 0.05  # [-] to which that one is rounded
ANGLES = {"rake_deg": (-5.0, 10.0), "heel_deg": (-5.0, 35.0), "cant_deg": (-45.0, 45.0)}
UNWRITTEN_HERE = ("moves", "worked", "uncertain", "tanks", "name")  # tables that this page does not stand on


@dataclass(frozen=True)
class BoatQuestion:
    """A boat file as it is looked at, SI."""

    path: Path
    name: str
    spec: BoatSpec
    boat: Boat
    side: str  # of the working foil
    setting: Setting  # heel, rake, cant, ballast of the page; extension that of the reference, its speed nan
    extensions: np.ndarray  # (e,) [-] rising
    speeds: np.ndarray  # (LANES,) [m/s] rising
    sea: Sea  # no waves to speak of, the wind that the thrust is stated for
    defaults: tuple  # "key = value" of what the file leaves unsaid

    @property
    def foil(self) -> Foil:
        """The working foil."""
        return self.boat.foils[self.side]

    @property
    def racing_speed(self):
        """The speed that the thrust is stated at [m/s]."""
        return self.boat.reference_speed

    @property
    def reference(self):
        """Number of the extension that the thrust is stated for."""
        return int(np.argmin(np.abs(self.extensions - self.setting.extension)))


def read_question(path, *, foil=None, rake_deg=None, heel_deg=None, cant_deg=None):
    """`BoatQuestion` of the boat file `path`; what is None is the rig's reference setting, the first foil.

    InputError for a wrong file or option, and for a hull that cannot carry the boat.
    """
    path = Path(path)
    spec, boat = read_boat(path)
    side = next(iter(boat.foils)) if foil is None else foil
    if side not in boat.foils:
        raise InputError(shown(path), "foil", side, f"the boat file has {' and '.join(boat.foils)} only")
    angles = {"rake_deg": rake_deg, "heel_deg": heel_deg, "cant_deg": cant_deg}
    setting = boat.reference_setting
    for name, degrees in angles.items():
        if degrees is not None:
            low, high = ANGLES[name]
            if isinstance(degrees, bool) or not low <= degrees <= high:
                raise InputError(shown(path), name, degrees, f"a number from {low:g} to {high:g} degrees")
            setting = replace(setting, **{name.removesuffix("_deg"): degrees * DEGREE})
    refuse_what_cannot_float(path, boat, setting.heel)
    refuse_what_reaches_too_deep(path, boat, boat.foils[side])
    return BoatQuestion(
        path=path,
        name=spec.name,
        spec=spec,
        boat=boat,
        side=side,
        setting=setting,
        extensions=extensions_of(boat.foils[side], setting.extension),
        speeds=speeds_of(boat),
        sea=still_sea(boat),
        defaults=tuple(line for line in defaults_used(spec) if belongs(line, side)),
    )


def belongs(line, side):
    """Whether a default line speaks of something this page stands on: not of the other foil, not of crew tables."""
    table, _, rest = line.partition(".")
    if table == "foil":
        return rest.startswith(side)
    return table.split(" ")[0] not in UNWRITTEN_HERE


def refuse_what_cannot_float(path, boat, heel):
    """InputError when the hull goes under with the boat's mass, upright or at a `heel` [rad]."""
    for angle in (0.0, heel):
        try:
            flotation(boat.hull, boat.mass, angle)
        except ValueError as error:
            allowed = f"{error}: too heavy for length, beam and side height (hull.side_height_m)"
            raise InputError(shown(path), "mass_kg", boat.mass, allowed) from None


def refuse_what_reaches_too_deep(path, boat, foil):
    """InputError when keel, rudder or foil reach deeper than the waves of a study are worked out to."""
    try:
        depth_scale(boat, foil)
    except ValueError as error:
        raise InputError(shown(path), "keel.span_m", boat.keel.span, str(error)) from None


def extensions_of(foil, reference):
    """Extensions of a `foil` that the page looks at (e,) [-]: least, reference, full, and one in the widest gap."""
    found = sorted({round(float(e), 6) for e in (foil.least_extension, reference, 1.0)})
    gaps = np.diff(found)
    if len(gaps) and gaps.max() > WIDE_GAP:
        i = int(np.argmax(gaps))
        found.insert(i + 1, round(NEAREST * round(0.5 * (found[i] + found[i + 1]) / NEAREST), 6))
    return np.array(found)


def speeds_of(boat):
    """Speeds that the page looks at (LANES,) [m/s], from a slow one to the top of the boat's range."""
    known = [ABOVE_REFERENCE * boat.reference_speed]
    if "speed" in boat.worked:
        known = [boat.worked["speed"].most, boat.reference_speed]
    elif boat.speed_table is not None:
        known = [boat.speed_table.speed.max(), boat.reference_speed]
    top = max(known)
    return np.linspace(min(LEAST_SPEED, SLOW_SHARE * top), top, LANES)


def still_sea(boat):
    """A sea of micrometres in the wind that the thrust of a `boat` is stated for."""
    omega = np.linspace(0.3, 2.0, 40)
    ripple = WaveSystem(omega=omega, density=np.full(40, 1e-12), direction=pi, spreading=10.0)
    return Sea(
        name="still water",
        systems=(ripple,),
        true_wind_speed=boat.reference_wind_speed,
        true_wind_angle=boat.reference_wind_angle,
        hs=1e-6,
        tp=8.0,
    )


def setting_words(question):
    """The setting in plain words, for notes and errors."""
    s = question.setting
    return (
        f"heel {s.heel / DEGREE:.3g} deg, rake {s.rake / DEGREE:.3g} deg, keel canted {s.cant / DEGREE:.3g} deg, "
        f"reference extension {s.extension / PERCENT:.3g} %"
    )

"""A sea on a heading, as a person writes it: a record or a named spectrum, its direction, its wind."""

from datetime import datetime
from math import inf, pi, radians
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.scenario.written import Refused, Written, number

MOST_SYSTEMS = 20
STEEPEST = 1.0 / 7.0  # [-] height over length of the steepest wave there can be (Michell 1893)
DIRECTION_KEYS = ("waves_from_bow_deg", "waves_from_deg_true", "waves_to_deg_true")
DIRECTION_HELP = (
    "say where the waves come from: waves_from_bow_deg (0 = from dead ahead, + from windward), "
    "or waves_from_deg_true (or waves_to_deg_true) with heading_deg_true"
)


class WaveSpec(Written):
    """One wave system: a spectrum and the direction it comes from."""

    file: str | None = Field(default=None, description="path of a measured or forecast record")
    record: str | datetime | None = Field(
        default=None, description='time of the record in UTC, as "1996-03-13T16:00Z"'
    )
    place: Annotated[int, Field(ge=0, le=100000)] | list[number(-360, 360, "degrees")] | None = Field(
        default=None,
        description="of a file with many places: counted from 0, or [latitude, longitude] in degrees of a grid",
    )
    directions: Literal["beside"] | None = Field(
        default=None, description='"beside": the buoy\'s direction files lie beside its density file'
    )
    spectrum: Literal["jonswap", "bretschneider", "torsethaugen", "ochi-hubble"] | None = None
    hs_m: number(0.01, 25, "metres, significant wave height") | None = None
    tp_s: number(1, 30, "seconds, period of the spectral peak") | None = None
    gamma: number(1, 10, "peak enhancement, 1 to 10; 3.3 when not said") | None = None
    tail: Literal["f-5", "f-4", "none"] | None = Field(
        default=None, description="what is assumed above the record's highest frequency"
    )
    waves_from_bow_deg: number(-360, 360, "degrees, 0 = from dead ahead, + from windward") | None = None
    waves_from_deg_true: number(0, 360, "degrees true the waves come from") | None = None
    waves_to_deg_true: number(0, 360, "degrees true the waves travel to") | None = None
    heading_deg_true: number(0, 360, "degrees true the bow points to") | None = None
    spreading_s: number(0.1, 1000, "s of cos-2s spreading") | Literal["long-crested"] | None = None

    @field_validator("record")
    @classmethod
    def _time_as_text(cls, value):
        return value.isoformat() if isinstance(value, datetime) else value

    @field_validator("place")
    @classmethod
    def _latitude_and_longitude(cls, value):
        if isinstance(value, list) and (len(value) != 2 or abs(value[0]) > 90.0):
            raise ValueError("[latitude, longitude] is two numbers in degrees, latitude from -90 to 90")
        return value

    @model_validator(mode="after")
    def _source_is_whole(self):
        if self.file and self.spectrum:
            raise ValueError("give file (a record) or spectrum (a named shape), not both")
        for key in ("record", "place", "directions", "tail"):
            if getattr(self, key) is not None and not self.file:
                raise Refused(key, getattr(self, key), "goes with file, a measured record")
        if self.file and (self.hs_m or self.tp_s or self.gamma):
            raise ValueError("hs_m, tp_s and gamma belong to a named spectrum; the record has its own")
        if self.spectrum and self.hs_m is None:
            raise Refused("hs_m", "missing", "a named spectrum needs it: significant wave height in metres")
        if self.spectrum in ("jonswap", "bretschneider", "torsethaugen") and self.tp_s is None:
            raise Refused("tp_s", "missing", "this spectrum needs it: the peak period in seconds")
        if self.spectrum == "ochi-hubble" and self.tp_s is not None:
            raise Refused("tp_s", self.tp_s, "leave it out: ochi-hubble follows from hs_m alone")
        if self.gamma is not None and self.spectrum != "jonswap":
            raise Refused("gamma", self.gamma, "belongs to jonswap only")
        if self.hs_m is not None and self.tp_s is not None:
            most = STEEPEST * STANDARD_GRAVITY * self.tp_s**2 / (2.0 * pi)
            if self.hs_m > most:
                allowed = f"with tp_s = {self.tp_s:g} at most {most:.2g} m, a seventh of the length of the waves"
                raise Refused("hs_m", self.hs_m, allowed)
        if not self.spectrum and not self.file and (self.hs_m or self.tp_s or self.gamma):
            raise ValueError("hs_m, tp_s and gamma need spectrum")
        return self

    @model_validator(mode="after")
    def _direction_is_clear(self):
        ways = [
            name
            for name in DIRECTION_KEYS
            if getattr(self, name) is not None
        ]
        if len(ways) > 1:
            raise ValueError(f"{' and '.join(ways)} are both given; one is enough")
        by_compass = self.file is not None and not ways or ways and ways[0] != "waves_from_bow_deg"
        if ways and by_compass and self.heading_deg_true is None:
            raise Refused("heading_deg_true", "missing", f"{ways[0]} needs it")
        if self.heading_deg_true is not None and not by_compass:
            allowed = "leave it out: it goes with directions by compass, and waves_from_bow_deg is from the bow"
            raise Refused("heading_deg_true", self.heading_deg_true, allowed)
        if self.spectrum and not ways:
            raise Refused("waves_from_bow_deg", "missing", DIRECTION_HELP)
        return self

    @property
    def has_source(self):
        """Whether a record or a spectrum was written."""
        return bool(self.file or self.spectrum)

    @property
    def has_direction(self):
        """Whether the direction was written here (a record may hold its own)."""
        given = (self.waves_from_bow_deg, self.waves_from_deg_true, self.waves_to_deg_true)
        return any(value is not None for value in given)

    def si_direction(self, *, starboard_tack=True):
        """Direction mu the waves travel in boat axes [rad], -pi..pi: 0 following, pi head, + to leeward.

        `starboard_tack` says whether windward is to starboard, for directions by compass.
        """
        if self.waves_from_bow_deg is not None:
            return wrapped(pi - radians(self.waves_from_bow_deg))
        if self.waves_from_deg_true is not None:
            waves_from = self.waves_from_deg_true
        else:
            waves_from = self.waves_to_deg_true + 180.0
        return direction_from_compass(waves_from, self.heading_deg_true, starboard_tack=starboard_tack)

    def si_spreading(self, otherwise):
        """s of cos-2s [-]; infinity for a long-crested sea; `otherwise` when nothing was written."""
        if self.spreading_s is None:
            return otherwise
        return inf if self.spreading_s == "long-crested" else self.spreading_s


class SeaSpec(WaveSpec):
    """`[[sea]]`: one sea on one heading, with its wind, and further systems when it is a sum."""

    name: str = Field(min_length=1, max_length=200, description="unique name; the random streams follow it")
    true_wind_speed_knots: number(0, 80, "knots") | None = None
    true_wind_angle_deg: number(0, 180, "degrees from the bow, on the windward side") | None = None
    gustiness_percent: number(0, 40, "percent of the wind speed, standard deviation; 0 = steady") | None = None
    depth_m: number(1, 12000, "metres of water; deep water only") | None = None
    lead_hours: number(0, 240, "hours that the forecast was made ahead; 12 when not said") | None = None
    system: list["WaveSpec"] = Field(
        default=[], max_length=MOST_SYSTEMS, description=f"up to {MOST_SYSTEMS} further wave systems, added to the sea"
    )

    @model_validator(mode="after")
    def _has_waves(self):
        if not self.has_source and not self.system:
            raise ValueError("a sea needs file with record, or spectrum, or [[sea.system]] entries")
        for key in (*DIRECTION_KEYS, "heading_deg_true", "spreading_s"):
            if getattr(self, key) is not None and not self.has_source:
                raise Refused(key, getattr(self, key), "this sea has no spectrum of its own: write it in its systems")
        for number_of, system in enumerate(self.system, start=1):
            if not system.has_source:
                raise ValueError(f"system {number_of} needs file with record, or spectrum")
        return self


def direction_from_compass(waves_from_deg, heading_deg, *, starboard_tack):
    """Direction mu the waves travel in boat axes [rad] from compass degrees they come *from*.

    `waves_from_deg`, `heading_deg` [degrees true]. On `starboard_tack` windward is to starboard, so a bearing
    clockwise from the bow is positive; on port tack the picture is mirrored.
    """
    from_bow = waves_from_deg - heading_deg
    if not starboard_tack:
        from_bow = -from_bow
    return wrapped(pi - radians(from_bow))


def wrapped(angle):
    """The same angle in -pi..pi, with pi kept as +pi [rad]."""
    turned = (angle + pi) % (2.0 * pi) - pi
    return pi if turned == -pi else turned

"""A motion that a person writes down for the foil to go through: a gybe, a drop, a leap. `[[prescribed]]`."""

from typing import Literal

from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.records import PrescribedMotion
from seaload.scenario.written import Refused, Written, same_length, within

Row = list[float]
MOST_MOTIONS = 16  # of a study: they go side by side through one block
MOST_ROWS, LEAST_GAP, LONGEST = 200, 0.05, 120.0  # [-], [s] between two rows, [s] in all
ROWS = {  # key: least, most, greatest change in a second, all in the key's unit
    "heel_deg": (-60.0, 60.0, 90.0),
    "leeway_deg": (-15.0, 15.0, 30.0),
    "speed_knots": (2.0, 45.0, 40.0),
    "height_m": (-3.0, 6.0, 12.0),
    "pitch_deg": (-15.0, 15.0, 60.0),
}


def described(key, words):
    """A row of numbers with its bounds, for the error line."""
    least, most, _ = ROWS[key]
    return Field(default=None, description=f"numbers from {least:g} to {most:g} ({words}), one for each time_s")


class PrescribedSpec(Written):
    """`[[prescribed]]`: rows of a motion in flat water. A row left out stays as in the setting's calm trim."""

    name: str = Field(min_length=1, max_length=60, description="what the motion is called, 1 to 60 characters")
    note: str = Field(default="", max_length=300, description="words for the page")
    foil: Literal["working", "windward"] = "working"
    time_s: Row = Field(
        min_length=2, max_length=MOST_ROWS, description="seconds, from 0, each 0.05 or more after the last, at most 120"
    )
    heel_deg: Row | None = described("heel_deg", "degrees, leeward side down +, leeward at the start")
    leeway_deg: Row | None = described("leeway_deg", "degrees, to leeward +, leeward at the start")
    speed_knots: Row | None = described("speed_knots", "knots through the water")
    height_m: Row | None = described("height_m", "metres that the centre of gravity is above the calm trim")
    pitch_deg: Row | None = described("pitch_deg", "degrees from the calm trim, bow up +")

    @model_validator(mode="after")
    def _times_rise_from_zero(self):
        times = self.time_s
        if times[0] != 0.0:
            raise Refused("time_s", times[0], "the first time must be 0")
        if any(not b - a >= LEAST_GAP - 1e-9 for a, b in zip(times, times[1:], strict=False)):
            raise Refused("time_s", times, f"each time must be {LEAST_GAP:g} s or more after the one before")
        if times[-1] > LONGEST:
            raise Refused("time_s", times[-1], f"at most {LONGEST:g} s")
        return self

    @model_validator(mode="after")
    def _rows_can_be(self):
        written = {key: getattr(self, key) for key in ROWS if getattr(self, key) is not None}
        if not written:
            raise Refused("time_s", self.time_s, f"give a row that moves: {', '.join(ROWS)}")
        same_length(self.time_s, written)
        for key, row in written.items():
            least, most, fastest = ROWS[key]
            within(least, most, key, row)
            rates = [abs(b - a) for a, b in zip(row, row[1:], strict=False)]
            gaps = [b - a for a, b in zip(self.time_s, self.time_s[1:], strict=False)]
            for rate, gap in zip(rates, gaps, strict=True):
                if rate > fastest * gap + 1e-9:
                    raise Refused(key, row, f"at most {fastest:g} in a second from one row to the next")
        return self

    def si(self):
        """The motion as a record."""
        units = {"heel": DEGREE, "leeway": DEGREE, "speed": KNOT, "height": 1.0, "pitch": DEGREE}
        written = dict(zip(units, (getattr(self, key) for key in ROWS), strict=True))
        rows = {
            name: None if row is None else tuple(float(value) * units[name] for value in row)
            for name, row in written.items()
        }
        times = tuple(float(time) for time in self.time_s)
        return PrescribedMotion(self.name, self.note, self.foil == "windward", times, **rows)

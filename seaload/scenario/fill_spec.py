"""`[fill]`: the seas that a library is to cover, and how much sea it may take."""

from typing import Annotated

from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, HOUR
from seaload.scenario.crew_records import Fill
from seaload.scenario.written import Refused, Written, number

Heights = Annotated[
    list[number(0.01, 25, "metres, significant wave height")],
    Field(min_length=2, max_length=2, description="[least, most] significant wave height in metres"),
]
Periods = Annotated[
    list[number(1, 30, "seconds, period of the spectral peak")],
    Field(min_length=2, max_length=2, description="[least, most] period of the spectral peak in seconds"),
]
Angles = Annotated[
    list[number(-180, 180, "degrees, 0 = from dead ahead, + from windward")],
    Field(min_length=2, max_length=2, description="[from, to] degrees off the bow; [-180, 180] is all round"),
]


class FillSpec(Written):
    """`[fill]`: seas like the one written, of these heights, periods and angles, until so many hours are held."""

    hours: number(0.01, 1e6, "hours of sea that the library may hold in all")
    hs_m: Heights
    tp_s: Periods
    waves_from_bow_deg: Angles = [-180.0, 180.0]

    @model_validator(mode="after")
    def _ends_rise(self):
        for key in ("hs_m", "tp_s", "waves_from_bow_deg"):
            low, high = getattr(self, key)
            if not low < high:
                raise Refused(key, [low, high], "two rising numbers: the least and the most")
        return self

    def si(self):
        """The range as a record."""
        low, high = self.waves_from_bow_deg
        return Fill(self.hours * HOUR, tuple(self.hs_m), tuple(self.tp_s), (low * DEGREE, high * DEGREE))

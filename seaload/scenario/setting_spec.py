"""How the boat is set up, as a crew writes it: one number a setting, or lists for a sweep."""

from itertools import product
from math import nan, prod

from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.records import Setting
from seaload.scenario.written import Written, as_list, grid, number

ATTAINABLE = "attainable"
SETTING_RANGE = {  # least and most, in the unit of the name
    "extension_percent": (0, 100),
    "rake_deg": (-5, 10),
    "heel_deg": (-5, 35),
    "cant_deg": (-45, 45),
    "ballast_shift_m": (-2, 2),
    "speed_knots": (1, 45),
}


class SettingsSpec(Written):
    """`[settings]`: the working foil, the keel, the ballast and the speed."""

    extension_percent: grid(*SETTING_RANGE["extension_percent"], "percent of the outside length that is out") = 80.0
    rake_deg: grid(*SETTING_RANGE["rake_deg"], "degrees, leading edge up +") = 2.0
    heel_deg: grid(*SETTING_RANGE["heel_deg"], "degrees, leeward side down +") = 18.0
    cant_deg: grid(*SETTING_RANGE["cant_deg"], "degrees of keel cant, to windward +") = 30.0
    ballast_shift_m: grid(*SETTING_RANGE["ballast_shift_m"], "metres the centre of gravity moves, forward +") = 0.0
    speed_knots: grid(*SETTING_RANGE["speed_knots"], "knots through the water", word=ATTAINABLE) = 20.0
    tanks: dict[str, number(0, 100, "percent full")] | None = Field(
        default=None, description="tank names with percent full, in place of ballast_shift_m"
    )

    @model_validator(mode="after")
    def _one_way_to_write_ballast(self):
        if self.tanks is not None and "ballast_shift_m" in self.model_fields_set:
            raise ValueError("give ballast_shift_m or tanks, not both")
        return self

    @property
    def count(self):
        """Number of settings in the grid."""
        return prod(len(as_list(getattr(self, name))) for name in GRID_KEYS)

    def first_list(self):
        """Name of the first key that holds a list, or None."""
        lists = [name for name in GRID_KEYS if isinstance(getattr(self, name), list)]
        return lists[0] if lists else None

    def si(self, *, ballast_shift=None, water=()):
        """All settings of the grid as records, extension slowest, speed fastest.

        `ballast_shift` [m] and `water`, as in `Setting`, come from the tanks when these were written.
        """
        grids = [as_list(getattr(self, name)) for name in GRID_KEYS]
        if ballast_shift is not None:
            grids[GRID_KEYS.index("ballast_shift_m")] = [ballast_shift]
        return tuple(
            Setting(
                extension=extension / 100.0,
                rake=rake * DEGREE,
                heel=heel * DEGREE,
                cant=cant * DEGREE,
                ballast_shift=float(ballast),
                speed=nan if speed == ATTAINABLE else speed * KNOT,
                attainable=speed == ATTAINABLE,
                water=water,
            )
            for extension, rake, heel, cant, ballast, speed in product(*grids)
        )


GRID_KEYS = ("extension_percent", "rake_deg", "heel_deg", "cant_deg", "ballast_shift_m", "speed_knots")

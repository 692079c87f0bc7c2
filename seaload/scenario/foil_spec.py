"""One foil, as its builder writes it down: shape, section, structure, limits, wear."""

from math import radians
from typing import Literal

import numpy as np
from pydantic import Field, model_validator

from seaload.basis.units import MICROSTRAIN, PERCENT, TONNE_FORCE
from seaload.scenario.records import FatigueCurve, Foil
from seaload.scenario.written import Refused, Written, number, rising, same_length, within

Row = list[float]
MOST_LIFT, LEAST_LIFT = 3.0, 0.05  # [-] of a and b of the lift limit a + b sigma; of their sum
FOIL_ID = r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$"


class SectionSpec(Written):
    """`[foil.NAME.section]`: the section's lift and drag and where the flow gives up."""

    lift_slope_per_rad: number(3, 8, "per radian, in two dimensions") = 6.2832
    profile_drag: number(0.003, 0.05, "drag coefficient") = 0.0085
    cl_max: number(0.3, 2.5, "wetted stall, normal side") = 1.2
    cl_min: number(-2.5, -0.3, "wetted stall, reverse side, negative") = -0.9
    cavitation_normal: Row = Field(
        default=[0.25, 0.55], min_length=2, max_length=2, description="[a, b]: lift limit a + b sigma"
    )
    cavitation_reverse: Row = Field(
        default=[0.15, 0.45], min_length=2, max_length=2, description="[a, b]: lift limit -(a + b sigma)"
    )
    ventilated_cl: number(0, 1, "lift level left when ventilated, either side") = 0.35
    ventilation_onset: number(0.1, 3, "demanded lift over the limit at which it starts") = 1.0
    washout: number(0.05, 3, "demanded lift over the limit at which it heals") = 0.5
    onset_chords: number(0.1, 100, "chords travelled until it is established") = 3.0
    washout_chords: number(0.1, 100, "chords travelled until it is healed") = 6.0
    rewetting_chords: number(0.1, 100, "chords travelled after re-entry") = 6.0
    added_mass_share: number(0, 1.2, "share of rho pi c^2/4") = 0.8

    @model_validator(mode="after")
    def _lift_limits_are_limits(self):
        for name in ("cavitation_normal", "cavitation_reverse"):
            within(0, MOST_LIFT, name, getattr(self, name))
            if sum(getattr(self, name)) < LEAST_LIFT:
                raise Refused(name, getattr(self, name), f"a + b must be at least {LEAST_LIFT:g}")
        return self

    @model_validator(mode="after")
    def _heals_below_its_onset(self):
        if self.washout >= self.ventilation_onset:
            raise Refused("washout", self.washout, "must be below ventilation_onset")
        return self


class StructureSpec(Written):
    """`[foil.NAME.structure]`: stiffness, weight, bearings and the stated limits."""

    youngs_modulus_gpa: number(1, 500, "GPa along the span")
    inertia_coefficient: number(0.005, 0.0834, "k in I = k c t^3") = 0.038
    area_coefficient: number(0.2, 1, "k in section area = k c t") = 0.65
    density_kg_m3: number(500, 9000, "kg/m3 of the material")
    fill_percent: number(5, 100, "percent of the section that is solid") = 100.0
    bearing_distance_m: number(0.1, 5, "metres between the two bearings")
    bearing_friction: number(0, 0.9, "friction over bearing reaction") = 0.1
    damping_percent: number(0.1, 20, "percent of critical, of the first bending mode") = 2.0
    strain_limit_normal_microstrain: number(50, 30000, "microstrain, a positive number")
    strain_limit_reverse_microstrain: number(50, 30000, "microstrain, a positive number")
    limit_basis: Literal["working", "first damage", "break"] | None = Field(
        default=None, description='what the limits mean: "working", "first damage" or "break"'
    )
    line_breaking_load_tonne_force: number(0.1, 200, "tonne-force of the hold-down line")
    shear_centre_percent: number(10, 60, "percent of the chord from the leading edge, for torsion") = 40.0


class FatigueSpec(Written):
    """`[foil.NAME.fatigue]`: slope of the curve, and ultimate values as factors on the limits."""

    slope: number(3, 25, "m") = 10.0
    steep_slope: number(3, 25, "the alternative m") = 14.0
    ultimate_over_normal_limit: number(1, 20, "ultimate moment over the normal limit") = 2.5
    ultimate_over_reverse_limit: number(1, 20, "ultimate moment over the reverse limit") = 2.5

    def si(self):
        """The curve as a record."""
        return FatigueCurve(
            self.slope,
            self.steep_slope,
            self.ultimate_over_normal_limit,
            self.ultimate_over_reverse_limit,
        )


class FoilSpec(Written):
    """`[foil.port]` or `[foil.starboard]`; material lengths count from the bearing, foil fully out."""

    exit_from_transom_m: number(0, 50, "metres ahead of the transom")
    exit_from_centre_m: number(0, 10, "metres from the centre line")
    exit_height_m: number(-2, 10, "metres above the lowest keel point")
    shaft_length_m: number(0.1, 20, "metres of straight shaft outside, foil fully out")
    shaft_angle_deg: number(-90, 90, "degrees, outward-up +")
    elbow_length_m: number(0, 10, "metres of bend")
    tip_length_m: number(0, 20, "metres of straight tip")
    tip_angle_deg: number(-90, 90, "degrees, outward-up +")
    least_extension_percent: number(5, 100, "percent of the outside length")
    material_m: Row = Field(min_length=2, max_length=200, description="metres, where rows are given")
    chord_m: Row = Field(description="metres, one for each material_m")
    thickness_percent: Row = Field(description="percent of chord, one for each material_m")
    zero_lift_deg: Row = Field(description="degrees, section zero-lift angle, one for each material_m")
    incidence_deg: Row = Field(description="degrees, built-in, one for each material_m")
    stations_m: Row = Field(min_length=1, max_length=50, description="metres, strain stations")
    id: str | None = Field(
        default=None, pattern=FOIL_ID, description="the physical foil's own name: letters, digits, . _ -, up to 40"
    )
    strips: int = Field(default=24, ge=8, le=64, description="strips of the march, 8 to 64")
    section: SectionSpec = SectionSpec()
    structure: StructureSpec
    fatigue: FatigueSpec = FatigueSpec()

    @property
    def outside_length(self):
        """Arc length outside the hull, foil fully out [m]."""
        return self.shaft_length_m + self.elbow_length_m + self.tip_length_m

    @model_validator(mode="after")
    def _shaft_is_long_enough(self):
        needed = (1.0 - self.least_extension_percent * PERCENT) * self.outside_length
        if self.shaft_length_m < needed - 1e-9:
            raise Refused(
                "shaft_length_m",
                self.shaft_length_m,
                "too short, the elbow would turn inside the bearing; needed is "
                f"(1 - least extension) x outside length = {needed:.3g} m or more",
            )
        return self

    @model_validator(mode="after")
    def _rows_fit(self):
        rising(self.material_m, "material_m")
        length = self.outside_length
        if abs(self.material_m[0]) > 1e-9 or abs(self.material_m[-1] - length) > 1e-6:
            raise Refused("material_m", self.material_m, f"must run from 0 to {length:g}, the outside length")
        rows = ("chord_m", "thickness_percent", "zero_lift_deg", "incidence_deg")
        same_length(self.material_m, {name: getattr(self, name) for name in rows})
        bounds = {
            "chord_m": (0.05, 3),
            "thickness_percent": (2, 40),
            "zero_lift_deg": (-12, 12),
            "incidence_deg": (-10, 10),
        }
        for name, (low, high) in bounds.items():
            within(low, high, name, getattr(self, name))
        return self

    @model_validator(mode="after")
    def _stations_lie_on_the_foil(self):
        rising(self.stations_m, "stations_m")
        for station in self.stations_m:
            if not 0.0 <= station < self.outside_length:
                raise Refused(
                    "stations_m",
                    station,
                    f"this station is outside the foil; allowed is 0 to below {self.outside_length:g} m",
                )
        return self

    def si(self):
        """The foil as a record."""
        section, structure = self.section, self.structure
        return Foil(
            exit_x=self.exit_from_transom_m,
            exit_y=self.exit_from_centre_m,
            exit_z=self.exit_height_m,
            shaft_length=self.shaft_length_m,
            shaft_angle=radians(self.shaft_angle_deg),
            elbow_length=self.elbow_length_m,
            tip_length=self.tip_length_m,
            tip_angle=radians(self.tip_angle_deg),
            least_extension=self.least_extension_percent * PERCENT,
            material_s=np.array(self.material_m, dtype=float),
            chord=np.array(self.chord_m, dtype=float),
            thickness_share=np.array(self.thickness_percent, dtype=float) * PERCENT,
            zero_lift=np.radians(np.array(self.zero_lift_deg, dtype=float)),
            incidence=np.radians(np.array(self.incidence_deg, dtype=float)),
            section_slope=section.lift_slope_per_rad,
            profile_drag=section.profile_drag,
            cl_max=section.cl_max,
            cl_min=section.cl_min,
            cavitation_normal=tuple(section.cavitation_normal),
            cavitation_reverse=tuple(section.cavitation_reverse),
            ventilated_cl=section.ventilated_cl,
            ventilation_onset=section.ventilation_onset,
            washout=section.washout,
            onset_chords=section.onset_chords,
            washout_chords=section.washout_chords,
            rewetting_chords=section.rewetting_chords,
            added_mass_share=section.added_mass_share,
            youngs_modulus=structure.youngs_modulus_gpa * 1e9,
            inertia_coefficient=structure.inertia_coefficient,
            density=structure.density_kg_m3,
            fill=structure.fill_percent * PERCENT,
            area_coefficient=structure.area_coefficient,
            bearing_distance=structure.bearing_distance_m,
            bearing_friction=structure.bearing_friction,
            damping_ratio=structure.damping_percent * PERCENT,
            strain_normal=structure.strain_limit_normal_microstrain * MICROSTRAIN,
            strain_reverse=structure.strain_limit_reverse_microstrain * MICROSTRAIN,
            limit_basis=structure.limit_basis or "",
            stations=np.array(self.stations_m, dtype=float),
            shear_centre=structure.shear_centre_percent * PERCENT,
            line_breaking_load=structure.line_breaking_load_tonne_force * TONNE_FORCE,
            fatigue=self.fatigue.si(),
            strips=self.strips,
            id=self.id or "",
        )

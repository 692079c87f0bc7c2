"""Hull and fins of a boat, as a person writes them: form by stations, areas, spans, places."""

from math import radians
from typing import Literal

import numpy as np
from pydantic import Field, model_validator

from seaload.basis.units import DEGREE, PERCENT
from seaload.scenario.foil_spec import Row
from seaload.scenario.records import Hull, LiftingSurface
from seaload.scenario.written import Refused, Written, number, rising, same_length, within

BOW_LENGTHS = 6.0  # hull lengths over the way from the centre of gravity to the bow (assumption, no source)
PLUNGE_LENGTHS = 18.0  # hull lengths over the immersion of a buried bow (assumption, no source)
MOST_REACH_M = 7.0  # of keel, rudder or foil: the water's motion is worked out to ten metres under the surface


class HullSpec(Written):
    """`[hull]`: form by stations, and the coefficients of the momentum strips."""

    length_m: number(3, 60, "metres")
    waterline_length_m: number(3, 60, "metres")
    station_m: Row = Field(min_length=4, max_length=200, description="metres from the transom, rising")
    keel_rise_m: Row = Field(description="metres above the lowest keel point, one for each station")
    half_beam_share: Row = Field(description="0 to 1, taper of the chine half-beam, one for each station")
    half_beam_m: number(0.2, 10, "metres, chine half-beam upright at the fullest station")
    half_beam_per_heel_m_per_deg: number(-0.5, 0, "metres per degree of heel, negative") = 0.0
    deadrise_deg: number(0, 60, "degrees, upright")
    deadrise_per_heel_deg_per_deg: number(0, 2, "degrees per degree of heel") = 0.0
    least_deadrise_deg: number(2, 40, "degrees") = 8.0
    fullness: number(0, 1, "0 = wedge, 1 = parabola") = 0.0
    pile_up: number(1, 2, "wetted over still-water half-beam") = 1.5708
    added_mass_share: number(0.1, 1.5, "k_a") = 0.85
    cross_flow_drag: number(0, 3, "C_D") = 1.0
    planing_buoyancy: number(0, 1, "share of hydrostatic lift left when planing") = 0.75
    stations: int = Field(default=32, ge=12, le=80, description="stations of the march, 12 to 80")
    transom_relief: Literal["on", "off"] = "on"
    side_height_m: number(0.1, 6, "metres from chine to deck")
    draught_m: number(0.02, 5, "metres of hull under water on the way, for its wave damping") | None = None
    bilge_share: number(0.05, 1.2, "of the half-beam: where the heeled hull is lowest; 1 = at a hard chine") = 0.78
    wetted_share: number(0.1, 2, "wetted surface afloat over chine beam times waterline length") = 0.62
    wetted_loss_planing: number(0, 0.9, "share of the wetted surface lost when planing") = 0.3
    bow_from_cg_m: number(0, 40, "metres ahead of the centre of gravity, where the bow begins") | None = None
    plunge_depth_m: number(0.05, 5, "metres of immersion past which the bow counts as buried") | None = None

    @model_validator(mode="after")
    def _stations_fit(self):
        rising(self.station_m, "station_m")
        if abs(self.station_m[0]) > 1e-9 or abs(self.station_m[-1] - self.length_m) > 1e-6:
            raise Refused("station_m", self.station_m, f"must run from 0 to length_m, {self.length_m:g}")
        rows = {"keel_rise_m": self.keel_rise_m, "half_beam_share": self.half_beam_share}
        same_length(self.station_m, rows)
        within(0.01, 1, "half_beam_share", self.half_beam_share)
        within(0, 5, "keel_rise_m", self.keel_rise_m)
        if min(self.keel_rise_m) > 0.01:
            raise Refused("keel_rise_m", self.keel_rise_m, "heights above the lowest keel point: the least must be 0")
        if self.waterline_length_m > self.length_m:
            raise Refused("waterline_length_m", self.waterline_length_m, "must be at most length_m")
        return self

    def si(self):
        """The hull as a record."""
        return Hull(
            length=self.length_m,
            waterline_length=self.waterline_length_m,
            station_x=np.array(self.station_m, dtype=float),
            keel_rise=np.array(self.keel_rise_m, dtype=float),
            half_beam_share=np.array(self.half_beam_share, dtype=float),
            half_beam=self.half_beam_m,
            half_beam_per_heel=self.half_beam_per_heel_m_per_deg / DEGREE,
            deadrise=radians(self.deadrise_deg),
            deadrise_per_heel=self.deadrise_per_heel_deg_per_deg,
            least_deadrise=radians(self.least_deadrise_deg),
            fullness=self.fullness,
            pile_up=self.pile_up,
            added_mass_share=self.added_mass_share,
            cross_flow_drag=self.cross_flow_drag,
            planing_buoyancy=self.planing_buoyancy,
            stations=self.stations,
            transom_relief=self.transom_relief == "on",
            side_height=self.side_height_m,
            draught=self.draught_m,
            bilge_share=self.bilge_share,
            wetted_share=self.wetted_share,
            wetted_loss=self.wetted_loss_planing,
            bow_from_cg=self.length_m / BOW_LENGTHS if self.bow_from_cg_m is None else self.bow_from_cg_m,
            plunge_depth=self.length_m / PLUNGE_LENGTHS if self.plunge_depth_m is None else self.plunge_depth_m,
        )


class SurfaceSpec(Written):
    """`[keel]` or `[rudder]`: a straight fin from a root point; of two rudders, the leeward one."""

    area_m2: number(0.02, 20, "m2")
    span_m: number(0.2, MOST_REACH_M, "metres")
    root_from_transom_m: number(-1, 60, "metres ahead of the transom")
    root_to_leeward_m: number(-10, 10, "metres from the centre line, leeward +") = 0.0
    root_height_m: number(-2, 5, "metres above the lowest keel point") = 0.0
    tilt_deg: number(-45, 45, "degrees, tip to leeward +, upright boat, keel uncanted") = 0.0
    thickness_percent: number(3, 30, "percent of the chord") = 12.0
    effective_aspect: number(0.2, 30, "aspect ratio for the lift slope")
    profile_drag: number(0.003, 0.05, "drag coefficient") = 0.008
    area_coefficient: number(0.2, 1, "k in section area = k c t") = 0.65
    cl_max: number(0.3, 2.5, "wetted stall, either side") = 1.0

    def si(self):
        """The fin as a record."""
        return LiftingSurface(
            area=self.area_m2,
            span=self.span_m,
            root_x=self.root_from_transom_m,
            root_y=self.root_to_leeward_m,
            root_z=self.root_height_m,
            tilt=radians(self.tilt_deg),
            thickness_share=self.thickness_percent * PERCENT,
            effective_aspect=self.effective_aspect,
            profile_drag=self.profile_drag,
            area_coefficient=self.area_coefficient,
            cl_max=self.cl_max,
        )

"""From scenario records to the plain arrays of a block: boat, hull stations, strips, waves, reading."""

import numpy as np

from seaload.basis.constants import (
    ATMOSPHERIC_PRESSURE,
    SEA_WATER_DENSITY,
    STANDARD_GRAVITY,
    VAPOUR_PRESSURE,
)
from seaload.boat.hull_stations import effective_half_beam, hull_stations, planing_share
from seaload.boat.righting import centre_of_gravity, righting_line
from seaload.simulation.layout import *  # noqa: F403  (row names only)
from seaload.simulation.layout import BOAT_ROWS, March
from seaload.simulation.march import Reading
from seaload.simulation.prepare_foil import (
    KEEL_STRIPS,
    RUDDER_STRIPS,
    appendage_rows,
    foil_geometry,
    foil_rows,
    heeled,
    shaft_axis,
)

DEPTH_SCALE = 4.5  # [m] the foil's tip, fully out and heeled, with the boat's motions
BILGE_SHARE = 0.78  # [-] of the half-beam: where a heeled section is lowest


def lane_centre(boat, setting):
    """Centre of gravity in hull axes (x from the transom, y leeward, z above the keel point) [m]."""
    y, z = centre_of_gravity(boat.cg_height, boat.mass, boat.bulb_mass, boat.keel.span, setting.cant)
    return boat.cg_from_transom + setting.ballast_shift, y, z


def lowest_point(boat, setting, centre):
    """Height of the heeled hull's lowest line from the centre of gravity [m]."""
    half = BILGE_SHARE * boat.hull.half_beam
    bilge = heeled(half - centre[1], half * np.tan(boat.hull.deadrise) - centre[2], setting.heel)[1]
    keel = heeled(-centre[1], -centre[2], setting.heel)[1]
    return min(bilge, keel)


def boat_column(boat, setting, foil, geometry, centre, model):
    """Boat parameters of one lane, (len(BOAT_ROWS),); thrust and heeling moment come from the calm trim."""
    hull = boat.hull
    gz, gz_slope = righting_line(hull, boat.mass, setting.heel, centre[1], centre[2])
    eased = planing_share(setting.speed, hull.waterline_length)
    axis = shaft_axis(foil, geometry.bearing, setting.heel)
    column = dict.fromkeys(BOAT_ROWS, 0.0)
    column.update(
        mass=boat.mass,
        surge_mass=boat.mass * (1.0 + boat.surge_added_mass),
        pitch_inertia=boat.mass * boat.pitch_gyradius**2,
        roll_inertia=boat.roll_inertia * model["roll_inertia_factor"],
        weight=boat.mass * STANDARD_GRAVITY,
        down_force=boat.sail_down_force,
        sail_arm=(boat.sail_height - centre[2]) * np.cos(setting.heel),
        thrust=boat.reference_thrust,
        thrust_slope=boat.thrust_slope,
        target_speed=setting.speed,
        speed_hold_rate=boat.speed_hold_rate,
        speed_hold_bound=boat.speed_hold_bound,
        heel_moment_fall=2.0 * np.tan(setting.heel),
        heel_hold_rate=boat.heel_hold_rate,
        heel_hold_bound=boat.heel_hold_bound,
        righting_arm=gz,
        righting_slope=gz_slope,
        hull_arm_y=gz,
        rig_pitch_damping=boat.rig_pitch_damping,
        rig_roll_damping=boat.rig_roll_damping,
        leeway=boat.leeway + model["leeway_shift"],
        wetted_surface=wetted_surface(boat, setting),
        other_area=boat.windage_area,
        hump=boat.hump_resistance,
        waterline_length=hull.waterline_length,
        roll_free=model["roll"],
        surge_free=model["surge"],
        lag=model["wake_memory"],
        fast_added_mass=model["fast_added_mass"],
        memory_on=model["flow_memory"],
        mode_mass=geometry.dry_mass,
        mode_stiffness=geometry.mode.stiffness,
        mode_damping=2.0 * foil.damping_ratio * np.sqrt(geometry.mode.stiffness * geometry.dry_mass),
        mode_on=model["bending"],
        stern_share=0.0 if hull.transom_relief else 1.0,
        axial_y=axis[0],
        axial_z=axis[1],
        bearing_distance=foil.bearing_distance,
        bearing_friction=foil.bearing_friction,
        pile_up=hull.pile_up,
        added_mass_factor=hull.added_mass_share * SEA_WATER_DENSITY * 0.5 * np.pi,
        drag_factor=hull.cross_flow_drag * SEA_WATER_DENSITY,
        buoyancy_factor=SEA_WATER_DENSITY * STANDARD_GRAVITY * (1.0 - eased * (1.0 - hull.planing_buoyancy)),
        fullness=hull.fullness,
    )
    return np.array([column[name] for name in BOAT_ROWS])


def carried_righting(boat, settings):
    """Function (lane, carried mass [kg]) -> (righting arm [m], slope [m/rad]) for `calm_trim`.

    A hull that the foil half lifts floats higher and stands stiffer for what it carries; held to a fifth of the
    boat's mass at least, where the sections would be almost dry.
    """
    known = {}

    def righting(lane, carried):
        mass = float(np.clip(carried, 0.2 * boat.mass, boat.mass))
        key = (settings[lane], mass)
        if key not in known:
            _, y, z = lane_centre(boat, settings[lane])
            known[key] = righting_line(boat.hull, mass, settings[lane].heel, y, z)
        return known[key]

    return righting


def wetted_surface(boat, setting):
    """Wetted surface of the heeled hull under way [m2]: a share of chine beam times waterline length.

    0.62 afloat, three tenths less when planing with a foil that lifts; constant over the run (assumption, no
    source; set so that the demonstration boat needs its reference thrust at its reference speed).
    """
    half = effective_half_beam(boat.hull.half_beam, boat.hull.half_beam_per_heel, setting.heel)
    eased = planing_share(setting.speed, boat.hull.waterline_length)
    return 2.0 * half * boat.hull.waterline_length * 0.62 * (1.0 - 0.3 * eased)


def hull_rows_of(boat, setting, centre, encounter_frequency):
    """Hull station rows of one lane, (stations, HULL_ROWS)."""
    s = hull_stations(boat.hull, setting.heel, setting.speed, encounter_frequency, 0.4)
    rows = np.zeros((len(s.x), HULL_ROWS))
    rows[:, H_X] = s.x - centre[0]
    rows[:, H_Z] = s.keel_rise + lowest_point(boat, setting, centre)
    rows[:, H_SLOPE] = s.keel_slope
    rows[:, H_BEAM] = s.half_beam
    rows[:, H_INVERSE_CHINE] = s.inverse_chine_height
    rows[:, H_RELIEF], rows[:, H_RELIEF_SLOPE] = s.transom_relief, s.relief_slope
    rows[:, H_RADIATION] = s.radiation_factor
    rows[:, H_DX] = s.dx
    return rows


def reading_columns(foil, geometry):
    """Edge, weight, per_limit, reverse_ratio, outside of every channel of one lane."""
    s, bearing = geometry.channel_s, geometry.bearing
    edges = geometry.strips.s_edge
    place = np.clip(s - bearing, 0.0, None) / (edges[1] - edges[0])
    edge = np.minimum(place.astype(np.int64), foil.strips - 1)
    weight = np.where(s > bearing, place - edge, 0.0)
    within = np.clip(1.0 - (bearing - s) / foil.bearing_distance, 0.0, 1.0)
    share = np.where(s >= bearing - 1e-9, 1.0, within)
    outside = (s >= bearing - 1e-9).astype(float)
    return edge, weight, share / geometry.normal_limit, geometry.normal_limit / geometry.reverse_limit, outside


def march_arrays(boat, foil, settings, encounter_frequencies, model):
    """(March, Reading, geometries): arrays of all lanes, one setting a lane, thrust and lift slopes still to come."""
    cache, columns = {}, []
    for setting, encounter in zip(settings, encounter_frequencies, strict=True):
        if setting not in cache:
            centre = lane_centre(boat, setting)
            geometry = foil_geometry(foil, setting.extension, model)
            strip = np.concatenate(
                [
                    foil_rows(foil, geometry, setting, centre, model),
                    appendage_rows(boat.keel, setting.cant, setting, centre, KEEL_STRIPS, model["keel_fin"]),
                    appendage_rows(boat.rudder, 0.0, setting, centre, RUDDER_STRIPS, model["rudders"]),
                ]
            )
            s = geometry.strips
            edge = heeled(foil.exit_y + s.y_edge - centre[1], foil.exit_z + s.z_edge - centre[2], setting.heel)
            cache[setting] = (
                boat_column(boat, setting, foil, geometry, centre, model),
                hull_rows_of(boat, setting, centre, encounter),
                strip,
                edge,
                geometry,
                reading_columns(foil, geometry),
            )
        columns.append(cache[setting])
    stack = lambda pick: np.ascontiguousarray(np.stack([pick(c) for c in columns], axis=-1))  # noqa: E731
    march = March(
        boat=stack(lambda c: c[0]),
        hull=stack(lambda c: c[1]),
        strip=stack(lambda c: c[2]),
        foil_strips=foil.strips,
        edge_y=stack(lambda c: c[3][0]),
        edge_z=stack(lambda c: c[3][1]),
        mode_moment=stack(lambda c: c[4].mode.moment_per_unit),
        depth_scale=DEPTH_SCALE,
        density=SEA_WATER_DENSITY,
        gravity=STANDARD_GRAVITY,
        ambient=ATMOSPHERIC_PRESSURE - VAPOUR_PRESSURE,
    )
    reading = Reading(len(columns[0][5][0]), *(stack(lambda c, i=i: c[5][i]) for i in range(5)))
    return march, reading, [c[4] for c in columns]

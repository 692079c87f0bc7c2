"""From scenario records to the plain arrays of a block: boat, hull stations, strips, waves, reading."""

from dataclasses import replace

import numpy as np
from scipy.interpolate import PchipInterpolator

from seaload.basis.constants import (
    ATMOSPHERIC_PRESSURE,
    SEA_WATER_DENSITY,
    STANDARD_GRAVITY,
    VAPOUR_PRESSURE,
)
from seaload.boat.heeling import heeled, heeling_moment_fall
from seaload.boat.hull_section import added_mass_factor, buoyancy_factor, section_coefficient
from seaload.boat.hull_stations import effective_deadrise, hull_stations, lowest_point, planing_share
from seaload.boat.lewis_form import lewis_sway_added_mass
from seaload.boat.righting import centre_of_gravity, righting_line, righting_lines
from seaload.boat.slamming import FOREFOOT_SHARE
from seaload.boat.sway import END_FLOW_SWAY, sway_factor
from seaload.boat.tank_water import loaded_centre, loaded_inertia
from seaload.boat.wetted_surface import wetted_surface
from seaload.foil.bending import share_between_bearings
from seaload.foil.curve import section_at
from seaload.foil.first_mode import modal_damping
from seaload.foil.geometry import curve_of, shaft_axis
from seaload.foil.span_load import shear_arm
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT_ROWS, March, Reading
from seaload.simulation.prepare_foil import (
    KEEL_STRIPS,
    RUDDER_STRIPS,
    appendage_rows,
    foil_rows,
    geometry_of,
    span_columns,
)
from seaload.simulation.windows import depth_scale, mean_draught

CARRIED, CARRIED_MASSES = (0.2, 1.0), 6  # [-] of the whole mass that the hull's righting line is worked out for


def lane_centre(boat, setting):
    """Centre of gravity of a `boat` at a `setting` in hull axes (x from the transom, y leeward, z above the keel point)
    [m].
    """
    y, z = centre_of_gravity(boat.cg_height, boat.mass, boat.bulb_mass, boat.keel.span, setting.cant)
    if setting.water:
        _, y, z = loaded_centre(boat.mass, (boat.cg_from_transom, y, z), setting.water)
    return boat.cg_from_transom + setting.ballast_shift, y, z


def lane_sides(boat, settings):
    """Places of the centres of gravity of a `boat` to leeward of the centre line, heeled [m], one for each of the
    `settings`.
    """
    return [heeled(*lane_centre(boat, setting)[1:], setting.heel)[0] for setting in settings]


def lane_mass(boat, setting):
    """Mass of the `boat` with the water in her tanks at a `setting` [kg]."""
    return boat.mass + setting.ballast_mass


def lane_inertia(boat, setting, centre):
    """(roll, pitch) moments of inertia [kg m2] of the `boat` at a `setting`, about `centre` [m] of boat and water.

    `boat`, `setting` scenario records, `centre` (x, y, z) in hull axes. The boat's pitch inertia is mass times gyradius
    squared (definition); water is added by `tank_water.loaded_inertia`.
    """
    roll, pitch = boat.roll_inertia, boat.mass * boat.pitch_gyradius**2
    if setting.water:
        dry = lane_centre(boat, replace(setting, water=(), ballast_shift=0.0))
        more = loaded_inertia(boat.mass, dry, setting.water, centre)
        roll, pitch = roll + more[0], pitch + more[1]
    return roll, pitch


def yaw_inertia_of(boat, setting, centre):
    """Yaw moment of inertia [kg m2] of the `boat` at a `setting`, about `centre` [m] of boat and water.

    Mass times gyradius squared (definition), and as much for water in her tanks as about the pitch axis.
    """
    dry = boat.mass * boat.pitch_gyradius**2
    return boat.mass * boat.yaw_gyradius**2 + lane_inertia(boat, setting, centre)[1] - dry


def boat_column(boat, setting, foil, geometry, centre, model, lines):
    """Boat parameters of one lane, (len(BOAT_ROWS),) SI; thrust, sail force and leeway come from the calm trim.

    `boat`, `setting`, `foil` scenario records, `geometry` a `FoilGeometry`, `centre` (x, y, z) [m] of the centre of
    gravity in hull axes, `model` {name: value} as `model_factors` gives it; `lines` {(mass [kg], heel [rad],
    centre): righting line} of other lanes, this one's added.
    """
    hull, mass = boat.hull, lane_mass(boat, setting)
    roll_inertia, pitch_inertia = lane_inertia(boat, setting, centre)
    floating = mass, setting.heel, *centre[1:]
    if floating not in lines:
        lines[floating] = righting_line(hull, *floating)
    gz, gz_slope = lines[floating]
    eased = planing_share(setting.speed, hull.waterline_length)
    axis = shaft_axis(foil, geometry.bearing, setting.heel)
    effort_side, effort_up = heeled(-centre[1], boat.sail_height - centre[2], setting.heel)
    column = dict.fromkeys(BOAT_ROWS, 0.0)
    column.update(
        mass=mass,
        surge_mass=mass * (1.0 + boat.surge_added_mass),
        pitch_inertia=pitch_inertia,
        roll_inertia=roll_inertia * model["roll_inertia_factor"],
        weight=mass * STANDARD_GRAVITY,
        sail_arm=effort_up,
        sail_lever=boat.sail_height - centre[2],
        sail_side=np.cos(setting.heel) / (boat.sail_height - centre[2]),
        effort_ahead=boat.effort_from_transom - centre[0],
        effort_side=effort_side,
        heel=setting.heel,
        thrust=boat.reference_thrust,
        thrust_slope=boat.thrust_slope,
        target_speed=setting.speed,
        speed_hold_rate=boat.speed_hold_rate * model["speed_held"],
        speed_hold_bound=boat.speed_hold_bound,
        heel_moment_fall=heeling_moment_fall(setting.heel),
        heel_hold_rate=boat.heel_hold_rate,
        heel_hold_bound=boat.heel_hold_bound,
        righting_arm=gz,
        righting_slope=gz_slope,
        hull_arm_y=gz,
        rig_pitch_damping=boat.rig_pitch_damping,
        rig_roll_damping=boat.rig_roll_damping,
        sway_factor=sway_factor_of(hull, setting.heel),
        yaw_inertia=yaw_inertia_of(boat, setting, centre),
        sway_free=1.0 - model["leeway_held"],
        yaw_free=(1.0 - model["leeway_held"]) * model["rudders"],
        **steering_of(boat.steering, model),
        wetted_surface=wetted_surface(hull, setting.heel, setting.speed),
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
        mode_damping=modal_damping(foil.damping_ratio, geometry.mode.stiffness, geometry.dry_mass),
        mode_on=model["bending"],
        stern_share=0.0 if hull.transom_relief else 1.0,
        axial_y=axis[0],
        axial_z=axis[1],
        bearing_distance=foil.bearing_distance,
        bearing_friction=foil.bearing_friction,
        pile_up=hull.pile_up,
        added_mass_factor=added_mass_factor(hull.added_mass_share, SEA_WATER_DENSITY),
        drag_factor=hull.cross_flow_drag * SEA_WATER_DENSITY,
        buoyancy_factor=buoyancy_factor(hull.planing_buoyancy, eased, SEA_WATER_DENSITY),
        fullness=hull.fullness,
        plunge_depth=hull.plunge_depth,
        bow_from_cg=hull.bow_from_cg,
        hull_damping_more=model["hull_damping_factor"] - 1.0,
    )
    return np.array([column[name] for name in BOAT_ROWS])


def steering_of(steering, model):
    """{row: value} of the helm; `steering` a scenario record, `model` {name: value} as `model_factors` gives it."""
    gain = steering.gain * model["steering_gain_factor"]
    return dict(
        steering_gain=gain,
        steering_rate_gain=gain * steering.rate_gain,
        steering_delay=steering.delay,
        rudder_rate=steering.rudder_rate,
        rudder_limit=steering.rudder_limit,
        helm_hold_rate=steering.trim_rate,
    )


def sway_factor_of(hull, heel):
    """Factor of the sway added mass of `sway.sway_added_mass` [kg/m3] of a `hull` record at a `heel` [rad]: its Lewis
    section of the same breadth and area under a rigid surface, less what flows round the ends.
    """
    rise = np.tan(effective_deadrise(hull.deadrise, hull.deadrise_per_heel, hull.least_deadrise, heel))
    share = lewis_sway_added_mass(1.0 / rise, section_coefficient(hull.fullness))
    return sway_factor(share * END_FLOW_SWAY, SEA_WATER_DENSITY)


def carried_righting(boat, settings):
    """Function (lane, carried mass [kg]) -> (righting arm [m], slope [m/rad]) for `calm_trim`.

    `boat` a scenario record, `settings` one a lane. A hull that the foil half lifts floats higher and stands stiffer
    for what it carries; held to a fifth of the boat's mass at least, where the sections would be almost dry. Worked out
    at a few masses and read between them, the same for all settings of one heel and one centre of gravity.
    """
    known = {}

    def line_of(setting):
        whole = lane_mass(boat, setting)
        key = (setting.heel, whole, *lane_centre(boat, setting)[1:])
        if key not in known:
            masses = whole * np.linspace(*CARRIED, CARRIED_MASSES)
            lines = righting_lines(boat.hull, masses, setting.heel, *key[2:])
            known[key] = PchipInterpolator(masses, lines), masses[0], whole
        return known[key]

    def righting(lane, carried):
        line, least, most = line_of(settings[lane])
        return tuple(float(part) for part in line(np.clip(carried, least, most)))

    return righting


def hull_rows_of(boat, setting, centre, encounter_frequency):
    """Hull station rows of one lane, (stations, HULL_ROWS) SI.

    `boat`, `setting` scenario records, `centre` (x, y, z) [m] of the centre of gravity in hull axes,
    `encounter_frequency` [rad/s] that stands for the sea.
    """
    draught = mean_draught(boat.hull, lane_mass(boat, setting), setting.heel)
    s = hull_stations(boat.hull, setting.heel, setting.speed, encounter_frequency, draught)
    rows = np.zeros((len(s.x), L.HULL_ROWS))
    rows[:, L.H_X] = s.x - centre[0]
    rows[:, L.H_Z] = s.keel_rise + lowest_point(boat.hull, *centre[1:], setting.heel)
    rows[:, L.H_SLOPE] = s.keel_slope
    rows[:, L.H_BEAM] = s.half_beam
    rows[:, L.H_INVERSE_CHINE] = s.inverse_chine_height
    rows[:, L.H_RELIEF], rows[:, L.H_RELIEF_SLOPE] = s.transom_relief, s.relief_slope
    rows[:, L.H_RADIATION] = s.radiation_factor
    rows[:, L.H_DX] = s.dx
    return rows


def foredeck_of(hull, rows):
    """(station number, its place ahead of the centre of gravity [m], deck there above it [m]) in the middle of the bow.

    `hull` a scenario record, `rows` (stations, HULL_ROWS) of one lane. The deck is a side height above the chine.
    """
    ahead = np.flatnonzero(rows[:, L.H_X] > hull.bow_from_cg)
    station = int(ahead[len(ahead) // 2]) if len(ahead) else len(rows) - 1
    deck = rows[station, L.H_Z] + 1.0 / rows[station, L.H_INVERSE_CHINE] + hull.side_height
    return station, float(rows[station, L.H_X]), float(deck)


def watched_of(boat, centre, rows):
    """(number of the hull station whose slams are counted, (3,) [m] places of bow, mast and cockpit ahead of `centre`).

    `boat` a scenario record, `centre` (x, y, z) [m] of the centre of gravity in hull axes, `rows` (stations, HULL_ROWS)
    of one lane.
    """
    fore = FOREFOOT_SHARE * boat.hull.waterline_length - centre[0]
    places = np.array([boat.hull.length, boat.mast_from_transom, boat.cockpit_from_transom])
    return int(np.argmin(np.abs(rows[:, L.H_X] - fore))), places - centre[0]


def edge_arms(foil, geometry):
    """Distance from the shear centre forward to the line of lift at every strip edge [m], (n+1,).

    `foil` a scenario record, `geometry` its `FoilGeometry`.
    """
    chord = section_at(geometry.strips.s_edge, curve_of(foil)[1])[0]
    return shear_arm(chord, foil.shear_centre)


def reading_columns(foil, geometry):
    """Edge (int), weight [-], per_limit [1/(N m)], reverse_ratio [-], outside [-] of every channel of one lane,
    (channels,).

    `foil` a scenario record, `geometry` a `FoilGeometry`; meanings as in `layout.Reading`.
    """
    s, bearing = geometry.channel_s, geometry.bearing
    edges = geometry.strips.s_edge
    place = np.clip(s - bearing, 0.0, None) / (edges[1] - edges[0])
    edge = np.minimum(place.astype(np.int64), foil.strips - 1)
    weight = np.where(s > bearing, place - edge, 0.0)
    share = np.where(s >= bearing - 1e-9, 1.0, share_between_bearings(s, bearing, foil.bearing_distance))
    outside = (s >= bearing - 1e-9).astype(float)
    return edge, weight, share / geometry.normal_limit, geometry.normal_limit / geometry.reverse_limit, outside


def march_arrays(boat, foil, settings, encounter_frequencies, model):
    """(March, Reading, geometries): arrays of all lanes, thrust and what else the calm trim finds still to come.

    `boat`, `foil` scenario records; `settings` and `encounter_frequencies` [rad/s] one a lane; `model` {name: value} as
    `model_factors` gives it.
    """
    cache, columns, lines = {}, [], {}
    for setting, encounter in zip(settings, encounter_frequencies, strict=True):
        if setting not in cache:
            centre = lane_centre(boat, setting)
            geometry = geometry_of(foil, setting.extension, model)
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
                boat_column(boat, setting, foil, geometry, centre, model, lines),
                hull_rows_of(boat, setting, centre, encounter),
                strip,
                edge,
                geometry,
                reading_columns(foil, geometry),
                span_columns(foil, boat, geometry, edge),
                edge_arms(foil, geometry),
                centre,
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
        edge_arm=stack(lambda c: c[7]),
        mode_moment=stack(lambda c: c[4].mode.moment_per_unit),
        span_states=stack(lambda c: c[6][0]),
        span_level=stack(lambda c: c[6][1]),
        keel_span=stack(lambda c: c[6][2]),
        rudder_span=stack(lambda c: c[6][3]),
        depth_scale=depth_scale(boat, foil),
        density=SEA_WATER_DENSITY,
        gravity=STANDARD_GRAVITY,
        ambient=ATMOSPHERIC_PRESSURE - VAPOUR_PRESSURE,
    )
    amidships = np.array([np.flatnonzero(c[1][:, L.H_X] < 0.0)[-1] for c in columns])
    foredeck = [foredeck_of(boat.hull, c[1]) for c in columns]
    places = (np.array([place[i] for place in foredeck]) for i in range(3))
    loads = (stack(lambda c, i=i: c[5][i]) for i in range(5))
    watched = [watched_of(boat, c[8], c[1]) for c in columns]
    forefoot = np.array([station for station, _ in watched])
    watched_x = np.stack([x for _, x in watched], axis=-1)
    reading = Reading(len(columns[0][5][0]), *loads, amidships, *places, forefoot, watched_x)
    return march, reading, [c[4] for c in columns]

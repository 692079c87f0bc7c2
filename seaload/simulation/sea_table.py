"""The sea of a block: components and phases from named random streams, and the matrices that carry them to the boat."""

from typing import NamedTuple

import numpy as np

from seaload.basis.lane_index import lined_up
from seaload.basis.random_streams import random_stream
from seaload.boat.felt_waves import felt
from seaload.simulation.layout import LANES, S_Y, WaveTable, rated_wave_rows
from seaload.simulation.prepare_foil import KEEL_STRIPS, RUDDER_STRIPS
from seaload.simulation.wave_layout import HULL_HEADINGS, NODE_ROWS, STRIP_HEADINGS, SeaPart, strip_wave_row
from seaload.simulation.wave_rows import (
    boat_rows,
    hull_rows,
    lateral_nodes,
    lateral_weights,
    low_rank,
    own_shapes,
    surface_rows,
    terms_of,
    weighing,
)
from seaload.simulation.windows import depth_scale, lateral_windows
from seaload.waves.components import choose_components, random_phases, rayleigh_swings
from seaload.waves.dispersion import deep_wavenumber
from seaload.waves.energy_shift import energy_factors

GROUP = 16  # realisations that share frequencies and directions of the components; the next group draws its own
FOIL_NODES, KEEL_NODES, RUDDER_NODES = 6, 5, 2
MOST_NODES = FOIL_NODES


def group_of(realisations):
    """Number [-] of the group that all `realisations` (whole numbers) are of. ValueError when they are of several."""
    groups = {int(r) // GROUP for r in realisations}
    if len(groups) != 1:
        raise ValueError(f"a block has one set of components; its realisations are of groups {sorted(groups)}")
    return groups.pop()


def sea_components(sea, seed, count, model, group=0):
    """Wave `Components` of a `sea`, the same for every setting and realisation of a `group`; factors of `model` [-]
    applied.

    `seed` whole number, `count` of components. A higher, longer or turned sea, or one with more energy in its tail or
    its wind sea, keeps its random draws: only amplitude, frequency or direction move.
    """
    systems = [
        (s.omega, s.density, s.direction, s.spreading, s.band_direction, s.band_density) for s in sea.systems
    ]
    drawn = choose_components(systems, count, random_stream(seed, sea.name, group, "components"))
    omega = drawn.omega / model["tp_factor"]
    peaks = np.array([s.omega[int(np.argmax(s.density))] for s in sea.systems])
    energy = energy_factors(drawn, peaks, model["tail_factor"], model["wind_sea_factor"])
    return drawn._replace(
        omega=omega,
        wavenumber=deep_wavenumber(omega),
        amplitude=drawn.amplitude * model["hs_factor"] * model["crest_factor"] * np.sqrt(energy),
        direction=drawn.direction + model["heading_shift"],
    )


def phases_of(sea, seed, realisations, count):
    """Phases of every component for each lane's realisation, (count, LANES) [rad].

    `sea` a scenario record, `seed` whole number, `realisations` one a lane, `count` of components.
    """
    known = {
        r: random_phases(random_stream(seed, sea.name, r, "phases"), count) for r in sorted(set(realisations))
    }
    return np.ascontiguousarray(np.stack([known[r] for r in realisations], axis=-1))


def swings_of(sea, seed, realisations, count, model):
    """Amplitude of every component over its mean one for each lane's realisation, (count, LANES) [-].

    Ones, or Rayleigh distributed where `model` says random amplitudes; `sea`, `seed`, `realisations`, `count` as in
    `phases_of`.
    """
    if not model["random_amplitudes"]:
        return np.ones((count, len(realisations)))
    known = {
        r: rayleigh_swings(random_stream(seed, sea.name, r, "amplitudes"), count) for r in sorted(set(realisations))
    }
    return np.ascontiguousarray(np.stack([known[r] for r in realisations], axis=-1))


def station_positions(boat):
    """Hull stations of a `boat` ahead of the nominal centre of gravity [m], and the depth their rise is read at [m]."""
    count = boat.hull.stations
    x = (np.arange(count) + 0.5) * boat.hull.length / count - boat.cg_from_transom
    return x, np.zeros(count)


def generic_rows(boat, foil, components, hull_wave=1.0):
    """(rows, group_start, nodes of each group [m]): everything that depends on boat and sea alone, first of hull and
    boat, then of the nodes, from which a group's start counts.

    `boat`, `foil` scenario records, `components` of the sea; `hull_wave` [-] factor on the waves as the hull feels
    them, and no lifting surface: on her wave force, incident and diffracted, while that is linear (`boat.felt_waves`).
    """
    hulls = components._replace(
        amplitude=components.amplitude * felt(components.wavenumber, boat.hull.length, hull_wave)
    )
    x, level = station_positions(boat)
    scale = depth_scale(boat, foil)
    parts = [hull_rows(hulls, x, level), boat_rows(hulls)]
    groups = []
    places = (foil.exit_x, boat.keel.root_x, boat.rudder.root_x)
    counts = (FOIL_NODES, KEEL_NODES, RUDDER_NODES)
    for place, window, count in zip(places, lateral_windows(boat, foil), counts, strict=True):
        nodes = lateral_nodes(*window, count)
        groups.append(nodes)
        parts.append(surface_rows(components, place - boat.cg_from_transom, nodes, scale))
    start = NODE_ROWS * np.concatenate([[0], np.cumsum([len(g) for g in groups])[:-1]])
    return np.concatenate(parts), start.astype(np.int64), groups


class SeaShapes(NamedTuple):
    """A sea at a boat as thin matrices, see `wave_rows.low_rank`."""

    hull: SeaPart  # of hull and boat, float32
    nodes: SeaPart  # of the lateral nodes, float32
    project: np.ndarray  # (rank, 2 N) float32; phases stay in float64: the error is 1e-6 of the sea, the time half
    start: np.ndarray  # (groups,) int64, first row of each surface group among those of the nodes
    places: list  # of (nodes,) [m], the lateral nodes of each group


def sea_shapes(boat, foil, components, hull_wave=1.0):
    """`SeaShapes` of a sea for a boat; `boat`, `foil` scenario records, `components` of the sea as `sea_components`,
    `hull_wave` [-] as in `generic_rows`.
    """
    _, start, places = generic_rows(boat, foil, components)

    def rows_at(turn):
        return generic_rows(boat, foil, components._replace(direction=components.direction - turn), hull_wave)[0]

    weights, fixed = weighing(rows_at(0.0), boat.hull.stations), strip_wave_row(boat.hull.stations, 0)
    expands, project = low_rank(terms_of(rows_at, boat.hull.stations), weights)
    hull = own_shapes(expands, weights, slice(0, fixed), HULL_HEADINGS)
    nodes = own_shapes(expands, weights, slice(fixed, None), STRIP_HEADINGS)
    return SeaShapes(in_single_numbers(hull), in_single_numbers(nodes), project.astype(np.float32), start, places)


def in_single_numbers(part):
    """A `part` of the sea, a `SeaPart` [units of its rows], in float32."""
    terms = tuple(np.ascontiguousarray(each, dtype=np.float32) for each in part.terms)
    return SeaPart(terms, np.ascontiguousarray(part.rows, dtype=np.float32))


def wave_table(boat, foil, sea, realisations, march, centres_y, *, seed, count, model, known=None):
    """`WaveTable` of a block.

    `boat`, `foil`, `sea` scenario records, `realisations` one a lane, `march` arrays of the block; `centres_y` (LANES,)
    [m] of the centres of gravity from the centre line, heeled, so that a strip's lateral place in the sea is known;
    `seed`, `count` and `model` as in `sea_components`; `known` (`Components`, `SeaShapes`) where they have been worked
    out. ValueError for a strip outside the lateral windows, or for realisations of several groups.
    """
    group = group_of(realisations)
    if known is None:
        components = sea_components(sea, seed, count, model, group)
        known = components, sea_shapes(boat, foil, components, model["hull_wave_factor"])
    components, shapes = known
    n = len(components.omega)
    strips = march.strip.shape[0]
    surface = np.repeat(np.arange(3), [march.foil_strips, KEEL_STRIPS, RUDDER_STRIPS]).astype(np.int64)
    weight = np.zeros((strips, MOST_NODES, LANES))
    for g, nodes in enumerate(shapes.places):
        mine = surface == g
        for lane in range(LANES):
            at = march.strip[mine, S_Y, lane] + centres_y[lane]
            weight[mine, : len(nodes), lane] = lateral_weights(nodes, at)
    return WaveTable(
        omega=np.ascontiguousarray(components.omega),
        along=np.ascontiguousarray(components.wavenumber * np.cos(components.direction)),
        across=np.ascontiguousarray(components.wavenumber * np.sin(components.direction)),
        phase=lined_up(phases_of(sea, seed, realisations, n)),
        swing=lined_up(swings_of(sea, seed, realisations, n, model).astype(np.float32)),
        project=shapes.project,
        hull=shapes.hull,
        nodes=shapes.nodes,
        group_start=shapes.start,
        group_nodes=np.array([len(g) for g in shapes.places], dtype=np.int64),
        strip_group=surface,
        strip_weight=lined_up(weight.astype(np.float32)),
        orbital=np.float32(model["orbital"]),
        rated=rated_wave_rows(march.hull.shape[0], strips),
    )

"""The boat as her file describes her, as lines to draw: heeled from ahead, and from the side."""

import numpy as np

from seaload.boat.heeling import heeled
from seaload.boat.hydrostatics import section_corners
from seaload.simulation.prepare import lane_centre

ENDS = (0.0, 1.0)  # of a fin: root and tip


def drawing_parts(question, geometries):
    """{name: (dims, values)}: front view from the centre of gravity at the stated heel, side view from the transom."""
    return {**front_view(question, geometries), **side_view(question, geometries[-1])}


def front_view(question, geometries):
    """Fullest section, foil at every extension, keel fin and rudder, heeled [m]."""
    boat, foil, heel = question.boat, question.foil, question.setting.heel
    _, centre_y, centre_z = lane_centre(boat, question.setting)
    turned = lambda y, z: heeled(np.asarray(y) - centre_y, np.asarray(z) - centre_z, heel)  # noqa: E731
    x, y, z = section_corners(boat.hull)
    fullest = int(np.argmax(y[:, 1]))
    section = turned(y[fullest], z[fullest])
    edges = [turned(foil.exit_y + g.strips.y_edge, foil.exit_z + g.strips.z_edge) for g in geometries]
    keel, rudder = (
        turned(*fin_line(fin, cant)) for fin, cant in ((boat.keel, question.setting.cant), (boat.rudder, 0.0))
    )
    lines = ("extension", "strip_edge")
    return {
        "section_lateral": (("section_corner",), section[0]),
        "section_height": (("section_corner",), section[1]),
        "foil_edge_lateral": (lines, np.array([edge[0] for edge in edges])),
        "foil_edge_height": (lines, np.array([edge[1] for edge in edges])),
        "keel_lateral": (("end",), keel[0]),
        "keel_height": (("end",), keel[1]),
        "rudder_lateral": (("end",), rudder[0]),
        "rudder_height": (("end",), rudder[1]),
    }


def fin_line(fin, cant):
    """(y, z) [m] of root and tip of a `fin` canted to windward by `cant` [rad], upright boat, from the keel point."""
    reach, lean = fin.span * np.array(ENDS), fin.tilt - cant
    return fin.root_y + reach * np.sin(lean), fin.root_z - reach * np.cos(lean)


def side_view(question, geometry):
    """Keel line and deck edge, and where foil, keel fin and rudder leave the hull [m].

    `geometry` a `FoilGeometry` of the foil all out.
    """
    boat, foil = question.boat, question.foil
    x, _, z = section_corners(boat.hull)
    fins = (boat.keel, boat.rudder)
    lowest = [foil.exit_z + geometry.strips.z_edge.min(), *(fin_line(fin, 0.0)[1][1] for fin in fins)]
    return {
        "profile_place": (("profile_place",), x),
        "profile_keel": (("profile_place",), z[:, 0]),
        "profile_deck": (("profile_place",), z[:, 2]),
        "fin_root_place": (("fin",), np.array([foil.exit_x, *(fin.root_x for fin in fins)])),
        "fin_root_height": (("fin",), np.array([foil.exit_z, *(fin.root_z for fin in fins)])),
        "fin_tip_height": (("fin",), np.array(lowest)),
    }

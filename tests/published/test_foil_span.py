"""What strips of a span do to each other, against lattices, lifting lines and minimum drag computed elsewhere.

Tables `foil_*` hold their source lines. Curved foil, swept wings and far wake: own horseshoe lattice and closed forms
of the collection they come from (derived); Warren-12 read in a public lattice code's validation file (FLOWVLM); span
efficiencies agree with Kroo 2001 (memory). Gates are the tables': 1e-5 for the same lattice, 0.5 % lift and 2 %
circulation for another converged one, 0.2 % for the lifting line on an elliptic wing.
"""

import numpy as np
import pytest

from seaload.foil.influence import TWO_PI, far_wash, horseshoe_wash, influence
from tests.foil.foil_table import Comparison, table


def test_curved_foil_of_eight_panels(logbook):
    t = table("foil_curved_foil_8panel_lattice")
    y, z = (np.append(t[f"A_{axis}"], t[f"B_{axis}"][-1]) for axis in "yz")
    chord = 0.5 * (t["chord_A"] + t["chord_B"])
    incidence = {"unit": np.ones(8), "twist": (np.arange(8) + 0.5) / 8, "rake": t["n_z"], "tip2": np.arange(8) >= 6}
    check = Comparison(logbook, "foil", "horseshoe lattice, table curved_foil_8panel_lattice", "derived")
    for name, surface in (("deep", None), ("FrInf", 0.0)):
        lift = influence(y, z, chord, surface=surface, rows=1, inset=0.0).lift
        for kind, angle in incidence.items():
            ours = 0.5 * chord * (lift @ angle)
            check.close(f"circulation, {kind}, {name}", t[f"{kind}_{name}"], ours, absolute=1e-5, of=influence)


def test_rectangular_wings_of_uneven_incidence_near_the_surface(logbook):
    t = table("foil_rect_lattice_nonuniform_surface")
    check = Comparison(logbook, "foil", "vortex lattice, table rect_lattice_nonuniform_surface", "derived")
    lift, published, far, near = [], [], [], []
    for row, aspect in enumerate(t["AR"]):
        edge = np.linspace(-0.5 * aspect, 0.5 * aspect, 49)
        out = np.abs(edge[1:] + edge[:-1]) / aspect
        kind, depth = t["incidence"][row], t["depth_over_chord"][row]
        angle = np.ones(48) if kind == "uniform" else out if kind.startswith("linear") else 1.0 * (out > 0.5)
        surface = None if depth == "deep" else float(depth)
        section = influence(edge, 0 * edge, np.ones(48), surface=surface).lift @ angle
        lift.append(section.mean())
        published.append(t["CL_extrapolated"][row])
        places = [0.1, 0.3, 0.5, 0.7, 0.9] if "0.5" not in kind else [0.1, 0.3, 0.7, 0.9]
        near += list(np.interp(places, out[24:], 0.5 * section[24:] / aspect))
        far += [t[f"G_{place:g}"][row] for place in places]
    check.close("lift slope", published, lift, relative=0.005, of=influence)
    check.close("circulation along the span, away from a step", far, near, relative=0.02, of=influence)


def lifting_line(eta_edge, chord, incidence, aspect):
    """Circulation over span and speed on cells between `eta_edge` (-1..1), by our far wake; section slope 2 pi."""
    edge = np.stack([0.5 * eta_edge, 0.0 * eta_edge], axis=1)
    theta = np.arccos(-eta_edge)
    middle = np.stack([-0.5 * np.cos(0.5 * (theta[1:] + theta[:-1])), 0.0 * chord], axis=1)
    up = np.tile([0.0, 1.0], (len(chord), 1))
    wake = far_wash(middle, up, edge[:-1], edge[1:])
    return np.linalg.solve(np.diag(2.0 / (TWO_PI * chord)) - 0.5 * wake, incidence)


INCIDENCES = {
    "uniform": lambda y: np.ones_like(y), "linear |y|, tip 1": np.abs,
    "antisymmetric y, tip 1 (roll rate)": lambda y: y, "antisymmetric y": lambda y: y,
    "|y|<0.5": lambda y: 1.0 * (np.abs(y) < 0.5),
    "|y|>0.5": lambda y: 1.0 * (np.abs(y) > 0.5), "both sides 1 on |y|>0.5": lambda y: 1.0 * (np.abs(y) > 0.5),
}  # fmt: skip


@pytest.mark.parametrize("name", ["elliptic_nonuniform_exact", "tapered_nonuniform"])
def test_lifting_line_of_our_far_wake_with_uneven_incidence(name, logbook):
    t = table(f"foil_{name}")
    check = Comparison(logbook, "foil", f"lifting line, table {name}", "derived")
    theta = np.linspace(0.0, np.pi, 241)
    eta, middle = -np.cos(theta), -np.cos(0.5 * (theta[1:] + theta[:-1]))
    width = 0.5 * np.diff(eta)
    lift, published, drag, published_drag = [], [], [], []
    for row, kind in enumerate(t["incidence"]):
        if kind not in INCIDENCES:
            continue
        aspect = t["AR"][row]
        if "taper" in t:
            chord = 2.0 / (aspect * (1.0 + t["taper"][row])) * (1.0 - (1.0 - t["taper"][row]) * np.abs(middle))
        else:
            chord = 4.0 / (np.pi * aspect) * np.sqrt(1.0 - middle**2)
        angle = INCIDENCES[kind](middle)
        gamma = lifting_line(eta, chord, angle, aspect)
        induced = angle - 2.0 * gamma / (TWO_PI * chord)
        if t["CL_per_rad"][row] > 0.0:
            lift.append(2.0 * aspect * np.sum(gamma * width))
            published.append(t["CL_per_rad"][row])
        drag.append(2.0 * aspect * np.sum(gamma * induced * width))
        published_drag.append(t["CDi_per_rad2"][row])
        away = [p for p in (0.1, 0.2, 0.3, 0.7, 0.8, 0.9)]
        ours = np.interp(away, middle, gamma)
        theirs = np.array([t[f"G_y{p:g}"][row] for p in away])
        gate = 0.01 * float(gamma.max())
        check.close(f"circulation, AR {aspect:g}, {kind}", theirs, ours, absolute=gate, of=far_wash)
    check.close("lift slope", published, lift, relative=0.002 if "taper" not in t else 0.005, of=far_wash)
    check.close("induced drag", published_drag, drag, relative=0.01, of=far_wash)


def swept(aspect, taper, sweep_front, span, strips, rows, inset):
    """Horseshoes and points of a swept wing, even strips: (a, b, point, normal, strip middles); x aft from the apex."""
    root = 2.0 * span / (aspect * (1.0 + taper))
    y = np.linspace(-0.5 * span, 0.5 * span, 2 * strips + 1)
    mid = 0.5 * (y[1:] + y[:-1])
    y_bound = y.copy()
    y_bound[[0, -1]] += np.array([1.0, -1.0]) * inset * (y[1] - y[0])

    def chord(at):
        return root * (1.0 - (1.0 - taper) * 2.0 * np.abs(at) / span)

    def node(at, share):
        return np.stack([np.abs(at) * np.tan(sweep_front) + share * chord(at), at, 0 * at], axis=1)

    a = np.concatenate([node(y_bound[:-1], (r + 0.25) / rows) for r in range(rows)])
    b = np.concatenate([node(y_bound[1:], (r + 0.25) / rows) for r in range(rows)])
    point = np.concatenate([node(mid, (r + 0.75) / rows) for r in range(rows)])
    normal = np.tile([0.0, 1.0], (len(point), 1))
    return a, b, point, normal, mid


def test_swept_wing_of_four_panels(logbook):
    t = table("foil_bertin_45deg_4panel")
    a, b, point, normal, mid = swept(5.0, 1.0, np.pi / 4.0, 1.0, 4, 1, 0.0)
    wash = horseshoe_wash(point, normal, a, b)
    check = Comparison(logbook, "foil", "horseshoe lattice of a 45 deg wing, table bertin_45deg_4panel", "derived")
    out = np.abs(mid)
    for name, angle in (("uniform", np.ones(8)), ("linear_2y_b", 2.0 * out), ("outer_half", out > 0.25)):
        gamma = np.linalg.solve(wash, -1.0 * angle) / (4.0 * np.pi)
        check.close(f"circulation, {name}", t[f"gamma4_{name}"], gamma[4:], absolute=1e-6, of=horseshoe_wash)
    slope = 8.0 * np.pi * 5.0 * np.linalg.solve(wash, -np.ones(8)).sum() / (4.0 * np.pi) / 8.0
    check.close("lift slope", 3.444224, slope, relative=1e-6, of=horseshoe_wash)


def test_warren_twelve(logbook):
    span, strips, rows = 2.0 * np.sqrt(2.0), 20, 8
    a, b, point, normal, _ = swept(span**2 / 2.83, 1.0 / 3.0, np.radians(53.54), span, strips, rows, 0.15)
    gamma = np.linalg.solve(horseshoe_wash(point, normal, a, b), -np.ones(len(point)))
    force = gamma * np.abs(b[:, 1] - a[:, 1])
    lift = 2.0 * force.sum() / 2.83
    moment = -2.0 * np.sum(force * 0.5 * (a[:, 0] + b[:, 0])) / 2.83
    check = Comparison(logbook, "foil", "Warren-12 planform, read in FLOWVLM's validation", "read")
    check.close("lift slope", 2.743, lift, relative=0.01, of=horseshoe_wash)
    check.close("moment slope about the apex", -3.10, moment, relative=0.01, of=horseshoe_wash)


def straight(start, end, cells=120):
    """Panel ends (cells, 2), cosine-spaced on a line, and their middles in the angle."""
    theta = np.linspace(0.0, np.pi, cells + 1)
    place = 0.5 - 0.5 * np.cos(theta)
    middle = 0.5 - 0.5 * np.cos(0.5 * (theta[1:] + theta[:-1]))
    line = lambda share: np.asarray(start) + share[:, None] * (np.asarray(end) - np.asarray(start))  # noqa: E731
    return line(place)[:-1], line(place)[1:], line(middle)


SHAPES = {
    "planar": [((-0.5, 0.0), (0.5, 0.0))],
    "V dihedral, total height 0.2 b": [((-0.5, 0.2), (0.0, 0.0)), ((0.0, 0.0), (0.5, 0.2))],
    "up winglets 90 deg, height 0.2 b": [
        ((-0.5, 0.2), (-0.5, 0.0)), ((-0.5, 0.0), (0.5, 0.0)), ((0.5, 0.0), (0.5, 0.2)),
    ],
    "biplane gap 0.2 b": [((-0.5, 0.0), (0.5, 0.0)), ((-0.5, 0.2), (0.5, 0.2))],
}  # fmt: skip


def test_least_induced_drag_of_shapes_across_the_stream(logbook):
    """Munk: the far wake moves square to each piece at w0 cos(dihedral)."""
    t = table("foil_trefftz_min_drag_span_efficiency")
    published = dict(zip(t["shape"], t["e_derived"], strict=True))
    ours = []
    for pieces in SHAPES.values():
        a, b, middle = (np.concatenate(each) for each in zip(*(straight(*p) for p in pieces), strict=True))
        step = b - a
        length = np.linalg.norm(step, axis=1)
        normal = np.stack([-step[:, 1], step[:, 0]], axis=1) / length[:, None]
        gamma = np.linalg.solve(far_wash(middle, normal, a, b), -normal[:, 1])
        lift, drag = np.sum(gamma * normal[:, 1] * length), 0.5 * np.sum(gamma * normal[:, 1] * length)
        ours.append((2.0 * lift) ** 2 / (np.pi * 2.0 * drag))
    check = Comparison(logbook, "foil", "minimum induced drag, table trefftz_min_drag_span_efficiency", "derived")
    check.close("span efficiency", [published[name] for name in SHAPES], ours, relative=0.005, of=far_wash)

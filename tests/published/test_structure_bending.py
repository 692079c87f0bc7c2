"""Beams: uniform cantilever in closed form, tapered ones by 200 Hermite elements, a worked example (derived).

Section rules I = 0.036 c t^3 and A = 0.65 c t are from memory, +-10 %.
"""


import numpy as np
import pytest

from seaload.basis.units import TONNE_FORCE
from seaload.foil.bending import (
    added_mass_per_length,
    flexural_rigidity,
    section_mass,
    static_moments,
    surface_strain,
)
from seaload.foil.curve import FoilStrips
from seaload.foil.first_mode import first_mode
from tests.foil.foil_table import Comparison, quantities, table
from tests.oracles.bearings import inclined_line_tension
from tests.oracles.lifting_line import elliptic_half_span_load

EDGES = np.linspace(0.0, 1.0, 25)
MIDS = 0.5 * (EDGES[1:] + EDGES[:-1])


def straight_strips(edges):
    mid, zero = 0.5 * (edges[1:] + edges[:-1]), np.zeros(len(edges) - 1)
    one = np.ones_like(zero)
    return FoilStrips(edges, edges, 0.0 * edges, mid, np.diff(edges), mid, zero, zero, one, one, zero, zero)


def test_uniform_cantilever(logbook):
    q = quantities("structure_cantilever_uniform")
    mode = first_mode(EDGES, EDGES, 0.0 * EDGES, 1.0, 1.0, 0.0)
    check = Comparison(logbook, "structure", "beam theory, table cantilever_uniform", "derived")
    check.close("first frequency", q["w1=beta^2 sqrt(EI/mL^4)"], mode.omega, relative=1e-3, of=first_mode)
    check.close(
        "modal mass", q["equivalent modal mass mode 1 (tip-normalised)/(mL)"], mode.modal_mass, relative=1e-3,
        of=first_mode,
    )
    shape = np.interp([0.25, 0.5, 0.75], MIDS, mode.shape_normal)
    named = [q[f"first mode shape at x/L={x} (tip=1)"] for x in (0.25, 0.5, 0.75)]
    check.close("shape at 1/4, 1/2, 3/4", named, shape, absolute=1e-3, of=first_mode)
    check.close("root moment under an even load", q["uniform q: root moment/(qL^2)"],
                static_moments(0.0, 0.0, 0.0, straight_strips(EDGES), 0.0, 1.0, 0.0 * MIDS, np.diff(EDGES)),
                relative=1e-6, of=static_moments)  # fmt: skip
    load = np.diff(elliptic_half_span_load(EDGES)[1]) * -1.0
    found = static_moments(0.0, 0.0, 0.0, straight_strips(EDGES), 0.0, 1.0, 0.0 * MIDS, load)
    check.close(
        "root moment under an elliptic load", q["elliptic W: root moment/(W L)"], found, relative=1e-3,
        of=static_moments,
    )


def test_moments_of_an_elliptic_load(logbook):
    t = table("foil_elliptic_load_half_span")
    load = -np.diff(elliptic_half_span_load(EDGES)[1])
    places = t["eta=y/s"]
    ours = static_moments(places, places, 0.0 * places, straight_strips(EDGES), 0.0, 1.0, 0.0 * MIDS, load)
    check = Comparison(
        logbook, "structure", "elliptic loading on 24 strips, table elliptic_load_half_span", "derived"
    )
    check.close("bending moment", t["bending_moment/((L/2)*s)"], ours, absolute=1e-3, of=static_moments)


def test_tapered_cantilevers(logbook):
    t = table("structure_cantilever_tapered")
    ours, tip = [], []
    for taper, p_ei, p_m in zip(t["taper_lambda"], t["EI_exponent"], t["mass_exponent"], strict=True):
        chord, chord_mid = 1.0 - (1.0 - taper) * EDGES, 1.0 - (1.0 - taper) * MIDS
        mode = first_mode(EDGES, EDGES, 0.0 * EDGES, chord**p_ei, chord_mid**p_m, 0.0)
        ours.append(mode.omega)
        # a light tip mass makes the mode that of a spring: its stiffness is that of a tip load
        heavy = np.where(MIDS > 0.999, 1.0, 1e-9)
        heavy[-1] = 1.0
        tip.append(first_mode(EDGES, EDGES, 0.0 * EDGES, chord**p_ei, heavy, 0.0).stiffness)
    check = Comparison(logbook, "structure", "200 Hermite elements, table cantilever_tapered", "derived")
    check.close("first frequency", t["w1"], ours, relative=1e-3)
    assert np.all(np.array(tip) > 1.0 / t["tip_defl_unit_tip_load"])  # stiffer than at the very tip
    assert np.allclose(tip, 1.0 / t["tip_defl_unit_tip_load"], rtol=0.12)


def test_worked_example(logbook):
    q = quantities("structure_structure_example")
    chord, thickness, length = q["chord"], q["thickness"], q["length"]
    rigidity = flexural_rigidity(q["E"], 0.036, chord, thickness)
    mass = section_mass(1600.0, 1.0, 0.65, chord, thickness)
    added = added_mass_per_length(1025.0, chord)
    check = Comparison(logbook, "structure", "worked example, table structure_example", "derived")
    check.close("EI", q["EI"], rigidity, relative=1e-6, of=flexural_rigidity)
    check.close("mass per length", q["mass per length"], mass, relative=1e-6, of=section_mass)
    named = q["added mass per length pi rho c^2/4"]
    check.close("added mass per length", named, added, relative=1e-6, of=added_mass_per_length)
    span = length * EDGES
    dry = first_mode(span, span, 0.0 * span, rigidity, mass, 0.0)
    wet = first_mode(span, span, 0.0 * span, rigidity, mass, 0.0, added)
    check.close("dry frequency [Hz]", q["f1_dry"], dry.omega / (2 * np.pi), relative=1e-3, of=first_mode)
    check.close("wet frequency [Hz]", q["f1_wet"], wet.omega / (2 * np.pi), relative=1e-3, of=first_mode)
    strips = straight_strips(span)
    load = -np.diff(elliptic_half_span_load(EDGES)[1]) * q["elliptic total load"]
    root = static_moments(0.0, 0.0, 0.0, strips, 0.0, 0.9, 0.0 * MIDS, load)
    check.close("root moment", q["root moment"], root, relative=1e-3, of=static_moments)
    strain = surface_strain(q["root moment"], rigidity, thickness)
    named = q["surface strain at root = M (t/2)/EI"]
    check.close("surface strain", named, strain, relative=1e-6, of=surface_strain)
    tension = inclined_line_tension(
        q["TETHER resultant normal load F"], q["lever of F about lower bearing"],
        q["lever arm of line attachment about same pivot"],
        np.sin(np.radians(q["angle between line and foil"])),
    )  # fmt: skip
    named = q["line tension T = F a/(b sin(phi))"]
    check.close("line tension", named, tension, relative=1e-6, of=inclined_line_tension)
    assert q["line tension"] == pytest.approx(tension / TONNE_FORCE, rel=1e-4)

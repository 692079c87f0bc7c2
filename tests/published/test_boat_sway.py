"""Sway added mass of sections and hulls, the force and moment on a drifting hull, the lift slope of a fin.

Lewis sections: closed form of the two-parameter mapping (derived). Half ellipsoids: Lamb's triaxial ellipsoid under a
rigid surface (derived exactly). Wigley III and IV (Journee 1992 forms): 800 panels of an open linear
potential-flow code at frequency zero (derived). Slender-body theory: Munk 1924 and Jones 1946, textbook limits. Fin
slopes: Whicker and Fehlner 1958, formula from memory; Helmbold 1942, formula from memory. All read from
`boat_*_added_mass.csv` and `boat_fin_slope_vs_aspect_ratio.csv`.
"""

import numpy as np
import pytest

from seaload.boat.lewis_form import lewis_sway_added_mass
from seaload.boat.sway import END_FLOW_SWAY, side_slice, sway_added_mass, sway_factor
from seaload.foil.influence import mirrored_influence
from seaload.simulation.prepare_foil import KEEL_STRIPS
from tests.boat.published_table import rows

RHO = 1025.0
STRAY = (8.0, 0.6667)  # this row of the table left its own branch: a3 is -0.51 between neighbours of 0.06 and -0.05
LENGTH, DRAUGHT = 3.0, 0.1875
PARABOLA = 2.0 / 3.0


def slices(length, count=200):
    """Middles of even slices from the transom [m], and their length [m]."""
    return (np.arange(count) + 0.5) * length / count, length / count


def test_lewis_sections_in_sway(logbook):
    table = [row for row in rows("lewis_sway_added_mass") if (row["B_over_T"], row["section_area_coeff"]) != STRAY]
    ours = [lewis_sway_added_mass(0.5 * row["B_over_T"], row["section_area_coeff"]) for row in table]
    ratios = [mine / row["C_zero_frequency"] for mine, row in zip(ours, table, strict=True)]
    worst = max(ratios, key=lambda ratio: abs(ratio - 1.0))
    met = abs(worst - 1.0) <= 1e-3
    logbook(
        stage="boat", quantity=f"sway added mass of {len(table)} Lewis sections, worst ratio to the table",
        source="Lewis mapping, closed form", origin="derived", published=1.0, ours=worst, tolerance="0.1%", met=met,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("name, half_beam", [("III", 0.15), ("IV", 0.30)])
def test_wigley_hull_in_sway(name, half_beam, logbook):
    """The strips' sum, and with what flows round the ends taken off as the march takes it."""
    row = next(r for r in rows("wigley_sway_yaw_added_mass") if (r["Wigley"], r["frequency"]) == (name, "zero"))
    x, dx = slices(LENGTH)
    breadth = half_beam * (1.0 - (2.0 * x / LENGTH - 1.0) ** 2)
    share = [lewis_sway_added_mass(b / DRAUGHT, PARABOLA) for b in breadth]
    strips = sum(sway_added_mass(DRAUGHT, sway_factor(each, RHO)) * dx for each in share)
    form = 0.5 * RHO * LENGTH**2 * DRAUGHT
    assert strips / form == pytest.approx(row["A22_LT_strip"], rel=5e-3)
    published, ours = row["A22_LT"], END_FLOW_SWAY * strips / form
    met = abs(ours / published - 1.0) <= 0.05
    logbook(
        stage="boat", quantity=f"sway added mass of Wigley {name} over rho L^2 T/2, frequency zero",
        source="panel code, 800 panels", origin="derived", published=published, ours=ours, tolerance="5%", met=met,
        of=sway_added_mass,
    )  # fmt: skip
    assert met


@pytest.mark.parametrize("row", rows("half_ellipsoid_sway_yaw_added_mass"), ids=lambda r: f"L/B {r['L_over_B']:g}")
def test_half_ellipsoid_in_sway(row, logbook):
    """Exact for the strips' sum; the one factor for flow round the ends is within 9 % for L/B 3 to 10."""
    length, beam = 1.0, 1.0 / row["L_over_B"]
    draught = beam / row["B_over_T"]
    x, dx = slices(length, 4000)
    local = draught * np.sqrt(1.0 - (2.0 * x / length - 1.0) ** 2)
    strips = sum(sway_added_mass(depth, sway_factor(1.0, RHO)) * dx for depth in local)
    mass = RHO * 2.0 / 3.0 * np.pi * 0.25 * length * beam * draught
    published, ours = row["k22"], row["J22"] * strips / mass
    met = abs(ours / published - 1.0) <= 1e-3
    logbook(
        stage="boat", quantity=f"strips' sway added mass of a half ellipsoid times J, L/B {row['L_over_B']:g}",
        source="Lamb, triaxial ellipsoid", origin="derived", published=published, ours=ours, tolerance="0.1%", met=met,
        of=sway_added_mass,
    )  # fmt: skip
    assert met and abs(END_FLOW_SWAY / row["J22"] - 1.0) < 0.09


def drifting(draught, length=10.0, drift=0.3, speed=8.0):
    """(side force [N], yaw moment about the middle [N m], added mass [kg/m], dx [m]) of slices of draughts (n,) [m]."""
    x, dx = slices(length, len(draught))
    weights = {0: 1.5, 1: -0.5}
    mass = [sway_added_mass(depth, sway_factor(1.0, RHO)) for depth in draught]
    loads = [side_slice(m, drift, speed, weights.get(i, 0.0), x[i] - 0.5 * length, dx) for i, m in enumerate(mass)]
    return *np.sum(loads, axis=0), mass, dx


def test_a_hull_that_ends_in_a_point_feels_no_side_force_and_munks_moment():
    """Slender body: no net force, and -U v A22, the bow away from the drift (Munk 1924)."""
    x, _ = slices(1.0, 400)
    force, moment, mass, dx = drifting(0.5 * np.sin(np.pi * x))
    munk = -8.0 * 0.3 * sum(mass) * dx
    assert abs(force) * 10.0 < 1e-3 * abs(munk)
    assert moment == pytest.approx(munk, rel=1e-3) and moment < 0.0


def test_a_transom_as_deep_as_the_hull_has_the_side_force_of_a_slender_wing():
    """-rho pi T^2/2 U v, Yv = -pi T/L over half rho L T U (Jones 1946), at the transom: it turns the bow to leeward."""
    length, draught, drift, speed = 10.0, 0.5, 0.3, 8.0
    force, moment, mass, dx = drifting(np.full(100, draught))
    assert force == pytest.approx(-0.5 * RHO * length * draught * speed * drift * np.pi * draught / length)
    assert moment == pytest.approx(-0.5 * length * force - speed * drift * sum(mass) * dx)


FIN_SLOPES = [row for row in rows("fin_slope_vs_aspect_ratio") if 1.0 <= row["AR_effective"] <= 6.0]


@pytest.mark.parametrize("row", FIN_SLOPES, ids=lambda r: f"aspect {r['AR_effective']:g}")
def test_fin_slope_is_that_of_measured_fins(row, logbook):
    """Strips of the march's keel fin, the hull a mirror, within the source's 8 % of the fit and 2 % of its lattice."""
    aspect = row["AR_effective"]
    ours = float(mirrored_influence(1.0, KEEL_STRIPS, aspect).lift.sum(axis=1).mean())
    assert ours == pytest.approx(row["lattice_rect"], rel=0.02)
    met = abs(ours / row["WF_sweep0"] - 1.0) <= 0.08
    logbook(
        stage="boat", quantity=f"lift slope of a fin, effective aspect {aspect:g} [1/rad]",
        source="Whicker and Fehlner 1958, fit", origin="memory", published=row["WF_sweep0"], ours=ours,
        tolerance="8%", met=met, of=mirrored_influence,
    )  # fmt: skip
    assert met

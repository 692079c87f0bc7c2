"""Heave added mass of sections and of a hemisphere.

Wedges and Lewis sections: derived closed forms. Hemisphere: A. Hulme, The wave forces acting on a
floating hemisphere undergoing forced periodic oscillations, J. Fluid Mech. 121, 1982; read in a
public table of his results. 1 % for the closed forms.
"""


import numpy as np
import pytest

from seaload.boat.hull_section import hull_section_load
from seaload.boat.lewis_form import lewis_added_mass, wedge_added_mass_share
from tests.boat.published_table import rows

WEDGES = rows("wedge_added_mass")


@pytest.mark.parametrize("row", WEDGES, ids=lambda r: f"{r['deadrise']:g} deg")
def test_wedge_without_pile_up(row, logbook):
    published = row["K=m33/(rho pi B^2/2) B=d/tan(beta)"]
    ours = wedge_added_mass_share(np.radians(row["deadrise"]))
    met = abs(ours - published) <= 0.01 * published
    logbook(
        stage="boat",
        quantity=f"added mass share of a wedge, deadrise {row['deadrise']:g} deg",
        source="rhombus mapping",
        origin="derived",
        published=published,
        ours=ours,
        tolerance="1%",
        met=met,
    )
    assert met


@pytest.mark.parametrize("row", WEDGES, ids=lambda r: f"{r['deadrise']:g} deg")
def test_wedge_entering_with_pile_up(row, logbook):
    """The section formula at k_a = 1 and pile-up pi/2 gives Wagner's value."""
    depth = 0.1
    rise = np.tan(np.radians(row["deadrise"]))
    _, _, mass = hull_section_load(
        depth,
        0.0,
        0.0,
        0.0,
        0.0,
        0.0,
        1.0 / (10.0 * rise),
        10.0,
        0.0,
        np.pi / 2,
        0.5 * np.pi,
        0.0,
        0.0,
        1.0,
        0.0,
    )
    published = next(v for k, v in row.items() if k.startswith("m33_wagner"))
    ours = mass / depth**2
    met = abs(ours - published) <= 0.01 * published
    logbook(
        stage="boat",
        quantity=f"added mass of an entering wedge over rho d^2, deadrise {row['deadrise']:g} deg",
        source="Wagner pile-up, closed form",
        origin="derived",
        published=published,
        ours=ours,
        tolerance="1%",
        met=met,
    )
    assert met


def test_lewis_sections(logbook):
    table = rows("lewis_heave_added_mass_inf_freq")
    worst = 0.0
    for row in table:
        published = next(v for k, v in row.items() if k.startswith("C33"))
        found = lewis_added_mass(row["H0=B/(2T)"], next(v for k, v in row.items() if k.startswith("sigma")))
        worst = max(worst, abs(found / published - 1.0))
    met = worst <= 0.01
    logbook(
        stage="boat",
        quantity=f"added mass of {len(table)} Lewis sections, worst ratio to the table",
        source="Lewis mapping, closed form",
        origin="derived",
        published=1.0,
        ours=1.0 + worst,
        tolerance="1%",
        met=met,
    )
    assert met


@pytest.mark.xfail(
    strict=True,
    raises=AssertionError,
    reason="strip theory lets no water round the ends: a hemisphere comes out at 1.0 instead of 0.5 of its "
    "displaced mass. A slender hull loses less, but its heave added mass too stays somewhat high",
)
def test_hemisphere_at_high_frequency(logbook):
    count = 400
    x = (np.arange(count) + 0.5) * 2.0 / count - 1.0
    radius = np.sqrt(1.0 - x**2)
    mass = sum(
        hull_section_load(r, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0 / r, r, 0.0, 1.0, 0.5 * np.pi, 0.0, 0.0, 1.0, 0.0)[
            2
        ]
        for r in radius
    )
    ours = mass * (2.0 / count) / (2.0 / 3.0 * np.pi)
    published = 0.5  # limit at infinite frequency, of displaced mass
    met = abs(ours - published) <= 0.03 * published
    logbook(
        stage="boat",
        quantity="heave added mass of a hemisphere over its displaced mass, high frequency",
        source="Hulme 1982, limit, in a public table",
        origin="read",
        published=published,
        ours=ours,
        tolerance="3%",
        met=met,
    )
    assert met

"""The physics rooms hold what a run passes through; formulas that only tests use stand in tests/oracles."""

import pytest

from tests import reach

KEPT = {  # module: why it stands in the package though no command reaches it yet
    "seaload.fatigue.measured_life": "holds the straight diagram against measured coupons, which no key carries",
    "seaload.risk.gumbel": "worst load to expect in an exposure",
    "seaload.boat.lewis_form": "sway and yaw added mass of sections",
    "seaload.waves.fetch_growth": "seas that the wind has not had room to raise; a study says its sea",
}
KEPT_NAMES = {
    ("seaload.fatigue.rainflow", "count_chunk"): "cycles of recorded logs",
    ("seaload.fatigue.rainflow", "new_counter"): "cycles of recorded logs",
    ("seaload.boat.hydrostatics", "strip_hull_draught"): "the march's own flotation is to be joined with it",
    ("seaload.foil.bending", "surface_strain"): "what a gauge reads",
    ("seaload.foil.strip_axes", "along_normal"): "the march's own axes are to be joined with it",
    ("seaload.foil.strip_axes", "along_tangent"): "the march's own axes are to be joined with it",
}


def test_every_formula_of_the_physics_rooms_is_on_the_road_or_has_a_reason():
    left = [node for node in reach.unreached() if node[0] not in KEPT and node not in KEPT_NAMES]
    assert left == []


@pytest.mark.parametrize("module", sorted(KEPT))
def test_no_reason_outlives_its_formula(module):
    """A module that a command has come to reach must leave the list."""
    assert any(node[0] == module for node in reach.unreached())


def test_the_graph_sees_the_march_and_not_the_oracles():
    assert ("seaload.foil.strip_load", "soft_limited") in reach.reached()
    assert not any(module.startswith("tests") for module, _ in reach.reached())

"""The bending mode of the demo foil: against a flexibility matrix, and rung free by the march's own step."""


import numpy as np
import pytest

from seaload.foil.bending import added_mass_per_length, section_mass
from seaload.foil.curve import outside_points, section_at, slope_angle
from seaload.foil.first_mode import root_flexibility
from seaload.foil.mode_step import mode_step, usable_damping
from tests.foil.demo_foil import BEARING_DISTANCE, SECTIONS, SHAPE, masses, mode_at, rigidity_at, strips_at

EXTENSIONS = [1.0, 0.9, 0.8, 0.7, 0.6, 0.5]


def matrix_frequency(extension, wet_share, cells=150):
    """First frequency [rad/s] by unit loads: flexibility matrix of lumped masses, largest eigenvalue."""
    s_b = 5.0 * (1.0 - extension)
    s = s_b + (np.arange(cells) + 0.5) * (5.0 - s_b) / cells
    ds = (5.0 - s_b) / cells
    y, z = outside_points(s_b, s, *SHAPE)
    chi = slope_angle(s, *SHAPE)
    chord, thickness, _, _ = section_at(s, SECTIONS)
    # moment at cell k from a unit force at cell j (y, then z): zero outboard of it
    outboard = s[None, :] >= s[:, None]
    by_z = np.where(outboard, y[None, :] - y[:, None], 0.0)
    by_y = np.where(outboard, -(z[None, :] - z[:, None]), 0.0)
    bend = np.hstack([by_y, by_z])
    root = np.hstack([-z, y])[None, :]
    flexibility = bend.T @ (bend * (ds / rigidity_at(s))[:, None])
    flexibility += root_flexibility(BEARING_DISTANCE, rigidity_at(np.array([s_b]))[0]) * root.T @ root
    mass = section_mass(1600.0, 0.68, 0.65, chord, thickness) * ds
    added = wet_share * 0.8 * added_mass_per_length(1025.0, chord) * ds
    n_y, n_z = -np.sin(chi), np.cos(chi)
    whole = np.block([
        [np.diag(mass + added * n_y**2), np.diag(added * n_y * n_z)],
        [np.diag(added * n_y * n_z), np.diag(mass + added * n_z**2)],
    ])  # fmt: skip
    return 1.0 / np.sqrt(np.max(np.linalg.eigvals(flexibility @ whole).real))


@pytest.mark.parametrize("wet_share", [0.0, 1.0])
@pytest.mark.parametrize("extension", [1.0, 0.5])
def test_frequency_against_a_flexibility_matrix(extension, wet_share):
    assert mode_at(extension, wet_share).omega == pytest.approx(
        matrix_frequency(extension, wet_share), rel=3e-3
    )


def test_first_wetted_mode_is_where_the_demo_wants_it():
    """3-5 Hz fully out (demo target); a dry short foil rings at 20-30 Hz (prototype study)."""
    assert 3.0 < mode_at(1.0, 1.0).omega / (2.0 * np.pi) < 5.0
    assert 20.0 < mode_at(0.5).omega / (2.0 * np.pi) < 30.0


@pytest.mark.parametrize("wet_share", [0.0, 1.0])
def test_mode_is_scaled_and_consistent(wet_share):
    mode, strips = mode_at(0.8, wet_share), strips_at(0.8)
    mass, added = masses(strips)
    moving = mass * (mode.shape_y**2 + mode.shape_z**2) + wet_share * added * mode.shape_normal**2
    by_strips = np.sum(strips.length * moving)
    assert by_strips == pytest.approx(mode.modal_mass, rel=2e-3)
    assert mode.omega**2 * mode.modal_mass == pytest.approx(mode.stiffness)
    normal = -np.sin(strips.chi_b) * mode.shape_y + np.cos(strips.chi_b) * mode.shape_z
    assert normal == pytest.approx(mode.shape_normal, abs=2e-3)
    assert 0.9 < mode.shape_normal[-1] < 1.0
    assert mode.moment_per_unit[-1] == pytest.approx(0.0, abs=1e-6)
    assert np.all(mode.moment_per_unit[:-1] > 0.0)


def test_one_shape_serves_wet_and_dry():
    """The march keeps the wet shape when the foil is dry: at most 3 % in frequency, at any extension."""
    for extension in EXTENSIONS:
        strips, wet, dry = strips_at(extension), mode_at(extension, 1.0), mode_at(extension)
        mass, _ = masses(strips)
        modal = np.sum(strips.length * mass * (wet.shape_y**2 + wet.shape_z**2))
        assert np.sqrt(wet.stiffness / modal) == pytest.approx(dry.omega, rel=0.035)


@pytest.mark.parametrize("wet_share", [0.0, 1.0])
@pytest.mark.parametrize("extension", EXTENSIONS)
def test_free_ringing_in_the_march(extension, wet_share):
    """Frequency and damping of the free mode at the march's step of 0.02 s: exact, gate 5 %."""
    mode, damping_ratio, step = mode_at(extension, wet_share), 0.02, 0.02
    damping = usable_damping(
        mode.modal_mass, 2.0 * damping_ratio * mode.modal_mass * mode.omega, mode.stiffness
    )
    position, rate, seen = 1.0, 0.0, []
    for _ in range(200):
        position, rate = mode_step(position, rate, 0.0, 0.0, mode.modal_mass, damping, mode.stiffness, step)
        seen.append(position + 1j * (rate + damping_ratio * mode.omega * position)
                    / (mode.omega * np.sqrt(1.0 - damping_ratio**2)))  # fmt: skip
    seen = np.array(seen)
    fade = -np.polyfit(step * np.arange(200), np.log(np.abs(seen)), 1)[0]
    assert fade == pytest.approx(damping_ratio * mode.omega, rel=0.05)
    turn = np.angle(seen[1:] / seen[:-1])
    expected = mode.omega * np.sqrt(1.0 - damping_ratio**2) * step
    assert np.mod(-turn, 2.0 * np.pi) == pytest.approx(np.mod(expected, 2.0 * np.pi), rel=0.05)

"""What made a load: shares of a strip's normal inflow that differ from the mean, and the rule that names the largest.

Lift goes with speed times normal inflow, so each part is told as the normal velocity [m/s] that would load the strip as
much, + towards the design side. The rule is this project's: the parts are averaged over the strips outside the place,
weighted by chord, wetted share and distance outside it, because so much each adds to the bending moment there; the
largest part towards the load is its cause. Heave and pitch count together as the boat's own motion, since a boat that
follows a wave's slope rises with her bow up and meets no inflow by it; the larger of the two names it.
"""

from typing import NamedTuple

from seaload.basis.compile import compiled

CAUSES = ("plunge", "rise", "bow up", "bow down", "roll", "wave", "speed", "jolt", "stall", "ventilation")
PLUNGE, RISE, BOW_UP, BOW_DOWN, ROLL, WAVE, SPEED, JOLT, STALL, VENTILATION = range(10)
VENTED = 0.5  # [-] share of ventilated flow from which lost lift is called that


class Parts(NamedTuple):
    """Parts of the normal inflow that differ from the mean [m/s], + towards the design side."""

    heave: float
    pitch: float
    roll: float
    wave: float
    speed: float
    jolt: float
    limit: float


@compiled
def heave_part(nz, rise):
    """Inflow [m/s] by a strip that rises at `rise` [m/s]; `nz` [-] of its normal. Geometry."""
    return -nz * rise


@compiled
def pitch_part(nz, speed, pitch):
    """Inflow [m/s] by `pitch` [rad] from its mean at a `speed` [m/s]; `nz` [-] of the normal. First order, geometry."""
    return nz * speed * pitch


@compiled
def roll_part(place, roll_rate):
    """Inflow [m/s] at a strip's `place` (x, y, z [m], ny, nz [-]) by the rate of roll `roll_rate` [rad/s]. Geometry."""
    _, y, z, ny, nz = place
    return -(ny * z - nz * y) * roll_rate


@compiled
def speed_part(angle, speed, usual):
    """Inflow [m/s] that loads as much as a `speed` [m/s] other than the `usual`; `angle` [rad] of the inflow.

    Lift goes with the square of speed at one angle: twice the angle times the difference (derived here).
    """
    return 2.0 * angle * (speed - usual)


@compiled
def jolt_part(load, lift_per_inflow):
    """Inflow [m/s] that loads as the inertia of strip and water does: `load` [N] over `lift_per_inflow` [N s/m]."""
    return load / lift_per_inflow


@compiled
def limit_part(got, asked, slope, speed):
    """Inflow [m/s] that the limits of a section take: lift coefficients `got` less `asked` [-] over the `slope` [1/rad]
    at a `speed` [m/s].
    """
    return (got - asked) / slope * speed


@compiled
def cause_of(toward, parts, rise, vented):
    """Number of the cause in CAUSES of a load, by the rule above.

    `toward` [-] +1 for a load on the design side, -1 for a reverse one; `parts` [m/s] a `Parts`; `rise` [m/s] of the
    foil's root, up; `vented` [-] share of the flow that is ventilated.
    """
    boat = toward * (parts.heave + parts.pitch)
    heaves = toward * parts.heave >= toward * parts.pitch
    cause = (RISE if rise > 0.0 else PLUNGE) if heaves else (BOW_UP if parts.pitch > 0.0 else BOW_DOWN)
    largest = boat
    if toward * parts.roll > largest:
        cause, largest = ROLL, toward * parts.roll
    if toward * parts.wave > largest:
        cause, largest = WAVE, toward * parts.wave
    if toward * parts.speed > largest:
        cause, largest = SPEED, toward * parts.speed
    if toward * parts.jolt > largest:
        cause, largest = JOLT, toward * parts.jolt
    if toward * parts.limit > largest:
        cause, largest = VENTILATION if vented > VENTED else STALL, toward * parts.limit
    return cause

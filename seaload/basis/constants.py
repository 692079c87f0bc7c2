"""Physical constants, SI, with where each value comes from."""

STANDARD_GRAVITY = 9.80665  # [m/s2] 3rd CGPM 1901, exact by definition
SEA_WATER_DENSITY = 1025.0  # [kg/m3] common practice for sea water near 15 deg C
FRESH_WATER_DENSITY = 1000.0  # [kg/m3] common practice for towing tanks
ATMOSPHERIC_PRESSURE = 101325.0  # [Pa] standard atmosphere
VAPOUR_PRESSURE = 1700.0  # [Pa] sea water near 15 deg C, from memory
SEA_WATER_VISCOSITY = 1.19e-6  # [m2/s] kinematic, near 15 deg C, from memory

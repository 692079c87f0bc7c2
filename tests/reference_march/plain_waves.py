"""The waves at one boat by direct sums: every component, every station and strip, at every call.

Nothing is tabulated, interpolated or cut in rank; the decay with depth is the exponential at each strip's own depth.
"""

import numpy as np


class PlainWaves:
    """Direct sums of one realisation at the hull stations and strips of one lane.

    components, phases : the sea. station_x (h,), strip_x (s,), strip_y (s,) [m] nominal places ahead of the centre
    of gravity and to leeward of the centre line; normals (s,) twice [-]; keel_x, keel_depth [m] where the water
    carries the boat sideways by `following` [-].
    """

    def __init__(self, components, phases, station_x, strip_x, strip_y, normal_y, normal_z, keel, following):
        c = components
        self.k, self.a, self.w, self.phase = c.wavenumber, c.amplitude, c.omega, phases
        self.ahead, self.aside = np.cos(c.direction), np.sin(c.direction)
        self.station = np.exp(1j * np.outer(station_x, self.k * self.ahead))
        self.strip = np.exp(
            1j * (np.outer(strip_x, self.k * self.ahead) + np.outer(strip_y, self.k * self.aside))
        )
        self.ny, self.nz = normal_y, normal_z
        keel_x, keel_depth = keel
        self.keel = np.exp(1j * self.k * self.ahead * keel_x - self.k * keel_depth)
        self.following = following

    def at(self, time, place, speed, ramp, ramp_rate):
        """Set time [s], place [m] along the path, speed [m/s] and the ramp of the sea with its rate [1/s]."""
        psi = self.k * self.ahead * place - self.w * time + self.phase
        wave = np.exp(1j * psi)
        self.now = ramp * wave
        turn = self.k * self.ahead * speed - self.w
        self.rate = (ramp_rate + 1j * ramp * turn) * wave  # derivative along the path

    def hull(self):
        """(elevation, rise, acceleration, slope, path rate of elevation, path rate of rise), each (h,)."""
        a, w = self.a, self.w
        at_station = self.station * self.now
        changing = self.station * self.rate
        return (
            at_station.real @ a,
            at_station.imag @ (a * w),
            -at_station.real @ (a * w * w),
            -at_station.imag @ (a * self.k * self.ahead),
            changing.real @ a,
            changing.imag @ (a * w),
        )

    def lateral_slope(self):
        """Slope of the surface to leeward at the centre of gravity [-]."""
        return float(-self.now.imag @ (self.a * self.k * self.aside))

    def strip_surface(self):
        """(elevation [m], its path rate [m/s]) over each strip, (s,)."""
        return (self.strip * self.now).real @ self.a, (self.strip * self.rate).real @ self.a

    def strip_flow(self, depth):
        """(normal velocity, its path rate at fixed depth, axial velocity) at `depth` (s,) [m] >= 0."""
        flow = self.a * self.w * np.exp(-np.outer(depth, self.k))
        now, changing = self.strip * self.now, self.strip * self.rate
        sideways = self.a * self.w * self.aside
        carried = self.following * float((self.keel * self.now).real @ sideways)
        carried_rate = self.following * float((self.keel * self.rate).real @ sideways)
        lateral = (now.real * flow) @ self.aside - carried
        lateral_rate = (changing.real * flow) @ self.aside - carried_rate
        normal = self.nz * (now.imag * flow).sum(axis=1) + self.ny * lateral
        normal_rate = self.nz * (changing.imag * flow).sum(axis=1) + self.ny * lateral_rate
        return normal, normal_rate, (now.real * flow) @ self.ahead

"""The waves at one boat by direct sums: every component, every station and strip, at every call.

Nothing is tabulated, interpolated or cut in rank; the decay with depth is the exponential at each strip's own depth,
and a boat off her heading has every station and strip where it then is.
"""

import numpy as np


class Points:
    """Places of a boat in the sea at one instant: (n,) from her centre of gravity, turned with her."""

    def __init__(self, waves, x, y):
        c, s = waves.cosine, waves.sine
        here = c * x - s * y, s * x + c * y
        moving = waves.ahead_rate - waves.turn * here[1], waves.aside_rate + waves.turn * here[0]
        kx, ky = waves.k * waves.ahead, waves.k * waves.aside
        phase = np.outer(waves.place[0] + here[0], kx) + np.outer(waves.place[1] + here[1], ky)
        wave = np.exp(1j * (phase - waves.w * waves.time + waves.phase))
        met = np.outer(moving[0], kx) + np.outer(moving[1], ky) - waves.w
        self.now = waves.ramp * wave
        self.rate = (waves.ramp_rate + 1j * waves.ramp * met) * wave  # derivative at a point that goes with the boat


class PlainWaves:
    """Direct sums of one realisation at the hull stations and strips of one lane.

    components, phases : the sea. station_x (h,), strip_x (s,), strip_y (s,) [m] nominal places ahead of the centre
    of gravity and to leeward of the centre line, where the sea is told from; normals (s,) twice [-].
    """

    def __init__(self, components, phases, station_x, strip_x, strip_y, normal_y, normal_z):
        c = components
        self.k, self.a, self.w, self.phase = c.wavenumber, c.amplitude, c.omega, phases
        self.ahead, self.aside = np.cos(c.direction), np.sin(c.direction)
        self.station_x, self.strip_x, self.strip_y = station_x, strip_x, strip_y
        self.ny, self.nz = normal_y, normal_z

    def at(self, time, place, heading, rates, ramp, ramp_rate):
        """Set time [s], place (ahead, aside) [m], heading [rad], rates of the three, the ramp of the sea and its rate.
        """
        self.time, self.ramp, self.ramp_rate = time, ramp, ramp_rate
        self.cosine, self.sine = np.cos(heading), np.sin(heading)
        self.ahead_rate, self.aside_rate, self.turn = rates
        self.place = place
        on_line = np.zeros(len(self.station_x))
        self.stations, self.middle = Points(self, self.station_x, on_line), Points(self, np.zeros(1), np.zeros(1))
        self.strips = Points(self, self.strip_x, self.strip_y)

    def turned(self, ahead, aside):
        """A vector's parts along and square to the boat's heading."""
        return self.cosine * ahead + self.sine * aside, self.cosine * aside - self.sine * ahead

    def hull(self):
        """(elevation, rise, acceleration, slope, path rate of elevation, path rate of rise), each (h,)."""
        a, w, now, rate = self.a, self.w, self.stations.now, self.stations.rate
        slope, _ = self.slopes(now)
        return now.real @ a, now.imag @ (a * w), -now.real @ (a * w * w), slope, rate.real @ a, rate.imag @ (a * w)

    def slopes(self, now):
        """Slopes of the surface along the heading and to leeward of it [-]."""
        ak = self.a * self.k
        return self.turned(-now.imag @ (ak * self.ahead), -now.imag @ (ak * self.aside))

    def beside(self):
        """(slope to leeward, velocity to leeward, path rate of that) at the surface, each (h,)."""
        aw, now, rate = self.a * self.w, self.stations.now, self.stations.rate
        ahead, aside = self.turned(now.real @ (aw * self.ahead), now.real @ (aw * self.aside))
        _, growing = self.turned(rate.real @ (aw * self.ahead), rate.real @ (aw * self.aside))
        return self.slopes(now)[1], aside, growing - self.turn * ahead

    def lateral_slope(self):
        """Slope of the surface to leeward at the centre of gravity [-]."""
        return float(self.slopes(self.middle.now)[1][0])

    def strip_surface(self):
        """(elevation [m], its path rate [m/s]) over each strip, (s,)."""
        return self.strips.now.real @ self.a, self.strips.rate.real @ self.a

    def strip_flow(self, depth):
        """(normal velocity, its path rate at fixed depth, axial velocity) at `depth` (s,) [m] >= 0."""
        flow = self.a * self.w * np.exp(-np.outer(depth, self.k))
        now, changing = self.strips.now, self.strips.rate
        axial, lateral = self.turned((now.real * flow) @ self.ahead, (now.real * flow) @ self.aside)
        _, growing = self.turned((changing.real * flow) @ self.ahead, (changing.real * flow) @ self.aside)
        normal = self.nz * (now.imag * flow).sum(axis=1) + self.ny * lateral
        rate = self.nz * (changing.imag * flow).sum(axis=1) + self.ny * (growing - self.turn * axial)
        return normal, rate, axial

"""What one would write without this project: the same boat in vectorised numpy with direct sums, for an ODE solver.

The equations are those of the plain march (tests/reference_march), whole arrays of stations and strips at a time. The
bending mode rests and the flow has no memory: both make this one faster, never slower.
"""

import numpy as np

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.boat import resistance
from seaload.boat.hull_section import EXIT_DRAG_SHARE, EXIT_FROUDE_SQUARE, SMALL_BEAM
from seaload.foil import lag_states as lag
from seaload.simulation import layout as L


def section(immersion, inverse_chine, beam, fullness):
    """Half-breadth, its slope and area of all stations."""
    h = np.maximum(immersion, 0.0)
    ratio = h * inverse_chine
    eta = np.minimum(ratio, 1.0)
    slope = np.where(
        (immersion > 0.0) & (ratio < 1.0), beam * inverse_chine * (1.0 + fullness * (1.0 - 2.0 * eta)), 0.0
    )
    below = h / np.maximum(ratio, 1.0)
    area = 2.0 * beam * (below * eta * (0.5 + fullness * (0.5 - eta / 3.0)) + h - below)
    return beam * eta * (1.0 + fullness * (1.0 - eta)), slope, area


def smooth(p):
    p = np.clip(p, 0.0, 1.0)
    return p * p * (3.0 - 2.0 * p)


class NumpyBoat:
    """Right-hand side of the rigid and lag states for a solver; made from a plain march."""

    def __init__(self, plain):
        self.p, self.b = plain, plain.boat
        self.h, self.s = plain.hull.T, plain.strip.T
        waves = plain.waves
        self.k, self.a, self.w = waves.k, waves.a, waves.w
        self.ahead, self.aside, self.phase = waves.ahead, waves.aside, waves.phase
        self.shift_hull, self.shift_strip = np.angle(waves.station), np.angle(waves.strip)
        self.keel = waves.keel

    def start(self):
        """Initial state, rigid rows then lag states strip by strip."""
        return np.concatenate([self.p.rigid, self.p.lags.reshape(-1)])

    def waves(self, t, place, speed, height):
        """Direct sums at all stations and strips."""
        psi = self.k * self.ahead * place - self.w * t + self.phase
        turn = self.k * self.ahead * speed - self.w
        share = min(t / 10.0, 1.0)
        ramp, rate = share * share * (3.0 - 2.0 * share), 6.0 * share * (1.0 - share) / 10.0
        c, s = np.cos(psi + self.shift_hull), np.sin(psi + self.shift_hull)
        cr, sr = rate * c - ramp * turn * s, rate * s + ramp * turn * c
        c, s = ramp * c, ramp * s
        a, w, k = self.a, self.w, self.k
        hull = (c @ a, s @ (a * w), -c @ (a * w * w), -s @ (a * k * self.ahead), cr @ a, sr @ (a * w))
        c, s = np.cos(psi + self.shift_strip), np.sin(psi + self.shift_strip)
        cr, sr = rate * c - ramp * turn * s, rate * s + ramp * turn * c
        c, s = ramp * c, ramp * s
        surface, surface_rate = c @ a, cr @ a
        flow = a * w * np.exp(-np.maximum(surface - height, 0.0)[:, None] * k)
        keel = self.keel * np.exp(1j * psi)
        sideways = a * w * self.aside * self.p.waves.following
        carried = float((ramp * keel.real) @ sideways)
        carried_rate = float((rate * keel.real - ramp * turn * keel.imag) @ sideways)
        ny, nz = self.s[L.S_NY], self.s[L.S_NZ]
        normal = nz * (s * flow).sum(1) + ny * ((c * flow) @ self.aside - carried)
        normal_rate = nz * (sr * flow).sum(1) + ny * ((cr * flow) @ self.aside - carried_rate)
        slope = float(-ramp * np.sin(psi) @ (a * k * self.aside))
        return hull, surface, surface_rate, normal, normal_rate, (c * flow) @ self.ahead, slope

    def hull(self, rigid, waves, density, gravity):
        """(heave force, pitch moment, surge force, added mass 3x3, buried area)."""
        b, h = self.b, self.h
        eta, rise, acc, slope, eta_rate, rise_rate = waves
        _, z, th, ro, u, zd, thd, rod = rigid[:8]
        x, dx, side = h[L.H_X], h[L.H_DX], b["hull_arm_y"]
        up = zd + x * thd - side * rod
        immersion = eta - (z + x * th - side * ro + h[L.H_Z])
        keel = th + h[L.H_SLOPE]
        entry, entry_rate = u * keel - up + rise, u * thd + rise_rate
        beam, chine, q = h[L.H_BEAM], h[L.H_INVERSE_CHINE], b["fullness"]
        half, _, area = section(immersion, chine, beam, q)
        wet, wet_slope, _ = section(b["pile_up"] * immersion, chine, beam, q)
        added = b["added_mass_factor"] * wet * wet
        grow = 2.0 * b["added_mass_factor"] * wet * wet_slope * b["pile_up"]
        out = np.minimum(entry, 0.0)
        held = 1.0 / (1.0 + out * out / (EXIT_FROUDE_SQUARE * STANDARD_GRAVITY * np.maximum(wet, SMALL_BEAM)))
        momentum = added * entry_rate + held * entry * grow * (eta_rate - up)
        momentum += b["drag_factor"] * wet * np.where(entry > 0.0, 1.0, -EXIT_DRAG_SHARE) * entry * entry
        force = momentum + b["buoyancy_factor"] * area + density * area * acc
        force += h[L.H_RADIATION] * half / np.maximum(beam, SMALL_BEAM) * (rise - up)
        relief, carried = h[L.H_RELIEF], added * entry * u
        stern = np.zeros_like(x)
        stern[:2] = 1.5 * b["stern_share"], -0.5 * b["stern_share"]
        lift = (force - (1.0 - relief) * momentum) * dx + carried * (h[L.H_RELIEF_SLOPE] * dx + stern)
        surge = -np.sum(
            np.maximum(relief * momentum, 0.0) * np.maximum(keel, 0.0) * dx
            + density * gravity * area * slope * dx
        )
        arm = np.stack([np.ones_like(x), x, -side * np.ones_like(x)])
        mass = (arm * (relief * added * dx)) @ arm.T
        under = np.maximum(immersion - b["plunge_depth"], 0.0)
        buried = np.sum(np.where(x > b["bow_from_cg"], 0.5 * beam * under * dx, 0.0))
        return lift.sum(), np.sum(x * lift + carried * relief * dx), surge, mass, buried

    def strips(self, rigid, lags, surface, surface_rate, gust, gust_rate, axial, height):
        """(forces heave, pitch, roll, surge; added mass 3x3; lag rates)."""
        b, s, water = self.b, self.s, self.p.water
        density = water["density"]
        _, z0, th, ro, u, zd, thd, rod = rigid[:8]
        x, y, z, ny, nz = (s[i] for i in (L.S_X, L.S_Y, L.S_Z, L.S_NY, L.S_NZ))
        chord, length = s[L.S_CHORD], s[L.S_LENGTH]
        up, depth = zd + x * thd - y * rod, surface - height
        place = 0.5 + 0.5 * depth / s[L.S_HALF_WIDTH]
        wet, p = smooth(place), np.clip(place, 0.0, 1.0)
        deepening = surface_rate - up
        wetting = 3.0 * p * (1.0 - p) / s[L.S_HALF_WIDTH] * deepening
        speed = np.maximum(u - axial, 1.0)
        ny_now, nz_now = ny + nz * ro, nz - ny * ro
        body = ny * z * rod + nz * up
        motion = speed * (s[L.S_INCIDENCE] + th * nz_now - b["leeway"] * ny_now) - body
        past_it, motion = motion + gust, motion - speed * s[L.S_ZERO_LIFT]
        drive = np.stack([motion, motion, gust, gust], axis=1)
        share = np.array([lag.WAGNER_A1, lag.WAGNER_A2, lag.KUESSNER_A1, lag.KUESSNER_A2])
        decay = np.array([lag.WAGNER_B1, lag.WAGNER_B2, lag.KUESSNER_B1, lag.KUESSNER_B2]) + s[L.S_WAKE][:, None]
        rates = decay * (2.0 * speed / chord)[:, None] * (share * drive - lags)
        past, spans, n = 2.0 * lags[:, :3].sum(1), self.p.spans, self.p.foil_strips
        level = np.mean((depth + 0.5 * self.p.step * deepening + z)[:n])
        spans.apply(level, past, 0.0 * past)
        h2 = 16.0 * (np.maximum(depth, 0.0) / chord) ** 2
        near = (1.0 + h2) / (2.0 + h2)
        tangent = near * (0.5 * (motion + 2.0 * lags[:, 3] - past) + spans.lift) / speed
        asked = s[L.S_SLOPE] * tangent / (1.0 + 0.28 * tangent**2) + s[L.S_STEADY]
        head = water["ambient"] + density * water["gravity"] * np.maximum(depth, 0.0)
        sigma = head / (0.5 * density * speed**2)
        top = np.minimum(s[L.S_CL_MAX], s[L.S_CAV_N0] + s[L.S_CAV_N1] * sigma)
        low = np.minimum(-s[L.S_CL_MIN], s[L.S_CAV_R0] + s[L.S_CAV_R1] * sigma)
        limit, size = np.where(asked >= 0.0, top, low), np.abs(asked)
        excess = np.clip(size - 0.7 * limit, 0.0, 0.6 * limit)
        lift = np.sign(asked) * (np.minimum(size, 1.3 * limit) - excess**2 / (1.2 * limit))
        pressure = 0.5 * density * speed**2 * chord
        heavy = b["fast_added_mass"] * s[L.S_ADDED]
        fast = heavy * wet * (speed * thd * nz + gust_rate) + 0.5 * heavy * np.maximum(wetting, 0.0) * past_it
        circulatory = pressure * lift * wet
        normal = (circulatory + fast) * length
        fx = circulatory * length * (gust - body) / speed
        fx -= pressure * wet * (s[L.S_PROFILE] + s[L.S_INDUCED] * spans.wash / speed * lift) * length
        fz = normal * nz_now + s[L.S_BUOYANCY] * wet * length
        reach = np.stack([nz, nz * x, z * ny - y * nz])
        rolling = normal * reach[2] - s[L.S_BUOYANCY] * wet * length * (y + z * ro)
        mass = (reach * (heavy * wet * length)) @ reach.T
        forces = fz.sum(), np.sum(x * fz - z * fx), np.sum(rolling), fx.sum()
        return forces, mass, rates

    def rates(self, t, state):
        """Time derivative of the whole state."""
        b, water = self.b, self.p.water
        rigid, lags = state[:10], state[10:].reshape(-1, 4)
        x, y, z = self.s[L.S_X], self.s[L.S_Y], self.s[L.S_Z]
        height = rigid[1] + x * rigid[2] - y * rigid[3] + z
        hull, surface, surface_rate, gust, gust_rate, axial, slope = self.waves(t, rigid[0], rigid[4], height)
        lift, trim, push, mass, buried = self.hull(rigid, hull, water["density"], water["gravity"])
        forces, more, lag_rates = self.strips(
            rigid, lags, surface, surface_rate, gust, gust_rate, axial, height
        )
        u, density = rigid[4], water["density"]
        drive = max(0.0, b["thrust"] * (1.0 - b["thrust_slope"] * (u / b["target_speed"] - 1.0))) + rigid[8]
        arm = b["righting_arm"] + b["righting_slope"] * (rigid[3] + slope)
        force = np.array(
            [
                forces[0] + lift - b["weight"] - b["down_force"],
                forces[1] + trim - drive * b["sail_arm"] - b["down_force"] * b["effort_ahead"]
                - b["rig_pitch_damping"] * rigid[6],
                forces[2] - lift * arm + b["heel_moment"] * (1.0 - b["heel_moment_fall"] * rigid[3])
                + rigid[9] - 5.0 * b["heel_hold_rate"] * rigid[3] - b["rig_roll_damping"] * rigid[7],
            ]
        )  # fmt: skip
        inertia = np.diag([b["mass"], b["pitch_inertia"], b["roll_inertia"]]) + mass + more
        turned = np.linalg.solve(inertia, force)
        against = resistance.friction_resistance(u, b["waterline_length"], b["wetted_surface"], density)
        against += resistance.other_resistance(u, b["other_area"], density)
        against += resistance.hump_resistance(u, b["waterline_length"], b["weight"], b["hump"])
        against += resistance.plunge_drag(u, buried, density)
        surge = (drive - against + forces[3] + push) / b["surge_mass"]
        hold = (b["target_speed"] - u) * b["speed_hold_rate"]
        lean = -rigid[3] * b["heel_hold_rate"]
        rigid_rates = [u, *rigid[5:8], surge, *turned, hold, lean]
        return np.concatenate([rigid_rates, lag_rates.reshape(-1)])

"""A plain march of one boat: direct sums at every stage, Python loops, classical Runge-Kutta. Slow on purpose.

It starts from the same prepared arrays and calm trim as the fast march and repeats its equations without its
machinery: no anchors, no tables, no lanes. Bending mode and flow memory move once a step, as stated there.
"""

import numpy as np

from seaload.boat import resistance
from seaload.boat.steady_hold import bounded_hold
from seaload.foil.flow_memory import next_flow_state, step_share
from seaload.foil.lag_states import WAGNER_A1, WAGNER_A2
from seaload.foil.mode_step import mode_step, usable_damping
from seaload.simulation import layout as L
from tests.reference_march.plain_loads import Loads, Spans, add_hull, add_strip, wake_of

NAMES = (
    "path", "heave", "pitch", "roll", "speed", "heave_rate", "pitch_rate", "roll_rate", "thrust_hold", "heel_hold",
    "sway", "yaw_rate", "heading", "aside", "helm_hold", "rudder",
)  # fmt: skip
RAMP = 10.0  # [s]


class PlainMarch:
    """One lane of prepared arrays with its own waves. `step` [s]; `trim` the calm trim of the block."""

    def __init__(self, march, lane, waves, trim, step):
        self.boat = {name: float(march.boat[row, lane]) for name, row in L.BOAT.items()}
        self.hull, self.strip = march.hull[:, :, lane].copy(), march.strip[:, :, lane].copy()
        self.foil_strips, self.waves, self.step = march.foil_strips, waves, step
        self.edge = march.edge_y[:, lane].copy(), march.edge_z[:, lane].copy()
        self.mode_moment = march.mode_moment[:, lane].copy()
        self.water = dict(density=march.density, gravity=march.gravity, ambient=march.ambient)
        strips = len(self.strip)
        self.rigid = np.zeros(len(NAMES))
        self.rigid[[1, 2, 4]] = trim.heave[lane], trim.pitch[lane], self.boat["target_speed"]
        self.rigid[10] = trim.leeway[lane] * self.boat["target_speed"]
        self.rudder = np.arange(len(self.strip)) >= self.foil_strips + march.keel_span.shape[1]
        self.heard, self.helm = [], 0.0
        self.lags = np.zeros((strips, 4))
        self.lags[:, 0] = WAGNER_A1 * trim.motion[:, lane]
        self.lags[:, 1] = WAGNER_A2 * trim.motion[:, lane]
        fixed = march.keel_span[:, :, lane].copy(), march.rudder_span[:, :, lane].copy()
        self.spans = Spans(march.span_states[..., lane].copy(), march.span_level[:, lane].copy(), fixed)
        self.memory = np.zeros((strips, 2))
        self.mode = (0.0, 0.0)
        self.time = 0.0
        self.wind = np.ones(2)  # [-] pull over its mean at every full step, the last one from then on

    def evaluate(self, time, rigid_values, lags, mode, since=0.0):
        """(rates of the rigid state, rates of the lag states, Loads, accelerations) `since` [s] a step began."""
        rigid, waves = dict(zip(NAMES, rigid_values, strict=True)), self.waves
        share = min(max(time / RAMP, 0.0), 1.0)
        ramp_rate = 6.0 * share * (1.0 - share) / RAMP
        cosine, sine = np.cos(rigid["heading"]), np.sin(rigid["heading"])
        over_sea = (
            rigid["speed"] * cosine - rigid["sway"] * sine, rigid["speed"] * sine + rigid["sway"] * cosine,
            rigid["yaw_rate"],
        )  # fmt: skip
        place = rigid["path"], rigid["aside"]
        waves.at(time, place, rigid["heading"], over_sea, share * share * (3.0 - 2.0 * share), ramp_rate)
        loads = Loads()
        add_hull(loads, self.boat, self.hull, rigid, waves, self.water["density"], self.water["gravity"])
        surface, surface_rate = waves.strip_surface()
        row = self.strip
        height = (
            rigid["heave"] + row[:, L.S_X] * rigid["pitch"] - row[:, L.S_Y] * rigid["roll"] + row[:, L.S_Z]
        )
        gust, gust_rate, axial = waves.strip_flow(np.maximum(surface - height, 0.0))
        flows = list(zip(surface, surface_rate, gust, gust_rate, axial, strict=True))
        turned = self.rudder * rigid["rudder"]
        wakes = [wake_of(self.boat, row[s], rigid, mode[1], lags[s], flows[s], turned[s]) for s in range(len(row))]
        lag_rates, past, past_rate, beyond = (np.array([w[i] for w in wakes]) for i in range(4))
        remembers = self.boat["lag"] > 0.5
        if since == 0.0 or not remembers:
            ahead = 0.5 * self.step if remembers else 0.0
            foil = range(self.foil_strips)
            above = [wakes[s][4]["depth"] + ahead * wakes[s][4]["deepening"] + row[s, L.S_Z] for s in foil]
            self.spans.apply(np.mean(above), past, past_rate)
        for s in range(len(row)):
            found = self.spans
            span = beyond[s], found.lift[s] + since * found.lift_rate[s], found.wash[s] + since * found.wash_rate[s]
            add_strip(loads, self.boat, row[s], rigid, self.memory[s], self.water, flows[s], wakes[s][4], span)
        pull = np.interp(time / self.step, np.arange(len(self.wind)), self.wind)
        up, bow, lean, sway, yaw, surge = self.accelerations(rigid, loads, pull)
        hold = bounded_hold(
            rigid["thrust_hold"],
            (self.boat["target_speed"] - rigid["speed"]) * self.boat["speed_hold_rate"],
            self.boat["speed_hold_bound"],
        )
        heel = bounded_hold(
            rigid["heel_hold"],
            -rigid["roll"] * self.boat["heel_hold_rate"] * self.boat["roll_free"],
            self.boat["heel_hold_bound"],
        )
        carried = bounded_hold(
            rigid["helm_hold"],
            -rigid["heading"] * self.boat["helm_hold_rate"] * self.boat["yaw_free"],
            self.boat["rudder_limit"],
        )
        rates = [over_sea[0], rigid["heave_rate"], rigid["pitch_rate"], rigid["roll_rate"]]
        steered = [sway, yaw, rigid["yaw_rate"], over_sea[1], carried, self.helm]
        return (
            np.array([*rates, surge, up, bow, lean, hold, heel, *steered]),
            lag_rates,
            loads,
            np.array([up, bow, lean, sway, yaw]),
        )

    def steer(self):
        """Rate of the rudder over the step to come, from the heading and yaw rate of a delay ago."""
        b = self.boat
        self.heard.append((self.rigid[12], self.rigid[11]))
        late, last = b["steering_delay"] / self.step, len(self.heard) - 1.0
        times = np.arange(len(self.heard))
        heading, rate = (
            np.interp(last - late, times, each) if late <= last else 0.0 for each in zip(*self.heard, strict=True)
        )
        asked = self.rigid[14] - b["steering_gain"] * heading - b["steering_rate_gain"] * rate
        asked = np.clip(asked, -b["rudder_limit"], b["rudder_limit"])
        most = b["rudder_rate"]
        self.helm = np.clip((asked - self.rigid[15]) / self.step, -most, most) * b["yaw_free"]

    def accelerations(self, rigid, loads, pull):
        """Heave, pitch, roll, sway, yaw and surge accelerations; `pull` [-] of the wind over its mean."""
        b, u, density = self.boat, rigid["speed"], self.water["density"]
        drive = resistance.thrust(pull * b["thrust"], b["thrust_slope"], u, b["target_speed"]) + rigid["thrust_hold"]
        arm = b["righting_arm"] + b["righting_slope"] * (rigid["roll"] + self.waves.lateral_slope())
        down = pull * b["down_force"]
        eased = 1.0 - b["heel_moment_fall"] * rigid["roll"]
        heeling = pull * b["heel_moment"] * eased + rigid["heel_hold"] - 5.0 * b["heel_hold_rate"] * rigid["roll"]
        side = heeling * b["sail_side"]
        ahead = drive - side * b["leeway"]
        against = (
            resistance.friction_resistance(u, b["waterline_length"], b["wetted_surface"], density)
            + resistance.other_resistance(u, b["other_area"], density)
            + resistance.hump_resistance(u, b["waterline_length"], b["weight"], b["hump"])
            + resistance.plunge_drag(u, loads.buried, density)
        )
        force = np.array(
            [
                loads.heave + loads.hull_lift - b["weight"] - down,
                loads.pitch - ahead * b["sail_arm"] - down * b["effort_ahead"]
                - b["rig_pitch_damping"] * rigid["pitch_rate"],
                loads.roll - loads.hull_lift * arm + heeling - b["rig_roll_damping"] * rigid["roll_rate"],
                loads.side + side - b["mass"] * u * rigid["yaw_rate"],
                loads.yaw + b["effort_ahead"] * side - b["effort_side"] * ahead + b["hull_arm_y"] * against,
            ]
        )
        own = [b["mass"], b["pitch_inertia"], b["roll_inertia"], b["mass"], b["yaw_inertia"]]
        free = np.flatnonzero([1.0, 1.0, b["roll_free"], b["sway_free"], b["yaw_free"]])
        inertia, answer = np.diag(own) + loads.added, np.zeros(5)
        answer[free] = np.linalg.solve(inertia[np.ix_(free, free)], force[free])
        turned = b["mass"] * rigid["sway"] * rigid["yaw_rate"]
        surge = (ahead - against + loads.surge + turned) / b["surge_mass"] * b["surge_free"]
        if not b["sway_free"]:
            answer[3] = b["leeway"] * surge
        return (*answer, surge)

    def modal_force(self, loads, acceleration):
        """Force of the bending mode with the inertia of the boat's motion [N]."""
        return loads.mode_force - float(loads.mode_inertia @ acceleration)

    def advance(self):
        """One step; returns the reading at its start as a dict (moments (edges,) [N m])."""
        self.steer()
        dt, b = self.step, self.boat
        y0, z0, t = self.rigid, self.lags, self.time
        k1, l1, loads, acceleration = self.evaluate(t, y0, z0, self.mode)
        reading = self.reading(loads, acceleration)
        mass = b["mode_mass"] + loads.mode_mass
        stiffness = b["mode_stiffness"]
        damping = usable_damping(mass, b["mode_damping"] + loads.mode_damping, stiffness)
        flow = damping - min(b["mode_damping"], damping)
        start = self.modal_force(loads, acceleration) + flow * self.mode[1]

        def mode_at(time, end_force):
            moved = mode_step(*self.mode, start, end_force, mass, damping, stiffness, time)
            return tuple(value * b["mode_on"] for value in moved)

        half, end = mode_at(0.5 * dt, start), mode_at(dt, start)
        k2, l2, _, _ = self.evaluate(t + 0.5 * dt, y0 + 0.5 * dt * k1, z0 + 0.5 * dt * l1, half, 0.5 * dt)
        k3, l3, _, _ = self.evaluate(t + 0.5 * dt, y0 + 0.5 * dt * k2, z0 + 0.5 * dt * l2, half, 0.5 * dt)
        k4, l4, last, acceleration = self.evaluate(t + dt, y0 + dt * k3, z0 + dt * l3, end, dt)
        self.mode = mode_at(dt, self.modal_force(last, acceleration) + flow * end[1])
        self.rigid = y0 + dt / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
        self.lags = z0 + dt / 6.0 * (l1 + 2.0 * l2 + 2.0 * l3 + l4)
        self.remember(last)
        self.time = t + dt
        return reading

    def remember(self, loads):
        """Flow memory of every strip and side at the end of a step."""
        for s, (row, kept) in enumerate(zip(self.strip, loads.strips, strict=True)):
            onset, heal, wetting = (
                step_share(self.step, kept["speed"], row[L.S_CHORD], row[chords])
                for chords in (L.S_ONSET_CHORDS, L.S_WASHOUT_CHORDS, L.S_REWET_CHORDS)
            )
            dry = 1.0 - kept["wet"]
            healing = max(heal, wetting) if dry < 0.5 else 0.0
            for side in range(2):
                now = next_flow_state(
                    self.memory[s, side],
                    kept["demand"][side],
                    row[L.S_ONSET],
                    row[L.S_WASHOUT],
                    onset,
                    healing,
                )
                self.memory[s, side] = max(now, dry * dry) * self.boat["memory_on"]

    def reading(self, loads, acceleration):
        """Motions and bending moments at the strip edges, statics of all that is outside each edge."""
        roll, count = self.rigid[3], self.foil_strips
        y, z = self.strip[:count, L.S_Y], self.strip[:count, L.S_Z]
        ny, nz = self.strip[:count, L.S_NY], self.strip[:count, L.S_NZ]
        kept = loads.strips[:count]
        up, bow, lean, sway, yaw = acceleration
        x = self.strip[:count, L.S_X]
        own = nz * (up + x * bow - y * lean) + ny * (sway + x * yaw + z * lean)
        normal = np.array([k["normal"] for k in kept]) - np.array([k["mass"] for k in kept]) * own
        hung = np.array([k["hung"] for k in kept])
        fy, fz = normal * ny - hung * roll, normal * nz + hung  # in the boat's axes, which turn under the weight
        stretch = (
            self.mode[0] - self.modal_force(loads, acceleration) / self.boat["mode_stiffness"]
        ) * self.boat["mode_on"]
        moment = np.zeros(count + 1)
        for e in range(count):
            static = np.sum((y[e:] - self.edge[0][e]) * fz[e:] - (z[e:] - self.edge[1][e]) * fy[e:])
            moment[e] = static + stretch * self.mode_moment[e]
        values = dict(zip(NAMES, self.rigid, strict=True))
        values["moment"] = moment
        return values

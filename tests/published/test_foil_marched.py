"""Wagner, Kuessner, Theodorsen and Sears, marched in time by the lag formulas of seaload.

Wagner 1925, Kuessner 1936, Theodorsen 1935 (NACA TR 496), Sears 1940; all tables derived from Bessel and Hankel
functions and by Fourier inversion. seaload carries two exponentials a cause, so a march cannot come nearer to the
exact curve than they do: the gate is their own largest distance, as the table holds it, and 0.005 for the march.
"""


import numpy as np

from seaload.foil.lag_states import lag_rate, recalled
from tests.foil.foil_table import Comparison, table
from tests.oracles.unsteady_theory import KUESSNER_A, KUESSNER_B, WAGNER_A, WAGNER_B

MARCH = 0.005  # [-] of the quasi-steady value
FIGURE = "Memory of the wake: growth of lift after a step"
GAIN = "Memory of the wake: lift in harmonic motion and gusts"


def marched(drive, times, step, gust):
    """Effective over quasi-steady normal velocity at `times` [semi-chords]; four lag states, fourth-order steps."""
    shares, decays = (KUESSNER_A, KUESSNER_B) if gust else (WAGNER_A, WAGNER_B)
    z, now, found = np.zeros(2), 0, []

    def rates(z, w):
        return np.array([lag_rate(z[i], shares[i], decays[i], w, 1.0) for i in range(2)])

    for time in times:
        while now * step < time - 0.5 * step:
            start, half, end = drive(now * step), drive((now + 0.5) * step), drive((now + 1) * step)
            k1 = rates(z, start)
            k2 = rates(z + 0.5 * step * k1, half)
            k3 = rates(z + 0.5 * step * k2, half)
            k4 = rates(z + step * k3, end)
            z, now = z + step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4), now + 1
        w = drive(time)
        past = recalled(0.0, 0.0, z[0]) if gust else recalled(z[0], z[1], 0.0)
        found.append(0.5 * ((2.0 * z[1] if gust else w) - past) + past)  # a section alone
    return np.array(found)


def test_step_of_motion_and_sharp_gust(logbook, draw_curve):
    t = table("foil_wagner_kussner")
    kept = t["s_semichords"] <= 40.0
    s = t["s_semichords"][kept]
    check = Comparison(logbook, "foil", "Wagner 1925, Kuessner 1936, exact, table wagner_kussner", "derived")
    for name, exact, two, gust in (
        ("Wagner", "wagner_exact", "wagner_jones", False),
        ("Kuessner", "kussner_exact", "kussner_2exp_0.5_0.13_0.5_1.0", True),
    ):
        ours = marched(lambda s: 1.0, s, 0.05, gust)
        gap = float(np.abs(t[two] - t[exact]).max())
        axes = (FIGURE, "distance travelled [semi-chords]", "lift over its final value [-]")
        draw_curve(*axes, f"{name}, published", s, t[exact][kept], published=True)
        draw_curve(*axes, f"{name}, ours", s, ours,
                   caption="The two-term gust function lags most in the first two semi-chords.")  # fmt: skip
        check.close(f"{name}, marched by seaload's lags", t[exact][kept], ours, absolute=gap + MARCH)


def test_harmonic_motion_and_harmonic_gust(logbook, draw_curve):
    t = table("foil_theodorsen_sears")
    picks = np.flatnonzero((t["k"] >= 0.04) & (t["k"] <= 1.0))[::3]
    check = Comparison(logbook, "foil", "Theodorsen 1935, Sears 1940, exact, table theodorsen_sears", "derived")
    for name, exact, two, gust in (
        ("Theodorsen", ("F_exact", "G_exact"), ("F_jones", "G_jones"), False),
        ("Sears", ("sears_LE_re", "sears_LE_im"), ("kussner2exp_LE_re", "kussner2exp_LE_im"), True),
    ):
        ours = np.array([harmonic_gain(k, gust) for k in t["k"][picks]])
        theirs, short = (t[re][picks] + 1j * t[im][picks] for re, im in (exact, two))
        gap = float(np.abs(short - theirs).max())
        axes = (GAIN, "reduced frequency, omega x semi-chord / speed [-]", "lift over quasi-steady lift [-]")
        draw_curve(*axes, f"{name}, published", t["k"][picks], np.abs(theirs), published=True)
        draw_curve(*axes, f"{name}, ours", t["k"][picks], np.abs(ours))
        check.close(f"{name}, marched, size", np.abs(theirs), np.abs(ours), absolute=gap + MARCH)
        check.close(f"{name}, marched, against its own two terms", np.abs(short), np.abs(ours), absolute=MARCH)


def harmonic_gain(k, gust):
    """Complex ratio of the marched answer to a cosine of reduced frequency k, after the start has died away."""
    period = 2.0 * np.pi / k
    cycles = int(np.ceil(160.0 / period)) + 1
    times = (cycles + np.arange(32) / 32.0) * period
    ours = marched(lambda s: np.cos(k * s), times, period / 128.0 if k > 0.2 else period / 256.0, gust)
    return 2.0 * np.mean(ours * np.exp(-1j * k * times))

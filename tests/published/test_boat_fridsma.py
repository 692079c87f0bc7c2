"""Prismatic planing hulls in regular head waves.

Measured: G. Fridsma, A systematic study of the rough-water performance of planing boats, Davidson Laboratory
report 1275, 1969, Table 2, configurations A and B (deadrise 20 deg, L/b 5, H/b 0.111); read in a public
transcription. Computed: E. E. Zarnick, A nonlinear mathematical model of motions of a planing boat in
regular waves, DTNSRDC-78/032, 1978; read as digitised by others, +-0.03.

Two sets of coefficients go through seaload's section formula: those Zarnick used (k_a 1, a_BF 0.5, no
relief at the transom), and seaload's own (k_a 0.85, a_BF 0.75, relief), which trade
some motion for a right trim.
Gates: B 20 % (25 % at lambda/L 1.5), A 25 %, from lambda/L 2; accelerations 35 % or 0.12 g, as they
are given to 0.05 g; the shortest wave only has to give a small answer; 10 % against Zarnick's own numbers.
"""

import functools

import numpy as np
import pytest

from tests.boat.hull_in_waves import GRAVITY, calm_state, respond
from tests.boat.model_hulls import SEALOAD, ZARNICK, prismatic_hull
from tests.boat.published_table import rows

FRIDSMA, COMPUTED = "Fridsma 1969, Table 2, in a public transcription", "Zarnick 1978, digitised by others"
HEAVE, PITCH = "heave_amp/zeta_a", "pitch_amp/(2 pi H_amp/lambda)"
QUANTITIES = {"heave": HEAVE, "pitch": PITCH, "cg": "CG_accel_peak", "bow": "bow_accel_peak"}
WAVES = rows("fridsma1969_regular_waves")
SETS = {"zarnick": ZARNICK, "seaload": SEALOAD}
BEAM = 0.2286

# rows that miss their gate: they stay in the logbook as missed
_SHORT = "short wave, stern part of the force relieved: seaload's set trades this for a right calm trim"
_RESONANCE = (
    "near resonance seaload's set pitches 23-24 % too much: pitch, so foil load, on the high side"
)
_LONG = "more buoyancy, less added mass: soft bow acceleration in long waves; read to 0.05 g"
MISSED = {
    ("A", 2.0, "heave", "seaload"): "29 % low beside 23 % with Zarnick's set: static trim bought with heave",
    ("B", 1.5, "pitch", "seaload"): _SHORT,
    ("B", 2.0, "pitch", "seaload"): _RESONANCE,
    ("B", 3.0, "pitch", "seaload"): _RESONANCE,
    ("B", 4.0, "bow", "seaload"): _LONG,
    ("B", 6.0, "bow", "seaload"): _LONG,
}


@functools.cache
def model(config, coefficients):
    form = next(row for row in rows("fridsma1969_configurations") if row["config"] == config)
    length = form["L_over_b"] * BEAM
    speed = form["U"]
    hull = prismatic_hull(
        length=length,
        beam=BEAM,
        deadrise=np.radians(form["deadrise"]),
        mass=form["mass"],
        cg_from_transom=length * (1.0 - form["LCG_aft_of_stem"] / 100.0),
        gyradius=length * form["pitch_gyradius"] / 100.0,
        speed=speed,
        bow_length=BEAM,
        keel_height=BEAM / 16.0,
        **SETS[coefficients],
    )
    return hull, calm_state(hull, -0.02, np.radians(4.0)), length


@functools.cache
def answer(config, ratio, coefficients):
    """Our heave and pitch as Fridsma divides them, and the upward peaks of both accelerations in g."""
    hull, calm, length = model(config, coefficients)
    height = 0.111 * BEAM
    wave_number = 2.0 * np.pi / (ratio * length)
    transom = hull.xi[0] - 0.5 * hull.dx[0]
    got = respond(
        hull,
        calm,
        0.5 * height,
        wave_number,
        np.sqrt(GRAVITY * wave_number),
        bow_xi=transom + 0.9 * length,
        steps_a_period=300,
    )
    return {
        "heave": 2.0 * got.heave / height,
        "pitch": got.pitch / (0.5 * wave_number * height),
        "cg": got.cg_peak / GRAVITY,
        "bow": got.bow_peak / GRAVITY,
    }


def gate(config, ratio, quantity):
    """(relative, absolute) tolerance."""
    if quantity in ("cg", "bow"):
        return 0.35, 0.12
    return (0.25 if config == "A" or ratio < 2.0 else 0.20), 0.0


def cases():
    for coefficients in SETS:
        for row in WAVES:
            for quantity in QUANTITIES:
                key = (row["config"], row["lambda_over_L"], quantity, coefficients)
                if row["lambda_over_L"] == 1.0 and quantity in ("cg", "bow"):
                    continue  # no gate for accelerations in the shortest wave
                reason = MISSED.get(key)
                marks = (
                    [pytest.mark.xfail(strict=True, raises=AssertionError, reason=reason)] if reason else []
                )
                yield pytest.param(*key, marks=marks, id="-".join(map(str, key)))


@pytest.mark.parametrize("config, ratio, quantity, coefficients", cases())
def test_measured_response(config, ratio, quantity, coefficients, logbook):
    row = next(r for r in WAVES if r["config"] == config and r["lambda_over_L"] == ratio)
    published = row[QUANTITIES[quantity]]
    ours = answer(config, ratio, coefficients)[quantity]
    if ratio == 1.0:
        limit = {"heave": 0.3, "pitch": 0.2}[quantity]
        tolerance, met = f"below {limit}", ours < limit
    else:
        relative, absolute = gate(config, ratio, quantity)
        tolerance = f"{relative:.0%}" + (f" or {absolute} g" if absolute else "")
        met = abs(ours - published) <= max(relative * published, absolute)
    logbook(
        stage="boat",
        quantity=f"hull {config}, wave {ratio:g} L, {quantity}, coefficients {coefficients}",
        source=FRIDSMA,
        origin="read",
        published=published,
        ours=ours,
        tolerance=tolerance,
        met=met,
    )
    assert met, f"{ours:.3f} against {published:.3f}, allowed {tolerance}"


@pytest.mark.parametrize("quantity", ["heave", "pitch"])
@pytest.mark.parametrize("row", [r for r in WAVES if r["lambda_over_L"] >= 2.0], ids=lambda r: r["config"])
def test_computed_response_of_the_same_method(row, quantity, logbook):
    published = row[f"{quantity}_zarnick1978_calc"]
    ours = answer(row["config"], row["lambda_over_L"], "zarnick")[quantity]
    met = abs(ours - published) <= 0.10 * published
    logbook(
        stage="boat",
        quantity=f"hull {row['config']}, wave {row['lambda_over_L']:g} L, {quantity}, computed",
        source=COMPUTED,
        origin="read",
        published=published,
        ours=ours,
        tolerance="10%",
        met=met,
    )
    assert met, f"{ours:.3f} against {published:.3f}"


CALM = [
    pytest.param(
        "A",
        "zarnick",
        marks=pytest.mark.xfail(
            strict=True,
            raises=AssertionError,
            reason="half buoyancy carries too little at Cv 2.7: 1.8 deg too much trim (known of the method)",
        ),
    ),
    ("B", "zarnick"),
    ("A", "seaload"),
    ("B", "seaload"),
]


@pytest.mark.parametrize("config, coefficients", CALM)
def test_smooth_water_trim(config, coefficients, logbook):
    hull, calm, _ = model(config, coefficients)
    ours = np.degrees(calm[1])
    met = abs(ours - 4.0) <= 1.0
    logbook(
        stage="boat",
        quantity=f"hull {config}, trim in smooth water [deg], coefficients {coefficients}",
        source="Fridsma 1969, smooth water, in a public transcription",
        origin="read",
        published=4.0,
        ours=ours,
        tolerance="1 deg",
        met=met,
    )
    assert met


def test_dropping_momentum_on_exit_is_not_what_we_do():
    """A one-sided momentum term gives 2.88 at hull B, 4 L (derived); measured 1.75."""
    assert answer("B", 4.0, "zarnick")["heave"] < 2.2

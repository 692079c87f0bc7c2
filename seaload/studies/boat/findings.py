"""What a boat file should be asked about before anyone trusts it: each with its reason and what to do."""

from typing import NamedTuple

import numpy as np

from seaload.basis.units import DEGREE, KNOT, PERCENT, TONNE_FORCE
from seaload.studies.boat.balance import at_speed

MEND, LOOK, KNOW = "mend", "look", "know"
TRIM_WINDOW = (0.0, 2.0 * DEGREE)  # [rad] bow up, of a light hull sailing fast (common practice, no source)
TRIM_FROM = 10.0 * KNOT  # [m/s] below it the hull floats more than it runs
SIDEWAYS = (  # [rad] past which they are asked about (common practice, no source)
    ("leeway", 5.0 * DEGREE, "check keel.area_m2 and effective_aspect, rig.sail_height_m and the cant"),
    ("rudder", 8.0 * DEGREE, "move rig.effort_from_transom_m until she steers with a few degrees"),
)
THRUST_MISS = 0.1  # [-] of thrust stated against drag, at the reference speed
RACED_FROM = 0.6  # [-] of the racing speed: slower points at the stated heel are no point of sailing
LCG_MISS = 1.5 * DEGREE  # [rad] trim at rest
GYRADIUS = (0.2, 0.3)  # [-] pitch gyradius over length (common practice: a quarter, no source)
SLOW_BENDING = 2.0  # [1/s] below it the foil's own ringing meets the waves
RUDDER_WET = 0.9  # [-]
SPARE = 1.02  # [-] speed asked for over the attainable one that still counts as held
OPTIONAL = {  # tables that may be missing as a whole
    "sensors": "gauges are shown in percent of the normal limit; give display, rate and when the zero is taken",
    "worked": "ranges and steps that a crew can set are not known; a sweep then knows no tolerances",
    "moves": "ways of backing off are taken with their defaults",
    "uncertain": "nothing in this file counts as uncertain: odds then hold forecast error alone",
}


class Finding(NamedTuple):
    """One thing to mend, to look at, or to know."""

    level: str  # MEND, LOOK or KNOW
    about: str  # the key of the file it hangs on, or what it is about
    words: str  # what was found, with its numbers
    mend: str  # what to do


def findings(question, parts):
    """All `Finding`s of a page, the gravest first; `parts` {name: (dims, values)} of the whole page."""
    found = [
        *balance_findings(question, parts),
        *trim_findings(question, parts),
        *righting_findings(question, parts),
        *thrust_findings(question, parts),
        *foil_findings(question, parts),
        *motion_findings(question, parts),
        *gauge_findings(question, parts),
        *written_findings(question),
    ]
    order = (MEND, LOOK, KNOW)
    return sorted(found, key=lambda finding: order.index(finding.level))


def percent(extension):
    """An extension in words: "80 %"."""
    return f"{extension / PERCENT:.3g} %"


def speeds_words(speeds):
    """A stretch of speeds in words: "26 kn", "20 to 32 kn"."""
    low, high = speeds.min() / KNOT, speeds.max() / KNOT
    return f"{low:.0f} kn" if high - low < 0.5 else f"{low:.0f} to {high:.0f} kn"


def where(question, cases):
    """Where something holds, in words: "at 100 % out from 26 to 32 kn"; `cases` (extensions, speeds) bool."""
    texts = [
        f"{percent(extension)} out at {speeds_words(question.speeds[row])}"
        for extension, row in zip(question.extensions, cases, strict=True) if row.any()
    ]  # fmt: skip
    return "; ".join(texts)


def held(question, parts):
    """Points whose speed the thrust can hold (extensions, speeds) bool; all where that is not known."""
    attainable = parts["speed_attainable"][1][:, None]
    return ~(question.speeds[None, :] > SPARE * attainable)


def balance_findings(question, parts):
    """Points without a balance, and why; slow ones, and those that no thrust reaches, only to be known."""
    reasons, found = parts["balance_reason"][1], []
    for reason in sorted({*reasons.ravel()} - {""}):
        cases = reasons == reason
        raced = question.speeds[None, :] >= RACED_FROM * question.racing_speed
        grave = (cases & raced & held(question, parts)).any()
        todo = "check mass, centre of gravity, fins and the foil's incidence; less heel, foil or rake there"
        slow = "nobody carries the stated heel there; settings there are refused"
        found.append(
            Finding(MEND if grave else KNOW, "balance", f"{reason}: {where(question, cases)}", todo if grave else slow)
        )
    return found


def trim_findings(question, parts):
    """Trim out of the usual window at speeds that can be held, and the trim at rest."""
    pitch, found = parts["calm_pitch"][1], []
    sailed = held(question, parts) & (question.speeds[None, :] >= TRIM_FROM) & np.isfinite(pitch)
    for low, word, todo in (
        (True, "bow down", "move cg_from_transom_m aft, or the foil's exit forward"),
        (False, "more than 2 deg bow up", "move cg_from_transom_m forward"),
    ):
        cases = sailed & (pitch < TRIM_WINDOW[0] if low else pitch > TRIM_WINDOW[1])
        if cases.any():
            worst = (np.nanmin if low else np.nanmax)(np.where(cases, pitch, np.nan)) / DEGREE
            text = f"she trims {word} ({worst:+.1f} deg at worst): {where(question, cases)}"
            found.append(Finding(LOOK, "cg_from_transom_m", text, f"{todo}; usual is 0 to 2 deg bow up"))
    raced = sailed & (question.speeds[None, :] >= RACED_FROM * question.racing_speed)
    for name, most, todo in SIDEWAYS:
        angle = parts[name][1]
        cases = raced & (np.abs(angle) > most)
        if cases.any():
            worst = angle[cases][np.argmax(np.abs(angle[cases]))] / DEGREE
            text = f"{name} past {most / DEGREE:.0f} deg ({worst:+.1f} deg at worst): {where(question, cases)}"
            found.append(Finding(LOOK, name, text, todo))
    buried = held(question, parts) & (parts["plunge_area"][1] > 0.0)
    if buried.any():
        text = f"the bow runs buried in calm water: {where(question, buried)}"
        found.append(
            Finding(MEND, "hull.plunge_depth_m", text, "check keel_rise_m, cg_from_transom_m and plunge_depth_m")
        )
    trim = float(parts["trim_at_rest"][1])
    if not abs(trim) <= LCG_MISS:
        seen = f"{trim / DEGREE:+.1f} deg" if np.isfinite(trim) else "more than 8 deg"
        off = float(parts["buoyancy_at_rest"][1]) - float(parts["gravity_from_transom"][1])
        text = f"at rest she trims {seen}: buoyancy lies {abs(off):.2f} m {'ahead of' if off > 0 else 'abaft'} gravity"
        found.append(Finding(LOOK, "cg_from_transom_m", text, "check cg_from_transom_m against the hull's lines"))
    return found


def righting_findings(question, parts):
    """Stability at rest and under way, freeboard, length."""
    found, hull = [], question.boat.hull
    height = float(parts["metacentric_height"][1])
    if height <= 0.0:
        text = f"upright at rest she capsizes: metacentric height {height:.2f} m"
        found.append(Finding(MEND, "cg_height_m", text, "check cg_height_m, bulb_mass_kg and half_beam_m"))
    board = float(parts["freeboard_least"][1])
    if board < 0.0:
        text = f"at rest at the stated heel the deck edge is {-board:.2f} m under water"
        found.append(Finding(MEND, "hull.side_height_m", text, "check side_height_m, mass_kg and half_beam_m"))
    vanishing = float(parts["vanishing_heel"][1])
    if np.isfinite(vanishing) and vanishing < 60.0 * DEGREE:
        text = f"the righting moment at rest vanishes at {vanishing / DEGREE:.0f} deg"
        found.append(
            Finding(LOOK, "cg_height_m", text, "check cg_height_m and side_height_m; deck houses are not counted")
        )
    floats = float(parts["floating_length"][1])
    if abs(floats / hull.waterline_length - 1.0) > 0.1:
        text = f"she floats on {floats:.1f} m of waterline, the file says {hull.waterline_length:g} m"
        found.append(Finding(LOOK, "hull.waterline_length_m", text, "its Froude number places the resistance hump"))
    return found


def thrust_findings(question, parts):
    """Thrust against drag at the reference, and speeds of the crew's range that no thrust reaches."""
    found, boat, k = [], question.boat, question.reference
    needed = at_speed(question, parts, "thrust_needed", question.racing_speed)[k]
    if np.isfinite(needed) and abs(needed / boat.reference_thrust - 1.0) > THRUST_MISS:
        text = (
            f"at {question.racing_speed / KNOT:.3g} kn drag takes {needed:,.0f} N, "
            f"reference_thrust_n says {boat.reference_thrust:,.0f} N"
        )
        todo = "both belong to one boat: set motion.other_drag_area_m2 or rig.reference_thrust_n so that they agree"
        found.append(Finding(MEND, "rig.reference_thrust_n", text, todo))
    best = parts["speed_attainable"][1]
    if not np.isfinite(best).any():
        text = "no speed at which thrust and drag balance in the reference wind"
        found.append(Finding(MEND, "rig.reference_thrust_n", text, "check thrust, drag and righting moment"))
    elif "speed" in boat.worked and boat.worked["speed"].most > SPARE * np.nanmax(best):
        text = (
            f"worked speeds up to {boat.worked['speed'].most / KNOT:.3g} kn; in the reference wind the thrust holds "
            f"{np.nanmax(best) / KNOT:.1f} kn at most"
        )
        found.append(
            Finding(KNOW, "worked.speed_knots", text, "faster settings are unreachable in that wind, and refused")
        )
    rudder = parts["rudder_wet_share"][1]
    dry = held(question, parts) & (rudder < RUDDER_WET)
    if dry.any():
        text = f"the rudder is partly out of the water: {where(question, dry)}"
        found.append(Finding(LOOK, "rudder", text, "check root_height_m, root_to_leeward_m and tilt_deg"))
    return found


def foil_findings(question, parts):
    """Ventilation and load in calm water, and the foil's own frequency."""
    found = []
    wet = parts["ventilation_demand"][1] >= 1.0
    if wet.any():
        level = MEND if (wet & held(question, parts)).any() else KNOW
        text = f"the foil ventilates or stalls in calm water: {where(question, wet)}"
        found.append(Finding(level, "foil.section", text, "less rake or incidence there, or check the lift limits"))
    ratio = parts["calm_load_ratio"][1]
    for side, sign in (("normal", 1.0), ("reverse", -1.0)):
        past = (np.nan_to_num(sign * ratio) >= 1.0).any(axis=2)
        if past.any():
            level = MEND if (past & held(question, parts)).any() else LOOK
            text = f"calm water alone loads the foil past its {side} limit: {where(question, past)}"
            found.append(
                Finding(level, f"foil.{question.side}.structure", text, "check strain limits, chord and thickness")
            )
    slow = np.nanmin(parts["bending_frequency_wet"][1])
    if slow < SLOW_BENDING:
        text = f"the foil bends at {slow:.1f} Hz under water, within reach of the waves"
        found.append(
            Finding(LOOK, f"foil.{question.side}.structure", text, "check youngs_modulus_gpa and thickness_percent")
        )
    return found


def motion_findings(question, parts):
    """Motions that grow by themselves, and inertias out of the usual."""
    found, growth = [], parts["motion_growth"][1]
    for speed, rate in zip(parts["motion_speed"][1], growth, strict=True):
        if rate > 0.0:
            text = f"at {speed / KNOT:.3g} kn a small push grows, e-fold in {1.0 / rate:.1f} s"
            todo = "porpoising or capsizing: check inertias, centre of gravity and righting"
            found.append(Finding(MEND, "motion", text, todo))
    share = question.boat.pitch_gyradius / question.boat.hull.length
    if not GYRADIUS[0] <= share <= GYRADIUS[1]:
        text = f"pitch gyradius is {share:.2f} of the length, usual is {GYRADIUS[0]:g} to {GYRADIUS[1]:g}"
        found.append(Finding(LOOK, "pitch_gyradius_m", text, "check it: it sets how she pitches"))
    return found


def gauge_findings(question, parts):
    """Gauges inside the hull, and what the stated limits mean."""
    found, inside = [], parts["place_inside"][1][:, 1:]
    drawn_in = [
        f"{', '.join(str(1 + n) for n in np.flatnonzero(row))} at {percent(extension)} out"
        for extension, row in zip(question.extensions, inside, strict=True) if row.any()
    ]  # fmt: skip
    if drawn_in:
        text = f"gauges inside the hull: {'; '.join(drawn_in)}"
        todo = "they read the moment between the bearings, or nothing: do not steer by them there"
        found.append(Finding(KNOW, f"foil.{question.side}.stations_m", text, todo))
    if not question.foil.limit_basis:
        text = "the file does not say what its strain limits mean"
        todo = 'write limit_basis = "working", "first damage" or "break"'
        found.append(Finding(MEND, f"foil.{question.side}.structure.limit_basis", text, todo))
    if not question.foil.id:
        text = "the foil has no name of its own"
        todo = "give id: seaload log keeps its wear under it"
        found.append(Finding(KNOW, f"foil.{question.side}.id", text, todo))
    least = np.nanmin(parts["tip_force_reverse"][1])
    text = f"{least / TONNE_FORCE:.2g} t down at the tip reaches the reverse limit"
    found.append(Finding(KNOW, f"foil.{question.side}.structure", text, "compare with the builder's proof load"))
    return found


def written_findings(question):
    """Tables that are missing, and defaults that stand in for keys."""
    spec, found = question.spec, []
    for table, words in OPTIONAL.items():
        if table not in spec.model_fields_set:
            found.append(Finding(LOOK if table == "sensors" else KNOW, f"[{table}]", "missing in the file", words))
    if question.boat.speed_table is None:
        text = "no speed_table"
        todo = "attainable speeds hold near the reference wind alone; give the boat's own table"
        found.append(Finding(KNOW, "speed_table", text, todo))
    if question.defaults:
        text = f"{len(question.defaults)} keys are left to their defaults"
        found.append(Finding(LOOK, "defaults", text, "see the list: each is a number nobody gave for this boat"))
    return found

"""The page of a boat file: the answer, what to mend, and every curve with how it was made."""

import json

import numpy as np

from seaload.basis.units import DEGREE, PERCENT
from seaload.report.boat import figures as draw
from seaload.report.boat import reading as read
from seaload.report.boat import words
from seaload.report.boat.drawing import FINS, Drawn, boat_figure
from seaload.report.shared.figure_style import inline_svg
from seaload.report.shared.page_blocks import shortened, versions
from seaload.report.shared.page_layout import render_page, trusted
from seaload.report.shared.result_reading import attribute, line, number, scenario
from seaload.report.shared.wording import limit_words

MOST_ROWS = 60
DASHED = "The dashed upright line is the racing speed"
LOST = "; a cross on the axis marks a speed at which some extension does not balance"
METHOD = (
    "Calm water, no current, nobody steers. At every speed heave, pitch, leeway and rudder are found at which "
    "nothing accelerates, with the same hull strips, foil strips, keel fin and rudder that a run marches through "
    "waves. The heel is given: what rights the boat there is the sails' heeling moment, over its lever the sail "
    "force that leeway has to meet; thrust follows from the drag.",
    "Righting at rest comes from the true heeled sections of the hull (V bottom, chine, topside, flat deck, closed) "
    "at level trim. Lift, and the volumes of fins, bulb and foil, are left out there; deck houses and mast give no "
    "buoyancy. At speed the hull rights with the part of the weight it still carries.",
    "Thrust the sails give: the stated thrust, less as the boat goes faster than the stated speed, more with her "
    "righting moment. Attainable is the fastest speed at which it meets the drag.",
    "Natural motions: slopes of the march's own accelerations for small changes of every state, the wake's memory with "
    "them; periods and damping from their eigenvalues. The foil is taken as stiff there, the speed as held.",
    "Gauges: the boat upright in the shed, the foil dry, one tonne straight up or down at the tip. The bending "
    "moment is the force times the athwartships way to the tip; between the bearings it falls to nothing at the "
    "upper one.",
)


def boat_page(dataset):
    """boat.html, as text."""
    sections = [
        {"id": "answer", "head": "The answer", "blocks": answer_blocks(dataset)},
        {"id": "drawing", "head": "The boat as described", "blocks": drawing_blocks(dataset)},
        {"id": "balance", "head": "Trim and balance", "blocks": balance_blocks(dataset)},
        {"id": "righting", "head": "Righting", "blocks": righting_blocks(dataset)},
        {"id": "drag", "head": "Drag and speed", "blocks": drag_blocks(dataset)},
        {"id": "motions", "head": "Natural motions", "blocks": motion_blocks(dataset)},
        {"id": "foil", "head": "The foil", "blocks": foil_blocks(dataset)},
        {"id": "gauges", "head": "Gauges", "blocks": gauge_blocks(dataset)},
        {"id": "method", "head": "Method", "blocks": [text(part) for part in METHOD]},
        {"id": "inputs", "head": "Inputs", "blocks": input_blocks(dataset)},
    ]
    name = line(attribute(dataset, "boat"), 80)
    return render_page(
        title=f"{name}: the boat by herself",
        heading=name,
        subtitle=f"The boat file by itself, {line(attribute(dataset, 'foil'))} foil working; "
        f"{read.setting_words(dataset)}; racing speed {read.racing_knots(dataset):.3g} kn.",
        sections=sections,
        cautions=[line(caution) for caution in attribute(dataset, "cautions").splitlines()],
    )


def text(words_, kind=""):
    """A paragraph."""
    return {"what": "text", "text": words_, "kind": kind}


def figure(drawn, name, said, caption):
    """A figure block; `said` is what a screen reader says."""
    return {"what": "figure", "svg": trusted(inline_svg(drawn, name, said)), "caption": caption}


def table(caption, heads, rows, *, plain=False):
    """A table block."""
    return {"what": "table", "plain": plain, "caption": caption, "heads": heads, "rows": rows}


def answer_blocks(dataset):
    """Sentences, tiles, and what to mend, to look at, to know."""
    blocks = [
        {"what": "lead", "text": words.answer_sentences(dataset)},
        {"what": "tiles", "tiles": words.tiles(dataset)},
    ]
    for level, rows in read.findings(dataset).items():
        if rows:
            blocks.append({"what": "subhead", "text": read.LEVELS[level]})
            blocks.append({"what": "bullets", "items_": [read.finding_words(row) for row in rows[:MOST_ROWS]]})
    return [*blocks, text(limit_words(attribute(dataset, "limit_basis")), "note")]


def drawing_blocks(dataset):
    """The drawing."""
    pick = lambda name: dataset[name].values  # noqa: E731
    names = read.extensions(dataset)
    lateral, height = pick("foil_edge_lateral"), pick("foil_edge_height")
    edges = pick("place_material")[-1, 0] + np.linspace(0.0, 1.0, lateral.shape[1]) * (
        pick("material")[-1] - pick("place_material")[-1, 0]
    )
    stations = [
        (n, float(np.interp(s, edges, lateral[-1])), float(np.interp(s, edges, height[-1])))
        for n, s in zip(read.stations(dataset), pick("place_material")[-1, 1:], strict=True)
    ]
    k, speeds = read.reference(dataset), read.speeds(dataset)
    heave = read.curve(dataset, "calm_heave")[k]
    slow = int(np.argmax(np.isfinite(heave)))
    waters = [
        (f"water at {speeds[slow]:.2g} kn", -float(heave[slow])),
        (f"at {read.racing_knots(dataset):.3g} kn", -float(read.at_racing(dataset, "calm_heave")[k])),
    ]
    ends = (pick(f"fin_{end}") for end in ("root_place", "root_height", "tip_height"))
    drawn = Drawn(
        section=(pick("section_lateral"), pick("section_height")),
        foils=[(name, lateral[i], height[i]) for i, name in enumerate(names)],
        keel=(pick("keel_lateral"), pick("keel_height")),
        rudder=(pick("rudder_lateral"), pick("rudder_height")),
        stations=stations,
        waters=[water for water in waters if np.isfinite(water[1])],
        place=pick("profile_place"),
        keel_line=pick("profile_keel"),
        deck=pick("profile_deck"),
        fins=[(name, float(x), float(root), float(tip)) for name, x, root, tip in zip(FINS, *ends, strict=True)],
        afloat=number(dataset, "draught_at_rest"),
        gravity=(number(dataset, "gravity_from_transom"), number(dataset, "gravity_height")),
        buoyancy=number(dataset, "buoyancy_at_rest"),
    )
    caption = (
        "Drawn from the file's numbers, to scale: does it look like the boat? Above: fullest section, keel with its "
        "bulb, rudder, foil at every extension with its gauges (squares, foil all out), at "
        f"{read.setting_words(dataset)}; lines of water as she sails with {names[k]} out. Red cross: centre of "
        "gravity."
    )
    said = "Front and side view of the boat as her file describes her."
    return [figure(boat_figure(drawn), "drawing", said, caption)]


def balance_blocks(dataset):
    """Curves over speed, and what does not balance."""
    speed, names = read.speeds(dataset), read.extensions(dataset)
    curve = lambda name, unit=1.0: read.curve(dataset, name, unit)  # noqa: E731
    panels = [
        ("pitch", "° bow up", curve("calm_pitch", DEGREE), draw.USUAL_TRIM),
        ("centre of gravity above water", "[m]", curve("calm_heave"), None),
        ("lift of the foil", "% of the weight", curve("foil_lift_share", PERCENT), None),
        ("carried by the hull", "% of the weight", curve("hull_lift_share", PERCENT), None),
        ("leeway", "°", curve("leeway", DEGREE), None),
        ("rudder", "°, turns the bow to leeward", curve("rudder", DEGREE), None),
    ]
    good = np.asarray(dataset["balanced"].values) > 0
    drawn = draw.balance_figure(speed, panels, names, good=good, racing=read.racing_knots(dataset))
    caption = (
        f"Calm water at {read.setting_words(dataset)}, one line for each extension. Grey band: usual trim, 0 to 2° "
        f"bow up. {DASHED}{LOST}. Keel fin, rudder and the sails' downward pull carry what foil and hull do not."
    )
    blocks = [figure(drawn, "balance", "Pitch, heave, lift shares and righting moment over speed.", caption)]
    reasons = sorted({str(text_) for text_ in dataset["balance_reason"].values.ravel()} - {""})
    if reasons:
        blocks.append(text(f"Where it does not balance: {'; '.join(line(reason) for reason in reasons)}.", "mark"))
    heads = tuple(f"{top} [{unit}]" if unit else top for top, unit in words.EXTENSION_HEADS)
    caption = f"By extension at {read.racing_knots(dataset):.3g} kn"
    return [*blocks, table(caption, heads, words.extension_rows(dataset))]


def righting_blocks(dataset):
    """Both righting curves, and how she floats."""
    at = lambda name, unit=1e3: read.curve(dataset, name, unit)  # noqa: E731
    rest = {"heel": at("heel_at_rest", DEGREE), "whole": at("righting_at_rest"), "hull": at("righting_at_rest_hull")}
    sailed = {part: at(f"righting_sailed_{part}") for part in ("hull", "keel", "foil", "fins")}
    sailed.update(heel=at("heel_sailed", DEGREE), whole=at("righting_sailed"))
    heel, vanishing = number(dataset, "heel") / DEGREE, number(dataset, "vanishing_heel") / DEGREE
    knots = read.racing_knots(dataset)
    drawn = draw.righting_figure(rest, sailed, heel=heel, knots=knots, vanishing=vanishing)
    out = read.extensions(dataset)[read.reference(dataset)]
    caption = (
        "Keel canted as stated; dashed upright line: the stated heel. Left: hull and keel at rest, to where the hull "
        f"goes under or 120°. Right: at {knots:.3g} kn with {out} of the foil out; the hull carries less there, and "
        "rights less. Moments about the centre of gravity, + rights the boat."
    )
    return [
        figure(drawn, "righting", "Righting moment over heel, at rest and at the racing speed.", caption),
        table("At rest", (), words.at_rest_rows(dataset), plain=True),
    ]


def drag_blocks(dataset):
    """Drag by part with the thrust line, and attainable speeds."""
    speed, names, k = read.speeds(dataset), read.extensions(dataset), read.reference(dataset)
    parts = {name: read.curve(dataset, name, 1e3)[k] for name, _, _ in draw.DRAG_PARTS}
    given, needed = (read.curve(dataset, f"thrust_{name}", 1e3) for name in ("given", "needed"))
    best = read.attainable_knots(dataset)
    drawn = draw.drag_figure(speed, parts, given, needed, names, reference=k, attainable=best)
    said = ", ".join(f"{name} out {words.knots_words(value)}" for name, value in zip(names, best, strict=True))
    caption = (
        f"Drag in calm water and the thrust of the sails in the reference wind ({read.wind_words(dataset)}), orange "
        f"lines. Dots: attainable speeds, {said}. Fastest is not best: waves are not in it."
    )
    return [figure(drawn, "drag", "Drag by part and thrust over speed.", caption)]


def motion_blocks(dataset):
    """Periods and damping at two speeds."""
    slow, fast = read.curve(dataset, "motion_speed") / read.KNOT
    heads = ("Natural motion", f"at {slow:.2g} kn", f"at {fast:.3g} kn")
    note = (
        "Undamped period and damping over the critical one; from 100 % on she creeps back without a swing. Alone: the "
        "other freedoms held. At speed foil, fin and rudder damp so much that the three hardly swing, and pull on each "
        "other; the last rows tell all of them together."
    )
    return [table("Small motions about the calm trim", heads, read.motion_rows(dataset)), text(note, "note")]


def foil_blocks(dataset):
    """Calm load, limits along the material, frequencies."""
    speed, names = read.speeds(dataset), read.extensions(dataset)
    good = np.asarray(dataset["balanced"].values) > 0
    high, low = read.worst_load(dataset)
    demand = read.curve(dataset, "ventilation_demand", PERCENT)
    load = draw.load_figure(speed, high, low, demand, names, good=good, racing=read.racing_knots(dataset))
    at = lambda name, unit=1.0: read.curve(dataset, name, unit)  # noqa: E731
    bearings = dict(zip(names, at("place_material")[:, 0], strict=True))
    limits = draw.limits_figure(
        at("material"), at("grid_normal_limit", 1e3), at("grid_reverse_limit", 1e3), at("chord", 1e-3),
        at("thickness", 1e-3), at("bending_stiffness", 1e6), stations=at("place_material")[0, 1:], bearings=bearings,
    )  # fmt: skip
    heads = ("Place", "material [m]", "chord [mm]", "thickness [mm]", "EI [kN m²]", "normal limit [kN m]",
             "reverse [kN m]")  # fmt: skip
    return [
        figure(load, "load", "Calm-water load of the foil and demanded lift over speed.",
               "Left: bending moment in calm water at bearing or station, whichever is nearest its limit; below zero "
               "the wrong way round, over the reverse limit. Right: lift that the worst wet strip is asked for; from "
               "100 % on "
               f"it ventilates or stalls without a wave. {DASHED}{LOST}."),
        figure(limits, "limits", "Moment limits, chord, thickness and stiffness along the foil.",
               "Along the material from the root: limits of the bending moment both ways from strain limit and "
               "section, "
               "section, stiffness. Squares: strain stations. Dashed: material at the bearing at each extension."),
        table("Sections and limits", heads, words.station_rows(dataset)),
    ]  # fmt: skip


def gauge_blocks(dataset):
    """What the gauges should read in the shed."""
    heads, rows, unit = words.gauge_table(dataset)
    note = (
        "Hang or hoist a known weight at the tip and compare: a wrong sign is a gauge on the wrong face or a swapped "
        "cable, a wrong size a wrong section or stiffness in the file. Own weight is what the display shows with its "
        "zero taken as the file says."
    )
    return [table(f"Display for 1 t at the tip, boat upright, foil dry [{unit}]", heads, rows), text(note)]


def default_table(used):
    """Defaults by table of the file."""
    rows = {}
    for each in used:
        name, _, value = each.partition(" = ")
        table_name, _, key = name.rpartition(".")
        rows.setdefault(table_name or "boat", []).append(f"{key} = {value}")
    return table("By table of the file", (), [(name, ", ".join(keys)) for name, keys in rows.items()], plain=True)


def input_blocks(dataset):
    """Defaults, assumptions, how it was made, the file as written."""
    used = read.defaults(dataset)
    made = (
        ("Command", line(attribute(dataset, "command"))),
        ("Versions", ", ".join(versions(dataset))),
        ("Sources", line(attribute(dataset, "source_fingerprint"))),
    )
    written = json.dumps(scenario(dataset), indent=1, ensure_ascii=False, sort_keys=True)
    return [
        {"what": "subhead", "text": f"Defaults used ({len(used)})"},
        default_table(used) if used else text("None: every key is written."),
        {"what": "subhead", "text": "Assumed"},
        {"what": "bullets", "items_": [line(note) for note in attribute(dataset, "notes").splitlines() if note]},
        table("How this page was made", (), made, plain=True),
        {"what": "code", "summary": "Boat as it was written", "text": shortened(written)},
    ]

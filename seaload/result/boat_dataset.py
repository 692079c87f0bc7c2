"""The Dataset of a boat file looked at by itself: its numbers, what was found, which defaults stand in."""

from seaload.basis.cautions import CAUTIONS
from seaload.result.assemble_dataset import finished
from seaload.result.birth_record import made_by, plain_json

NOTES = (
    "calm water, no current; the boat sails straight at a given heel",
    "at rest lift, and the volumes of fins, bulb and foil, are left out; deck houses and mast give no buoyancy",
    "thrust follows righting moment in the wind that the file states its thrust for",
)


def boat_dataset(question, parts, found):
    """The result of a boat file as an xarray Dataset.

    question : what was asked, with path, name, spec, boat, side, foil and defaults. parts : {name: (dims, values)}.
    found : rows (level, about, words, mend) of what should be looked at.
    """
    return finished(parts, boat_birth(question, found))


def boat_birth(question, found):
    """Attributes of the result, text only."""
    return {
        **made_by(),
        "title": f"{question.name}: the boat by herself",
        "summary": "One boat file by itself, in calm water: trim and balance, righting, drag, natural motions, what "
        "the foil's gauges read and where its limits lie.",
        "study": question.name,
        "boat": question.name,
        "foil": question.side,
        "kind": "boat",
        "scenario": plain_json({"boat": question.boat.raw}),
        "findings": plain_json([row._asdict() for row in found]),
        "defaults_used": "\n".join(question.defaults),
        "command": f"seaload boat {question.path.name}",
        "limit_basis": question.foil.limit_basis or "not said",
        "cautions": "\n".join(CAUTIONS),
        "notes": "\n".join(NOTES),
    }

"""What a result says about its own making: inputs, seed, versions, sources, cautions. No clock time, no
folders.
"""

import json
import math
import platform
from importlib.metadata import version
from pathlib import Path

from seaload import __version__
from seaload.basis.cautions import CAUTIONS, NOT_MODELLED
from seaload.basis.machine_code import source_fingerprint

LIBRARIES = ("numpy", "scipy", "numba", "xarray", "netCDF4")


def plain_json(tree):
    """JSON text of a tree with sorted keys; numbers that JSON cannot hold become null."""

    def clean(value):
        if isinstance(value, dict):
            return {str(key): clean(inner) for key, inner in value.items()}
        if isinstance(value, list | tuple):
            return [clean(inner) for inner in value]
        if isinstance(value, float) and not math.isfinite(value):
            return None
        return value if isinstance(value, str | int | float | bool) or value is None else str(value)

    return json.dumps(clean(tree), sort_keys=True, allow_nan=False)


def command_line(verb, study):
    """The command that makes this result again, without folders."""
    return f"seaload {verb} {Path(study.path).name} --seed {study.sampling.seed}"


def made_by():
    """Attributes that tell which program made a result."""
    versions = {"seaload": __version__, "python": platform.python_version()}
    versions.update({name: version(name) for name in LIBRARIES})
    return {
        "Conventions": "CF-1.11, ACDD-1.3",
        "keywords": "hydrofoil, ocean waves, bending moment, load cycles, reverse load",
        "versions": plain_json(versions),
        "source_fingerprint": source_fingerprint(),
    }


def birth_record(study, verb, missing=()):
    """Attributes of a whole result, text only. missing : what the result lacks, in plain words."""
    return {
        **made_by(),
        "title": f"{study.name}: waves and the load of a foil",
        "summary": "How often and how hard the waves of given seas load a racing boat's foil, simulated: rates, odds "
        "and wear with their intervals, by setting and sea.",
        "study": study.name,
        "boat": study.boat_name,
        "foil": study.foil_side,
        "kind": verb,
        "scenario": plain_json({"study": study.raw, "boat": study.boat.raw}),
        "model": plain_json(study.model),
        "seed": str(study.sampling.seed),
        "command": command_line(verb, study),
        "limit_basis": study.boat.foils[study.foil_side].limit_basis or "not said",
        "cautions": "\n".join(CAUTIONS),
        "not_modelled": NOT_MODELLED,
        "notes": "\n".join(
            [
                *(f"{sea.name}: {note}" for sea in study.seas for note in sea.notes),
                *study.notes,
                *(f"missing: {what}" for what in missing),
            ]
        ),
        "defaults_used": "\n".join(study.defaults_used),
        "interval": "90 % two-sided; the bound at the decision end is then a one-sided 95 % bound",
    }

"""The one JSON object that a command prints for other programs."""

import json
import math

from seaload import __version__
from seaload.basis.cautions import CAUTIONS


def summary(command, outcome, answers, *, missing, exit_code, wall_s):
    """The object as a dictionary; `outcome` is what the studies floor hands back after a run or a sweep.

    Its attributes: result_path, done, reused, failed (names of cases with their reason), real_time_factor [-],
    compile_s [s]. answers : {"settings": a tree for each setting and sea, "seas": one for each sea}. missing : what
    only illustrates and could not be made.
    """
    failed = list(outcome.failed)
    return {
        "command": command,
        "version": __version__,
        "result": str(outcome.result_path),
        "exit": exit_code,
        "cautions": list(CAUTIONS),
        "cases": {"done": outcome.done, "reused": outcome.reused, "failed": len(failed)},
        "failed": failed,
        "missing": list(missing),
        **answers,
        "real_time_factor": outcome.real_time_factor,
        "wall_s": round(wall_s, 3),
        "compile_s": outcome.compile_s,
    }


def as_json(tree):
    """One line of JSON without NaN or infinity: these become null."""
    return json.dumps(without_gaps(tree), allow_nan=False)


def without_gaps(tree):
    """The tree with every number that JSON cannot hold in place of None, and numpy numbers as plain ones."""
    if isinstance(tree, dict):
        return {str(key): without_gaps(value) for key, value in tree.items()}
    if isinstance(tree, list | tuple):
        return [without_gaps(value) for value in tree]
    if hasattr(tree, "tolist"):
        return without_gaps(tree.tolist())
    if isinstance(tree, float) and not math.isfinite(tree):
        return None
    return tree

"""`seaload cycles`: the rainflow cycles of any load history."""

import json
import sys
from pathlib import Path

LARGEST_SHOWN = 12
SLOPE = 10.0
DAMAGE_RULE = (
    "range only: 10^6 cycles of range 1, in the file's own unit, make damage 1, with S-N slope 10 "
    "(so a file in shares of the normal limit gives wear against 0 -> 100 %)"
)


def cycles_command(path: Path, json_output: bool) -> int:
    """Print the cycles of the load history in `path`; returns the exit code. InputError for bad input."""
    result = count_file(path)
    if json_output:
        json.dump(result, sys.stdout, allow_nan=False)
        sys.stdout.write("\n")
        return 0
    print_table(path, result)
    return 0


def count_file(path):
    """The JSON object of the command: cycles in the order they were counted, residue rule, damage."""
    from seaload import __version__
    from seaload.basis.errors import InputError
    from seaload.fatigue.constant_life import REFERENCE_CYCLES
    from seaload.fatigue.cycle_list import list_cycles
    from seaload.fatigue.miner import miner_damage
    from seaload.fatigue.rainflow import RESIDUE_RULE
    from seaload.files.load_history import read_load_history

    _, loads = read_load_history(path)
    size = max(abs(float(loads.max())), abs(float(loads.min())))
    if size > 1e25:
        raise InputError(path, "largest load", size, "use a unit that keeps loads below 1e25")
    ranges, means, counts, _, _ = list_cycles(loads)
    cycles = [
        {"range": r, "mean": m, "count": n}
        for r, m, n in zip(ranges.tolist(), means.tolist(), counts.tolist(), strict=True)
    ]
    return {
        "command": "cycles",
        "version": __version__,
        "cycles": cycles,
        "residue_rule": RESIDUE_RULE,
        "damage": miner_damage(ranges, counts, SLOPE, REFERENCE_CYCLES),
        "damage_rule": DAMAGE_RULE,
        "values": len(loads),
        "exit": 0,
        "cautions": [],
    }


def print_table(path, result):
    """Plain table: the largest cycles first, then sums and rules."""
    ordered = sorted(result["cycles"], key=lambda cycle: -cycle["range"])
    print(f"{path}: {result['values']} values, {sum(c['count'] for c in ordered):g} cycles")
    print(f"{'range':>14} {'mean':>14} {'count':>6}")
    for cycle in ordered[:LARGEST_SHOWN]:
        print(f"{cycle['range']:14.6g} {cycle['mean']:14.6g} {cycle['count']:6g}")
    if len(ordered) > LARGEST_SHOWN:
        print(f"... and {len(ordered) - LARGEST_SHOWN} smaller ones (--json lists them all)")
    print(f"damage {result['damage']:.6g}; {result['damage_rule']}")
    print(f"residue: {result['residue_rule']}")

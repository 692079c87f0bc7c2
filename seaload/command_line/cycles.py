"""`seaload cycles`: the rainflow cycles of any load history."""

import json
import sys
import tempfile
from pathlib import Path

from seaload.command_line.damage_rule import DamageRule

LARGEST_SHOWN = 12
LISTED_AT_ONCE = 24 * 65_536  # [bytes] of cycles, three numbers each


def cycles_command(path: Path, json_output: bool, rule: DamageRule | None = None) -> int:
    """Print the cycles of the load history in `path`; returns the exit code. InputError for bad input."""
    from seaload.fatigue.rainflow import RESIDUE_RULE

    with tempfile.TemporaryFile() as listed:  # stdout stays empty until the whole file is known to be good
        found = Found(listed if json_output else None, rule or DamageRule())
        count_file(path, found)
        if json_output:
            print_json(found, listed)
            return 0
    print(f"{path}: {found.values} values, {found.count:g} cycles")
    print(f"{'range':>14} {'mean':>14} {'count':>6}")
    for size, mean, count in found.largest:
        print(f"{size:14.6g} {mean:14.6g} {count:6g}")
    if found.number > LARGEST_SHOWN:
        print(f"... and {found.number - LARGEST_SHOWN} smaller ones (--json lists them all)")
    print(f"damage {found.damage:.6g}; {found.rule.said()}")
    print(f"residue: {RESIDUE_RULE}")
    return 0


class Found:
    """What has been counted so far: sums and the largest cycles; every cycle goes to the file `listed`, if given."""

    def __init__(self, listed, rule):
        self.listed, self.rule = listed, rule
        self.values = self.number = 0
        self.count = self.damage = 0.0
        self.largest = []  # of (range, mean, count), the largest first

    def add(self, cycles):
        """Cycles as (range, mean, count), (k,) each."""
        import numpy as np

        ranges, _, counts = cycles
        self.number += len(ranges)
        self.count += float(counts.sum())
        self.damage += self.rule.of(*cycles)
        rows = np.column_stack(cycles)
        first = np.argsort(-ranges, kind="stable")[:LARGEST_SHOWN]
        self.largest = sorted([*self.largest, *map(tuple, rows[first].tolist())], key=lambda row: -row[0])
        del self.largest[LARGEST_SHOWN:]
        if self.listed is not None:
            self.listed.write(rows.tobytes())


def count_file(path, found):
    """Count the cycles of the load history in `path` into `found`, whatever its length."""
    from seaload.basis.errors import InputError
    from seaload.fatigue.streamed_cycles import StreamedCycles
    from seaload.files.load_history import load_pieces

    counter = StreamedCycles()
    for loads in load_pieces(path):
        size = max(abs(float(loads.max())), abs(float(loads.min())))
        if size > 1e25:
            raise InputError(path, "largest load", size, "use a unit that keeps loads below 1e25")
        found.values += len(loads)
        found.add(counter.add(loads))
    found.add(counter.finish())


def print_json(found, listed):
    """One JSON object, its cycles in the order they were counted, read back from the file `listed`."""
    import numpy as np

    from seaload import __version__
    from seaload.fatigue.rainflow import RESIDUE_RULE

    rest = {
        "residue_rule": RESIDUE_RULE,
        "damage": found.damage,
        "damage_rule": found.rule.said(),
        "values": found.values,
        "exit": 0,
        "cautions": [],
    }
    out, mark = sys.stdout, ""
    out.write(json.dumps({"command": "cycles", "version": __version__})[:-1] + ', "cycles": [')
    listed.seek(0)
    while block := listed.read(LISTED_AT_ONCE):
        for size, mean, count in np.frombuffer(block).reshape(-1, 3).tolist():
            out.write(f'{mark}{{"range": {size!r}, "mean": {mean!r}, "count": {count!r}}}')
            mark = ", "
    out.write("], " + json.dumps(rest, allow_nan=False)[1:] + "\n")

"""Wave-field rows: the march's waves along a surging path against the direct sum, as the test of it does."""

import sys

from seaload.simulation import block
from tests.benchmarks.first_study import ROOT
from tests.benchmarks.measuring import row


def wave_field_rows():
    """Worst error over rms of each kind, at half and full extension, 3 h and 100 h into the sea."""
    sys.path.insert(0, str(ROOT / "tests" / "simulation"))
    import test_wave_field as truth

    made = truth.ready_arrays()
    rows = []
    for hours in (3.0, 100.0):
        errors = truth.follow(made, block.ANCHOR_STEPS, hours * truth.HOUR, (0, 1, 14, 15), read_every=13)
        for kind, goal in truth.BOUNDS.items():
            if kind.startswith("fin"):
                continue
            name = f"waves against the direct sum, {hours:.0f} h, surge +-40 %, {kind}"
            rows.append(row(name, errors[kind], 1.0, goal, "<=", ratio=errors[kind]))
    return rows

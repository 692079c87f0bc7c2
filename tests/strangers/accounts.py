"""What became of many tries: accepted, refused in one line, or a fault with the way to repeat it."""

import time
import traceback
from collections import Counter

from seaload.basis.errors import InputError

LONGEST = 5.0  # [s] of processor time of one try: more is called a hang


class Account:
    """Counts of the tries made with one seed."""

    def __init__(self, seed, longest=LONGEST):
        self.longest, self.seed, self.tries, self.accepted, self.slowest = longest, seed, 0, 0, 0.0
        self.faults, self.refusals = [], Counter()

    def attempt(self, work):
        """What `work()` gives, or None when it was refused or at fault."""
        self.tries += 1
        began = time.process_time()
        found = None
        try:
            found = work()
            self.accepted += 1
        except InputError as error:
            line = str(error)
            self.refusals[error.allowed[:40]] += 1
            if "\n" in line or len(line) > 2000 or not line.isprintable() or error.exit_code != 2:
                self.faults.append(f"try {self.tries}: not one plain line: {line!r}")
        except Exception:
            self.faults.append(f"try {self.tries}: {traceback.format_exc()}")
        took = time.process_time() - began
        self.slowest = max(self.slowest, took)
        if took > self.longest:
            self.faults.append(f"try {self.tries}: took {took:.1f} s")
        return found

    def judge(self, most_accepted=1.0):
        """AssertionError with seed and number of the first tries at fault; the counts are printed."""
        print(
            f"seed {self.seed}: {self.tries} tries, {self.accepted} accepted, {len(self.faults)} faults, "
            f"slowest {self.slowest:.2f} s of processor"
        )
        assert not self.faults, f"seed {self.seed}, {len(self.faults)} faults:\n" + "\n".join(self.faults[:5])
        assert 0 < self.accepted <= most_accepted * self.tries, f"seed {self.seed}: {self.accepted} of {self.tries}"

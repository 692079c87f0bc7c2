"""How good every channel was, minute by minute: flags counted in spans of time that grow when the log is long."""

import numpy as np

from seaload.files.log.log_chunk import FLAG_MEANINGS

FLAGS = tuple(FLAG_MEANINGS)
FIRST_SPAN = 60.0  # [s]
MOST_SPANS = 2000


class QualityRibbon:
    """Samples of every channel and flag in each span of time; spans without samples are not kept."""

    def __init__(self):
        self.span = FIRST_SPAN
        self.rows = {}  # {number of the span: {channel: (FLAGS,) samples}}

    def add(self, times, flags):
        """Count the flags {channel: (n,) uint8} of samples at `times` (n,) [s]."""
        span = np.floor(times / self.span).astype(np.int64)
        edges = [0, *(np.flatnonzero(np.diff(span)) + 1), len(times)]
        for first, last in zip(edges, edges[1:], strict=False):
            row = self.rows.setdefault(int(span[first]), {})
            for channel, values in flags.items():
                counts = np.bincount(values[first:last], minlength=FLAGS[-1] + 1)[list(FLAGS)]
                row[channel] = row[channel] + counts if channel in row else counts
        while len(self.rows) > MOST_SPANS:
            self.widen()

    def widen(self):
        """Make every span twice as long."""
        self.span *= 2.0
        before, self.rows = self.rows, {}
        for number, row in before.items():
            wide = self.rows.setdefault(number // 2, {})
            for channel, counts in row.items():
                wide[channel] = wide[channel] + counts if channel in wide else counts

    def table(self, channels):
        """(start of every span [s] (k,), samples (k, channels, FLAGS) int64), in the order of time."""
        numbers = sorted(self.rows)
        none = np.zeros(len(FLAGS), dtype=np.int64)
        rows = [[self.rows[n].get(channel, none) for channel in channels] for n in numbers]
        shape = (len(numbers), len(channels), len(FLAGS))
        return self.span * np.array(numbers, dtype=float), np.array(rows, dtype=np.int64).reshape(shape)

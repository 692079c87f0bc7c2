"""Values that are remembered by a key, the newest used, so many at most."""

import threading
from collections import OrderedDict


class Newest:
    """The `most` values used last, by key; threads may ask at once."""

    def __init__(self, most):
        self._most, self._values, self._lock = most, OrderedDict(), threading.Lock()

    def get(self, key):
        """The value of a key, or None."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def put(self, key, value):
        """Keep a value, and drop the one that nobody has asked for the longest when there are too many."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            while len(self._values) > self._most:
                self._values.popitem(last=False)

    def __len__(self):
        return len(self._values)

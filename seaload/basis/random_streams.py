"""Random streams that depend on what they are for, never on the order in which they are asked for."""

import hashlib

import numpy as np


def random_stream(seed, sea_name, realisation, purpose):
    """Generator keyed by (seed, sea, realisation, purpose).

    The setting, heading and speed are left out on purpose: all settings meet the same waves, so
    that a difference between two settings is not noise. `seed` and `realisation` are whole numbers
    >= 0, `sea_name` and `purpose` are text.
    """
    sea_key = int.from_bytes(hashlib.sha256(sea_name.encode()).digest()[:8], "big")
    purpose_key = int.from_bytes(hashlib.sha256(purpose.encode()).digest()[:8], "big")
    sequence = np.random.SeedSequence(
        entropy=seed, spawn_key=(sea_key, int(realisation), purpose_key)
    )
    return np.random.Generator(np.random.PCG64(sequence))

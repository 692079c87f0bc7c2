"""Hash of a value so that different values have different hashes: floats exact, arrays by their bytes."""

import hashlib
from dataclasses import fields, is_dataclass

import numpy as np


def feed(digest, value):
    """Add a value to a hash so that different values give different bytes."""
    if is_dataclass(value):
        feed(digest, {entry.name: getattr(value, entry.name) for entry in fields(value)})
    elif isinstance(value, dict):
        digest.update(b"{")
        for key in sorted(value):
            feed(digest, key)
            feed(digest, value[key])
        digest.update(b"}")
    elif isinstance(value, list | tuple):
        digest.update(f"[{len(value)}".encode())
        for inner in value:
            feed(digest, inner)
    elif isinstance(value, np.ndarray):
        array = np.ascontiguousarray(value, dtype="<f8")
        digest.update(f"a{array.shape}".encode() + array.tobytes())
    elif isinstance(value, bool | int | np.integer):
        digest.update(f"i{int(value)};".encode())
    elif isinstance(value, float | np.floating):
        digest.update(f"f{float(value).hex()};".encode())
    elif isinstance(value, str):
        digest.update(f"s{len(value)}:{value}".encode())
    elif value is None:
        digest.update(b"n")
    else:
        raise TypeError(f"cannot hash a {type(value).__name__}")


def hash_of(value):
    """Hash of a value, 32 hexadecimal digits."""
    digest = hashlib.sha256()
    feed(digest, value)
    return digest.hexdigest()[:32]


def without(record, aside):
    """Fields of a record as a dictionary, without those that decide nothing."""
    return {entry.name: getattr(record, entry.name) for entry in fields(record) if entry.name not in aside}

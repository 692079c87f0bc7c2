"""A finished case as plain bytes and back: a JSON head with names and shapes, then the numbers. No
pickles.
"""

import json
import zlib
from dataclasses import fields
from struct import pack

import numpy as np

from seaload.basis.records import CaseRecord

DOUBLE, SINGLE, DOUBLE_NUMBER = "<f8", "<f4", "<d"  # of numbers as they are stored
NAMES = tuple(entry.name for entry in fields(CaseRecord) if entry.name != "series")
NUMBER = ("number", [[]])  # what a head says of a single number
WHOLE = ("status", "events_half", "events_full", "normal_events")  # stored as whole numbers


def record_to_bytes(record):
    """Packed bytes of a `CaseRecord`; kept series are left out."""
    head, body = {}, []
    for name in NAMES:
        value = getattr(record, name)
        if value is None:
            continue
        if isinstance(value, tuple):
            arrays = [np.ascontiguousarray(part, dtype=DOUBLE) for part in value]
            head[name] = ("tuple", [array.shape for array in arrays])
            body += [array.tobytes() for array in arrays]
        elif isinstance(value, np.ndarray):
            single = value.dtype == np.float32
            array = np.ascontiguousarray(value, dtype=SINGLE if single else DOUBLE)
            head[name] = ("single" if single else "array", [array.shape])
            body.append(array.tobytes())
        else:
            head[name] = NUMBER
            body.append(pack(DOUBLE_NUMBER, value))
    text = json.dumps(head).encode()
    return zlib.compress(len(text).to_bytes(4, "little") + text + b"".join(body), 1)


def record_from_bytes(packed):
    """The `CaseRecord` of packed bytes, bit for bit. ValueError when they are not what `record_to_bytes`
    writes.
    """
    try:
        raw = zlib.decompress(packed)
        end = 4 + int.from_bytes(raw[:4], "little")
        head = json.loads(raw[4:end])
        values = {}
        for name, (kind, shapes) in head.items():
            parts = []
            for shape in shapes:
                count = int(np.prod(shape, dtype=np.int64))
                stored, kept = (SINGLE, np.float32) if kind == "single" else (DOUBLE, float)
                parts.append(np.frombuffer(raw, stored, count, end).reshape(shape).astype(kept))
                end += np.dtype(stored).itemsize * count
            values[name] = (
                tuple(parts) if kind == "tuple" else float(parts[0]) if kind == "number" else parts[0]
            )
        if end != len(raw):
            raise ValueError("length")
        for name in WHOLE:
            values[name] = int(values[name])
        return CaseRecord(**values)
    except (zlib.error, KeyError, TypeError, ValueError, IndexError) as error:
        raise ValueError("not the bytes of a finished case") from error


def same_record(one, other):
    """Whether two records hold the same bits, kept series left out (not-a-number equals not-a-number)."""
    return record_to_bytes(one) == record_to_bytes(other)

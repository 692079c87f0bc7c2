"""A finished case as plain bytes and back: a JSON head with names and shapes, then the numbers. No
pickles.
"""

import json
import zlib
from dataclasses import fields

import numpy as np

from seaload.basis.records import CaseRecord

WHOLE = ("status", "events_half", "events_full", "normal_events")  # stored as whole numbers


def record_to_bytes(record):
    """Packed bytes of a `CaseRecord`; kept series are left out."""
    head, body = {}, []
    for entry in fields(CaseRecord):
        if entry.name == "series":
            continue
        value = getattr(record, entry.name)
        if value is None:
            continue
        parts = value if isinstance(value, tuple) else (value,)
        arrays = [np.ascontiguousarray(part, dtype="<f8") for part in parts]
        kind = "tuple" if isinstance(value, tuple) else "array" if isinstance(value, np.ndarray) else "number"
        head[entry.name] = [kind, [list(np.shape(part)) for part in parts]]
        body += [array.tobytes() for array in arrays]
    text = json.dumps(head, sort_keys=False).encode()
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
                parts.append(np.frombuffer(raw, "<f8", count, end).reshape(shape).astype(float))
                end += 8 * count
            values[name] = (
                tuple(parts) if kind == "tuple" else parts[0] if kind == "array" else float(parts[0])
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

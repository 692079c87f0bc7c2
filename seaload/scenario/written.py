"""Base of everything a person writes: strict, frozen, finite; and the few kinds of value it is made of."""

from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainValidator, model_validator

SLUG = r"^[a-z0-9-]{1,60}$"
LEAST_RISE = 0.001 - 1e-9  # [m]
MOST_NUMBERS = 2000  # in one list of a settings grid or of a curve


class Refused(ValueError):
    """One key of a table is wrong, found while looking at several keys together."""

    def __init__(self, key, value, allowed):
        self.key, self.value, self.allowed = key, value, allowed
        super().__init__(f"{key}: {allowed}")


class Written(BaseModel):
    """Parent of all specifications: unknown keys, text for numbers, and NaN are refused.

    A key that has retired is refused with what takes its place, `retired` {key: words}.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, strict=True)
    retired: ClassVar[dict] = {}

    @model_validator(mode="before")
    @classmethod
    def _no_retired_key(cls, tables):
        for key in tables if isinstance(tables, dict) else ():
            if key in cls.retired:
                raise Refused(key, tables[key], f"this key has retired: {cls.retired[key]}")
        return tables


def number(low, high, meaning):
    """Kind of a number from `low` to `high`, both allowed, with its meaning for the error line."""
    return Annotated[float, BeforeValidator(plain_number), Field(ge=low, le=high, description=meaning)]


def number_over(low, high, meaning):
    """Kind of a number above `low`, up to and including `high`, with its meaning for the error line."""
    return Annotated[float, BeforeValidator(plain_number), Field(gt=low, le=high, description=meaning)]


def plain_number(value: Any):
    """The value itself when it is a number of sensible size; a list gets a clear refusal."""
    if isinstance(value, list):
        raise ValueError("one number is needed here, not a list")
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > 10**15:
        raise ValueError("a number of sensible size is needed")
    return value


def grid(low, high, meaning, word=None):
    """Kind of a number from `low` to `high`, or a list of such numbers for a sweep.

    `meaning` is for the error line, `word` a text allowed in place of a number.
    """

    allowed = f"a number from {low:g} to {high:g}"
    if word:
        allowed += f', or "{word}"'
    allowed += f" ({meaning}), or a list of these for a sweep"

    def check(value: Any):
        entries = value if isinstance(value, list) else [value]
        if not entries:
            raise ValueError(f"the list is empty; allowed is {allowed}")
        if len(entries) > MOST_NUMBERS:
            raise ValueError(f"at most {MOST_NUMBERS} entries in a list")
        for entry in entries:
            if word and entry == word:
                continue
            usable = isinstance(entry, int | float) and not isinstance(entry, bool)
            if not usable or not low <= entry <= high:
                raise ValueError(f"allowed is {allowed}")
        if len({str(entry) for entry in entries}) != len(entries):
            raise ValueError("the same value stands twice in the list")
        return value

    return Annotated[Any, PlainValidator(check), Field(description=allowed)]


def as_list(value):
    """A grid value as a list, whether one number or many were written."""
    return list(value) if isinstance(value, list) else [value]


def rising(values, name):
    """Raise Refused, of the key `name`, unless the numbers `values` [m] rise by a millimetre or more."""
    if any(not b - a >= LEAST_RISE for a, b in zip(values, values[1:], strict=False)):
        raise Refused(name, values, "the numbers must rise from entry to entry, by a millimetre at least")


def same_length(reference, rows):
    """Raise Refused unless every named row is as long as the reference row; `rows` is {name: list}."""
    for name, row in rows.items():
        if len(row) != len(reference):
            wanted = f"{len(row)} entries, needed are {len(reference)}, one for each position"
            raise Refused(name, row, wanted)


def within(low, high, name, values):
    """Raise Refused, of the key `name`, unless every one of the numbers `values` lies from `low` to `high`."""
    for value in values:
        if not low <= value <= high:
            raise Refused(name, value, f"every number must lie from {low:g} to {high:g}")

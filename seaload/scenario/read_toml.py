"""Reads a TOML file into a specification; whatever is wrong becomes one line: file, field, value, allowed."""

import difflib
import re
import tomllib
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import annotated_types
from pydantic import BaseModel, ValidationError

from seaload.basis.errors import InputError
from seaload.scenario.text_file import file_text, shown
from seaload.scenario.written import Refused

LARGEST_FILE = 5_000_000  # [bytes] of something a person wrote
DECIMAL_COMMA = re.compile(r"^[^#\n]*=\s*[+-]?\d+,\d+\s*(#|$)", re.MULTILINE)
UNIT_WORDS = {
    "kn": "knots", "kt": "knots", "kts": "knots", "knot": "knots", "ms": "knots", "kmh": "knots",
    "pct": "percent", "perc": "percent", "degree": "deg", "degrees": "deg", "rad": "deg", "radians": "deg",
    "meter": "m", "metre": "m", "meters": "m", "metres": "m", "mm": "m", "cm": "m", "ft": "m", "feet": "m",
    "sec": "s", "secs": "s", "seconds": "s", "second": "s", "min": "minutes", "mins": "minutes",
    "h": "hours", "hr": "hours", "hrs": "hours", "hour": "hours", "kilo": "kg", "t": "kg", "tonnes": "kg",
    "lb": "kg", "pa": "gpa", "mpa": "gpa", "strain": "microstrain", "kn_force": "n",
}  # fmt: skip
NO_DIRECTION_WORD = (
    "this key does not say whether it is where the waves come from or go to; write waves_from_bow_deg, "
    "or waves_from_deg_true (or waves_to_deg_true) with heading_deg_true"
)


def read_tables(path):
    """The tables of the TOML file `path` as a dictionary; InputError when it cannot be read."""
    path, text = Path(path), ""
    try:
        text = file_text(path, largest=LARGEST_FILE)
        return tomllib.loads(text)
    except InputError as error:
        raise InputError(shown(path), error.field, shown(path.name), error.allowed) from None
    except (ValueError, RecursionError) as error:
        reason = "is nested too deeply" if isinstance(error, RecursionError) else str(error)
        if DECIMAL_COMMA.search(text):
            reason += "; numbers have a decimal point, not a comma"
        raise InputError(shown(path), "file", shown(path.name), f"cannot be read: {shown(reason)}") from None


def checked(model, tables, path):
    """The specification `model` made from `tables`; the first thing wrong becomes an InputError that names `path`."""
    try:
        return model.model_validate(tables)
    except ValidationError as error:
        raise first_error(model, error, path) from None


def first_error(model, error, path):
    """The InputError for what a person should mend first: unknown keys before what they leave missing.

    `model` is the specification that was not met, `error` pydantic's list of what is wrong, `path` names the file.
    """
    problems = error.errors(include_url=False)
    order = {"extra_forbidden": 0, "missing": 2}
    problem = min(problems, key=lambda one: order.get(one["type"], 1))
    steps, owner, field = followed(model, problem["loc"])
    value = problem["input"]
    refused = problem.get("ctx", {}).get("error")
    if isinstance(refused, Refused):
        return InputError(shown(path), dotted([*steps, refused.key]), refused.value, refused.allowed)
    if problem["type"] == "missing":
        return InputError(shown(path), dotted(steps), "missing", f"needed: {meaning(field) or 'this key'}")
    if isinstance(value, dict | BaseModel):
        value = "this table"
    elif isinstance(value, str):
        value = shown(value)
    return InputError(shown(path), dotted(steps), value, allowed(problem, owner, field, steps))


def allowed(problem, owner, field, steps):
    """What is allowed where this problem stands, in plain words.

    `problem` one entry of pydantic's list; `owner`, `field`, `steps` where it stands, as of `followed`.
    """
    kind = problem["type"]
    if kind == "extra_forbidden":
        return nearest_key(str(steps[-1]), owner)
    if kind == "value_error":
        return str(problem["ctx"]["error"])
    if kind == "string_pattern_mismatch" or kind.startswith("string_too"):
        return f"allowed is {meaning(field)}" if field else problem["msg"]
    if "[key]" in problem["loc"] and field is not None:
        return f"unknown name; allowed is {key_names(field)}"
    text = meaning(field) if field is not None else ""
    return f"allowed is {text}" if text else problem["msg"]


def nearest_key(key, owner):
    """Names the nearest known `key` of the specification `owner` (None: nothing is known), guesses at a wrong unit."""
    known = list(owner.model_fields) if owner is not None else []
    lower = key.lower()
    speaks_of_direction = "dir" in lower or lower in ("heading_deg", "waves_deg", "wave_deg", "mwd")
    if speaks_of_direction and "waves_from_bow_deg" in known:
        return NO_DIRECTION_WORD
    stem, _, unit = lower.rpartition("_")
    if stem and f"{stem}_{UNIT_WORDS.get(unit, '')}" in known:
        right = f"{stem}_{UNIT_WORDS[unit]}"
        return f"unknown key; did you mean {right}? (the value must be in {UNIT_WORDS[unit]})"
    same_stem = [name for name in known if name.rpartition("_")[0] == (stem or lower)]
    near = same_stem or difflib.get_close_matches(lower, known, n=1, cutoff=0.55)
    near = near or [name for name in known if name.startswith(lower + "_")]
    if near:
        return f"unknown key; did you mean {near[0]}?"
    if not known:
        return "unknown key"
    return f"unknown key; known here are {', '.join(known[:12])}{', ...' if len(known) > 12 else ''}"


def followed(model, location):
    """Steps a person sees, the specification that owns the last one, and its field (or None).

    `model` the specification of the whole file, `location` the keys and numbers that lead to one place in it.
    """
    steps, owner, field, kind = [], model, None, model
    for step in location:
        if step == "[key]":
            continue
        inside = fields_of(kind)
        if isinstance(step, int) and not isinstance(step, bool):
            steps.append(step)
            kind = member(kind)
        elif inside is not None:
            steps.append(step)
            owner, field = inside, inside.model_fields.get(step)
            kind = field.annotation if field is not None else None
        elif mapping(kind):
            steps.append(step)
            kind = get_args(mapping(kind))[1]
        elif kind is None:
            steps.append(step)
        # anything else names a branch of a union, which no person wrote
    return steps, owner, field


def branches(kind):
    """The kinds a kind may be, with notes and unions taken apart."""
    if get_origin(kind) is Annotated:
        return branches(get_args(kind)[0])
    if get_origin(kind) in (Union, UnionType):
        return [one for part in get_args(kind) for one in branches(part)]
    return [kind]


def fields_of(kind):
    """The specification among the branches of a kind, or None."""
    for one in branches(kind):
        if isinstance(one, type) and issubclass(one, BaseModel):
            return one
    return None


def mapping(kind):
    """The dictionary among the branches of a kind, or None."""
    return next((one for one in branches(kind) if get_origin(one) is dict), None)


def member(kind):
    """Kind of the members of the list among the branches of a kind, or None."""
    found = next((one for one in branches(kind) if get_origin(one) is list), None)
    return get_args(found)[0] if found else None


def key_names(field):
    """Names allowed as keys of a table of tables; `field` is pydantic's of that table."""
    names = get_args(get_args(mapping(field.annotation))[0]) if mapping(field.annotation) else ()
    return ", ".join(names) or "a short name"


def meaning(field):
    """What a field allows, from its own bounds and description: "a number from 0 to 100 (percent)"."""
    if field is None:
        return ""
    texts = [described(field.annotation, field.metadata, field.description)]
    return " or ".join(text for text in texts if text)


def described(kind, notes, description):
    """Words for one `kind` with the bounds among its `notes`; `description` says what it means, or None."""
    if get_origin(kind) is Annotated:
        base, *more = get_args(kind)
        note = next((one for one in more if getattr(one, "description", None)), None)
        inner = [n for one in more for n in getattr(one, "metadata", [one])]
        return described(base, [*notes, *inner], description or (note.description if note else None))
    if get_origin(kind) in (Union, UnionType):
        parts = [described(one, notes, description) for one in get_args(kind) if one is not type(None)]
        return " or ".join(dict.fromkeys(part for part in parts if part))
    if get_origin(kind) is Literal:
        return " or ".join(f'"{name}"' for name in get_args(kind))
    if kind in (float, int):
        text = ("a number" if kind is float else "a whole number") + bounds(notes)
        return f"{text} ({description})" if description else text
    if kind is Any or kind is str:
        return description or ("a text" if kind is str else "")
    if get_origin(kind) is list:
        return description or "a list of numbers"
    if get_origin(kind) is dict or (isinstance(kind, type) and issubclass(kind, BaseModel)):
        return description or "a table"
    return description or ""


def bounds(notes):
    """Words for the bounds among the notes of a field: " from 0 to 100"."""
    low = next((f" from {n.ge:g}" for n in notes if isinstance(n, annotated_types.Ge)), "")
    low = low or next((f" over {n.gt:g}" for n in notes if isinstance(n, annotated_types.Gt)), "")
    high = next((f" to {n.le:g}" for n in notes if isinstance(n, annotated_types.Le)), "")
    return low + high


def dotted(steps):
    """Dotted name of a field from its `steps`, keys and numbers; entries of lists count from 1."""
    text = ""
    for step in steps:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += ("." if text else "") + shown(step)
    return text or "file"

"""Every leaf of what a person writes, other values for it, and the names of all leaves that may be written."""

from copy import deepcopy
from typing import Literal, get_args, get_origin

from seaload.scenario.read_toml import branches, fields_of, followed, mapping, member

FACTORS = (1.05, 0.01, 0.7, 1.3, 0.5, 1.9, 0.3, 3.0, 0.95, -1.0)  # of a number, the first that acts is enough
STEPS = (1, -1, 8, -8)  # added to a whole number
FURTHER_OFF = (2.5, 31.0)  # added to any number, at the last


def leaves(tables, path=()):
    """Paths of all leaves of tables within tables; a list of numbers is one leaf."""
    for key, value in tables.items():
        here = (*path, key)
        if isinstance(value, dict):
            yield from leaves(value, here)
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for number, inner in enumerate(value):
                yield from leaves(inner, (*here, number))
        else:
            yield here


def value_at(tables, path):
    """The value at a path."""
    for step in path:
        tables = tables[step]
    return tables


def with_value(tables, path, value):
    """A copy of the tables with another value at a path."""
    copied = deepcopy(tables)
    value_at(copied, path[:-1])[path[-1]] = value
    return copied


def others(model, path, value, given):
    """Other values to try at a path of a specification; `given` {last step: values} go first."""
    yield from (other for other in given.get(path[-1], ()) if other != value)
    if isinstance(value, list):
        yield from other_lists(value)
    elif isinstance(value, str):
        yield from (text for text in choices(model, path) if text != value)
    else:
        if isinstance(value, int):
            yield from (value + step for step in STEPS)
        yield from (value * factor if value else factor - 1.0 for factor in FACTORS)
        yield from (value + more for more in FURTHER_OFF)


def other_lists(value):
    """The list with one number changed: in the middle, the last, the first; or with all changed."""
    for at in dict.fromkeys((len(value) // 2, len(value) - 1, 0)):
        for factor in (1.02, 0.98):
            other = list(value)
            other[at] = other[at] * factor if other[at] else factor - 1.0
            yield other
    yield [0.5 * number for number in value]


def choices(model, path):
    """Words that the specification allows at a path."""
    _, _, field = followed(model, path)
    kinds = branches(field.annotation) if field is not None else branches(kind_at(model, path))
    return [word for kind in kinds if get_origin(kind) is Literal for word in get_args(kind)]


def kind_at(model, path):
    """The kind that a specification gives a path."""
    kind = model
    for step in path:
        if isinstance(step, int):
            kind = member(kind)
        elif fields_of(kind) is not None and step in fields_of(kind).model_fields:
            kind = fields_of(kind).model_fields[step].annotation
        else:
            kind = get_args(mapping(kind))[1]
    return kind


def name_of(model, path):
    """A path as a name of the specification: numbers of lists left out, keys of free tables as a star."""
    kind, names = model, []
    for step in path:
        if isinstance(step, int):
            kind = member(kind)
        elif fields_of(kind) is not None and step in fields_of(kind).model_fields:
            kind = fields_of(kind).model_fields[step].annotation
            names.append(step)
        else:
            kind = get_args(mapping(kind))[1]
            names.append("*")
    return ".".join(names)


def all_names(model, before=()):
    """Names, as of `name_of`, of everything that a specification lets a person write."""
    for name, field in model.model_fields.items():
        here, kind = (*before, name), field.annotation
        inner = kind
        if any(get_origin(one) is list for one in branches(kind)) and fields_of(member(kind) or int) is not None:
            inner = member(kind)
        if mapping(kind) is not None:
            here, inner = (*here, "*"), get_args(mapping(kind))[1]
        if fields_of(inner) is not None:
            yield from all_names(fields_of(inner), here)
        else:
            yield ".".join(here)

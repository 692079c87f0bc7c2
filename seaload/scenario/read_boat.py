"""Reads a boat file with its speed table; a foil may be written as the twin of the other."""

from pathlib import Path

from seaload.basis.errors import InputError
from seaload.scenario.boat_spec import BoatSpec
from seaload.scenario.read_toml import checked, read_tables, shown
from seaload.scenario.speed_table import read_speed_table

TWIN = "same_as"
OWN = "id"  # a twin is another physical foil


def read_boat(path):
    """(specification, Boat record) of the boat file `path`; InputError when anything in it is wrong."""
    path = Path(path)
    tables = with_twins(read_tables(path), path)
    spec = checked(BoatSpec, tables, path)
    table = read_speed_table(path.parent / spec.speed_table) if spec.speed_table else None
    return spec, spec.si(raw=tables, speed_table=table)


def with_twins(tables, path):
    """The tables with `same_as = "port"` of one foil replaced by the other's keys.

    Keys written beside same_as go before those of the twin; its id stays its own. `path` names the file in an
    InputError.
    """
    foils = tables.get("foil")
    if not isinstance(foils, dict):
        return tables
    whole = {}
    for side, foil in foils.items():
        if not isinstance(foil, dict) or TWIN not in foil:
            whole[side] = foil
            continue
        twin = foil[TWIN]
        source = foils.get(twin) if isinstance(twin, str) and twin != side else None
        if not isinstance(source, dict) or TWIN in source:
            field = f"foil.{shown(side)}.{TWIN}"
            value = shown(twin) if isinstance(twin, str) else twin
            raise InputError(shown(path), field, value, "the other foil, written out in full")
        own = {key: value for key, value in foil.items() if key != TWIN}
        whole[side] = merged({key: value for key, value in source.items() if key != OWN}, own)
    return {**tables, "foil": whole}


def merged(source, own):
    """`source` with the keys of `own` in place of its own, tables within tables too."""
    result = dict(source)
    for key, value in own.items():
        inner = result.get(key)
        result[key] = merged(inner, value) if isinstance(inner, dict) and isinstance(value, dict) else value
    return result

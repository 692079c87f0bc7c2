"""Which keys a person left unsaid, and what then holds."""

from seaload.scenario.written import Written


def defaults_used(spec, name=""):
    """Lines "table.key = value" for every key that was not written, tables within tables too.

    `spec` a checked specification; `name` of its table, "" for the whole file. Optional tables that are missing as a
    whole, and names in a table of tables, are not keys of their own.
    """
    lines = []
    for key in type(spec).model_fields:
        value, dotted = getattr(spec, key), f"{name}.{key}" if name else key
        if isinstance(value, Written):
            lines += defaults_used(value, dotted)
        elif isinstance(value, dict):
            for entry, inner in value.items():
                lines += defaults_used(inner, f"{dotted}.{entry}") if isinstance(inner, Written) else []
        elif key not in spec.model_fields_set:
            lines.append(f"{dotted} = {'not given' if value is None else value}")
    return lines

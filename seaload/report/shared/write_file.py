"""Writing a page: whole or not at all."""


def written(path, text):
    """Writes a page whole or not at all; gives its path."""
    part = path.with_name(f".{path.name}.part")
    part.write_text(text, encoding="utf-8")
    part.replace(path)
    return path

"""Writing a page or a picture: whole or not at all."""

from seaload.basis.errors import CannotRun


def written(path, content):
    """Writes text, or bytes, whole or not at all; gives the path. CannotRun with its name when the disk refuses: an
    earlier file of the name then stays as it was.
    """
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        part.replace(path)
    except OSError as error:
        remove(part)
        reason = error.strerror or error
        raise CannotRun(f"{path}: cannot be written: {reason}; the result is kept, seaload report goes on") from None
    return path


def remove(part):
    """Takes away what was begun, where the disk lets it."""
    try:
        part.unlink(missing_ok=True)
    except OSError:
        pass

"""Text that a person or a program wrote, whatever its byte order mark and line ends; what is no text is refused."""

from pathlib import Path

from seaload.basis.errors import InputError

UTF8_MARK, UTF16_MARKS = b"\xef\xbb\xbf", (b"\xff\xfe", b"\xfe\xff")
PACKED = {  # first bytes of files that are no text: what to do
    b"\x1f\x8b": "is packed (gzip): unpack it first",
    b"PK": "is a packed file or a spreadsheet: unpack it, or save the sheet as CSV (UTF-8)",
    b"\xd0\xcf\x11\xe0": "is a spreadsheet or office file: save it as CSV (UTF-8)",
    b"%PDF": "is a PDF, not a text",
    b"GRIB": "is GRIB: turn it into netCDF first",
}
AS_UTF8 = "save it as plain text in UTF-8"
LARGEST_TEXT = 200_000_000  # [bytes]
PIECE = 500_000  # [characters]


def file_text(path, *, field="file", largest=LARGEST_TEXT):
    """The text of a file, lines ended by a newline alone.

    UTF-8 with or without its mark, or UTF-16 with its mark, as spreadsheets and editors write them. Raises InputError
    of the `field` for a missing, unreadable or packed file, one larger than `largest` [bytes], and what is no text.
    """
    path = Path(path)
    name, told = shown(path), shown(path.name)
    try:
        if not path.exists():
            raise InputError(name, field, told, "no such file")
        if not path.is_file():
            raise InputError(name, field, told, "is not a file")
        size = path.stat().st_size
        if size > largest:
            allowed = f"{size / 1e6:.0f} MB; at most {largest / 1e6:.0f} MB: keep what is needed"
            raise InputError(name, field, told, allowed)
        raw = path.read_bytes()
    except OSError as error:
        raise InputError(name, field, told, f"cannot be read: {error.strerror or error}") from None
    try:
        return text_of(raw)
    except ValueError as error:
        raise InputError(name, field, told, f"cannot be read: {error}") from None


def text_pieces(path, *, field="file", size=PIECE):
    """The text of a file of any length in pieces of whole lines, each ended by a newline alone; as `file_text` else.

    `size` [characters] of a piece, and the most that one line may have.
    """
    path, coding, rest = Path(path), "utf-8-sig", ""
    name, told = shown(path), shown(path.name)
    try:
        if not path.is_file():
            raise InputError(name, field, told, "is not a file" if path.exists() else "no such file")
        with path.open("rb") as stream:
            start = stream.read(8)
        coding = "utf-16" if unpacked(start).startswith(UTF16_MARKS) else "utf-8-sig"
        with path.open(encoding=coding) as stream:
            while text := stream.read(size):
                if "\0" in text:
                    raise ValueError(f"holds zero bytes: {AS_UTF8}")
                whole, mark, rest = (rest + text).rpartition("\n")
                if len(rest) > size:
                    raise InputError(name, field, told, f"a line is longer than {size} characters: is it a table?")
                if mark:
                    yield whole + mark
        if rest:
            yield rest
    except UnicodeError:
        kind = "UTF-16" if coding == "utf-16" else "UTF-8"
        raise InputError(name, field, told, f"cannot be read: is not {kind} text: {AS_UTF8}") from None
    except OSError as error:
        raise InputError(name, field, told, f"cannot be read: {error.strerror or error}") from None
    except InputError:
        raise
    except ValueError as error:
        raise InputError(name, field, told, f"cannot be read: {error}") from None


def unpacked(raw):
    """The first bytes of a file as they are; ValueError with the remedy when they are those of no text."""
    for start, remedy in PACKED.items():
        if raw.startswith(start):
            raise ValueError(remedy)
    return raw


def text_of(raw):
    """The text of some bytes, lines ended by a newline alone. ValueError with the remedy when they are no text."""
    coding = "utf-16" if unpacked(raw).startswith(UTF16_MARKS) else "utf-8-sig"
    try:
        text = raw.decode(coding)
    except UnicodeDecodeError:
        raise ValueError(f"is not {'UTF-16' if coding == 'utf-16' else 'UTF-8'} text: {AS_UTF8}") from None
    if "\0" in text:
        raise ValueError(f"holds zero bytes: {AS_UTF8}")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def lines_of(text):
    """(number from 1, line) of the lines that hold something."""
    return [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]


def shown(text):
    """`text` from outside on one line: what does not print is escaped, what is long is cut."""
    text = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in str(text))
    return text if len(text) <= 300 else text[:297] + "..."

"""One door to all sea files: picks the reader by what the file is."""

from seaload.basis.errors import InputError
from seaload.files.sea_record import existing_file
from seaload.scenario.text_file import PACKED, UTF16_MARKS

NETCDF_STARTS = (b"CDF\x01", b"CDF\x02", b"CDF\x05", b"\x89HDF")
DIRECTION_CHOICES = ("none", "beside")


def read_record(path, record_time, place=None, direction_files="none"):
    """SeaRecord of one record of any sea file this program reads.

    path: NDBC text, SWAN text, or netCDF (known by content, not by name); record_time such as
    1996-03-13T16:00Z, None in a file of one record; place as the reader of that format says.
    direction_files "beside" takes the buoy's direction files that lie beside an NDBC text file, "none"
    leaves it without direction. Raises InputError: missing file, no such record (the nearest is named),
    empty spectrum, NaN, unknown format.
    """
    path = existing_file(path)
    if direction_files not in DIRECTION_CHOICES:
        raise InputError(path, "direction_files", direction_files, f"one of {DIRECTION_CHOICES}")
    with path.open("rb") as stream:
        start = stream.read(64)
    netcdf = start.startswith(NETCDF_STARTS)
    word = "" if netcdf else first_word(start)
    if direction_files == "beside" and not word.startswith("YY"):
        raise InputError(path, "directions", direction_files, "for NDBC text alone: other files hold their directions")
    if netcdf:
        from seaload.files.sea_netcdf import read_sea_netcdf

        return read_sea_netcdf(path, record_time, place)
    if word == "SWAN":
        from seaload.files.sea_swan import read_sea_swan

        return read_sea_swan(path, record_time, place)
    if word.startswith("YY"):
        from seaload.files.sea_ndbc import ndbc_direction_files, read_ndbc

        if place is not None:
            raise InputError(path, "place", place, "none: an NDBC text file holds one place")
        beside = ndbc_direction_files(path) if direction_files == "beside" else None
        return read_ndbc(path, record_time, direction_files=beside)
    for mark, remedy in PACKED.items():
        if start.startswith(mark):
            raise InputError(path, "format", path.name, remedy)
    raise InputError(path, "format", path.name, "an NDBC text, SWAN text or netCDF sea file")


def first_word(start):
    """The first word of a text file's first bytes, without # and byte order mark; "" when there is none."""
    coding = "utf-16" if start.startswith(UTF16_MARKS) else "utf-8-sig"
    words = start[: len(start) // 2 * 2].decode(coding, errors="ignore").lstrip("# ").split()
    return words[0] if words else ""

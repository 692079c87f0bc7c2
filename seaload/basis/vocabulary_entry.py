"""One entry of the table of names."""

from typing import NamedTuple


class Entry(NamedTuple):
    """What a name means."""

    units: str
    long_name: str
    standard_name: str = ""
    positive: str = ""  # which way is plus, in words


UP_INBOARD = "bends the tip up and inboard (the design direction)"

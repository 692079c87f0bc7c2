"""Moments in time as people write them, and the time zone they are meant in."""

import re
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo

OFFSET = re.compile(r"([+-])(\d\d):?(\d\d)")


def zone_of(text):
    """The time zone (tzinfo) that a text names: "UTC", "+02:00" or a place such as "Europe/Lisbon"; None if none."""
    if text.upper() in ("UTC", "Z"):
        return UTC
    offset = OFFSET.fullmatch(text)
    if offset:
        minutes = int(offset[2]) * 60 + int(offset[3])
        if minutes > 14 * 60 or int(offset[3]) > 59:
            return None
        return timezone(timedelta(minutes=minutes if offset[1] == "+" else -minutes))
    if "/" not in text or text.startswith("/"):
        return None
    try:
        return ZoneInfo(text)
    except (KeyError, ValueError, OSError):
        return None


def utc_seconds(moment: datetime | str, zone: tzinfo):
    """Seconds since 1970-01-01 UTC of a moment; one that names no zone is meant in `zone`. ValueError if no moment."""
    if isinstance(moment, str):
        moment = datetime.fromisoformat(moment.strip())
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=zone)
    return moment.timestamp()

"""Stamps of a logger's clock brought to UTC, and stamps that run backward left out."""

from datetime import UTC, datetime, timedelta

import numpy as np

from seaload.basis.errors import InputError

QUARTER = 900.0  # [s] zones change their offset on whole quarters of an hour
MOST_MENDED = 1000  # steps back in one block that are looked at one by one
EPOCH = datetime(1970, 1, 1)


def utc_from_local(path, seconds, zone):
    """Seconds since 1970-01-01 UTC from (n,) seconds of the clock on the wall in `zone` (tzinfo).

    Raises InputError for an hour that the wall clock shows twice or leaves out: nothing is guessed.
    """
    if zone is UTC or len(seconds) == 0:
        return seconds
    low, high = float(np.min(seconds)), float(np.max(seconds))
    quarters = np.floor(seconds / QUARTER)
    if (high - low) / QUARTER < 10_000:
        found = np.arange(np.floor(low / QUARTER), np.floor(high / QUARTER) + 1.0)
    else:
        found = np.unique(quarters)
    offsets = np.empty(len(found))
    for i, quarter in enumerate(found):
        wall = EPOCH + timedelta(seconds=float(quarter * QUARTER))
        early, late = (wall.replace(tzinfo=zone, fold=fold).utcoffset() for fold in (0, 1))
        if early != late and np.any(quarters == quarter):
            said = f"the clocks of {zone} were changed in this hour; write the log in UTC or with an offset"
            raise InputError(path, "time", wall.isoformat(timespec="minutes"), said)
        offsets[i] = early.total_seconds()  # pyrefly: ignore[missing-attribute]  (a zone always tells)
    if np.all(offsets == offsets[0]):
        return seconds - offsets[0]
    return seconds - offsets[np.searchsorted(found, quarters)]


def rising_rows(time, last):
    """(n,) mask of the rows to keep so that times rise, all after `last`.

    Where the clock steps back, the fewer rows go: those that ran ahead, or those that fell behind.
    """
    keep = np.isfinite(time) & (time > last)
    if np.all(keep) and np.all(time[1:] > time[:-1]):
        return keep
    left = np.flatnonzero(keep)
    for _ in range(MOST_MENDED):
        t = time[left]
        back = np.flatnonzero(t[1:] <= t[:-1])
        if len(back) == 0:
            break
        i = back[0]
        ahead = i + 1 - np.searchsorted(t[: i + 1], t[i + 1])
        later = np.flatnonzero(t[i + 1 :] > t[i])
        behind = later[0] if len(later) else len(t) - i - 1
        if ahead < behind:
            left = np.delete(left, np.s_[i + 1 - ahead : i + 1])
        else:
            left = np.delete(left, np.s_[i + 1 : i + 1 + behind])
    else:
        t = time[left]
        highest = np.maximum.accumulate(t)
        left = left[np.r_[True, t[1:] > highest[:-1]]]
    keep[:] = False
    keep[left] = True
    return keep

"""Kernels: numbers, stamps and rows out of the bytes of a text table, many million a second.

A number is its digits as a whole number (19 of them at most, the rest is dropped) times or over a power of ten up
to 22: exactly the nearest float64 for up to 15 digits, within one unit in the last place for more. What is not of
that form is left to Python: its place goes to the list of odd fields.
"""

import numpy as np

from seaload.basis.compile import compiled

SKIP, NUMBER, COUNT, STAMP_YMD, STAMP_DMY, STAMP_MDY, DATE_YMD, DATE_DMY, DATE_MDY, CLOCK = range(10)
READ, BLANK, ODD = 0, 1, 2  # how a field went
WHOLE, SHORT, ODD_LIST_FULL = 0, 1, 2
TENS = 10.0 ** np.arange(23)
MOST_DIGITS = 19
NEWLINE, RETURN, QUOTE, SPACE, HASH, MINUS, PLUS, POINT, COMMA, COLON, ZERO = 10, 13, 34, 32, 35, 45, 43, 46, 44, 58, 48
LETTER_T, LETTER_Z = 84, 90


@compiled
def digit(byte):
    """Whether a byte is 0 to 9."""
    return (byte >= ZERO) & (byte <= ZERO + 9)


@compiled
def is_nan_word(data, i, end):
    """Whether bytes i to end are nan, in any case."""
    if end - i != 3:
        return False
    return ((data[i] | 32) == 110) & ((data[i + 1] | 32) == 97) & ((data[i + 2] | 32) == 110)


@compiled
def number_at(data, i, end, decimal):
    """(value, READ, BLANK or ODD) of the field in bytes i to end; blank and nan words give nan and BLANK."""
    while (i < end) and (data[i] == SPACE):
        i += 1
    while (end > i) and (data[end - 1] == SPACE):
        end -= 1
    if i == end or is_nan_word(data, i, end):
        return np.nan, BLANK
    negative = data[i] == MINUS
    if negative or data[i] == PLUS:
        i += 1
    digits, scale, seen = np.uint64(0), 0, 0
    whole = i
    while (i < end) and digit(data[i]):
        if seen < MOST_DIGITS:
            digits = digits * np.uint64(10) + np.uint64(data[i] - ZERO)
            seen += digits > 0
        else:
            scale += 1
        i += 1
    found = i - whole
    if (i < end) and (data[i] == decimal):
        i += 1
        part = i
        while (i < end) and digit(data[i]):
            if seen < MOST_DIGITS:
                digits = digits * np.uint64(10) + np.uint64(data[i] - ZERO)
                seen += digits > 0
                scale -= 1
            i += 1
        found += i - part
    if found == 0:
        return np.nan, ODD
    if (i < end) and ((data[i] | 32) == 101):
        i += 1
        lower = (i < end) and (data[i] == MINUS)
        if (i < end) and (lower or data[i] == PLUS):
            i += 1
        exponent, first = 0, i
        while (i < end) and digit(data[i]) and (i - first < 4):
            exponent = exponent * 10 + (data[i] - ZERO)
            i += 1
        if i == first:
            return np.nan, ODD
        scale += -exponent if lower else exponent
    if i < end:
        return np.nan, ODD
    value = float(digits)
    if scale < 0:
        if scale < -22:
            return np.nan, ODD
        value = value / TENS[-scale]
    elif scale > 0:
        if scale > 22:
            return np.nan, ODD
        value = value * TENS[scale]
    return (-value if negative else value), READ


@compiled
def whole_at(data, i, end, most):
    """(whole number, next place) of at most `most` digits from byte i; -1 when there is none."""
    value, first = 0, i
    while (i < end) and digit(data[i]) and (i - first < most):
        value = value * 10 + (data[i] - ZERO)
        i += 1
    return (value if i > first else -1), i


@compiled
def days_from_date(year, month, day):
    """Days from 1970-01-01 of a date in the Gregorian calendar (days of the era, March first; common practice)."""
    y = year - (month <= 2)
    era = y // 400
    of_era = y - era * 400
    month_from_march = month + (9 if month <= 2 else -3)
    of_year = (153 * month_from_march + 2) // 5 + day - 1
    return era * 146097 + of_era * 365 + of_era // 4 - of_era // 100 + of_year - 719468


@compiled
def month_length(year, month):
    """Days of a month."""
    if month == 2:
        return 29 if (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0)) else 28
    return 30 if (month == 4) | (month == 6) | (month == 9) | (month == 11) else 31


@compiled
def date_at(data, i, end, order):
    """(days from 1970-01-01, next place) of a date from byte i; place -1 when it is none.

    order 0: year month day, with separators or without; 1: day month year; 2: month day year.
    """
    first, i = whole_at(data, i, end, 4 if order == 0 else 2)
    apart = (i < end) and not digit(data[i])
    i += apart
    second, i = whole_at(data, i, end, 2)
    i += apart
    third, i = whole_at(data, i, end, 2 if order == 0 else 4)
    if order == 0:
        year, month, day = first, second, third
    elif order == 1:
        year, month, day = third, second, first
    else:
        year, month, day = third, first, second
    if (year < 1900) or (month < 1) or (month > 12) or (day < 1) or (day > month_length(year, month)):
        return 0, -1
    return days_from_date(year, month, day), i


@compiled
def clock_at(data, i, end):
    """(whole seconds, fraction [s], next place) of a time of day from byte i; place -1 when it is none.

    hh:mm, hh:mm:ss or the same without colons, then point or comma and a fraction.
    """
    hour, i = whole_at(data, i, end, 2)
    apart = (i < end) and (data[i] == COLON)
    i += apart
    minute, i = whole_at(data, i, end, 2)
    second, fraction = 0, 0.0
    if (i < end) and (data[i] == COLON if apart else digit(data[i])):
        i += apart
        second, i = whole_at(data, i, end, 2)
        if (i < end) and ((data[i] == POINT) or (data[i] == COMMA)):
            i += 1
            first = i
            part, i = whole_at(data, i, end, 18)
            if part < 0:
                return 0, 0.0, -1
            fraction = float(part) / TENS[i - first]
            while (i < end) and digit(data[i]):
                i += 1
    if (hour < 0) or (hour > 23) or (minute < 0) or (minute > 59) or (second < 0) or (second > 60):
        return 0, 0.0, -1
    return hour * 3600 + minute * 60 + second, fraction, i


@compiled
def zone_at(data, i, end):
    """(offset [s], whether one is written, next place) of Z, +hh, +hh:mm or +hhmm from byte i; place -1 if odd."""
    if i == end:
        return 0, False, i
    if (data[i] == LETTER_Z) or (data[i] == LETTER_Z + 32):
        return 0, True, i + 1
    sign = 1 if data[i] == PLUS else -1
    if (data[i] != PLUS) and (data[i] != MINUS):
        return 0, False, -1
    hour, i = whole_at(data, i + 1, end, 2)
    i += (i < end) and (data[i] == COLON)
    minute = 0
    if i < end:
        minute, i = whole_at(data, i, end, 2)
    if (hour < 0) or (hour > 14) or (minute < 0) or (minute > 59):
        return 0, False, -1
    return sign * (hour * 3600 + minute * 60), True, i


@compiled
def stamp_at(data, i, end, kind):
    """(seconds, READ or ODD, whether the stamp names its zone) of a date, a time of day or both in bytes i to end."""
    while (i < end) and (data[i] == SPACE):
        i += 1
    while (end > i) and (data[end - 1] == SPACE):
        end -= 1
    seconds, fraction, zoned = 0, 0.0, False
    if kind != CLOCK:
        order = (kind - STAMP_YMD) % 3
        days, i = date_at(data, i, end, order)
        if i < 0:
            return 0.0, ODD, False
        seconds = days * 86400
        if kind >= DATE_YMD:
            return float(seconds), (READ if i == end else ODD), False
        if i < end:
            if (data[i] != SPACE) and ((data[i] | 32) != LETTER_T + 32):
                return 0.0, ODD, False
            i += 1
            while (i < end) and (data[i] == SPACE):
                i += 1
        else:
            return float(seconds), READ, False
    of_day, fraction, i = clock_at(data, i, end)
    if i < 0:
        return 0.0, ODD, False
    while (i < end) and (data[i] == SPACE):
        i += 1
    if kind != CLOCK:
        offset, zoned, i = zone_at(data, i, end)
        seconds -= offset
    if i != end:
        return 0.0, ODD, False
    return float(seconds + of_day) + fraction, READ, zoned

"""Standard streams that never stop the work: closed, a pipe whose reader has gone, a terminal of plain letters only."""

import codecs
import os
import sys

PLAIN = {
    "±": "+-", "°": " deg", "−": "-", "–": "-", "—": "-", "…": "...", "×": "x", "²": "2", "³": "3", "½": "1/2",
    "≤": "<=", "≥": ">=", "→": "->", "\u2009": " ", "\u202f": " ", "\u00a0": " ", "’": "'", "“": '"', "”": '"',
}  # fmt: skip


def in_plain_letters(error):
    """What stands for characters that a stream cannot show: (text, where to go on)."""
    found = error.object[error.start : error.end]
    return "".join(PLAIN.get(c, "?") for c in found), error.end


codecs.register_error("seaload.plain", in_plain_letters)


class Heedless:
    """A text stream that forgets what its reader no longer takes; everything else is the stream's own."""

    def __init__(self, stream):
        self._stream = stream

    def __getattr__(self, name):
        return getattr(self._stream, name)

    def write(self, text):
        """Write, or forget when the reader has gone."""
        try:
            return self._stream.write(text)
        except BrokenPipeError:
            self._forget()
            return len(text)

    def flush(self):
        """Flush, or forget when the reader has gone."""
        try:
            self._stream.flush()
        except BrokenPipeError:
            self._forget()

    def _forget(self):
        os.dup2(os.open(os.devnull, os.O_WRONLY), self._stream.fileno())


def safe_streams():
    """Put streams that never stop the work in place of standard output and standard error.

    A stream that was closed gets the place of nothing, so that no file that is opened later takes its number.
    """
    while (number := os.open(os.devnull, os.O_RDWR)) <= 2:
        pass
    os.close(number)
    for name, number in (("stdout", 1), ("stderr", 2)):
        stream = getattr(sys, name) or os.fdopen(number, "w")
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="seaload.plain")
        setattr(sys, name, Heedless(stream))


def last_words():
    """Why standard output could not take what was written, "" when it did; no rest is left for the end of Python."""
    try:
        sys.stdout.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return error.strerror or str(error)
    return ""

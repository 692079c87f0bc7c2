"""Mutations by lot of what a person writes in a study or boat file, on its text."""

import re

from tests.strangers import mutate_bytes

VALUE = re.compile(r"(?m)^([^#\n=]*[\w\"]\s*=\s*)([^#\n]+?)(\s*(?:#.*)?)$")
NUMBER = re.compile(r"(?<![\w.\"])-?\d+\.?\d*(?:[eE][-+]?\d+)?(?![\w\"])")
KEY = re.compile(r"(?m)^(\s*)([A-Za-z_]\w*)(\s*=)")
WORDS = (
    "nan", "inf", "-inf", "5e-324", "1e308", "-1", "0", "0.0", "1_000_000_000_000_000", '"20"', "true", "[]", "[1, 2]",
    "[[1], 2]", "{}", '""', '"../../x"', '"\\u001b[2J"', "1996-03-13", "1996-03-13T16:00:00Z", "0x7f", "2,0", "",
    '"never"', '"attainable"', "[nan, 1.0]", "9" * 400, '"' + "x" * 3000 + '"',
)  # fmt: skip
FACTORS = (0.0, 1e-300, 1e-9, 1e-3, 0.01, 0.1, 0.3, 0.5, 0.8, 1.1, 1.5, 2.0, 3.0, 10.0, 100.0, 1e3, 1e6, 1e300, -1.0)


def one_of(pattern, text, lot, change):
    """The text with one place of the pattern, by lot, changed by `change(match)`."""
    places = list(pattern.finditer(text))
    if not places:
        return text
    found = lot.choice(places)
    return text[: found.start()] + change(found) + text[found.end() :]


def other_word(text, lot):
    return one_of(VALUE, text, lot, lambda m: m[1] + lot.choice(WORDS) + m[3])


def scaled(text, lot):
    return one_of(NUMBER, text, lot, lambda m: f"{float(m[0]) * lot.choice(FACTORS):.10g}")


def nudged(text, lot):
    return one_of(NUMBER, text, lot, lambda m: f"{float(m[0]) * lot.uniform(0.5, 1.6):.6g}")


def key_misspelt(text, lot):
    def change(found):
        word = list(found[2])
        word[lot.randrange(len(word))] = lot.choice("abcdefgh_0")
        return found[1] + lot.choice(("".join(word), found[2] + "_ft", found[2] * 2)) + found[3]

    return one_of(KEY, text, lot, change)


def as_bytes(text, lot):
    return mutate_bytes.mutated(text.encode(), lot)


def line_left_out(text, lot):
    lines = text.split("\n")
    del lines[lot.randrange(len(lines))]
    return "\n".join(lines)


def line_elsewhere(text, lot):
    lines = text.split("\n")
    lines.insert(lot.randrange(len(lines)), lines[lot.randrange(len(lines))])
    return "\n".join(lines)


WAYS = (other_word, scaled, scaled, scaled, nudged, nudged, key_misspelt, line_left_out, line_elsewhere)


def mutated(text, lot):
    """Bytes of a TOML text after one to three mutations; `lot` is a random.Random."""
    for _ in range(lot.choice((1, 1, 1, 2, 3))):
        text = lot.choice(WAYS)(text, lot)
    return as_bytes(text, lot) if lot.random() < 0.08 else text.encode()

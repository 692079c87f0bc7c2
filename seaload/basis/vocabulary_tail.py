"""Names of what the settings of a sea share of their tails, of odds in other times than the exposure, and of where the
sea that a setting bears is not known.
"""

from seaload.basis.vocabulary_entry import Entry

WORDS = {
    "tail_shape": "shape of the {}-load tail, mean over the settings of a sea",
    "tail_shape_missed": "deviation of each setting's own {}-load tail shape from what the others foretell",
    "tail_shape_expected": "what a limited sample of waves alone makes of that deviation",
}
TAIL = {
    f"{side}_{name}": Entry("1", words.format(side)) for side in ("reverse", "normal") for name, words in WORDS.items()
} | {
    "duration": Entry("s", "how long the odds of that name cover"),
    "reverse_odds_in_duration": Entry("1", "odds all told of at least one event past the reverse limit in a duration"),
    "normal_odds_in_duration": Entry("1", "odds all told of at least one event past the normal limit in a duration"),
    "bears_ended": Entry("", "ways the sea may change beyond which it is not known what the setting bears: runs ended"),
}

"""A library asked from Python: a setting in a sea in the words of a study, an answer in milliseconds."""

import difflib
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT, PERCENT
from seaload.deciding.library.channels import CHANNELS
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.load_at_rate import LEVELS
from seaload.deciding.library.rates import rates_of
from seaload.evidence.verdict import SIDES
from seaload.result.library_dataset import answer_dataset, channel_dataset
from seaload.sailing.blas_threads import one_blas_thread
from seaload.scenario.records import Study
from seaload.studies.library.shelf_file import code_hash, made_for_study, read_shelf
from seaload.studies.load_study import load_study

WORDS = {  # key of a study: (coordinate, its size in SI)
    "extension_percent": ("extension", PERCENT),
    "rake_deg": ("rake", DEGREE),
    "heel_deg": ("heel", DEGREE),
    "cant_deg": ("cant", DEGREE),
    "ballast_shift_m": ("ballast_shift", 1.0),
    "speed_knots": ("speed_set", KNOT),
    "hs_m": ("sea_hs", 1.0),
    "tp_s": ("sea_tp", 1.0),
    "waves_from_bow_deg": ("waves_from_bow", DEGREE),
    "gamma": ("peak_enhancement", 1.0),
    "spreading_s": ("spreading", 1.0),
}
ABOVE_NOTHING = ("tp_s", "spreading_s")


def open_library(path, study=None):
    """The `Library` in the file at `path`; InputError, one line, where it is none or was made by another version.

    study : path of a study file, or a loaded `Study`, whose boat, foil and model it has to be made for.
    """
    wanted = {"code": code_hash()}
    if study is not None:
        wanted = made_for_study(study if isinstance(study, Study) else load_study(study))
    return Library(Path(path).name, read_shelf(path, wanted))


class Library:
    """A library that answers."""

    def __init__(self, file, shelf):
        self.file, self.emulator = file, Emulator(shelf)
        one_blas_thread()
        if not all(self.emulator.recipe(name) for side in SIDES for name, _ in self.emulator.bands_of(side)):
            raise InputError(file, "library", file, "holds too few seas to tell anything between them: fill it further")

    def ask(self, **question):
        """What a setting meets in a sea, as an xarray Dataset, SI, names from the vocabulary.

        question : keys of a study's settings and sea (extension_percent, rake_deg, heel_deg, cant_deg, ballast_shift_m,
        speed_knots, hs_m, tp_s, waves_from_bow_deg, gamma, spreading_s); what the library has one value of may be left
        out. InputError where it is not covered: nothing is told outside the points.
        """
        place = self.covered(question)
        answer = self.emulator.answer(place)
        told = {side: [answer.sides[side].log_rate(level) for level in LEVELS] for side in SIDES}
        return answer_dataset(answer, dict(zip(NAMES, place, strict=True)), told, self.file)

    def channels(self, *names, **question):
        """What gauges and motion sensors show there, as an xarray Dataset: `names` of CHANNELS, each with its error.

        question : as of `ask`. The first question about a name takes a second or two.
        """
        for name in names:
            if name not in CHANNELS:
                raise InputError(self.file, "names", name, f"the library holds {', '.join(CHANNELS)}")
        place = self.covered(question)
        told = {name: self.emulator.channel(name, place) for name in names or CHANNELS}
        return channel_dataset(told, dict(zip(NAMES, place, strict=True)), self.file)

    def rates(self, **question):
        """`Rates` of many settings in many seas at once, plain arrays in SI: ln(rate [1/s]) of events past each limit
        with its error, wear, speed, and which of them are told: some ten milliseconds a hundred.

        question : keys as of `ask`, each a number or an array of one shape (n,). What the library does not cover, and
        what the thrust cannot hold, is marked and nan; nothing is refused but what is no number.
        """
        arrays = {key: self.numbers(key, value) for key, value in question.items()}
        try:
            size = np.broadcast_shapes((1,), *(array.shape for array in arrays.values()))
        except ValueError:
            size = ()
        if len(size) != 1:
            shapes = ", ".join(f"{key} {array.shape}" for key, array in arrays.items())
            raise InputError(self.file, "rates", shapes, "numbers, or arrays (n,) of one length")
        found = self.coordinates(arrays)
        return rates_of(self.emulator, np.column_stack([np.broadcast_to(found[name], size) for name in NAMES]))

    def covered(self, question):
        """(names,) [SI] of a question in the words of a study; InputError where the library does not cover it."""
        place = self.place(question)
        if (why := self.emulator.refusal(place)) is not None:
            raise self.outside(why, place)
        return place

    def place(self, question):
        """(names,) [SI] of a question in the words of a study."""
        found = self.coordinates({key: self.numbers(key, value, one=True) for key, value in question.items()})
        return np.array([found[name] for name in NAMES], dtype=float)

    def coordinates(self, arrays):
        """{coordinate: numbers [SI]} of a question {key of WORDS: numbers}; what has one value may be left out."""
        cover = self.emulator.cover
        found = dict(zip(NAMES, np.where(cover.varies, np.nan, cover.low), strict=True))
        found |= {WORDS[key][0]: array * WORDS[key][1] for key, array in arrays.items()}
        for key, (name, _) in WORDS.items():
            if np.any(np.isnan(found[name])):
                raise InputError(self.file, key, "missing", "needed: the library holds several of it")
        return found

    def numbers(self, key, value, one=False):
        """`value` of a key of WORDS as an array of numbers; InputError for any else, or for several where `one`."""
        if key not in WORDS:
            near = difflib.get_close_matches(key, WORDS, n=1, cutoff=0.4)
            raise InputError(self.file, key, value, f"unknown; did you mean {near[0]}?" if near else "unknown")
        array = np.asarray(value)
        usable = array.dtype.kind in "iuf" and not np.any(np.isnan(array)) and not (one and array.ndim)
        if not usable or (key in ABOVE_NOTHING and np.any(array <= 0.0)):
            raise InputError(self.file, key, value, "a number, as in a study")
        return array.astype(float)

    def outside(self, why, place):
        """InputError for a `Refusal` of a `place` (names,) [SI]."""
        name = "sea_hs" if why.name == "sea" else why.name
        key, size = next((key, size) for key, (coordinate, size) in WORDS.items() if coordinate == name)
        low, high = (f"{end / size + 0.0:.4g}" for end in (why.low, why.high))
        if why.name == "sea":
            period = place[NAMES.index("sea_tp")]
            words = f"with tp_s = {period:.3g} the library holds {low} to {high}; steep seas are left out"
        elif why.name == "waves_from_bow":
            words = f"the library holds angles from {low} round to {high}"
        else:
            words = f"the library holds {low} to {high}" if low != high else f"the library holds {low} alone"
        return InputError(self.file, key, float(f"{why.value / size:.6g}"), f"{words}; nothing is told outside it")

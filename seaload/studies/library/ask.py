"""A library asked from Python: a setting in a sea in the words of a study, an answer in milliseconds."""

import difflib
from dataclasses import replace
from pathlib import Path

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, HOUR, KNOT, PERCENT
from seaload.deciding.library.channels import CHANNELS
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.doubt_there import Inputs
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.load_at_rate import LEVELS
from seaload.deciding.library.load_curves import names_of
from seaload.deciding.library.rates import rates_of
from seaload.deciding.library.told_odds import told_odds
from seaload.deciding.uncertainty import STRENGTHS, inputs_of
from seaload.evidence.verdict import SIDES
from seaload.result.library_dataset import answer_dataset, channel_dataset, odds_dataset
from seaload.sailing.blas_threads import one_blas_thread
from seaload.scenario.forecast_spec import ForecastSpec
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
        study = study if isinstance(study, Study) else load_study(study)
        wanted = made_for_study(study)
    return Library(Path(path).name, read_shelf(path, wanted), study)


class Library:
    """A library that answers."""

    def __init__(self, file, shelf, study=None):
        self.file, self.emulator, self.study = file, Emulator(shelf), study
        one_blas_thread()
        if not all(self.emulator.recipe(name) for side in SIDES for name in names_of(side)):
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

    def odds(self, exposure_hours=None, lead_hours=None, **question):
        """Odds all told of load past the limits, the worst load to expect and the sea borne, as an xarray Dataset with
        the names of a sweep's result: the rates of the library with all that the study says is uncertain.

        exposure_hours, lead_hours : of the study unless given; question : as of `ask`. Needs a library opened with its
        study. A tenth of a second to a second.
        """
        study = self.study
        if study is None:
            allowed = "open the library with a study, which says what is uncertain: open_library(path, study=...)"
            raise InputError(self.file, "odds", "no study", allowed)
        risk = study.risk
        if exposure_hours is not None:
            risk = replace(risk, exposure=float(self.positive("exposure_hours", exposure_hours)) * HOUR)
        place = self.covered(question)
        told = told_odds(self.emulator, place, self.inputs(study, lead_hours), risk)
        if told is None:
            held = self.emulator.value("speed_attainable", place[None]) / KNOT
            asked = float(place[NAMES.index("speed_set")]) / KNOT
            raise InputError(self.file, "speed_knots", asked, f"thrust holds {held:.1f} kn there")
        return odds_dataset(told, dict(zip(NAMES, place, strict=True)), risk, self.file)

    def inputs(self, study, lead_hours=None):
        """`Inputs` of a `study`, in a sea forecast so long ahead; as its own sea unless given."""
        entries = inputs_of(study, study.seas[0])
        if lead_hours is not None:
            forecast = ForecastSpec.model_validate(study.raw.get("forecast", {}))
            lead = self.positive("lead_hours", lead_hours, or_nothing=True) * HOUR
            ahead = {entry.name: entry for entry in forecast.inputs(lead)}
            entries = tuple(ahead.get(entry.name, entry) for entry in entries)
        foil = study.boat.foils[study.foil_side]
        return Inputs(entries, study.hs_tp_correlation, foil.limit_basis in STRENGTHS, foil.fatigue.slope)

    def positive(self, key, value, or_nothing=False):
        """The number `value` of a `key`; InputError where it is none above nothing."""
        usable = isinstance(value, int | float | np.number) and not isinstance(value, bool)
        if not usable or not (value > 0.0 or (or_nothing and value == 0.0)) or not np.isfinite(value):
            raise InputError(self.file, key, value, "hours" if or_nothing else "hours above 0")
        return value

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

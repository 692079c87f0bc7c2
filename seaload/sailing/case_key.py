"""Names a case by what decides its numbers: the hash of its inputs, floats exact, no paths and no order
of files.

The sea's name is in, because the random streams follow it. How many realisations a study has is not: a
case is the same case in a longer study.
"""

from seaload.basis.exact_hash import hash_of, without
from seaload.basis.machine_code import source_fingerprint
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepared import BOAT_ASIDE, FOIL_ASIDE, SEA_ASIDE, SEA_WIND, SETTING_ASIDE

SAMPLING_USED = ("seed", "realisation_time", "run_in", "step", "components")


class CaseKeys:
    """Keys of the cases of one study, the parts that many share hashed once."""

    def __init__(self, study, named_model=None, gust=None):
        model = study.model if named_model is None else named_model
        foil = study.boat.foils[study.foil_side]
        factors = model_factors(model)
        self.shared = {
            "boat": hash_of(without(study.boat, BOAT_ASIDE)),
            "foil": hash_of(without(foil, FOIL_ASIDE)),
            "sampling": hash_of({name: getattr(study.sampling, name) for name in SAMPLING_USED}),
            "model": hash_of(factors),
            "gust": hash_of(gust),
            "source": source_fingerprint(),
        }
        self.seas = [hash_of(without(sea, self.aside(sea, factors))) for sea in study.seas]
        self._settings = {}

    @staticmethod
    def aside(sea, factors):
        """Names of what no number of a case in a `sea` hangs on: the wind only where it is steady."""
        return SEA_ASIDE - SEA_WIND if factors["gusts"] and sea.gustiness else SEA_ASIDE

    def inputs(self, setting, sea_number):
        """{input: hash} of a setting (record) in a sea (number)."""
        if setting not in self._settings:
            self._settings[setting] = hash_of(without(setting, SETTING_ASIDE))
        return {**self.shared, "sea": self.seas[sea_number], "setting": self._settings[setting]}

    def key(self, setting, sea_number, realisation):
        """Key of one case."""
        return hash_of([self.inputs(setting, sea_number), realisation])

"""Names a case by what decides its numbers: the hash of its inputs, floats exact, no paths and no order
of files.

The sea's name is in, because the random streams follow it. How many realisations a study has is not: a
case is the same case in a longer study.
"""

import hashlib
from dataclasses import fields, is_dataclass

import numpy as np

from seaload.basis.machine_code import source_fingerprint
from seaload.simulation.model_options import model_factors

BOAT_ASIDE = {
    "raw", "sensors", "logger", "moves", "tanks", "uncertain", "speed_table", "worked", "foils", "reference_setting",
}  # fmt: skip
FOIL_ASIDE = {"id"}
SEA_ASIDE = {"notes", "hs", "tp", "steep", "true_wind_speed", "true_wind_angle"}
SETTING_ASIDE = {"attainable"}
SAMPLING_USED = ("seed", "realisation_time", "run_in", "step", "components")


def feed(digest, value):
    """Add a value to a hash so that different values give different bytes."""
    if is_dataclass(value):
        feed(digest, {entry.name: getattr(value, entry.name) for entry in fields(value)})
    elif isinstance(value, dict):
        digest.update(b"{")
        for key in sorted(value):
            feed(digest, key)
            feed(digest, value[key])
        digest.update(b"}")
    elif isinstance(value, list | tuple):
        digest.update(f"[{len(value)}".encode())
        for inner in value:
            feed(digest, inner)
    elif isinstance(value, np.ndarray):
        array = np.ascontiguousarray(value, dtype="<f8")
        digest.update(f"a{array.shape}".encode() + array.tobytes())
    elif isinstance(value, bool | int | np.integer):
        digest.update(f"i{int(value)};".encode())
    elif isinstance(value, float | np.floating):
        digest.update(f"f{float(value).hex()};".encode())
    elif isinstance(value, str):
        digest.update(f"s{len(value)}:{value}".encode())
    elif value is None:
        digest.update(b"n")
    else:
        raise TypeError(f"cannot hash a {type(value).__name__}")


def hash_of(value):
    """Hash of a value, 32 hexadecimal digits."""
    digest = hashlib.sha256()
    feed(digest, value)
    return digest.hexdigest()[:32]


def without(record, aside):
    """Fields of a record as a dictionary, without those that decide nothing."""
    return {entry.name: getattr(record, entry.name) for entry in fields(record) if entry.name not in aside}


class CaseKeys:
    """Keys of the cases of one study, the parts that many share hashed once."""

    def __init__(self, study, named_model=None, gust=None):
        model = study.model if named_model is None else named_model
        foil = study.boat.foils[study.foil_side]
        self.shared = {
            "boat": hash_of(without(study.boat, BOAT_ASIDE)),
            "foil": hash_of(without(foil, FOIL_ASIDE)),
            "sampling": hash_of({name: getattr(study.sampling, name) for name in SAMPLING_USED}),
            "model": hash_of(model_factors(model)),
            "gust": hash_of(gust),
            "source": source_fingerprint(),
        }
        self.seas = [hash_of(without(sea, SEA_ASIDE)) for sea in study.seas]
        self._settings = {}

    def inputs(self, setting, sea_number):
        """{input: hash} of a setting (record) in a sea (number)."""
        if setting not in self._settings:
            self._settings[setting] = hash_of(without(setting, SETTING_ASIDE))
        return {**self.shared, "sea": self.seas[sea_number], "setting": self._settings[setting]}

    def key(self, setting, sea_number, realisation):
        """Key of one case."""
        return hash_of([self.inputs(setting, sea_number), realisation])

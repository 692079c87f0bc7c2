"""The file of a boat's library in the results folder: one writer alone, refused when it is not this boat's."""

import hashlib
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path

from seaload.basis.errors import InputError
from seaload.basis.exact_hash import hash_of, without
from seaload.basis.machine_code import MODEL_ROOMS, PACKAGE, source_fingerprint
from seaload.deciding.library.shelf import HASHES, Shelf
from seaload.files.result_file import read_result, write_result
from seaload.files.sole_writer import open_alone
from seaload.result.library_dataset import library_dataset, shelf_of
from seaload.sailing.case_key import SAMPLING_USED
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepared import BOAT_ASIDE, FOIL_ASIDE

POINT_FILES = (  # sources beside the model's that make a point of finished cases (held by a test)
    "deciding/designed_runs.py", "deciding/library/channels.py", "deciding/library/effects.py",
    "deciding/library/load_at_rate.py", "deciding/library/point.py", "deciding/library/tail_of_point.py",
    "evidence/added_resistance.py", "evidence/load_change.py", "evidence/log_rate.py", "evidence/places.py",
    "evidence/pool_records.py", "evidence/rate_curve.py", "evidence/rate_intervals.py", "evidence/verdict.py",
)  # fmt: skip
SURFACE_FILES = tuple(
    f"deciding/library/{name}.py"
    for name in ("coordinates", "emulator", "gaussian_process", "load_curves", "surfaces")
)  # sources that draw surfaces through points
OF_A_POINT = ("seed", "realisation_time")  # what may differ from point to point
OTHER = {
    "boat": "another boat", "foil": "another foil", "model": "other choices of the model",
    "sampling": "another run-in, step or number of wave components", "code": "another version of seaload",
}  # fmt: skip


def code_hash():
    """Hash of the sources that make points: a library of others is refused."""
    return hash_of([source_fingerprint(MODEL_ROOMS), *sources(POINT_FILES)])


def surfaces_hash():
    """Hash of the sources that draw surfaces: those of others are drawn anew."""
    return hash_of(sources(SURFACE_FILES))


def sources(files):
    """Hash of each of some source `files` of the package."""
    return [hashlib.sha256((PACKAGE / file).read_bytes()).hexdigest() for file in files]


def made_for(boat, foil, model, sampling=None):
    """{one of HASHES: hash} of what points of a library hang on; records, `model` as a study names it."""
    found = {
        "boat": hash_of(without(boat, BOAT_ASIDE)),
        "foil": hash_of(without(foil, FOIL_ASIDE)),
        "model": hash_of(model_factors(model)),
        "code": code_hash(),
    }
    if sampling is not None:
        used = {name: getattr(sampling, name) for name in SAMPLING_USED if name not in OF_A_POINT}
        found["sampling"] = hash_of(used)
    return found


def made_for_study(study):
    """{one of HASHES: hash} of a study."""
    return made_for(study.boat, study.boat.foils[study.foil_side], study.model, study.sampling)


def read_shelf(path, wanted):
    """`Shelf` of the library at `path`; InputError, one line, where it is none, or not made for all that is `wanted`
    {one of HASHES: hash}.
    """
    path = Path(path)
    dataset = read_result(path, field="library")
    shelf = shelf_of(dataset, path.name)
    if dataset.attrs.get("surfaces_hash") != surfaces_hash():
        shelf = replace(shelf, surfaces={})
    for part in HASHES:
        if part in wanted and shelf.made_for[part] != wanted[part]:
            allowed = f"made for {OTHER[part]}: name another library, or move it aside and a new one is begun"
            raise InputError(path.name, "library", path.name, allowed)
    return shelf


def shelf_for(study, folder):
    """`Shelf` of a study's library in a results `folder`: as it is there, or a new one."""
    path, wanted = Path(folder) / study.library, made_for_study(study)
    return read_shelf(path, wanted) if path.exists() else Shelf(wanted)


def keep_shelf(shelf, study, folder):
    """Path of a study's library, written into a results `folder`, and its Dataset."""
    dataset = library_dataset(shelf, (study.boat_name, study.foil_side)).assign_attrs(surfaces_hash=surfaces_hash())
    return write_result(dataset, folder, study.library), dataset


@contextmanager
def writing(folder, name):
    """While the body adds to the library `name` in a `folder`: CannotRun for a second writer."""
    lock = Path(folder) / f".{Path(name).stem}.lock"
    with closing(open_alone(lock, [])):
        yield

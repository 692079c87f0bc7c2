"""`boat_check`: everything that a boat file says by itself, as a Dataset, before a wave has met her."""

from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from seaload.files.result_file import read_result, write_result
from seaload.result.boat_dataset import boat_dataset
from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.block_task import BlockTask, load_kernels
from seaload.scenario.records import Sampling
from seaload.studies.boat.balance import at_speed, balance_parts
from seaload.studies.boat.calm_points import KnownTrims
from seaload.studies.boat.drawing import drawing_parts
from seaload.studies.boat.findings import findings
from seaload.studies.boat.foil_strength import foil_geometries, foil_parts
from seaload.studies.boat.natural_motion import motion_parts
from seaload.studies.boat.question import read_question
from seaload.studies.boat.righting import righting_parts

FOLDER = "boat-{}"  # of the results, so that no study of the boat's name is overwritten


@dataclass(frozen=True)
class BoatOutcome:
    """A boat file that was looked at."""

    dataset: object  # xarray.Dataset
    result_path: Path  # of result.nc
    done: int  # calm-water points worked out
    compile_s: float
    reused: int = 0
    failed: tuple = ()
    real_time_factor: float = float("nan")
    settings: list = field(default_factory=list)


def boat_check(boat, *, foil=None, rake_deg=None, heel_deg=None, cant_deg=None, out="results"):
    """Look at the boat file `boat` (path) and give its page as an xarray Dataset; `result.nc` is saved too.

    foil : "port" or "starboard", the working one. rake_deg, heel_deg, cant_deg : in place of the rig's reference
    setting. out : parent folder of the results. InputError for a wrong file or a boat that cannot float.
    """
    angles = {"rake_deg": rake_deg, "heel_deg": heel_deg, "cant_deg": cant_deg}
    return check_boat(read_question(boat, foil=foil, **angles), out=out).dataset


def check_boat(question, *, out, say=None):
    """`BoatOutcome` of a `BoatQuestion`; `result.nc` is saved in the boat's folder in `out`. `say` tells one line."""
    first = replace(question.setting, speed=question.racing_speed)
    sampling = Sampling(seed=1, realisations=1, components=30)
    compiled = load_kernels(BlockTask(question.boat, question.foil, question.sea, ((first, 0),), sampling, {}), say)
    one_blas_thread()
    parts = all_parts(question)
    dataset = boat_dataset(question, parts, findings(question, parts))
    path = write_result(dataset, Path(out) / FOLDER.format(question.name))
    return BoatOutcome(
        dataset=read_result(path),
        result_path=path,
        done=int(np.size(parts["balanced"][1]) + np.size(parts["heel_sailed"][1])),
        compile_s=compiled,
        settings=setting_rows(question, parts),
    )


def setting_rows(question, parts):
    """What a program asks first, one dictionary an extension, SI, at the racing speed."""
    names = ("calm_pitch", "leeway", "rudder", "foil_lift_share", "hull_lift_share", "righting_calm", "thrust_needed")
    at_racing = {name: at_speed(question, parts, name, question.racing_speed) for name in names}
    of_extension = ("speed_attainable", "bending_frequency_dry", "bending_frequency_wet", "tip_force_normal",
                    "tip_force_reverse")  # fmt: skip
    return [
        {
            "extension": float(extension), "speed": float(question.racing_speed),
            **{name: float(values[k]) for name, values in at_racing.items()},
            **{name: float(parts[name][1][k]) for name in of_extension},
        }
        for k, extension in enumerate(question.extensions)
    ]  # fmt: skip


def all_parts(question):
    """{name: (dims, values)} of the whole page."""
    trims, geometries = KnownTrims(question), foil_geometries(question)
    count = 1 + len(question.foil.stations)
    number = np.arange(count, dtype=np.int32)
    parts = {
        "extension": (("extension",), question.extensions),
        "speed": (("speed",), question.speeds),
        "place": (("place",), number),
        "station": (("place",), number),
        "racing_speed": ((), float(question.racing_speed)),
        "reference_extension": ((), float(question.extensions[question.reference])),
        "heel": ((), float(question.setting.heel)),
        "rake": ((), float(question.setting.rake)),
        "cant": ((), float(question.setting.cant)),
    }
    parts.update(foil_parts(question, geometries))
    parts.update(drawing_parts(question, geometries))
    parts.update(balance_parts(question, trims))
    parts.update(righting_parts(question, trims))
    parts.update(motion_parts(question, trims))
    return parts

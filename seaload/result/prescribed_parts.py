"""Variables of the prescribed motions: beside what the waves do, never mixed into it."""

import numpy as np

from seaload.basis.prescribed_record import SERIES
from seaload.foil.geometry import material_grid
from seaload.scenario.records import other_side

SIDES = ("reverse", "normal")
EACH = ("sea", "prescribed")
ALONG = {"grid_moment": "material", "shear": "strip_edge", "torsion": "strip_edge"}  # extremes of a motion, and where
SAMPLED = (*EACH, "prescribed_sample")
NONE = -1


def prescribed_parts(study, found, settings):
    """{name: (dims, values)}; empty for a study without motions.

    found : {sea: PrescribedRecord or None of each motion}. settings : {sea: number of the setting they start from}.
    """
    motions, seas = study.prescribed, len(study.seas)
    if not motions:
        return {}
    words = lambda texts: (("prescribed",), np.array(list(texts), dtype=object))  # noqa: E731
    sides = {False: study.foil_side, True: other_side(study.foil_side)}
    parts = {
        "prescribed": (("prescribed",), np.arange(len(motions), dtype=np.int32)),
        "prescribed_name": words(motion.name for motion in motions),
        "prescribed_note": words(motion.note for motion in motions),
        "prescribed_foil": words(sides[motion.windward] for motion in motions),
        "prescribed_duration": (("prescribed",), np.array([motion.time[-1] for motion in motions])),
        "prescribed_setting": (("sea",), np.array([settings.get(j, NONE) for j in range(seas)], dtype=np.int32)),
    }
    records = {(j, i): record for j, row in found.items() for i, record in enumerate(row) if record is not None}
    numbers = {name: np.full((seas, len(motions)), np.nan) for record in records.values() for name in single(record)}
    for at, record in records.items():
        for name, value in single(record).items():
            numbers[name][at] = value
    parts.update({f"prescribed_{name}": (EACH, values) for name, values in numbers.items()})
    parts.update(along_parts(study, records))
    parts.update(series_parts(study, records))
    return parts


def single(record):
    """Single numbers of a `PrescribedRecord` by the ends of their names."""
    worst = {"reverse": record.reverse, "normal": record.normal}
    rows = {f"{side}_{name}": value for side in SIDES for name, value in vars(worst[side]).items()}
    return {**rows, "hold_down_max": record.hold_down_max, "tip_depth_min": record.tip_depth_min}


def along_parts(study, records):
    """Highest and lowest moment, shear and torsion along the foil; nan for a foil of other places than the working one.
    """
    foil, parts = study.boat.foils[study.foil_side], {}
    sizes = {"material": len(material_grid(foil)), "strip_edge": foil.strips + 1}
    for name in [f"{kind}_{end}" for kind in ALONG for end in ("max", "min")]:
        dim = ALONG[name[:-4]]
        values = np.full((len(study.seas), len(study.prescribed), sizes[dim]), np.nan)
        for at, record in records.items():
            found = getattr(record, name)
            if len(found) == sizes[dim]:
                values[at] = found
        parts[f"prescribed_{name}"] = ((*EACH, dim), values)
    return parts


def series_parts(study, records):
    """Kept samples of every motion, the shorter ones filled up with nan."""
    most = max((len(record.series["time"]) for record in records.values()), default=0)
    if most == 0:
        return {}
    parts = {"prescribed_sample": (("prescribed_sample",), np.arange(most, dtype=np.int32))}
    for name in SERIES:
        values = np.full((len(study.seas), len(study.prescribed), most), np.nan, dtype=np.float32)
        for at, record in records.items():
            values[at][: len(record.series[name])] = record.series[name]
        parts[f"prescribed_series_{name}"] = (SAMPLED, values)
    return parts

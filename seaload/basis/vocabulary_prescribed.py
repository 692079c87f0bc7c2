"""Names of the motions that a study prescribes; the table is `vocabulary.TABLE`."""

from seaload.basis.vocabulary_entry import UP_INBOARD, Entry
from seaload.basis.vocabulary_record import RECORD

SIDES = ("reverse", "normal")
MOTION = "in the prescribed motion"
PRESCRIBED = {
    "prescribed": Entry("1", "number of the prescribed motion, from 0"),
    "prescribed_sample": Entry("1", "number of the kept sample of a prescribed motion, from 0"),
    "prescribed_name": Entry("", "prescribed motion"),
    "prescribed_note": Entry("", "note on the prescribed motion, as the study says"),
    "prescribed_foil": Entry("", "foil that goes through the prescribed motion"),
    "prescribed_setting": Entry("1", "number of the setting that the motions of a sea start from; -1 = none"),
    "prescribed_duration": Entry("s", "time from the first to the last row of the prescribed motion"),
    **{
        name: entry
        for side in SIDES
        for name, entry in {
            f"prescribed_{side}_share": Entry("1", f"highest share of the {side} limit {MOTION}, flat water"),
            f"prescribed_{side}_time": Entry("s", f"time of that share of the {side} limit from the first row"),
            f"prescribed_{side}_material": Entry("m", f"place in the material of that share of the {side} limit"),
            f"prescribed_{side}_beyond": Entry("s", f"time past the {side} limit at any place {MOTION}"),
            f"prescribed_series_{side}_share": Entry("1", f"highest share of the {side} limit round the sample"),
        }.items()
    },
    "prescribed_grid_moment_max": Entry(
        "N m", f"highest bending moment along the material {MOTION}", positive=UP_INBOARD
    ),
    "prescribed_grid_moment_min": Entry(
        "N m", f"lowest bending moment along the material {MOTION}", positive=UP_INBOARD
    ),
    **{
        f"prescribed_{name}": RECORD[name]._replace(long_name=f"{RECORD[name].long_name} {MOTION}")
        for name in ("shear_max", "shear_min", "torsion_max", "torsion_min")
    },
    "prescribed_hold_down_max": Entry("N", f"highest load of the hold-down line {MOTION}"),
    "prescribed_tip_depth_min": Entry(
        "m", f"least depth of the outermost strip {MOTION}", positive="below the surface"
    ),
    "prescribed_series_time": Entry("s", "time of the sample from the first row of the prescribed motion"),
    "prescribed_series_heel": Entry("rad", f"heel {MOTION}", positive="leeward side of the start down"),
    "prescribed_series_leeway": Entry("rad", f"leeway {MOTION}", positive="to leeward of the start"),
    "prescribed_series_speed": Entry("m s-1", f"speed {MOTION}"),
    "prescribed_series_height": Entry("m", "height of the centre of gravity above the calm trim", positive="up"),
    "prescribed_series_pitch": Entry("rad", "pitch from the calm trim", positive="bow up"),
    "prescribed_series_tip_depth": Entry(
        "m", "least depth of the outermost strip round the sample", positive="below the surface"
    ),
}

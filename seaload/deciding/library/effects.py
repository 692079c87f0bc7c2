"""What each uncertain input does to the loads of a point: the runs of a Plackett-Burman design over the waves that the
point met, as `deciding.uncertainty` has them for a sea that a study asks about.

Height, period and angle of the sea have no runs here: a library's surfaces tell them. Effects are kept by one of the
number of the model (a factor of 2, a radian), so that another deviation of an input needs no other runs. The design has
more columns than inputs: what those show is nothing but chance, and tells the error of the others.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.records import ENDED_EARLY
from seaload.deciding.designed_runs import MARCHED, ULTIMATES, design, deviation, perturbed, ultimate_effect
from seaload.evidence.load_change import common_loads
from seaload.evidence.rate_intervals import worst_wear
from seaload.evidence.verdict import SIDES

OF_SURFACES = ("forecast_heading",)  # a change of coordinates
RUN = tuple(name for name in MARCHED if name not in OF_SURFACES)
UNCERTAIN = (*RUN, *ULTIMATES)
EFFECTS = ("load_shift", "load_growth", "wear_effect")
ALONE = 0.1  # [-] of an effect on wear that is worked out of counted cycles: its error; our own choice
LEAST_ERROR = 1e-6  # [share of the limit], [-]


class Plan(NamedTuple):
    """The runs that tell what is uncertain."""

    entries: tuple  # of `UncertainInput`, those that have runs
    signs: np.ndarray  # (runs, columns) +1 and -1; the first columns are the entries'
    ultimates: tuple  # of `UncertainInput`, those that act on wear alone

    @property
    def changes(self):
        """Numbers of the model in each run, [{name: number}]."""
        return [
            {MARCHED[entry.name]: perturbed(entry, sign) for entry, sign in zip(self.entries, row, strict=False)}
            for row in self.signs
        ]


def plan_of(inputs):
    """`Plan` for the uncertain `inputs` of a study."""
    entries = tuple(entry for entry in inputs if entry.name in RUN and deviation(entry) > 0.0)
    runs = len(design(len(entries))) if entries else 0
    signs = design(runs - 1) if runs else np.zeros((0, 0))
    return Plan(entries, signs, tuple(entry for entry in inputs if entry.name in ULTIMATES))


def effects_of(own, runs, plan, curve):
    """{name: value} of a point: effects by one of each of UNCERTAIN and their standard errors; nan where not known.

    own : finished cases of the point; runs : those of each run of the `Plan`, over the same waves; curve : the foil's
    `FatigueCurve`.
    """
    found = no_effects()
    if not runs or any(record.status in ENDED_EARLY for records in (own, *runs) for record in records):
        return found
    for i, side in enumerate(SIDES):
        try:
            loads = common_loads([own, *runs], side)
        except ValueError:
            continue
        put(found, "load_shift", i, plan, loads.mean[1:] - loads.mean[0])
        put(found, "load_growth", i, plan, np.log(loads.fluctuation[1:] / loads.fluctuation[0]))
    wears = np.array([np.sum(worst_wear(records)) for records in (own, *runs)])
    if np.all(wears > 0.0):
        put(found, "wear_effect", (), plan, np.log(wears[1:] / wears[0]))
    for entry in plan.ultimates:
        by_one = ultimate_effect(own, curve, ULTIMATES[entry.name], deviation(entry)) / max(deviation(entry), 1e-12)
        number = UNCERTAIN.index(entry.name)
        found["wear_effect"][number] = by_one
        found["wear_effect_error"][number] = max(ALONE * abs(by_one), LEAST_ERROR)
    return found


def put(found, name, at, plan, changes):
    """Write into `found` what each entry of a `Plan` does by one of it, of the `changes` (runs,) of some number."""
    contrasts = plan.signs.T @ changes / len(changes)
    spare = contrasts[len(plan.entries) :]
    chance = float(np.sqrt(np.mean(spare**2))) if len(spare) else float(np.max(np.abs(contrasts)))
    row, errors = (found[part][at] for part in (name, f"{name}_error"))
    for entry, contrast in zip(plan.entries, contrasts, strict=False):
        number = UNCERTAIN.index(entry.name)
        row[number] = contrast / deviation(entry)
        errors[number] = max(chance, LEAST_ERROR) / deviation(entry)


def no_effects():
    """The same of a point without such runs."""
    both, one = (len(SIDES), len(UNCERTAIN)), (len(UNCERTAIN),)
    shapes = {"load_shift": both, "load_growth": both, "wear_effect": one}
    return {f"{name}{end}": np.full(shape, np.nan) for name, shape in shapes.items() for end in ("", "_error")}


def effect_names():
    """Names of the quantities that surfaces of effects are drawn of: column@place in it."""
    both = [f"{name}@{i},{k}" for name in ("load_shift", "load_growth") for i in range(len(SIDES))
            for k in range(len(RUN))]  # fmt: skip
    return [*both, *(f"wear_effect@{k}" for k in range(len(UNCERTAIN)))]

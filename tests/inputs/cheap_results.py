"""Cheap results of a study, stage by stage: what a sailing of hours would put into its Dataset, from seconds."""

from dataclasses import replace
from functools import lru_cache
from types import SimpleNamespace
from unittest.mock import patch

import numpy as np

from seaload.basis.exact_hash import hash_of
from seaload.basis.units import DEGREE, KNOT
from seaload.deciding import moves as move_room
from seaload.deciding.choice import SeaChoice
from seaload.deciding.follow_on import eased_heel
from seaload.deciding.library.next_seas import spread_seas
from seaload.deciding.library.shelf import Shelf
from seaload.deciding.moves import move_changes, only_below, tolerance_changes
from seaload.deciding.rounds import State, sail_rounds
from seaload.deciding.triggers import Watch
from seaload.deciding.uncertainty import no_doubt, sail_ensembles
from seaload.deciding.variants import Effect
from seaload.evidence.verdict import SIDES, sampled_rates
from seaload.foil.geometry import material_grid
from seaload.result.assemble_dataset import axes, case_parts, pooled_parts, sea_parts, setting_parts, table_of
from seaload.result.birth_record import birth_record
from seaload.result.prescribed_parts import prescribed_parts
from seaload.result.sweep_parts import (
    choice_parts,
    decision_codes,
    decision_rows,
    doubt_parts,
    move_parts,
    tolerance_parts,
    trigger_parts,
)
from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.gust_event import calm_task, gust_answer
from seaload.scenario.records import other_side
from seaload.simulation.block import march_block
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import FACTORS
from seaload.simulation.prescribed_loads import prescribed_records
from seaload.studies.attainable import Reach
from seaload.studies.library.fill import Filling
from tests.deciding.fake_sailer import FakeSailer, location_for
from tests.small_study import PLACES, made_case

RAW = ("scenario", "model", "defaults_used", "command", "seed", "versions")  # what was written, said again
SHORT, SHORT_RUN_IN = 4.0 / 1200.0, 3.0 / 180.0  # of the times asked for
COMPONENTS = 100
HIGH = {"hs_factor": 1.6}  # so that seconds hold what else takes hours
BLOCKS = 60  # of a made-up case
WEAR = 6e-7  # of a made-up case: two or three full-load swings an hour
LONG_STEP = 0.05  # [s] of prescribed motions
FEW = 4  # realisations that a display is watched in


def values_of(parts):
    """{name: values} of parts of a Dataset."""
    return {name: np.asarray(part[1]) for name, part in parts.items()}


def sized(places, grid=2, **other):
    """A finished case made up for so many places and so much material."""
    made, values = made_case(), {}
    for name, value in vars(made).items():
        if name.startswith("grid_"):
            values[name] = np.full(grid, 1.0)
        elif isinstance(value, np.ndarray) and value.shape == (PLACES,) and not name.startswith("block_"):
            values[name] = np.full(places, 1e4)
        elif name == "rainflow_count":
            values[name] = np.ones((places, *value.shape[1:]))
        elif name in ("normal_limit", "reverse_limit"):
            values[name] = np.ones(places)
        elif name.startswith("place_block"):
            values[name] = np.full((places, len(made.block_worst_normal)), 0.1)
    values.update(hold_down_max=5e4, speed_mean=10.0, events_full=1)
    return replace(made, **{**values, **other})


@lru_cache(maxsize=64)
def sea_columns(key):
    """Sea variables of one sea; `key` a `Keyed` study of that sea alone."""
    study = key.study
    count = min(study.sampling.realisations, 2)
    return values_of(sea_parts(study, {(0, 0, r): None for r in range(count)}, study.model))


class Keyed:
    """A study that is the same as another when its sea, its sampling and its model are."""

    def __init__(self, study):
        self.study = study
        sampling = {name: getattr(study.sampling, name) for name in ("seed", "realisation_time", "components")}
        self.key = hash_of([study.seas, sampling, study.sampling.realisations, study.model])

    def __hash__(self):
        return hash(self.key)

    def __eq__(self, other):
        return self.key == other.key


def table(study):
    """What needs no march: settings, places, limits, seas, odds of made-up cases, attributes."""
    foil = study.boat.foils[study.foil_side]
    case = sized(1 + len(foil.stations), len(material_grid(foil)))
    cases = dict.fromkeys(((0, 0, r) for r in range(study.sampling.realisations)), case)
    found = {name: values for name, values in birth_record(study, "run").items() if name not in RAW}
    found.update(values_of(axes(study, cases)))
    found.update(values_of(setting_parts(study, {}, study.model)))
    for number, sea in enumerate(study.seas):
        columns = sea_columns(Keyed(replace(study, seas=(sea,))))
        found.update({f"{name} of sea {number}": values for name, values in columns.items()})
    found.update(values_of(pooled_parts(study, {(0, 0, 0): case, (0, 0, 1): case}, {}, study.model)))
    return found


def afloat(study):
    """The first setting with a speed."""
    first = study.settings[0]
    return replace(first, speed=20.0 * KNOT, attainable=False) if first.attainable else first


def short(study):
    """Sampling of seconds, in proportion to what was asked for."""
    sampling = study.sampling
    return replace(
        sampling, realisation_time=SHORT * sampling.realisation_time, run_in=SHORT_RUN_IN * sampling.run_in,
        components=COMPONENTS,
    )  # fmt: skip


def march(study, rakes=(0.0,), realisations=2):
    """A few seconds of the first sea in the first setting; of the same with the foil raked by so many degrees."""
    setting = afloat(study)
    raked = tuple(replace(setting, rake=setting.rake + change * DEGREE) for change in rakes)
    study = replace(study, settings=raked, seas=study.seas[:1], sampling=short(study))
    foil = study.boat.foils[study.foil_side]
    lanes = [(i, 0, r) for r in range(realisations) for i in range(len(raked))]
    one_blas_thread()
    records, _ = march_block(
        study.boat, foil, study.seas[0], [(raked[i], r) for i, _, r in lanes], study.sampling, {**study.model, **HIGH},
    )  # fmt: skip
    cases = dict(zip(lanes, records, strict=True))
    return {
        **values_of(pooled_parts(study, cases, {}, study.model)),
        **values_of(case_parts(study, cases)),
    }


def raked_march(study):
    """The same with the foil raked to its lift limits either way, in more waves."""
    return march(study, rakes=(0.0, -14.0, 10.0), realisations=LANES // 3)


def reach(study):
    """Attainable speed and reachability of the first setting."""
    found = Reach(study.boat, study.boat.foils[study.foil_side], study.model)
    _, speed, why = found.settle(afloat(study), study.seas[0])
    return {"speed_attainable": np.array(speed), "unreachable_reason": np.array(why)}


def gust(study):
    """The first setting in the stated gust, in calm water."""
    sampling = replace(study.sampling, components=COMPONENTS)
    task = calm_task(replace(study, sampling=sampling), [afloat(study)], study.seas[0], study.model)
    one_blas_thread()
    records, _ = march_block(task.boat, task.foil, task.sea, task.cases, task.sampling, task.model, gust=task.gust)
    return {name: np.array(value) for name, value in gust_answer(records, [], []).items()}


def prescribed(study):
    """The prescribed motions from the first setting, in long steps."""
    foils = study.boat.foils[study.foil_side], study.boat.foils[other_side(study.foil_side)]
    records = prescribed_records(study.boat, foils, afloat(study), study.prescribed, LONG_STEP, study.model)
    return values_of(prescribed_parts(replace(study, seas=study.seas[:1]), {0: records}, {0: 0}))


class MadeSailer(FakeSailer):
    """Sails nothing: every setting, and every factor of the model, moves the extremes a little."""

    reverse_share = 1.0  # of the reverse loads; a small one leaves the decision to the normal side

    def __init__(self, study, settings, model=None):
        super().__init__(study, settings, made_case, None, model=model)
        self.crew = SimpleNamespace(submit=lambda task: SimpleNamespace(result=lambda: (self.sailed(*task), None)))
        self.blocks = SimpleNamespace(results=lambda futures: [each.result() for each in futures])

    def draw(self, i, j, r):
        """A short case of two places; the same waves for every setting."""
        location = location_for(1.9e-6) + tilt_of(self.settings[i, j], self.model) - tilt_of(self.settings[i, j], {})
        generator = np.random.default_rng([j, r])
        reverse, normal = (location + 0.06 * generator.gumbel(size=BLOCKS) for _ in range(2))
        reverse = self.reverse_share * reverse
        return sized(
            2, duration=10.0 * BLOCKS, block_worst_reverse=reverse, block_worst_normal=normal,
            events_full=int(np.sum(reverse > 1.0)), place_block_reverse=np.tile(reverse, (2, 1)),
            place_block_normal=np.tile(normal, (2, 1)), moment_mean=np.full(2, -0.3),
            speed_mean=self.settings[i, j].speed, damage=np.full(2, WEAR), grid_damage=np.full(2, WEAR),
        )  # fmt: skip

    def task(self, cases, **options):
        """What is to be sailed."""
        return self.model, cases

    def variant(self, settings=None, **changes):
        """The same of other settings and another model."""
        return MadeSailer(self.study, settings or self.settings, {**self.model, **changes})

    def of_length(self, time):
        """The same: what is made up here has one length."""
        return self

    def sailed(self, model, cases):
        """Records with the bending moment they left: a reverse pulse every half minute."""
        time = 0.02 * np.arange(15000)
        made = []
        for case in cases:
            load = 0.3 + 0.1 * np.sin(time) - 0.6 * (np.mod(time + case[-1], 30.0) < 2.0)
            moments = np.outer(load * model.get("hs_factor", 1.0), np.linspace(2e5, 2e4, 6))
            made.append(replace(self.draw(*case), series={"bending_moment": moments}))
        return made


def tilt_of(setting, model):
    """A number that every part of a setting, and every factor of a model, moves."""
    parts = (0.1 * setting.extension, setting.rake, 0.3 * setting.cant, 0.1 * setting.ballast_shift)
    changed = [(1 + n % 3) * (model.get(name, usual) - usual) for n, (name, usual) in enumerate(FACTORS.items())]
    return sum(parts) + 0.5 * setting.heel + 0.01 * setting.speed - 0.5 + 0.1 * sum(changed)


def made_sailing(study):
    """(sailer, pair) of the first setting in the first sea, without a march."""
    setting = afloat(study)
    sampling = replace(study.sampling, realisation_time=10.0 * BLOCKS)
    study = replace(study, settings=(setting,), seas=study.seas[:1], sampling=sampling)
    return MadeSailer(study, {(0, 0): setting}), (0, 0)


def normal_rounds(study):
    """The same where the normal side alone is near its accepted rate."""
    return rounds(study, reverse_share=0.3)


def judged(study):
    """The same with all that is uncertain, which moves the loads of the normal side."""
    return rounds(study, reverse_share=0.3, uncertain=study.uncertain)


def rounds(study, reverse_share=1.0, uncertain=()):
    """Decisions of made-up sailings near the accepted rate, with sampling the only doubt."""
    sailer, pair = made_sailing(replace(study, uncertain=uncertain))
    sailer.reverse_share = reverse_share
    state = sail_rounds(sailer, [pair], {pair: (1.0, 1.0)})
    choices = {0: SeaChoice(0, least_bad=0)}
    rows = decision_rows(sailer, state, choices, {pair: (1.0, 1.0)}, {pair: 10.0})
    parts = {**table_of(sailer.study, rows), **decision_codes(sailer.study, state, [[""]])}
    parts.update(choice_parts(sailer.study, choices, state))
    return {**values_of(parts), "realisations_sailed": np.array(state.counts[pair])}


def doubts(study):
    """What the uncertain inputs do to made-up loads."""
    sailer, pair = made_sailing(study)
    state = State({}, sail_ensembles(sailer, {0: [pair]}))
    return values_of(doubt_parts(sailer.study, state, {}))


HEELS = {}


def known_heel(setting, speed, boat, foil, named_model):
    """`eased_heel`, worked out once for boats that differ in no more than their moves and ranges."""
    key = hash_of([setting, speed, replace(boat, moves=(), worked={}, raw={}), foil, named_model])
    if key not in HEELS:
        HEELS[key] = eased_heel(setting, speed, boat, foil, named_model)
    return HEELS[key]


def moves(study):
    """Ways of backing off and tolerances, what they do made up from the settings they lead to."""
    sailer, pair = made_sailing(study)
    boat, setting = study.boat, sailer.settings[pair]
    foil = boat.foils[study.foil_side]

    def effect(change, records):
        tilt = tilt_of(change.setting, dict(change.model))
        return Effect({}, {}, dict.fromkeys(SIDES, (tilt, tilt, tilt)), 1.0, tilt, True, records)

    answer = SeaChoice(0, least_bad=0)
    with patch.object(move_room, "eased_heel", known_heel):
        changes = move_changes(setting, boat, foil, study.seas[0], study.model)
    answer.moves = [(each, effect(each, ()), setting.speed < only_below(boat, each.name)) for each in changes]
    answer.tolerance = {change.name: effect(change, (None,)) for change in tolerance_changes(setting, boat)}
    case = sailer.draw(*pair, 0)
    verdict = SimpleNamespace(rates=dict.fromkeys(SIDES, (1e-6, 1e-7, 1e-5)))
    answer.fresh, answer.fresh_records, answer.sampled = verdict, (case,), sampled_rates([case], study.risk)
    state = State({}, {0: no_doubt(study)})
    parts = {**move_parts(sailer, state, {0: answer}), **tolerance_parts(sailer.study, state, {0: answer})}
    return values_of(parts)


def triggers(study):
    """What the display shows, and the reading to act on, from made-up moments."""
    sailer, _ = made_sailing(study)
    watch = Watch(sailer, SimpleNamespace(setting=0, sea=0, hs_most=1.25), realisations=FEW)
    return values_of(trigger_parts(sailer.study, {0: watch.readings()}))


def fill(study):
    """The seas that a new library begins with, and how far it goes."""
    filling = Filling(study)
    seas = filling.next_round(Shelf({})).seas
    spread = spread_seas(filling.span, 0, 8)
    return {"seas": seas, "spread": spread, "time": np.array(study.fill.time), "library": study.library}


EVERY = (table, moves, doubts, triggers, march, raked_march, reach, gust, prescribed, rounds, normal_rounds, judged,
         fill)
STAGES = {each.__name__: each for each in EVERY}


def differ(one, other):
    """Whether two cheap results hold any other number or word."""
    if one.keys() != other.keys():
        return True
    return any(not same(one[name], other[name]) for name in one)


def same(one, other):
    """Whether two values are the same, nan like nan."""
    one, other = np.asarray(one), np.asarray(other)
    if one.shape != other.shape or one.dtype.kind != other.dtype.kind:
        return False
    return np.array_equal(one, other, equal_nan=one.dtype.kind == "f")

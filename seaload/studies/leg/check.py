"""A plan marched again: stationary pieces of 20 minutes at the plan's settings, in the forecast's own wave systems,
each in a member drawn by lot and with what is uncertain of the boat drawn anew, judged against what the library tells
of that draw.
"""

from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.basis.records import STATUS_DONE
from seaload.basis.units import DEGREE
from seaload.deciding.designed_runs import MARCHED, deviation
from seaload.deciding.leg.asked import mean_log_wear
from seaload.deciding.leg.judge import LEVELS, MOST_ENDED, judged
from seaload.deciding.leg.leg_doubt import CRESTS, FORECAST, LIBRARY, ln_rates_known
from seaload.deciding.leg.whole_odds import doubt_cases
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.load_at_rate import RATES
from seaload.evidence.verdict import DEVIATE
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account, CaseSailer, sail_together
from seaload.scenario.records import Gust, RiskLevels, Study
from seaload.scenario.risk_spec import ModelSpec, SamplingSpec
from seaload.scenario.sea_spec import SeaSpec
from seaload.studies.build_sea import build_sea
from seaload.studies.leg.ways import ways_of

MOST_PIECES = 40  # marched, evenly along the leg
MOST_OFF = 2.5  # deviations that an input is drawn off: a factor stays above nothing
LEAST_SYSTEM = 0.1  # [m] of height of a wave system that is marched
CASES = 7  # of the doubt
SATURATED = 0.5  # of the highest rate that a library tells, which stands for all above: such pieces are not counted


class Check(NamedTuple):
    """A plan marched again."""

    pieces: np.ndarray  # (p,) numbers of the pieces marched
    verdicts: tuple  # of judge.Verdict
    time: float  # [s] of sea
    ended: int  # marches that ended early or left the validity
    marches: int
    wear: tuple  # [-] (mean, low, high) of one way along the pieces marched, by how the ways scatter
    wear_told: float  # [-] that the library tells of it
    told_span: tuple  # [-] (low, high) of that, were every piece off alike
    joined: float  # [-] share of the wear that closes between pieces
    account: Account

    @property
    def fails(self):
        """Whether the plan is not one to suggest."""
        return any(one.fails for one in self.verdicts) or self.ended > MOST_ENDED * self.marches


def checked(question, plan, met, out, means):
    """`Check` of a plan of a `LegQuestion`; `met` (n, 1 moment) along it. means : (workers, scheduler, account)."""
    leg, (workers, scheduler, account) = question.leg, means
    count = len(plan.settings)
    pieces = np.unique(np.linspace(0, count - 1, min(count, MOST_PIECES)).round().astype(int))
    drawn = drawn_for(question, pieces, met.hs.shape[2])
    seas = tuple(sea_of(question, met, piece, member) for piece, member in zip(pieces, drawn.member, strict=True))
    study = study_of(question, seas)
    settings = {(0, j): leg.settings[plan.settings[piece]] for j, piece in enumerate(pieces)}
    with CaseStore(Path(out) / leg.name) as store, crew(workers, scheduler) as hands:
        first = CaseSailer(study, settings, store, hands, account)
        first.compile_first()
        sailers = [first.variant({pair: settings[pair]}, **drawn.changes(j)) for j, pair in enumerate(settings)]
        wanted = [[(0, j, r) for r in range(leg.check.marches)] for j in range(len(pieces))]
        sail_together(list(zip(sailers, wanted, strict=True)))
    records = [[sailer.records[case] for case in cases] for sailer, cases in zip(sailers, wanted, strict=True)]
    return judged_by(question, plan, met, drawn, records, account)


class Drawn(NamedTuple):
    """What is drawn for each of the pieces that are marched."""

    pieces: np.ndarray  # (p,) numbers
    member: np.ndarray  # (p,) of the forecast
    entries: tuple  # of `UncertainInput`, (u,) those that a march can have otherwise
    off: np.ndarray  # (p, u) [deviations]

    def changes(self, number):
        """{number of the model: value} of a piece."""
        found = {}
        for entry, off in zip(self.entries, self.off[number], strict=True):
            size = float(off * deviation(entry))
            if entry.name == CRESTS:
                found["hs_factor"] = float(np.exp(size))
            else:
                found[MARCHED[entry.name]] = 1.0 + size if entry.kind == "factor" else size
        return found

    def known(self, names):
        """(p, len(names)) [deviations] of inputs by `names`, nothing for those that a march cannot have otherwise."""
        rows = {entry.name: column for entry, column in zip(self.entries, self.off.T, strict=True)}
        return np.stack([rows.get(name, np.zeros(len(self.pieces))) for name in names], axis=1)


def drawn_for(question, pieces, members):
    """`Drawn` for some `pieces` by the seed of the check."""
    leg = question.leg
    lots = random_stream(leg.check.seed, leg.name, 0, "members").integers(members, size=len(pieces))
    able = (CRESTS, *(name for name in MARCHED if name not in FORECAST))  # the member drawn is the forecast as it is
    entries = tuple(entry for entry in question.table.inputs.entries if entry.name in able)
    normal = random_stream(leg.check.seed, leg.name, 0, "inputs").normal(size=(len(pieces), len(entries)))
    return Drawn(pieces, lots, entries, np.clip(normal, -MOST_OFF, MOST_OFF))


def study_of(question, seas):
    """`Study` that marches those `seas`, each with the setting of its piece."""
    leg = question.leg
    sampling = SamplingSpec(seed=leg.check.seed).si()
    return Study(
        name=leg.name, boat=leg.boat, boat_name=leg.boat_name, foil_side=next(iter(leg.boat.foils)), seas=seas,
        settings=leg.settings, risk=RiskLevels(sampling.realisation_time, 1.0, 1.0),
        sampling=replace(sampling, realisations=leg.check.marches), gust=Gust(0.0, 1.0, 0.0, np.inf),
        model=ModelSpec().si(), raw=leg.raw, path=str(leg.file),
    )  # fmt: skip


def sea_of(question, met, piece, member):
    """Sea record of all wave systems of one member on a piece, from the boat, as high together as all waves are."""
    like = dict(zip(NAMES, question.emulator.cover.low, strict=True))
    heights, periods, angles = (part[piece, 0, member] for part in (met.system_hs, met.system_tp, met.system_angle))
    there = np.isfinite(heights) & np.isfinite(periods) & (heights > LEAST_SYSTEM)
    scale = met.hs[piece, 0, member] / np.sqrt(np.sum(heights[there] ** 2)) if there.any() else 1.0
    spread = like["spreading"]
    systems = [
        {
            "spectrum": "jonswap", "hs_m": float(scale * hs), "tp_s": float(np.clip(tp, 1.0, 30.0)),
            "gamma": float(like["peak_enhancement"]), "waves_from_bow_deg": float(angle / DEGREE),
            "spreading_s": float(spread) if np.isfinite(spread) else "long-crested",
        }
        for hs, tp, angle in zip(heights[there], periods[there], angles[there], strict=True)
    ] or [{"spectrum": "jonswap", "hs_m": LEAST_SYSTEM, "tp_s": 8.0, "waves_from_bow_deg": 0.0, "spreading_s": 10.0}]
    spec = SeaSpec.model_validate({"name": f"{question.leg.name}, piece {piece + 1}", "system": systems})
    return build_sea(spec, 0, path=question.leg.file, boat=question.leg.boat, starboard_tack=True)


def judged_by(question, plan, met, drawn, records, account):
    """`Check` of marched `records` [piece][realisation] with what was `Drawn`."""
    table, pieces = question.table, drawn.pieces
    seas = np.stack([getattr(met, name)[pieces, 0, drawn.member] for name in ("hs", "tp", "angle")], axis=-1)
    lead = np.zeros(len(pieces))  # what is drawn is the forecast as it is
    rows = table.questions(np.column_stack([seas, lead]))[np.arange(len(pieces)), plan.settings[pieces]]
    told, columns = table.told_at(rows, lead)
    known = drawn.known(columns.names)
    whole = np.array([sum(r.duration for r in some if r.status == STATUS_DONE) for some in records])
    verdicts = tuple(level_verdict(level, told, (columns, known), records) for level in LEVELS)
    ways = ways_of(question.leg.boat, met.foil[pieces, 0], records)
    sure = told.told & np.isfinite(told.log_wear)
    ends = wear_told(told, columns, known, np.where(sure, whole, 0.0) / question.leg.check.marches)
    flat = [record for some in records for record in some]
    return Check(pieces, verdicts, float(whole.sum()), sum(r.status != STATUS_DONE for r in flat), len(flat),
                 ways.interval(), ends[0], ends[1:], ways.joined, account)  # fmt: skip


def wear_told(told, columns, known, time):
    """(mean, low, high) [-] of the wear that the library tells of pieces sailed for `time` (p,) [s], with the inputs
    `known` (p, u) [deviations]: low and high were every piece off alike.
    """
    middle, error = np.nan_to_num(told.log_wear), np.nan_to_num(told.log_wear_error)
    drawn = np.sum(columns.wear * known, axis=1)
    rows = (mean_log_wear(middle, error), middle - DEVIATE * error, middle + DEVIATE * error)
    return tuple(float(np.exp(row + drawn) @ time) for row in rows)


def level_verdict(level, told, known, records):
    """`Verdict` past one level of the reverse limit: rows of neighbouring blocks of the marches whose worst load passes
    it, which are one event. `known` : `Columns` and what of them is drawn, (p, u) [deviations].
    """
    deviations, weights = doubt_cases(CASES)
    columns, off = known
    off = np.repeat(off[None], CASES, axis=0)
    off[:, :, columns.names.index(LIBRARY)] = deviations[:, None]
    ln_rate = np.array([ln_rates_known(columns, told, row, level)[:, 0] for row in off])
    usable = told.told & ~told.at_least & (ln_rate[CASES // 2] < np.log(SATURATED * RATES[0]))
    counted, expected = 0, np.zeros(CASES)
    for piece in np.flatnonzero(usable):
        for record in records[piece]:
            if record.status == STATUS_DONE:
                past = np.asarray(record.block_worst_reverse, dtype=float) > level
                counted += int(past[0]) + int(np.sum(past[1:] & ~past[:-1]))
                expected += np.exp(ln_rate[:, piece]) * record.duration
    return judged(level, counted, expected, weights)

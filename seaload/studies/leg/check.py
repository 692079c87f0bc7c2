"""A plan marched again: stationary pieces of 20 minutes at the plan's settings, in the forecast's own wave systems,
each in a member drawn by lot, judged against what the library told.
"""

from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np

from seaload.basis.random_streams import random_stream
from seaload.basis.records import STATUS_DONE
from seaload.basis.units import DEGREE
from seaload.deciding.leg.asked import question_rows, slope_at_limit
from seaload.deciding.leg.judge import LEVELS, MOST_ENDED, judged
from seaload.deciding.leg.whole_odds import doubt_cases
from seaload.deciding.library.coordinates import NAMES
from seaload.deciding.library.load_at_rate import RATES
from seaload.deciding.library.rates import rates_of
from seaload.sailing.case_store import CaseStore
from seaload.sailing.executor import crew
from seaload.sailing.sail_cases import Account, CaseSailer
from seaload.scenario.records import Gust, RiskLevels, Study
from seaload.scenario.risk_spec import ModelSpec, SamplingSpec
from seaload.scenario.sea_spec import SeaSpec
from seaload.studies.build_sea import build_sea

MOST_PIECES = 40  # marched, evenly along the leg
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
    wear: float  # [-] damage marched
    wear_told: float  # [-] that the library tells
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
    lots = random_stream(leg.check.seed, leg.name, 0, "members").integers(met.hs.shape[2], size=len(pieces))
    seas = tuple(sea_of(question, met, piece, member) for piece, member in zip(pieces, lots, strict=True))
    study = study_of(question, seas)
    settings = {(0, j): leg.settings[plan.settings[piece]] for j, piece in enumerate(pieces)}
    with CaseStore(Path(out) / leg.name) as store, crew(workers, scheduler) as hands:
        sailer = CaseSailer(study, settings, store, hands, account)
        sailer.compile_first()
        sailer.sail([(0, j, r) for j in range(len(pieces)) for r in range(leg.check.marches)])
    records = [[sailer.records[0, j, r] for r in range(leg.check.marches)] for j in range(len(pieces))]
    return judged_by(question, plan, met, (pieces, lots), records, account)


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
    """`Check` of marched `records` [piece][realisation]; `drawn` : pieces and the member of each."""
    pieces, lots = drawn
    rows = np.array([
        question_rows(question.emulator.cover, question.settings[plan.settings[piece]][None], met)[piece, 0, member, 0]
        for piece, member in zip(pieces, lots, strict=True)
    ])  # fmt: skip
    told, weights = rates_of(question.emulator, rows), doubt_cases(CASES)[1]
    whole = [sum(r.duration for r in some if r.status == STATUS_DONE) for some in records]
    verdicts = tuple(level_verdict(level, told, records, weights) for level in LEVELS)
    wear = [max_sum(some) for some in records]
    known = told.told & np.isfinite(told.log_wear)
    wear_told = float(np.sum(np.where(known, np.exp(np.nan_to_num(told.log_wear)) * whole, 0.0)))
    flat = [record for some in records for record in some]
    return Check(pieces, verdicts, float(sum(whole)), sum(r.status != STATUS_DONE for r in flat), len(flat),
                 float(np.sum(np.where(known, wear, 0.0))), wear_told, account)  # fmt: skip


def max_sum(records):
    """Damage [-] at the place that wears most, of the marches of one piece that ran to their end."""
    rows = [record.damage for record in records if record.status == STATUS_DONE]
    return float(np.nanmax(np.sum(rows, axis=0))) if rows else 0.0


def level_verdict(level, told, records, weights):
    """`Verdict` past one level of the reverse limit: rows of neighbouring blocks of the marches whose worst load passes
    it, which are one event.
    """
    deviation = doubt_cases(CASES)[0]
    doubt = np.nan_to_num(told.log_rate_error / slope_at_limit(told))
    levels = level - deviation[:, None, None] * doubt
    ln_rate = told.log_rate_past(levels)[:, :, 0]
    usable = told.told & ~told.at_least & (ln_rate[CASES // 2] < np.log(SATURATED * RATES[0]))
    counted, expected = 0, np.zeros(len(deviation))
    for piece in np.flatnonzero(usable):
        for record in records[piece]:
            if record.status == STATUS_DONE:
                past = np.asarray(record.block_worst_reverse, dtype=float) > level
                counted += int(past[0]) + int(np.sum(past[1:] & ~past[:-1]))
                expected += np.exp(ln_rate[:, piece]) * record.duration
    return judged(level, counted, expected, weights)

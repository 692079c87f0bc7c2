"""The suggestion in one sea: the fastest setting within the levels that stands up to fresh waves, to what
a crew cannot set exactly, and to a sea that grows while the next move is made. "None" is an answer, with
the least bad and why.
"""

from dataclasses import dataclass, field
from math import ceil, inf, isnan, log, nan

from seaload.deciding.bearing import Borne, borne_sea, nearer_seas, other_seas, step_of
from seaload.deciding.moves import grown_sea, growth_factor, move_changes, only_below, tolerance_changes
from seaload.deciding.rounds import GROWTH, RIVALS, most_realisations
from seaload.deciding.uncertainty import filling
from seaload.deciding.variants import FRESH, GROWN, REALISATIONS, TOLERANCE, Comparison, compare
from seaload.evidence.verdict import NOT_SHOWN, SIDES, UNDECIDED, WEAR, WITHIN, judge, rates_of_odds
from seaload.sailing.gust_event import gust_answer, gust_tasks
from seaload.simulation.layout import LANES

GUST_REALISATIONS = 8
NONE = -1


@dataclass
class SeaChoice:
    """The answer in one sea; setting numbers, -1 = none."""

    sea: int
    chosen: int = NONE
    least_bad: int = NONE
    reason: str = ""
    fresh: object = None  # Verdict on fresh waves of the chosen one
    fresh_records: tuple = ()  # the finished cases it rests on
    sampled: object = None  # `Sampled` of the cases that the setting stands on, see `standing_of`
    refused: list = field(default_factory=list)  # of (setting, why)
    tolerance: dict = field(default_factory=dict)  # {name: Effect}
    moves: list = field(default_factory=list)  # of (Change, Effect, possible)
    borne: Borne = Borne()  # the sea that the setting bears
    gust: dict = field(default_factory=dict)

    @property
    def setting(self):
        """The setting that moves, gust and triggers are worked out for: the chosen one, else the least
        bad.
        """
        return self.chosen if self.chosen != NONE else self.least_bad

    @property
    def hs_most(self):
        """Factor on Hs that the setting stays within the levels to [-]."""
        return self.borne.hs_most


def choose_all(sailer, state, rank):
    """{sea: SeaChoice} for every sea with a setting that was sailed."""
    seas = sorted({j for _, j in state.verdicts})
    choices = {sea: SeaChoice(sea) for sea in seas}
    for sea in seas:
        choices[sea].least_bad = least_bad(state, sea)
    open_seas = list(seas)
    for _ in range(RIVALS):
        trying = {sea: candidate(state, rank, choices[sea], sailer.study) for sea in open_seas}
        trying = {sea: pair for sea, pair in trying.items() if pair is not None}
        if not trying:
            break
        for sea, why, (verdict, records), effects in try_out(sailer, state, trying):
            if why:
                choices[sea].refused.append((trying[sea][0], why))
            else:
                answer = choices[sea]
                answer.chosen, answer.fresh, answer.fresh_records = trying[sea][0], verdict, tuple(records)
                answer.tolerance = {c.name: effect for c, effect in effects.items() if c.kind == TOLERANCE}
        open_seas = [sea for sea in trying if choices[sea].chosen == NONE]
    for sea in seas:
        choices[sea].reason = reason_of(state, choices[sea])
    return choices


def candidate(state, rank, answer, study):
    """The fastest setting within that has not been refused, or None; of equals the one with the larger margin.

    Those first of which what is uncertain foretells that they bear a growing sea: few are tried out.
    """
    gone = {setting for setting, _ in answer.refused}
    mine = [p for p, v in state.verdicts.items() if p[1] == answer.sea and v.decision == WITHIN and p[0] not in gone]
    mine = [pair for pair in mine if bears_growth(state, pair, study)] or mine
    if not mine:
        return None
    fastest = max(rank[pair] for pair in mine)
    return max(sorted(pair for pair in mine if rank[pair] == fastest), key=lambda pair: margin(state, pair, study.risk))


def bears_growth(state, pair, study):
    """Whether a pair stays within, by what the height of the sea does to the load, while the slowest move is made."""
    return when_grown(state, pair, state.sampled[pair, state.counts[pair]], study).decision == WITHIN


def when_grown(state, pair, sampled, study):
    """`Verdict` of a pair by its `Sampled`, foretold for the sea that has grown while the slowest move is made."""
    sea = study.seas[pair[1]]
    deviations = log(growth_factor(study, sea.hs, slowest_move(study.boat))) / step_of(study, sea, "hs_factor")
    doubt = state.doubt(pair).in_higher_sea(deviations)
    return judge(sampled, doubt.told(sampled, study.risk), study.risk)


def slowest_move(boat):
    """Time that the slowest move of a boat takes [s]."""
    return max((move.time for move in boat.moves), default=0.0)


def margin(state, pair, risk):
    """What is left between the worst load in 1 of 20 exposures and its limit [share of the limit], the less of both
    sides.

    All told, from the cases that the pair was judged on.
    """
    return 1.0 - max(state.worst(pair, risk)[side]["one_in_twenty"][0] for side in SIDES)


def least_bad(state, sea):
    """The sailed setting whose upper bound is least above the accepted rate; -1 when no case of any could
    be used.
    """
    mine = {pair: v.excess() for pair, v in state.verdicts.items() if pair[1] == sea and v.decision != NOT_SHOWN}
    finite = {pair: excess for pair, excess in mine.items() if excess < inf}
    return min(sorted(finite or mine), key=lambda pair: mine[pair])[0] if mine else NONE


def reason_of(state, answer):
    """One plain line on why this setting, or why none."""
    if answer.chosen != NONE:
        slower = "" if not answer.refused else f"; {len(answer.refused)} faster refused: {answer.refused[0][1]}"
        return f"fastest within the levels, confirmed on fresh waves and within what a crew can set{slower}"
    if answer.refused:
        return f"none: {answer.refused[0][1]}"
    if answer.least_bad == NONE:
        return "none: no setting was sailed through without leaving the validity of the model"
    verdict = state.verdicts[answer.least_bad, answer.sea]
    worse = max(verdict.limits, key=lambda side: verdict.rates[side][2] / verdict.limits[side])
    name = worse if worse == WEAR else f"{worse} load"
    bound = f"upper bound {verdict.excess():.3g} times the rate allowed"
    return f"none is shown to be within the levels; the nearest falls short by its {name}, {bound}"


def try_out(sailer, state, trying):
    """[(sea, why refused or "", (Verdict, cases) on fresh waves, effects)] of one candidate a sea.

    Fresh waves come first; what stands up to them meets a grown sea, and only what stands up to that is set a tolerance
    off, which takes the most.
    """
    study = sailer.study
    fresh = on_fresh_waves(sailer, state, trying)
    sampled = {sea: state.sample(trying[sea], records, study.risk) for sea, (_, records) in fresh.items()}
    changes_of = (
        lambda sea, setting: grown_sea(setting, study, study.seas[sea].hs, slowest_move(study.boat)),
        lambda sea, setting: tolerance_changes(setting, study.boat),
    )
    effects = {sea: {} for sea in trying}

    def why(sea):
        return why_refused(study, fresh[sea][0], sampled[sea], effects[sea], state.doubt(trying[sea]))

    for changes in changes_of:
        standing = [sea for sea in trying if not why(sea)]
        off = [Comparison(sailer, trying[sea], changes(sea, sailer.settings[trying[sea]])) for sea in standing]
        for sea, seen in zip(standing, compare(off), strict=True):
            effects[sea].update(seen)
    return [(sea, why(sea), fresh[sea], effects[sea]) for sea in trying]


def on_fresh_waves(sailer, state, trying):
    """{sea: (Verdict, finished cases)} of one candidate a sea on waves that no round has seen.

    As many as it was judged on, in full blocks, and more, up to the budget, while they leave it undecided now or in the
    sea grown: a setting that has just become decided would else fail here every other time.
    """
    most, found = most_realisations(sailer.study.sampling), {}
    full = lambda count: min(most, LANES * ceil(count / LANES))  # noqa: E731
    counts = {sea: full(state.counts[pair]) for sea, pair in trying.items()}
    asked, open_yet = dict(trying), {}
    while asked:
        sailer.sail([(*pair, FRESH + r) for sea, pair in asked.items() for r in range(counts[sea])])
        for sea, pair in asked.items():
            records = [sailer.records[*pair, FRESH + r] for r in range(counts[sea])]
            sampled = state.sample(pair, records, sailer.study.risk)
            found[sea] = judge(sampled, state.doubt(pair).told(sampled, sailer.study.risk), sailer.study.risk), records
            decision, grown = found[sea][0].decision, when_grown(state, pair, sampled, sailer.study)
            open_yet[sea] = decision == UNDECIDED or (decision == WITHIN and grown.decision == UNDECIDED)
        asked = {s: p for s, p in asked.items() if open_yet[s] and counts[s] < most}
        counts.update({sea: full(GROWTH * counts[sea]) for sea in asked})
    return found


def why_refused(study, verdict, sampled, effects, doubt):
    """Why a candidate does not stand, or an empty text."""
    if verdict.decision != WITHIN:
        return "not within the levels on fresh waves"
    for change, effect in effects.items():
        grown = change.kind == GROWN
        off = "in a sea that grows while the slowest move is made" if grown else f"with {change.name} by its tolerance"
        if not effect.valid:
            return f"leaves the validity {off}"
        if not excess_of(effect, verdict, sampled, doubt, study.risk) < 1.0:
            return f"not within the levels {off}"
    return ""


def look_around(sailer, state, choices):
    """Moves, worse seas and the gust of each sea's setting, written into the choices."""
    study = sailer.study
    foil = study.boat.foils[study.foil_side]
    pairs = {sea: (answer.setting, sea) for sea, answer in choices.items() if answer.setting != NONE}
    moves = {
        sea: move_changes(sailer.settings[pair], study.boat, foil, study.seas[sea], sailer.model)
        for sea, pair in pairs.items()
    }
    gusts = {
        sea: [sailer.crew.submit(task) for task in gust_tasks(
            study, sailer.settings[pair], study.seas[sea], sailer.model, GUST_REALISATIONS)]
        for sea, pair in pairs.items()
    }  # fmt: skip
    short, count = filling(sailer, REALISATIONS)  # each other sea has blocks of its own
    effects = compare([
        *(Comparison(sailer, pair, moves[sea]) for sea, pair in pairs.items()),
        *(Comparison(short, pair, other_seas(sailer.settings[pair], study, study.seas[sea]), count=count)
          for sea, pair in pairs.items()),
    ])  # fmt: skip
    others = dict(zip(pairs, effects[len(pairs) :], strict=True))
    nearer = compare([
        Comparison(short, pair, nearer_seas(study, others[sea], study.seas[sea]), count=count)
        for sea, pair in pairs.items()
    ])  # fmt: skip
    for sea, found, less_far in zip(pairs, effects[: len(pairs)], nearer, strict=True):
        answer = choices[sea]
        speed = sailer.settings[pairs[sea]].speed
        verdict, records = standing_of(sailer, state, answer)
        sampled = answer.sampled = state.sample(pairs[sea], records, study.risk)
        answer.moves = sorted(
            ((c, found[c], speed < only_below(study.boat, c.name)) for c in found),
            key=lambda row: (row[0].time, row[0].name),
        )
        answer.borne = borne_sea(
            study, verdict, sampled, state.doubt(pairs[sea]), others[sea] | less_far, study.seas[sea]
        )
        answer.gust = gust_answer(*(records for records, _ in sailer.blocks.results(gusts[sea])))


def standing_of(sailer, state, answer):
    """(Verdict, finished cases) that the answer's setting stands on: on fresh waves once chosen, else the grid's."""
    if answer.fresh is not None:
        return answer.fresh, answer.fresh_records
    pair = answer.setting, answer.sea
    return state.verdicts[pair], [sailer.records[*pair, r] for r in range(state.counts[pair])]


def excess_of(effect, verdict, sampled, doubt, risk):
    """Upper bound over accepted rate [-] after a change, the worst of both sides and of wear if a level is named."""
    after = {side: rates_of_odds(effect.odds(side, sampled, doubt, risk), risk.exposure)[2] for side in SIDES}
    if WEAR in verdict.limits:
        after[WEAR] = verdict.rates[WEAR][2] * effect.wear
    return max(after[side] / limit for side, limit in verdict.limits.items())


def speed_given_up(rank, speeds, chosen):
    """Attainable speed [m/s] that the chosen setting gives up against the fastest one of its sea; nan
    when unknown.
    """
    mine = [speeds[pair] for pair in rank if pair[1] == chosen[1] and not isnan(speeds[pair])]
    return max(mine) - speeds[chosen] if mine and not isnan(speeds[chosen]) else nan

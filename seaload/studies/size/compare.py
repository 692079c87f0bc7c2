"""Changes, other foils and the uncertain model, sailed in the seas that carry the loads of a sizing."""

from dataclasses import replace

from seaload.deciding.size.changes import carrying, changed_boat, season_of, side_shares, told
from seaload.deciding.size.model_doubt import MEANT_HS, ModelDoubt
from seaload.deciding.uncertainty import Ensemble, filling
from seaload.evidence.verdict import SIDES
from seaload.sailing.sail_cases import CaseSailer, finish, under_way
from seaload.scenario.size_records import FoilChange

MOST_CARRYING = 4  # seas that changes are sailed in
MOST_ENSEMBLES = 1
HIGHER = "waves 10 % higher"
REALISATIONS = 8  # of an ensemble, as of a sweep's


def changes_of(sized):
    """[(name, FoilChange or None, Boat)] of all that is compared: changes, the sea higher, other foils."""
    study, found = sized.study, []
    for change in sized.changes:
        found.append((change.name, change, changed_boat(study.boat, study.foil_side, change)))
    if not any(of_height_alone(change) for change in sized.changes):
        found.append((HIGHER, FoilChange(HIGHER, hs=MEANT_HS), study.boat))
    return found + [(name, None, boat) for name, boat in sized.compared]


def of_height_alone(change):
    """Whether a `FoilChange` is one of the height of the sea and of nothing else."""
    return bool(change.hs) and not (change.tip_chord or change.tip_angle or change.stiffness)


class Comparing:
    """What is sailed beside a first sizing, all of it at once."""

    def __init__(self, sailed, sizing):
        self.sailed, self.sizing, self.sized = sailed, sizing, sailed.sized
        self.numbers = carrying(sizing, MOST_CARRYING)
        self.parts = {i: sizing.season.seas[i] for i in self.numbers}
        self.pairs = {i: self.pair_of(i) for i in self.numbers}
        self.changes = changes_of(self.sized)
        self.sailers = [self.sailer_of(change, boat) for _, change, boat in self.changes]
        self.doubted = self.numbers[:MOST_ENSEMBLES]
        self.ensembles = [self.ensemble(i) for i in self.doubted]
        self.levels = {side: sizing.needed[side].if_right for side in SIDES}
        self.sail()

    def pair_of(self, i):
        """(setting, sea) numbers of a part."""
        part = self.parts[i]
        if part.sea >= 0:
            return self.sailed.chosen[part.sea].setting, part.sea
        one = self.sized.situations[part.situation]
        return one.setting, one.sea

    def sailer_of(self, change, boat):
        """`CaseSailer` of a changed boat, or of higher waves."""
        study = replace(self.sailed.study, boat=boat)
        factor = 1.0 + (change.hs if change is not None else 0.0)
        model = {**study.model, **({"hs_factor": factor} if factor != 1.0 else {})}
        settings = {self.pairs[i]: self.parts[i].setting for i in self.numbers}
        own = self.sailed
        return CaseSailer(study, settings, own.store, own.hands, own.account, model=model)

    def ensemble(self, i):
        """The designed runs of a part."""
        own = self.sailed
        plain = CaseSailer(
            own.study, {self.pairs[i]: self.parts[i].setting}, own.store, own.hands, own.account
        )  # fmt: skip
        short, count = filling(plain, REALISATIONS)
        return Ensemble(short, self.pairs[i], count, stepped=())

    def cases(self, i):
        """(setting, sea, realisation) numbers of a part."""
        return [(*self.pairs[i], r) for r in range(len(self.parts[i].records))]

    def sail(self):
        """Have everything marched; boats share no block."""
        waiting = []
        for sailer in self.sailers:
            waiting += under_way([(sailer, [case for i in self.numbers for case in self.cases(i)])])
        for each in self.ensembles:
            waiting += under_way(each.jobs())
        finish(waiting)

    def told(self):
        """[(name, change, `Told`)] of everything compared."""
        shares = {side: side_shares(self.sizing, self.numbers, side) for side in SIDES}
        base = season_of(
            self.sailed.study, self.sized, self.parts, {i: self.parts[i].records for i in self.numbers},
            self.sailed.study.model,
        )  # fmt: skip
        found = []
        for (name, change, _), sailer in zip(self.changes, self.sailers, strict=True):
            records = {i: [sailer.records[case] for case in self.cases(i)] for i in self.numbers}
            other = season_of(sailer.study, self.sized, self.parts, records, sailer.model)
            found.append((name, change, told(base, other, shares, self.levels)))
        return found

    def doubt(self):
        """`ModelDoubt` of the ensembles."""
        season = self.sizing.season
        weights = {side: side_shares(self.sizing, self.doubted, side) for side in SIDES}
        pairs = [(each, self.parts[i]) for each, i in zip(self.ensembles, self.doubted, strict=True)]
        return ModelDoubt(season, pairs, weights, self.levels)


def by_height(found):
    """{side: (points,) relative change of the load over that of the height} of a change of height alone, or None."""
    for _, change, each in found:
        if change is not None and of_height_alone(change):
            return {side: each.limit[side][0] / change.hs for side in SIDES}
    return None

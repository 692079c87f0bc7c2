"""A plan marched again: which seas and settings are marched, what is counted, when it fails. Marches are made up."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.deciding.leg.met import Met
from seaload.deciding.library.coordinates import NAMES, SETTING
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.rates import rates_of
from seaload.scenario.leg_records import LegCheck
from seaload.scenario.read_boat import read_boat
from seaload.scenario.records import Setting
from seaload.studies.leg import check as room
from tests.deciding.library.invented import QUESTION, invented_shelf
from tests.small_study import made_case
from tests.studies.leg.invented_leg import LEGS

PIECES, MEMBERS, BLOCKS = 3, 2, 120
HEAVY = 2.6  # [share of the limit] times the loads


@pytest.fixture(scope="module")
def emulator():
    shelf = invented_shelf(40)
    for column in ("load_at_rate", "load_mean"):
        shelf.columns[column][:] = HEAVY * shelf.columns[column]
    return Emulator(shelf)


def question_of(emulator, marches=4, seed=1):
    """A leg of three pieces with two wave systems in two members."""
    values = dict(zip(NAMES, QUESTION, strict=True))
    row = QUESTION[: len(SETTING)]
    setting = Setting(values["extension"], values["rake"], values["heel"], values["cant"], 0.0, values["speed_set"])
    _, boat = read_boat(LEGS.parent / "boats" / "demo.toml")
    leg = SimpleNamespace(name="checked", check=LegCheck(marches, seed), boat=boat, boat_name="demo",
                          settings=(setting,), raw={}, file=LEGS / "leg.toml")  # fmt: skip
    of = lambda value: np.full((PIECES, 1, MEMBERS), float(value))  # noqa: E731
    both = lambda one, other: np.stack([of(one), of(other)], axis=-1)  # noqa: E731
    met = Met(np.zeros((PIECES, 1)), of(3.0), of(9.0), of(0.5), both(2.4, 1.8), both(9.0, 13.0), both(0.5, -0.4),
              np.zeros((PIECES, 1), dtype=int), *(np.zeros((PIECES, 1)),) * 3)  # fmt: skip
    plan = SimpleNamespace(settings=np.zeros(PIECES, dtype=int))
    return SimpleNamespace(leg=leg, emulator=emulator, settings=row[None]), plan, met


class FakeSailer:
    """Gives every case the same made-up march, and keeps what was asked."""

    past = 0  # blocks of each march past half the limit, two blocks apart

    def __init__(self, study, settings, store, crew, account):
        FakeSailer.asked, self.records = (study, settings), {}

    def compile_first(self):
        """Nothing is compiled."""

    def sail(self, wanted):
        """Records with `past` events."""
        worst = np.zeros(BLOCKS)
        worst[: 2 * self.past : 2] = 0.6
        for case in wanted:
            self.records[case] = made_case(block_worst_reverse=worst, duration=1200.0)


def checked(monkeypatch, tmp_path, emulator, past, **options):
    """The `Check` of marches with so many events each."""
    monkeypatch.setattr(room, "CaseSailer", FakeSailer)
    monkeypatch.setattr(FakeSailer, "past", past)
    question, plan, met = question_of(emulator, **options)
    return room.checked(question, plan, met, tmp_path, (1, None, None))


def test_as_many_as_told_pass_and_many_more_fail(monkeypatch, tmp_path, emulator):
    told = np.exp(rates_of(emulator, QUESTION[None]).log_rate_past(np.full((1, 2), 0.5))[0, 0]) * 1200.0
    assert 0.05 < told < 3.2, "plenty, and not more than a library tells"
    right = checked(monkeypatch, tmp_path, emulator, 0 if told < 0.5 else round(told))
    assert not right.fails and right.marches == PIECES * 4
    wrong = checked(monkeypatch, tmp_path, emulator, 30)
    assert wrong.fails and wrong.verdicts[0].counted == 30 * PIECES * 4
    whole = told * PIECES * 4  # with the doubt its mean is higher
    assert 0.9 * whole < wrong.verdicts[0].told < 2.5 * whole
    assert wrong.verdicts[1].counted == 0


def test_seas_hold_all_systems_of_one_member_as_high_as_all_waves(monkeypatch, tmp_path, emulator):
    checked(monkeypatch, tmp_path, emulator, 0)
    study, settings = FakeSailer.asked
    assert len(study.seas) == PIECES and len(settings) == PIECES
    assert all(len(sea.systems) == 2 and sea.hs == pytest.approx(3.0, rel=0.01) for sea in study.seas)
    assert len({sea.name for sea in study.seas}) == PIECES


def test_marches_and_seed_are_those_written(monkeypatch, tmp_path, emulator):
    assert checked(monkeypatch, tmp_path, emulator, 0, marches=2).marches == 2 * PIECES
    checked(monkeypatch, tmp_path, emulator, 0, seed=7)
    assert FakeSailer.asked[0].sampling.seed == 7

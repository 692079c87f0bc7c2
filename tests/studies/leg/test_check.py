"""A plan marched again: which seas and settings are marched, what is counted, when it fails. Marches are made up."""

from types import SimpleNamespace

import numpy as np
import pytest

from seaload.basis.records import STATUS_DONE
from seaload.deciding.leg.met import Met
from seaload.deciding.leg.sea_table import SeaTable
from seaload.deciding.library.coordinates import NAMES, SETTING
from seaload.deciding.library.doubt_there import Inputs
from seaload.deciding.library.emulator import Emulator
from seaload.deciding.library.rates import rates_of
from seaload.scenario.leg_records import LegCheck
from seaload.scenario.read_boat import read_boat
from seaload.scenario.records import Setting
from seaload.studies.leg import check as room
from tests.deciding.library.invented import QUESTION, invented_shelf
from tests.deciding.library.test_told_odds import ENTRIES
from tests.small_study import made_case
from tests.studies.leg.invented_leg import LEGS

PIECES, MEMBERS, BLOCKS = 3, 2, 120
HEAVY = 2.6  # [share of the limit] times the loads


@pytest.fixture(scope="module")
def emulator():
    shelf = invented_shelf(40)
    for column in ("load_at_rate", "load_mean", "load_calm", "tail_swing"):
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
    table = SeaTable(emulator, row[None], Inputs(ENTRIES, 0.0, False, 16.0))
    return SimpleNamespace(leg=leg, table=table, emulator=emulator, settings=row[None]), plan, met


class FakeSailer:
    """Gives every case the same made-up march, and keeps what was asked."""

    past = 0  # blocks of each march past half the limit, two blocks apart

    def __init__(self, study, settings, store, crew, account):
        FakeSailer.asked, FakeSailer.changed, self.records = (study, settings), [], {}

    def compile_first(self):
        """Nothing is compiled."""

    def variant(self, settings, **changes):
        """The same with numbers of the model changed."""
        FakeSailer.changed.append(changes)
        other = object.__new__(FakeSailer)
        other.records = {}
        return other


def sail_together(jobs):
    """Records with `past` events."""
    worst = np.zeros(BLOCKS)
    worst[: 2 * FakeSailer.past : 2] = 0.6
    for sailer, wanted in jobs:
        for case in wanted:
            sailer.records[case] = made_case(block_worst_reverse=worst, duration=1200.0, status=STATUS_DONE)


def checked(monkeypatch, tmp_path, emulator, past, **options):
    """The `Check` of marches with so many events each."""
    monkeypatch.setattr(room, "CaseSailer", FakeSailer)
    monkeypatch.setattr(room, "sail_together", sail_together)
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


def test_what_is_uncertain_is_drawn_anew_for_each_piece(monkeypatch, tmp_path, emulator):
    """Inputs that a march can have otherwise, each piece its own; crests as a higher sea."""
    checked(monkeypatch, tmp_path, emulator, 0)
    changed = FakeSailer.changed
    assert len(changed) == PIECES
    assert set(changed[0]) == {"lift_slope_factor", "rake_zero_shift", "hs_factor"}
    assert len({one["lift_slope_factor"] for one in changed}) == PIECES and all(one["hs_factor"] > 0 for one in changed)
    before = [dict(one) for one in changed]
    checked(monkeypatch, tmp_path, emulator, 0, seed=2)
    assert FakeSailer.changed != before


def test_it_is_judged_by_what_is_told_of_the_inputs_drawn(emulator):
    """`ln_rates_known` at a draw is the rate at the load that comes as often (`evidence.all_told`): mean +
    (level - mean - shift) exp(-growth)."""
    table = question_of(emulator)[0].table
    rates, columns = table.told_at(QUESTION[None], np.zeros(1))
    off = np.zeros((1, len(columns.names)))
    off[0, columns.names.index("lift_slope")] = 1.5
    k = columns.names.index("lift_slope")
    mean = rates.load_mean[0]
    level = mean + (0.6 - mean - 1.5 * columns.shift[0, :, k]) * np.exp(-1.5 * columns.growth[0, :, k])
    assert room.ln_rates_known(columns, rates, off, 0.6)[0] == pytest.approx(rates.log_rate_past(level[None])[0])

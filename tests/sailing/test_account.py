"""What a sailing tells of the time it took."""

from types import SimpleNamespace

import pytest

from seaload.sailing import sail_cases
from seaload.sailing.sail_cases import Account, CaseSailer


def test_seconds_of_compiling_add_up(monkeypatch):
    monkeypatch.setattr(sail_cases, "load_kernels", lambda task, say: 2.5)
    account = Account()
    sailer = SimpleNamespace(account=account, settings={(0, 0): None}, task=lambda cases: cases)
    CaseSailer.compile_first(sailer)
    CaseSailer.compile_first(sailer)
    assert account.compile_s == pytest.approx(5.0)

"""Parts of a study go on in turns: one while the others wait, none beside another, and the first error ends all."""

import threading
import time
from concurrent.futures import Future
from types import SimpleNamespace

import pytest

from seaload.sailing.under_way import UnderWay


class Sailer:
    """Stands in for a sailer whose blocks are futures of the test."""

    def __init__(self, blocks):
        self.blocks, self.records = blocks, {}
        self.account = SimpleNamespace(show=lambda: None)

    def ask(self, case):
        """Future of a case begun."""
        assert self.blocks.first(self.name_of(case), self, case)
        future = Future()
        self.blocks.begin(future, [(self, case)])
        return future

    def name_of(self, case):
        return case

    def take(self, cases, records):
        self.records.update(zip(cases, records, strict=True))


def come(future, what, after=0.0):
    """The future comes back after some seconds."""
    threading.Timer(after, future.set_result, [([what],)]).start()


def part_of(blocks, name, futures, told, rounds=3):
    """A part of so many rounds, each decided by what came back before."""

    def part():
        sailer, seen = Sailer(blocks), []
        for number in range(rounds):
            told.append((name, number, "begins"))
            futures[name, number] = sailer.ask((name, number, tuple(seen)))
            if all((other, number) in futures for other in "ab"):  # the slower has asked as well: both are under way
                for other in "ba":
                    come(futures[other, number], f"{other}{number}")
            while (name, number, tuple(seen)) not in sailer.records:
                blocks.land()
            seen.append(sailer.records[name, number, tuple(seen)])
            told.append((name, number, "decides"))
        return seen

    return part


def test_one_part_goes_on_while_another_waits():
    """Neither would ever be given its round, did not both ask for it before either comes back."""
    blocks, futures, told = UnderWay(), {}, []
    parts = [part_of(blocks, name, futures, told) for name in "ab"]
    assert blocks.in_turns(parts) == [["a0", "a1", "a2"], ["b0", "b1", "b2"]]
    assert [each for each in told if each[0] == "a"] == [("a", n, w) for n in range(3) for w in ("begins", "decides")]


def test_never_two_parts_at_once():
    blocks, inside, most = UnderWay(), [0], [0]

    def part(number):
        future = Future()
        for _ in range(5):
            inside[0] += 1
            most[0] = max(most[0], inside[0])
            time.sleep(0.002)
            inside[0] -= 1
            future = Future()
            come(future, number, 0.002)
            (found,) = blocks.results([future])
        return found

    assert blocks.in_turns([lambda: part(1), lambda: part(2), lambda: part(3)]) == [([1],), ([2],), ([3],)]
    assert most == [1]


def test_the_first_error_ends_the_others():
    blocks = UnderWay()

    def fails():
        raise ValueError("this one")

    with pytest.raises(ValueError, match="this one"):
        blocks.in_turns([lambda: blocks.results([Future()]), fails])


def test_a_part_by_itself_needs_no_turns():
    assert UnderWay().in_turns([threading.current_thread]) == [threading.main_thread()]

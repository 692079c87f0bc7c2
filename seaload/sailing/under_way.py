"""Blocks begun and not yet back: a case that several ask for at once is marched once and given to each of them; and
work that goes on in turns, one part while the others wait for their blocks.
"""

import threading
from concurrent.futures import FIRST_COMPLETED, FIRST_EXCEPTION, ThreadPoolExecutor, wait
from contextlib import contextmanager

LOOK = 0.5  # [s] between two looks whether to go on waiting


class UnderWay:
    """The blocks of a whole study that are being marched, and who waits for their cases."""

    def __init__(self):
        self._blocks = {}  # {future: [(sailer, case)]}
        self._others = {}  # {name of a case: [(sailer, case)] who asked after the one that has it marched}
        self._turn, self._stopped = None, False  # the lock of whose turn it is, while there are turns

    def first(self, name, sailer, case):
        """Whether nobody has yet asked for the case of this name; else the sailer will be given it as its `case`.

        A name is (key, whether for the deepest load); a case marched for that serves those who do not ask for it too.
        """
        for known in (name, (name[0], True)):
            if known in self._others:
                self._others[known].append((sailer, case))
                return False
        self._others[name] = []
        return True

    def begin(self, future, block):
        """A `block` of (sailer, case) was handed to the crew."""
        self._blocks[future] = block

    def land(self):
        """Take what has come back, once something has. RuntimeError when nothing is under way."""
        if not self._blocks:
            raise RuntimeError("a case is waited for that nobody marches")
        for future in self._first_of(list(self._blocks), FIRST_COMPLETED):
            if future not in self._blocks:  # taken by another while this one waited for its turn
                continue
            block, (records, *times) = self._blocks.pop(future), future.result()
            for sailer in dict.fromkeys(sailer for sailer, _ in block):
                mine = [(case, record) for (own, case), record in zip(block, records, strict=True) if own is sailer]
                sailer.take(*map(list, zip(*mine, strict=True)), *times)
                times = []  # of the whole block, counted once
            for sailer, case in block:
                for other, asked in self._others.pop(sailer.name_of(case)):
                    other.records[asked] = sailer.records[case]
            block[0][0].account.show()

    def results(self, futures):
        """Results of futures that no sailer takes, in their order, once all are there."""
        self._first_of(futures, FIRST_EXCEPTION)
        return [future.result() for future in futures]

    def in_turns(self, parts):
        """[what each of the functions `parts` gives]; while one waits for its blocks, another has its turn.

        Parts share nothing, so what they give does not hang on the order of the turns. The first error of any ends all.
        """
        if len(parts) < 2:
            return [part() for part in parts]
        self._turn, self._stopped = threading.Lock(), False
        with ThreadPoolExecutor(len(parts)) as pool:
            begun = [pool.submit(self._in_turn, part) for part in parts]
            try:
                for part in wait(begun, return_when=FIRST_EXCEPTION).done:
                    part.result()
                return [part.result() for part in begun]
            finally:
                self._stopped = True

    def _in_turn(self, part):
        with self._turn:  # pyrefly: ignore[bad-context-manager]  (made before the turns begin)
            return part()

    def _first_of(self, futures, when):
        """Those of the futures that are done, once there are as many as `when` says; others have their turn meanwhile.

        KeyboardInterrupt when a part has failed or the whole was interrupted.
        """
        with self._released():
            while True:
                done, rest = wait(futures, timeout=LOOK, return_when=when)
                if self._stopped:
                    raise KeyboardInterrupt
                if not rest or (when == FIRST_COMPLETED and done) or any(each.exception() for each in done):
                    return done

    @contextmanager
    def _released(self):
        if self._turn is None:
            yield
            return
        self._turn.release()
        try:
            yield
        finally:
            self._turn.acquire()

"""Blocks begun and not yet back: a case that several ask for at once is marched once and given to each of them."""

from concurrent.futures import FIRST_COMPLETED, wait


class UnderWay:
    """The blocks of a whole study that are being marched, and who waits for their cases."""

    def __init__(self):
        self._blocks = {}  # {future: (sailer, cases)}
        self._others = {}  # {name of a case: [(sailer, case)] who asked after the one that has it marched}

    def first(self, name, sailer, case):
        """Whether nobody has yet asked for the case of this name; else the sailer will be given it as its `case`."""
        if name in self._others:
            self._others[name].append((sailer, case))
            return False
        self._others[name] = []
        return True

    def begin(self, future, sailer, cases):
        """A block was handed to the crew."""
        self._blocks[future] = sailer, cases

    def land(self):
        """Take what has come back, once something has. RuntimeError when nothing is under way."""
        if not self._blocks:
            raise RuntimeError("a case is waited for that nobody marches")
        for future in wait(self._blocks, return_when=FIRST_COMPLETED).done:
            sailer, cases = self._blocks.pop(future)
            sailer.take(cases, *future.result())
            for case in cases:
                for other, asked in self._others.pop(sailer.name_of(case)):
                    other.records[asked] = sailer.records[case]
            sailer.account.show()

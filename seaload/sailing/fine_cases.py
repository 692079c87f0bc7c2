"""Cases whose load cycles are counted in fine bins, for load spectra: the ordinary record, its matrix a finer one.

They go through the ordinary sailer and store under keys of their own, so they are marched once and found again.
"""

from seaload.basis.exact_hash import hash_of
from seaload.sailing.block_task import fine_task
from seaload.sailing.fine_counts import BINS
from seaload.sailing.sail_cases import CaseSailer


class FineSailer(CaseSailer):
    """A `CaseSailer` of such cases."""

    def task_of(self, asked, sampling=None, **options):
        """`FineTask` of (sailer, case); arguments as of `CaseSailer.task_of`."""
        return fine_task(super().task_of(asked, sampling, **options))

    def key_of(self, case):
        """Key of a case: that of the ordinary one, and of the bins."""
        return hash_of([super().key_of(case), BINS])

    def compile_first(self):
        """Have machine code there before the work is shared out."""
        CaseSailer(
            self.study, self.settings, self.store, self.crew, self.account, model=self.model, blocks=self.blocks
        ).compile_first()

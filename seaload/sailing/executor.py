"""Where blocks are marched: threads of this process, or the workers of a Dask cluster, behind one
executor.
"""

import os
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

from seaload.basis.errors import InputError
from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.block_task import march_task
from seaload.sailing.cluster import cluster

TURN = 0.0001  # [s] until Python lets another thread run: a march asks several times at every chunk, and waits so long


def all_cores():
    """Number of processors this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


class Threads:
    """Marches tasks in threads of this process."""

    def __init__(self, pool):
        self._pool, self._stopped = pool, threading.Event()

    def submit(self, task):
        """Future of what `march_task` makes of a task."""
        return self._pool.submit(march_task, task, self._stopped.is_set)

    def stop(self):
        """Have blocks under way end at their next chunk."""
        self._stopped.set()


def refuse_both(workers, scheduler):
    """InputError for a number of `workers` beside the address of a `scheduler`."""
    if workers is not None and scheduler is not None:
        raise InputError("options", "workers", workers, "not beside a scheduler: a cluster brings its own workers")


@contextmanager
def crew(workers=None, scheduler=None):
    """Who takes tasks, `submit(task)`, and gives futures of what `march_task` makes of them: `workers` threads here
    (default: all cores), or the cluster at address `scheduler`.

    Threads, because the march holds no lock. When the body is left by an error or by Ctrl-C, blocks under way
    end at their next chunk.
    """
    refuse_both(workers, scheduler)
    one_blas_thread()  # what is prepared here counts as well
    if scheduler is not None:
        with cluster(scheduler) as sender:
            yield sender
        return
    pool = ThreadPoolExecutor(workers or all_cores())
    threads = Threads(pool)
    turn_before = sys.getswitchinterval()
    sys.setswitchinterval(TURN)
    try:
        yield threads
    finally:
        threads.stop()
        pool.shutdown(wait=True, cancel_futures=True)
        sys.setswitchinterval(turn_before)

"""Where blocks are marched: threads of this process, or the workers of a Dask cluster, behind one
executor.
"""

import os
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

from seaload.basis.compile import source_fingerprint
from seaload.basis.errors import CannotRun
from seaload.sailing.block_task import march_task

PATIENCE = 10.0  # [s] for a scheduler to answer
TURN = 0.0001  # [s] until Python lets another thread run: a march asks several times at every chunk, and waits so long


def all_cores():
    """Number of processors this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


class Crew:
    """Takes tasks and gives futures of what `march_task` makes of them."""

    def __init__(self, submit, size):
        self.submit, self.size = submit, size


@contextmanager
def crew(workers=None, scheduler=None):
    """A `Crew`: `workers` threads here (default: all cores), or the cluster at address `scheduler`.

    Threads, because the march holds no lock. When the body is left by an error or by Ctrl-C, blocks under way
    end at their next chunk.
    """
    if scheduler is not None:
        yield from cluster_crew(scheduler, workers)
        return
    size = workers or all_cores()
    pool, stop = ThreadPoolExecutor(size), threading.Event()
    turn_before = sys.getswitchinterval()
    sys.setswitchinterval(TURN)
    try:
        yield Crew(lambda task: pool.submit(march_task, task, stop.is_set), size)
    finally:
        stop.set()
        pool.shutdown(wait=True, cancel_futures=True)
        sys.setswitchinterval(turn_before)


def cluster_crew(address, workers):
    """The one `Crew` of a Dask cluster; CannotRun when nobody answers or the workers run other sources."""
    try:
        from distributed import Client
    except ImportError:
        raise CannotRun('--scheduler needs Dask: pip install "seaload[cluster]"') from None
    try:
        client = Client(address, timeout=PATIENCE)
    except (OSError, ValueError, TimeoutError) as error:
        raise CannotRun(f"{address}: the scheduler does not answer: {str(error) or 'timeout'}") from None
    try:
        refuse_other_sources(client, address)
        pool = client.get_executor(pure=False)
        size = workers or sum(client.nthreads().values())
        try:
            yield Crew(lambda task: pool.submit(march_task, task), size)
        finally:
            pool.shutdown(wait=False)
    finally:
        client.close()


def refuse_other_sources(client, address):
    """CannotRun when a cluster has no worker, or one whose sources or versions are not those of this
    process.
    """
    found = client.run(source_fingerprint)
    if not found:
        raise CannotRun(f"{address}: the cluster has no workers")
    others = sorted(worker for worker, print_ in found.items() if print_ != source_fingerprint())
    if others:
        raise CannotRun(f"{others[0]}: this worker runs other sources or versions; install the same ones")

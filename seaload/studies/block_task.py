"""One block of cases as a task that a thread or a cluster's worker can do: everything it needs, nothing
shared.
"""

import threading
from dataclasses import dataclass

from seaload.simulation.block import march_block
from seaload.studies.blas_threads import one_blas_thread
from seaload.studies.compile_first import ready_kernels

_LOADING = threading.Lock()
_LOADED = threading.Event()


@dataclass(frozen=True)
class BlockTask:
    """Arguments of `march_block`."""

    boat: object
    foil: object
    sea: object
    cases: tuple  # of (Setting, realisation)
    sampling: object
    model: dict
    gust: object = None  # (steps + 1,) wind pressure over its mean, or None
    keep: tuple | str | None = None


def load_kernels(task, say=None):
    """Have this process's kernels loaded, compiled if need be; gives the seconds it took, 0 when they
    were.
    """
    with _LOADING:
        if _LOADED.is_set():
            return 0.0
        took = ready_kernels(task, say)
        _LOADED.set()
        return took


def march_task(task, stop=None):
    """(records, BlockTimes) of a task; `stop` as in `march_block`."""
    load_kernels(task)
    one_blas_thread()
    return march_block(
        task.boat, task.foil, task.sea, task.cases, task.sampling, task.model,
        gust=task.gust, keep=task.keep, stop=stop,
    )  # fmt: skip

"""One block of cases as a task that a thread or a cluster's worker can do: everything it needs, nothing
shared.
"""

import threading
from dataclasses import dataclass, replace
from typing import Any

from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.compile_first import ready_kernels
from seaload.sailing.fine_counts import finely_counted
from seaload.simulation.block import MOMENTS, march_block
from seaload.simulation.minute import march_minute
from seaload.simulation.prepared import Prepared
from seaload.simulation.prescribed_loads import prescribed_records

_LOADING = threading.Lock()
_LOADED = threading.Event()
_PREPARED = Prepared()  # of this process; a block has the same bytes without it


@dataclass(frozen=True)
class BlockTask:
    """Arguments of `march_block`."""

    boat: object
    foil: object
    sea: object
    cases: tuple  # of (Setting, realisation)
    sampling: Any
    model: dict
    gust: object = None  # pull of the wind as `march_block` takes it, None for the sea's own wind
    keep: int | str | None = None
    deepest: bool = False


@dataclass(frozen=True)
class MinuteTask:
    """Arguments of `march_minute`."""

    block: BlockTask  # of one case
    rewind: object


@dataclass(frozen=True)
class FineTask:
    """A block whose cases are counted in fine bins too: its `keep` holds what that needs."""

    block: BlockTask


def fine_task(block):
    """`FineTask` of a `BlockTask`."""
    return FineTask(replace(block, keep=MOMENTS))


@dataclass(frozen=True)
class PrescribedTask:
    """Written motions of a study's foils, from the calm trim of one setting."""

    block: BlockTask  # of one case of the study: boat, working foil, sampling, model, kernels
    setting: object
    windward: object  # Foil or None
    motions: tuple  # of PrescribedMotion


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
    """(records, BlockTimes) of a block, series of a minute, records of motions; `stop` as in `march_block`."""
    block = task if isinstance(task, BlockTask) else task.block
    load_kernels(block)
    one_blas_thread()
    scene = (block.boat, block.foil, block.sea)
    if isinstance(task, MinuteTask):
        return march_minute(*scene, block.cases[0], block.sampling, block.model, task.rewind, _PREPARED)
    if isinstance(task, PrescribedTask):
        foils, step = (block.foil, task.windward), block.sampling.step
        return prescribed_records(block.boat, foils, task.setting, task.motions, step, block.model, stop)
    records, times = march_block(
        *scene, block.cases, block.sampling, block.model,
        gust=block.gust, keep=block.keep, deepest=block.deepest, stop=stop, prepared=_PREPARED,
    )  # fmt: skip
    if isinstance(task, FineTask):
        records = [finely_counted(record, block.sampling.step) for record in records]
    return records, times

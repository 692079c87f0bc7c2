"""A Dask cluster as a place to march blocks: every task sent to it ends, whatever becomes of the cluster."""

import asyncio
import threading
import time
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager

from seaload.basis.errors import CannotRun
from seaload.basis.machine_code import source_fingerprint
from seaload.sailing.block_task import march_task

PATIENCE = 10.0  # [s] for a scheduler to answer
WORKERS_BACK = 60.0  # [s] for a cluster that lost its workers to have one again
BETWEEN_LOOKS = 1.0  # [s]
KEPT = "finished cases are kept, the same command goes on from there"
OTHER_SOURCES = "this worker runs other sources or versions; install the same ones"


@contextmanager
def cluster(address):
    """A `Sender` to the Dask cluster at an address; CannotRun when no scheduler answers, or a worker runs other
    sources.
    """
    try:
        from distributed import Client
    except ImportError:
        raise CannotRun('--scheduler needs Dask: pip install "seaload[cluster]"') from None
    refuse_silence(address)
    try:
        client = Client(address, timeout=PATIENCE)
    except (OSError, ValueError) as error:
        raise CannotRun(no_answer(address, error)) from None
    try:
        refuse_other_sources(client, address)
        sender = Sender(client, address)
        try:
            yield sender
        finally:
            sender.stop()
    finally:
        client.close(timeout=PATIENCE)


def no_answer(address, error):
    """What to say when a scheduler does not answer."""
    return f"{address}: the scheduler does not answer: {str(error) or f'nothing within {PATIENCE:g} s'}"


async def identity_of(address):
    """Who answers at an address, as Dask's servers say it."""
    from distributed.core import rpc

    async with rpc(address) as remote:
        return await remote.identity()


def refuse_silence(address):
    """CannotRun unless a Dask scheduler answers at an address in time.

    A client of the library waits for ever for a server that takes the connection and then says nothing.
    """

    async def ask():
        return await asyncio.wait_for(identity_of(address), PATIENCE)

    try:
        with ThreadPoolExecutor(1) as apart:  # the caller's thread may have an event loop of its own
            kind = apart.submit(lambda: asyncio.run(ask())).result()["type"]
    except Exception as error:  # whatever a stranger's bytes make of the library
        raise CannotRun(no_answer(address, error)) from None
    if kind != "Scheduler":
        raise CannotRun(f"{address}: this is a Dask {kind.lower()}, not the scheduler")


def refuse_other_sources(client, address):
    """CannotRun when a cluster has no worker, or one whose sources or versions are not those of this
    process.
    """
    found = client.run(source_fingerprint, on_error="return")
    if not found:
        raise CannotRun(f"{address}: the cluster has no workers")
    others = sorted(worker for worker, print_ in found.items() if print_ != source_fingerprint())
    if others:
        raise CannotRun(f"{others[0]}: {OTHER_SOURCES}")


def march_there(fingerprint, task):
    """What a worker does; CannotRun when it joined later with other sources."""
    if fingerprint != source_fingerprint():
        raise CannotRun(OTHER_SOURCES)
    return march_task(task)


class Sender:
    """Sends tasks to a cluster and gives futures, which end with CannotRun once the cluster cannot do them."""

    def __init__(self, client, address):
        self._client, self._address = client, address
        self._pool = client.get_executor(pure=False)
        self._lock, self._waiting, self._lost = threading.Lock(), {}, None
        self._stopped = threading.Event()
        threading.Thread(target=self._watch, daemon=True).start()

    def submit(self, task):
        """Future of what `march_task` makes of a task."""
        answer = Future()
        with self._lock:
            if self._lost:
                raise CannotRun(self._lost)
            there = self._pool.submit(march_there, source_fingerprint(), task)
            self._waiting[there] = answer
        there.add_done_callback(self._hand_on)
        return answer

    def stop(self):
        """Send and watch no more."""
        self._stopped.set()
        self._pool.shutdown(wait=False)

    def _hand_on(self, there):
        with self._lock:
            answer = self._waiting.pop(there, None)
        if answer is None:
            return
        error = None if there.cancelled() else there.exception()
        if there.cancelled():
            answer.set_exception(CannotRun(f"{self._address}: the scheduler is gone; {KEPT}"))
        elif type(error).__name__ == "KilledWorker":
            answer.set_exception(CannotRun(f"{self._address}: several workers died of the same block; {KEPT}"))
        elif error is not None:
            answer.set_exception(error)
        else:
            answer.set_result(there.result())

    def _watch(self):
        seen = time.monotonic()
        while not self._stopped.wait(BETWEEN_LOOKS):
            if self._has_workers():
                seen = time.monotonic()
            elif time.monotonic() - seen > WORKERS_BACK:
                self._give_up(f"{self._address}: no workers for {WORKERS_BACK:g} s; {KEPT}")
                return

    def _has_workers(self):
        try:
            scheduler = self._client.scheduler
            return bool(self._client.sync(scheduler.ncores, workers=None, callback_timeout=PATIENCE))
        except Exception:  # a connection breaks in many ways, and each means that nobody answers
            return False

    def _give_up(self, why):
        with self._lock:
            self._lost, waiting, self._waiting = why, self._waiting, {}
        for answer in waiting.values():
            answer.set_exception(CannotRun(why))

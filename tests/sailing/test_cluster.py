"""A cluster that is none, falls silent, or loses its workers ends the work in time and by name; nothing hangs."""

import socket
import threading
import time
from contextlib import contextmanager

import pytest

from seaload.basis.errors import CannotRun
from seaload.command_line.main import exit_code_of
from seaload.sailing import cluster as place
from seaload.sailing.executor import crew
from tests.small_study import STUDIES

distributed = pytest.importorskip("distributed")


@contextmanager
def stranger(greeting):
    """Address of a server that takes every connection, says `greeting`, and then nothing."""
    server, taken = socket.create_server(("127.0.0.1", 0)), []

    def serve():
        while True:
            try:
                taken.append(server.accept()[0])
                taken[-1].sendall(greeting)
            except OSError:
                return

    threading.Thread(target=serve, daemon=True).start()
    yield f"tcp://127.0.0.1:{server.getsockname()[1]}"
    server.shutdown(socket.SHUT_RDWR)
    server.close()
    for connection in taken:
        connection.close()


@pytest.mark.parametrize("greeting", [b"", b"HTTP/1.1 400 Bad Request\r\n\r\n" * 10], ids=["silent", "other"])
def test_a_server_that_does_not_speak_dask_is_not_waited_for(greeting, monkeypatch):
    monkeypatch.setattr(place, "PATIENCE", 1.0)
    began = time.monotonic()
    with stranger(greeting) as address, pytest.raises(CannotRun, match="does not answer"), crew(scheduler=address):
        pytest.fail("nobody is there")
    assert time.monotonic() - began < 30.0


def test_the_command_ends_with_3_when_nobody_speaks_dask(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(place, "PATIENCE", 0.5)
    with stranger(b"") as address:
        words = ["run", STUDIES / "bow-quarter-swell.toml", "--quiet", "--out", tmp_path, "--scheduler", address]
        assert exit_code_of([str(word) for word in words]) == 3
    out, err = capsys.readouterr()
    assert out == "" and address in err and "nothing within 0.5 s" in err and len(err.splitlines()) == 1


BEGUN = threading.Event()


def nap(fingerprint, seconds):
    """Stands in for a march; with a negative number it lasts until the worker is gone."""
    BEGUN.set()
    if fingerprint != place.source_fingerprint():
        raise CannotRun(place.OTHER_SOURCES)
    time.sleep(abs(seconds))
    return seconds


@pytest.fixture
def local(monkeypatch):
    """A cluster of one worker in this process whose tasks only sleep."""
    monkeypatch.setattr(place, "march_there", nap)
    monkeypatch.setattr(place, "WORKERS_BACK", 1.0)
    monkeypatch.setattr(place, "BETWEEN_LOOKS", 0.1)
    BEGUN.clear()
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as cluster:
        yield cluster


def test_tasks_end_by_name_when_all_workers_are_gone(local):
    with place.cluster(local.scheduler_address) as sender:
        assert [sender.submit(0.01 * n).result(20) for n in range(3)] == [0.0, 0.01, 0.02]
        long = sender.submit(5.0)
        assert BEGUN.wait(20)
        local.scale(0)
        with pytest.raises(CannotRun, match="no workers for 1 s; finished cases are kept"):
            long.result(30)
        with pytest.raises(CannotRun, match="no workers"):
            sender.submit(0.0)


def test_tasks_end_by_name_when_the_scheduler_is_gone(local):
    with place.cluster(local.scheduler_address) as sender:
        long = sender.submit(3.0)
        assert BEGUN.wait(20)
        client = distributed.get_client(local.scheduler_address)
        client.loop.add_callback(client.scheduler_comm.comm.abort)
        with pytest.raises(CannotRun, match="the scheduler is gone"):
            long.result(30)


def test_a_worker_is_not_taken_for_the_scheduler(local):
    worker = next(iter(local.workers.values()))
    with pytest.raises(CannotRun, match="a Dask worker, not the scheduler"), place.cluster(worker.address):
        pytest.fail("this is no scheduler")


def test_a_block_that_kills_its_workers_ends_by_name(local):
    with place.cluster(local.scheduler_address) as sender:
        local.scheduler.allowed_failures = 0
        long = sender.submit(3.0)
        assert BEGUN.wait(20)
        worker = next(iter(local.workers.values()))
        local.sync(local.scheduler.remove_worker, worker.address, stimulus_id="a test")
        with pytest.raises(CannotRun, match="several workers died of the same block"):
            long.result(30)


def test_a_worker_with_other_sources_refuses():
    with pytest.raises(CannotRun, match="other sources"):
        place.march_there("0" * 16, None)

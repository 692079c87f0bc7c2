"""Compiles the kernels once a version, in two processes of their own side by side, so that every working
process loads the same machine code.

So that several processes that start together do not all compile, the two work in a folder of their own, which
takes its place at the end. The bits do not depend on it: a process that compiled and
one that loaded march to the same numbers (a test holds this).
"""

import os
import pickle
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation.block import march_block
from seaload.simulation.compile_parts import compile_part

MARK = "complete"
SHORT = 1.0  # [s] marched


def kernel_folder():
    """Where this process looks for machine code."""
    return Path(os.environ["NUMBA_CACHE_DIR"])  # set by basis.compile before the first kernel import


def kernels_ready():
    """Whether this version's kernels have been compiled as a whole."""
    return (kernel_folder() / MARK).exists()


def short_task(task):
    """The same task, two seconds long: enough to need every kernel."""
    sampling = replace(task.sampling, run_in=SHORT, realisation_time=SHORT)
    return replace(task, sampling=sampling, cases=task.cases[:1], gust=None, keep=None, deepest=False)


def march_short(task):
    """March a short task and forget it."""
    one_blas_thread()
    march_block(task.boat, task.foil, task.sea, task.cases, task.sampling, task.model)


def compile_apart(task):
    """Compile in another process and put its machine code in place; True when done.

    When the cache folder cannot be written to, the kernels are compiled in this process, every time.
    """
    folder = kernel_folder()
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        work = Path(tempfile.mkdtemp(prefix=".compiling-", dir=folder.parent))
    except OSError:
        return False
    try:
        paths = os.pathsep.join(path or os.getcwd() for path in sys.path)
        environment = {**os.environ, "SEALOAD_CACHE": str(work), "PYTHONPATH": paths}
        environment.pop("NUMBA_CACHE_DIR", None)
        compile_in_two(pickle.dumps(short_task(task)), environment)
        made = work / "seaload" / "kernels" / folder.name
        (made / MARK).touch()
        put_in_place(made, folder, work)
    except (OSError, subprocess.CalledProcessError):
        return False
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return True


def put_in_place(made, folder, work):
    """Move a finished folder to its name; one that another process finished meanwhile stays."""
    if (folder / MARK).exists():
        return
    if folder.exists():
        folder.rename(work / "incomplete")
    made.rename(folder)


def compile_in_two(task, environment):
    """Two processes compile a part of the kernels each; CalledProcessError when one fails."""
    call = "from seaload.sailing.compile_first import compile_here; compile_here({!r})"
    commands = [[sys.executable, "-c", call.format(part)] for part in ("march", "rest")]
    started = [
        subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                         env=environment)
        for command in commands
    ]  # fmt: skip
    for process in started:
        process.stdin.write(task)
        process.stdin.close()
    for process, command in zip(started, commands, strict=True):
        if process.wait() != 0:
            raise subprocess.CalledProcessError(process.returncode, command)


def compile_here(part):
    """What the other processes do: take a task from standard input, call its kernels, leave machine code behind."""
    task = pickle.loads(sys.stdin.buffer.read())  # written by our own parent
    one_blas_thread()
    compile_part(
        task.boat, task.foil, task.sea, task.cases[0], task.sampling, task.model, march_part=part == "march"
    )


def ready_kernels(task, say=None):
    """Have machine code compiled and loaded before any work; gives the seconds it took."""
    began = time.perf_counter()
    if not kernels_ready():
        if say is not None:
            say("compiling once for this version, about half a minute")
        compile_apart(task)
    march_short(short_task(task))
    return time.perf_counter() - began

"""Compiles the kernels once a version, in two processes of their own side by side, so that every working
process loads the same machine code.

So that several processes that start together do not all compile, the two work in a folder of their own, which
takes its place at the end. The bits do not depend on it: a process that compiled and
one that loaded march to the same numbers (a test holds this).
"""

import json
import os
import pickle
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

from seaload.basis.machine_code import MARK, SAID, kernel_folder, say_once
from seaload.sailing.blas_threads import one_blas_thread
from seaload.sailing.isolated_python import isolated_command
from seaload.simulation.block import march_block
from seaload.simulation.compile_parts import compile_part

SHORT = 1.0  # [s] marched
PARTS = ("march", "rest")


def kernels_ready():
    """Whether this version's kernels have been compiled as a whole and are all still there; damage is said."""
    folder = kernel_folder()
    if folder is None or not os.path.isfile(folder / MARK):
        return False
    try:
        listed = json.loads((folder / MARK).read_text())
        whole = all((folder / name).stat().st_size >= size for name, size in listed.items())
    except (OSError, ValueError, AttributeError):
        whole = False
    if not whole:
        say_once(f"{folder}: damaged machine code, compiled anew")
    return whole


def short_task(task):
    """The same task, two seconds long: enough to need every kernel."""
    sampling = replace(task.sampling, run_in=SHORT, realisation_time=SHORT)
    return replace(task, sampling=sampling, cases=task.cases[:1], gust=None, keep=None, deepest=False)


def march_short(task):
    """March a short task and forget it."""
    one_blas_thread()
    march_block(task.boat, task.foil, task.sea, task.cases, task.sampling, task.model)


def compile_apart(task):
    """Compile in two other processes and put their machine code in place; True when done."""
    folder = kernel_folder()
    if folder is None:
        return False
    try:
        work = Path(tempfile.mkdtemp(prefix=".compiling-", dir=folder.parent))
    except OSError:
        return False
    try:
        environment = {**os.environ, "SEALOAD_CACHE": str(work)}
        compile_in_two(pickle.dumps(short_task(task)), environment, work)
        made = work / "seaload" / "kernels" / folder.name
        files = {str(path.relative_to(made)): path.stat().st_size for path in made.rglob("*.nb?")}
        (made / MARK).write_text(json.dumps(files))
        put_in_place(made, folder, work)
    except (OSError, subprocess.CalledProcessError):
        return False
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return True


def put_in_place(made, folder, work):
    """Move a finished folder to its name; one that another process finished meanwhile stays."""
    if kernels_ready():
        return
    if folder.exists():
        folder.rename(work / "incomplete")
    made.rename(folder)


def compile_in_two(task, environment, folder):
    """Two processes, at work in `folder`, compile a part of the kernels each; CalledProcessError when one fails."""
    call = "from seaload.sailing.compile_first import compile_here; compile_here({!r})"
    started = []
    try:
        for part in PARTS:
            command = isolated_command(call.format(part))
            started.append(
                subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                                 env=environment, cwd=folder)
            )  # fmt: skip
        for process in started:
            with process.stdin as pipe:  # pyrefly: ignore[bad-context-manager]  (opened as a pipe above)
                pipe.write(task)
        for process in started:
            if process.wait() != 0:
                raise subprocess.CalledProcessError(process.returncode, process.args)
    finally:
        for process in started:
            process.kill()
            process.communicate()


def compile_here(part):
    """What the other processes do: take a task from standard input, call its kernels, leave machine code behind.

    SystemExit when some of it could not be kept.
    """
    task = pickle.loads(sys.stdin.buffer.read())  # written by our own parent
    one_blas_thread()
    compile_part(
        task.boat, task.foil, task.sea, task.cases[0], task.sampling, task.model, march_part=part == "march"
    )
    if SAID:
        raise SystemExit(1)


def ready_kernels(task, say=None):
    """Have machine code compiled and loaded before any work; gives the seconds it took."""
    began = time.perf_counter()
    say = say or (lambda line: None)
    if kernel_folder() is None:
        say("compiling, two minutes or so")
    elif not kernels_ready():
        say("compiling once for this version, about half a minute")
        if not compile_apart(task):
            say("compiling in this process, two minutes or so")
    march_short(short_task(task))
    return time.perf_counter() - began

"""The command of a child process that has this process's package and libraries, and nothing of the working folder."""

import os
import sys

import numpy as np

import seaload

START = """
import sys
sys.path[:] = {paths!a}
from importlib.util import module_from_spec, spec_from_file_location
spec = spec_from_file_location("seaload", {file!a}, submodule_search_locations=[{folder!a}])
seaload = sys.modules["seaload"] = module_from_spec(spec)
spec.loader.exec_module(seaload)
{statement}
"""


def library_paths():
    """Absolute folders that this process imports from; the working folder only when libraries are installed there."""
    here = os.path.realpath(os.curdir)
    libraries = os.path.realpath(os.path.dirname(os.path.dirname(np.__file__)))
    paths = [os.path.abspath(path) for path in sys.path if isinstance(path, str)]
    return [path for path in paths if os.path.realpath(path) != here or here == libraries]


def isolated_command(statement):
    """Words of a command that runs a Python statement; `seaload` in it is the package of this process, wherever that
    stands. The child takes no Python option from the environment and writes no byte code.
    """
    file = os.path.abspath(seaload.__file__)
    start = START.format(paths=library_paths(), file=file, folder=os.path.dirname(file), statement=statement)
    return [sys.executable, "-I", "-B", "-c", start]

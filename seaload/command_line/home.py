"""A home folder for libraries that ask for one when they are imported."""

import os
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory


@contextmanager
def some_home():
    """While the body runs the process has a home folder: its own, or an empty one when it has none (a container's user
    without an entry in the list of users).
    """
    try:
        Path.home()
    except RuntimeError:
        with TemporaryDirectory(prefix="seaload-") as folder:
            os.environ["HOME"] = folder
            try:
                yield
            finally:
                del os.environ["HOME"]
    else:
        yield

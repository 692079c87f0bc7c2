"""A small file system in memory, for tests of what a full disk leaves behind."""

import subprocess
from contextlib import contextmanager

import pytest


@contextmanager
def small_disk_at(place, size):
    """`place`, a new folder, as a file system of `size` ("120k", "16m"); skips without the right to mount one."""
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(place)]
    try:
        if subprocess.run(mount, capture_output=True, check=False).returncode:
            pytest.skip("needs the right to mount a tmpfs")
    except OSError:
        pytest.skip("needs mount")
    try:
        yield place
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)  # a file of a failed writer may be open yet

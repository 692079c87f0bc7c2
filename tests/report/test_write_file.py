"""Pages and pictures are whole or not there, and a disk that refuses them is one line with the file's name."""

import subprocess
import sys
from pathlib import Path

import pytest

from seaload.basis.errors import CannotRun
from seaload.report.shared.write_file import written
from tests.small_disk import small_disk_at

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "tests" / "strangers" / "versions" / "0.1.0"
LINE = [sys.executable, "-m", "seaload.command_line.main"]


@pytest.fixture
def small_disk(tmp_path):
    """A file system of 120 kB in memory."""
    with small_disk_at(tmp_path / "disk", "120k") as place:
        yield place


def test_text_and_bytes_are_written_whole(tmp_path):
    for content in ("naïve, 3°", b"\x00\xff"):
        path = written(tmp_path / "page", content)
        assert path.read_bytes() == (content if isinstance(content, bytes) else content.encode())
    assert [entry.name for entry in tmp_path.iterdir()] == ["page"]


@pytest.mark.skipif(sys.platform != "linux", reason="a disk of its own")
def test_a_full_disk_names_the_page_and_leaves_the_earlier_one(small_disk):
    written(small_disk / "page", "earlier")
    with pytest.raises(CannotRun, match=r"page: cannot be written: No space left on device; the result is kept"):
        written(small_disk / "page", "x" * 200_000)
    assert [(entry.name, entry.read_text()) for entry in small_disk.iterdir()] == [("page", "earlier")]


@pytest.mark.skipif(sys.platform != "linux", reason="a disk of its own")
def test_report_on_a_full_disk_is_one_line_and_nothing_begun_is_left(small_disk):
    (small_disk / "result.nc").write_bytes((KEPT / "log.nc").read_bytes())
    done = subprocess.run([*LINE, "report", str(small_disk)], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 3 and done.stdout == "" and len(done.stderr.splitlines()) == 1
    assert "report.html: cannot be written: No space left" in done.stderr
    assert [entry.name for entry in small_disk.iterdir()] == ["result.nc"]


@pytest.mark.skipif(sys.platform != "linux", reason="a disk of its own")
def test_a_result_on_a_full_disk_says_so(small_disk):
    """The netCDF library tells a full disk as an HDF error."""
    import numpy as np
    import xarray as xr

    from seaload.files.result_file import write_result

    much = xr.Dataset({"speed_mean": (("setting", "sea"), np.random.default_rng(1).normal(size=(400, 100)))})
    with pytest.raises(CannotRun, match=r"result.nc: cannot be written: No space left on device; what was finished"):
        write_result(much, small_disk)
    assert list(small_disk.iterdir()) == []

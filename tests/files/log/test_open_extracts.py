"""Measured records in the open: the readers and the judging meet real instruments.

Origin and licence of each file: data/SOURCES.md. Figures marked READ are the publisher's; DERIVED ones were worked out
with other code from the same file, before this reader existed.
"""

from pathlib import Path

import numpy as np
import pytest

from seaload.basis.constants import STANDARD_GRAVITY
from seaload.basis.units import DEGREE
from seaload.fatigue.cycle_list import list_cycles
from seaload.files.log.judge import judge
from seaload.files.log.log_chunk import FAIL
from seaload.files.log.read_log import look_at, read_log
from tests.files.log.log_makers import described, whole

DATA = Path(__file__).resolve().parent / "data"
SINCE = 'since = "2026-01-01T00:00"'


def test_an_inertial_unit_with_uneven_stamps(tmp_path):
    """DERIVED: steps of 7.56, 10.08 (median) and 30.24 ms; mean size of the acceleration near 1 g (0.995)."""
    columns = {
        "time_s": ("time", "s", SINCE),
        "gyro_y_deg_s": ("pitch_rate", "deg/s", ""),
        "acc_x_g": ("acceleration_x", "g", ""),
        "acc_y_g": ("acceleration_y", "g", ""),
        "acc_z_g": ("acceleration_z", "g", ""),
    }
    log = described(tmp_path, columns)
    path = DATA / "imu_100hz_irregular.csv"
    time, values = whole(read_log(log, [path]))
    assert len(time) == 2500
    steps = np.diff(time)
    assert np.median(steps) == pytest.approx(0.01008, abs=2e-5) and steps.min() > 0.0075 and steps.max() < 0.0306
    size = np.sqrt(sum(values[f"acceleration_{axis}"] ** 2 for axis in "xyz"))
    assert np.mean(size) / STANDARD_GRAVITY == pytest.approx(0.995, abs=0.01)
    *_, judgement = judge(log, [path])
    assert judgement.samples == 2500 and judgement.sample_rate == pytest.approx(99.2, abs=0.3)
    for tests in judgement.counts.values():
        assert FAIL not in tests["gross_range_test"] and FAIL not in tests["flat_line_test"]


def test_forces_at_200_hz_give_their_cycles(tmp_path):
    """DERIVED with the open counter rainflow 3.2.0 on the stored values: largest range of the side force 78.608 N."""
    columns = {"time_s": ("time", "s", SINCE), "force_y_N": ("load_share_1", "share", "gain = 0.01")}
    log = described(tmp_path, columns)
    path = DATA / "flume_wave_loads_200hz.csv"
    *chunks, judgement = judge(log, [path])
    values = np.concatenate([chunk.values["load_share_1"] for chunk in chunks])
    assert len(values) == 8000 and judgement.sample_rate == pytest.approx(200.0, rel=1e-4)
    ranges, _, counts, _, _ = list_cycles(100.0 * values)
    assert ranges.max() == pytest.approx(78.608, abs=0.001)
    assert counts.sum() == pytest.approx(878.5)
    assert np.sum(counts * ranges**5) == pytest.approx(2.08788e10, rel=1e-5)
    assert judgement.repairs == ()


def test_a_bridge_is_scaled_by_gain_and_zero(tmp_path):
    """READ in the file's header: zeros 9.19906e-05 and -0.000310854, first row 1034671.4 and -126487.28."""
    lines = (DATA / "strain_bridge_calibration.csv").read_text(encoding="utf-8").splitlines()
    stamped = [lines[0], "time," + lines[1], *(f"{0.1 * i:.1f},{line}" for i, line in enumerate(lines[2:]))]
    (tmp_path / "bridge.csv").write_text("\n".join(stamped) + "\n", encoding="utf-8")
    columns = {
        "time": ("time", "s", SINCE),
        "flap_raw": ("strain_1", "strain", "gain = 1.0346714e-6\nzero = 9.19906e-05\nleast = -1\nmost = 1"),
        "edge_raw": ("strain_2", "strain", "gain = 1.2648728e-7\nzero = -0.000310854\nsign = -1\nleast = -1\nmost = 1"),
        "flap_scaled": ("strain_3", "strain", "gain = 1e-12\nleast = -1\nmost = 1"),
    }
    _, values = whole(read_log(described(tmp_path, columns), [tmp_path / "bridge.csv"]))
    np.testing.assert_allclose(1e12 * (values["strain_1"] + values["strain_2"]), 1e12 * values["strain_3"], atol=0.02)


def test_a_netcdf_file_of_a_moored_profiler(tmp_path):
    """READ in the file: attitude in degrees, (direction, time) arrays in m s-2 and rad s-1, 8 samples a second."""
    columns = {
        "pitch": ("pitch", "deg", ""),
        "roll": ("roll", "deg", ""),
        "angrt[0]": ("roll_rate", "rad/s", ""),
        "accel[2]": ("acceleration_z", "m/s2", ""),
        "time": ("time", "iso", ""),
    }
    log = described(tmp_path, columns)
    time, values = whole(read_log(log, [DATA / "adcp_imu_sample.nc"]))
    assert len(time) == 100 and time[0] == pytest.approx(1.5009156e9, abs=100.0)
    assert look_at(log, [DATA / "adcp_imu_sample.nc"]).step == pytest.approx(1.0 / 8.0, rel=0.01)
    assert np.mean(values["acceleration_z"]) == pytest.approx(STANDARD_GRAVITY, rel=0.02)
    assert np.all(np.abs(values["pitch"]) < 5.0 * DEGREE)

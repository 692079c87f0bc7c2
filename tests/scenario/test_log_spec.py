"""The description of a log: every mistake is one line that names the file, the key, the value and what is allowed."""

from pathlib import Path

import pytest

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE, KNOT
from seaload.scenario.log_spec import read_log_spec

BOAT = Path(__file__).resolve().parents[2] / "scenarios" / "boats" / "demo.toml"
TEXT = f"""
name = "morning"
boat = "{BOAT.as_posix()}"
foil = "port"
time_zone = "UTC"
[columns.stamp]
channel = "time"
unit = "iso"
[columns."Gauge 1"]
channel = "strain_1"
unit = "µε"
gain = 2.0
zero = 10
[columns.nose]
channel = "pitch"
unit = "degrees"
sign = -1
[columns.log]
channel = "speed"
unit = "kn"
most = 40
[[unloaded]]
start = 2026-03-13T05:40:00Z
end = "2026-03-13T08:45"
"""

MISTAKES = [
    ('channel = "strain_1"', 'channel = "strian_1"', ("Gauge 1.channel", "strian_1", "did you mean strain_1?")),
    ('unit = "µε"', 'unit = "deg"', ("Gauge 1.unit", '"microstrain"')),
    ('channel = "strain_1"', 'channel = "strain_9"', ("strain_9", "5 strain stations")),
    ('"UTC"', '"Somewhere"', ("time_zone", "Somewhere", "Europe/Lisbon")),
    ("time_zone", "time_zon", ("unknown key", "did you mean time_zone?")),
    ("sign = -1", "sgin = -1", ("sgin", "did you mean sign?")),
    ("sign = -1", "sign = 2", ("nose.sign", "1 or -1")),
    ("gain = 2.0", "gain = -2.0", ("Gauge 1.gain", "-2.0", "over 0")),
    ('unit = "iso"', 'unit = "iso"\ngain = 2.0', ("stamp.gain", "a time column has no gain")),
    ('unit = "iso"', 'unit = "iso"\nsince = "2026-01-01"', ("stamp.since", "counts")),
    ('channel = "time"\nunit = "iso"', 'channel = "roll"\nunit = "deg"', ("columns", "channel time")),
    ('08:45"', '05:30"', ("unloaded[1].end", "must be after its start")),
    ('08:45"', '05:99"', ("unloaded[1].end", "2026-03-13T05:99", "a moment such as")),
    ("most = 40", "most = 40\nleast = 50", ("log.least", "must be below most")),
    ('"port"', '"left"', ("foil", "left", '"port"')),
    ('name = "morning"', 'name = "morning"\ndiary = "none.csv"', ("diary", "no such file")),
    ('name = "morning"', 'name = "morning"\n[clock]\nchannel = "heave"', ("heave", "no column has this channel")),
]


@pytest.fixture
def written(tmp_path):
    """Function that writes a description and gives its path."""

    def write(text):
        path = tmp_path / "log.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_a_column_becomes_si_by_sign_gain_zero_and_unit(written):
    log = read_log_spec(written(TEXT))
    gauge, nose, speed = (log.columns[name] for name in ("Gauge 1", "nose", "log"))
    assert (gauge.channel, gauge.factor, gauge.zero) == ("strain_1", 2e-6, 10.0)
    assert nose.factor == pytest.approx(-DEGREE, rel=1e-15)
    assert speed.most == pytest.approx(40 * KNOT)
    assert log.unloaded == ((1773380400.0, 1773391500.0),)


def test_a_moment_without_a_zone_is_meant_in_the_zone_of_the_log(written):
    utc = read_log_spec(written(TEXT)).unloaded[0]
    east = read_log_spec(written(TEXT.replace('"UTC"', '"+02:00"'))).unloaded[0]
    assert east[0] == utc[0], "this one names its zone"
    assert east[1] == utc[1] - 7200.0


@pytest.mark.parametrize(("right", "wrong", "said"), MISTAKES, ids=[case[1].split("\n")[-1] for case in MISTAKES])
def test_a_mistake_is_one_line_with_file_key_value_and_what_is_allowed(written, right, wrong, said):
    assert right in TEXT
    text = TEXT.replace(right, wrong, 1)
    if "[clock]" in wrong:
        text = TEXT + wrong.partition("\n")[2]
    with pytest.raises(InputError) as refusal:
        read_log_spec(written(text))
    line = str(refusal.value)
    assert "\n" not in line and "log.toml" in line
    for word in said:
        assert word in line

"""Recorded logs from strangers: whatever stands in the files, chunks of samples whose times rise, or one line."""

import random
import warnings
from pathlib import Path

import numpy as np
import pytest

from seaload.files.log.judge import judge
from seaload.files.log.log_chunk import LogChunk
from seaload.scenario.log_spec import read_log_spec
from tests.strangers import mutate_bytes, mutate_toml
from tests.strangers.accounts import Account

ROOT = Path(__file__).resolve().parents[2]
LOGS = ROOT / "scenarios" / "logs"
ROWS = 200
USUAL, FRESH = 150, 2000


@pytest.fixture
def folder(tmp_path):
    """The example log in short, laid out as in the checkout."""
    for name in ("boats", "logs"):
        (tmp_path / name).mkdir()
    for path in (ROOT / "scenarios" / "boats").iterdir():
        (tmp_path / "boats" / path.name).write_bytes(path.read_bytes())
    return tmp_path


def samples_that_are(items):
    """AssertionError unless the times of the chunks are finite and rise; the last item is the judgement."""
    last = -np.inf
    for item in items:
        if isinstance(item, LogChunk):
            assert np.all(np.isfinite(item.time)) and np.all(np.diff(item.time) > 0.0) and item.time[0] > last
            last = float(item.time[-1])
        else:
            assert np.isfinite(item.sample_rate) and item.sample_rate > 0.0


def broken_logs(folder, seed, tries):
    """`Account` of so many logs, of which one file or two are broken."""
    lot, account = random.Random(seed), Account(seed)
    whole = {path.name: path.read_bytes() for path in LOGS.iterdir()}
    for name in ("morning-1.csv", "morning-2.csv"):
        whole[name] = b"\n".join(whole[name].split(b"\n")[: ROWS + 1])
    for number in range(tries + 1):
        for name, raw in whole.items():
            (folder / "logs" / name).write_bytes(raw)
        if not number:  # kernels are loaded by a log as it was, which counts as no try
            list(judge(read_log_spec(folder / "logs" / "morning.toml"), [folder / "logs" / "morning-1.csv"]))
            continue
        for name in lot.sample(sorted(whole), lot.choice((1, 1, 2))):
            toml = name.endswith(".toml")
            raw = mutate_toml.mutated(whole[name].decode(), lot) if toml else mutate_bytes.mutated(whole[name], lot)
            (folder / "logs" / name).write_bytes(raw)
        files = [folder / "logs" / "morning-1.csv", folder / "logs" / "morning-2.csv"][: lot.choice((1, 2))]

        def read(files=files):
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                samples_that_are(judge(read_log_spec(folder / "logs" / "morning.toml"), files))

        account.attempt(read)
    return account


def test_broken_logs_are_samples_or_one_line(folder):
    broken_logs(folder, 21, USUAL).judge()


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_two_thousand_logs_of_fresh_seeds(folder, fresh_seed):
    broken_logs(folder, fresh_seed, FRESH).judge()

"""Sizings from strangers: whatever stands in the file or in its scatter table, a study whose every number is finite, or
one line. The example is broken by lot, with a fixed seed here and fresh seeds in the slow part.
"""

import os
import random
from functools import lru_cache
from pathlib import Path

import pytest

from seaload.scenario.read_boat import read_boat
from seaload.studies.size import load_size
from tests.strangers import mutate_bytes, mutate_toml
from tests.strangers.accounts import Account
from tests.strangers.test_studies import only_numbers_that_are

ROOT = Path(__file__).resolve().parents[2]
SCENARIOS = ROOT / "scenarios"
STUDY, TABLE = "size-demo.toml", "44007-scatter.csv"
USUAL, FRESH = 250, int(os.environ.get("SEALOAD_FUZZ_SIZES", 3000))


@pytest.fixture
def folders(tmp_path):
    """The example that sizes a foil, laid out as in the checkout."""
    for name in ("boats", "sizing", "data"):
        (tmp_path / name).mkdir()
    for path in (SCENARIOS / "boats").iterdir():
        (tmp_path / "boats" / path.name).write_bytes(path.read_bytes())
    return tmp_path


def broken_sizes(folders, seed, tries, patch):
    """`Account` of so many broken files, one in two a scatter table."""
    lot, account = random.Random(seed), Account(seed)
    known = lru_cache(lambda path: read_boat(path))
    patch.setattr(load_size, "read_boat", known)
    study, table = (SCENARIOS / "sizing" / STUDY).read_text(), (SCENARIOS / "data" / TABLE).read_bytes()
    for _ in range(tries):
        of_table = lot.random() < 0.5
        (folders / "sizing" / STUDY).write_bytes(study.encode() if of_table else mutate_toml.mutated(study, lot))
        (folders / "data" / TABLE).write_bytes(mutate_bytes.mutated(table, lot) if of_table else table)
        account.attempt(lambda: only_numbers_that_are(load_size.load_size(folders / "sizing" / STUDY)))
    return account


def test_broken_sizings_are_a_study_or_one_line(folders, monkeypatch):
    broken_sizes(folders, 21, USUAL, monkeypatch).judge(most_accepted=0.7)


@pytest.mark.slow
@pytest.mark.timeout(3600)
def test_broken_sizings_of_fresh_seeds(folders, monkeypatch, fresh_seed):
    broken_sizes(folders, fresh_seed, FRESH, monkeypatch).judge(most_accepted=0.7)

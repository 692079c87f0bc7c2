"""A fresh seed for the slow part, printed so that what it finds can be repeated with SEALOAD_FUZZ_SEED."""

import os
import secrets

import pytest


@pytest.fixture
def fresh_seed():
    """A seed never used before, or the one that SEALOAD_FUZZ_SEED names."""
    return int(os.environ.get("SEALOAD_FUZZ_SEED") or secrets.randbelow(10**9))

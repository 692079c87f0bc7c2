"""Saved results from strangers: damaged, cut short, another program's, of another version: pages, or one line.

The kept results of `versions/` are broken by lot, with a fixed seed here and fresh seeds in the slow part.
"""

import os
import random
import warnings

import pytest
import xarray as xr

from seaload.report.write_pages import report_result
from tests.strangers import mutate_netcdf
from tests.strangers.accounts import Account
from tests.strangers.test_older_results import KEPT

PAGED = {path.stem: path for path in KEPT if path.stem != "library"}
USUAL, FRESH = 8, int(os.environ.get("SEALOAD_FUZZ_RESULTS", 150))
LONGEST = 60.0  # [s] a page takes seconds, and its first one the libraries
TEXTS = ("", "{", "[1, 2]", '{"sea": 7}', "null", "<script>alert(1)</script>", "\u202e\x1b[2J", "x" * 5000, "-1", "nan")


def attributes_changed(data, lot):
    """Attributes of the file that are gone, or say something else."""
    for name in lot.sample(sorted(data.attrs), lot.choice((1, 2, 5))):
        if lot.random() < 0.3:
            del data.attrs[name]
        else:
            data.attrs[name] = lot.choice((*TEXTS, 7, 0.5))
    return data


def broken(data, lot):
    """A Dataset after one to three mutations, None where they do not go together."""
    data = data.copy(deep=True)
    for _ in range(lot.choice((1, 1, 2, 3))):
        if lot.random() < 0.2:
            data = attributes_changed(data, lot)
        elif (data := mutate_netcdf.mutated(data, lot, sorted(map(str, data.variables)))) is None:
            return None
    return data


def broken_results(folder, seed, tries, kinds):
    """`Account` of pages made of so many broken results."""
    lot, account, path = random.Random(seed), Account(seed, longest=LONGEST), folder / "result.nc"
    bases = {kind: xr.load_dataset(PAGED[kind], decode_timedelta=False) for kind in kinds}
    for base in bases.values():
        for variable in base.variables.values():
            variable.encoding = {}
    while account.tries < tries:
        data = broken(bases[lot.choice(kinds)], lot)
        path.unlink(missing_ok=True)
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                data.to_netcdf(path)
        except Exception:  # what cannot be written cannot be met
            continue
        if lot.random() < 0.1:
            raw = path.read_bytes()
            path.write_bytes(raw[: lot.randrange(len(raw))])
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            account.attempt(lambda: report_result(path, folder / "pages"))
    return account


def test_broken_results_are_pages_or_one_line(tmp_path):
    broken_results(tmp_path, 21, USUAL, ["log", "boat"]).judge()


@pytest.mark.slow
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("kind", sorted(PAGED))
def test_broken_results_of_fresh_seeds(tmp_path, fresh_seed, kind):
    broken_results(tmp_path, fresh_seed, -(-FRESH // len(PAGED)), [kind]).judge()

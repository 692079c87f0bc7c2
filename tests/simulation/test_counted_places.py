"""What a march counts at every place against a plain look at that place's own series."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation.block import MOMENTS, march_block
from seaload.simulation.counting import BLOCK_TIME
from seaload.simulation.model_options import model_factors
from seaload.simulation.prepare_foil import geometry_of

LIMITS = {"reverse_limit_factor": 0.02, "normal_limit_factor": 0.2}
RELEASE = 0.05  # [-] of the limit, DESIGN: until back by 5 % of that limit


def excursions(share, level):
    """Times that a share of a limit comes past a level, until back by the release."""
    count, outside = 0, False
    for value in share:
        if not outside and value >= level:
            count, outside = count + 1, True
        elif outside and value < level - RELEASE:
            outside = False
    return count


@pytest.fixture(scope="module")
def sailed(small_study):
    """(record, moments (time, places)) with limits so low that every place is past them often, reverse and normal."""
    one_blas_thread()
    study, foil = small_study, small_study.boat.foils[small_study.foil_side]
    sampling = replace(study.sampling, run_in=10.0, realisation_time=120.0)
    model = {**study.model, **LIMITS}
    cases = [(replace(study.settings[0], rake=0.0), 3)]
    (record,), _ = march_block(study.boat, foil, study.seas[0], cases, sampling, model, keep=MOMENTS)
    return record, record.series["bending_moment"]


def test_excursions_of_each_place_are_those_of_its_own_series(sailed):
    record, moment = sailed
    reverse, normal = -moment / record.reverse_limit, moment / record.normal_limit
    for counted, share, level in (
        (record.excursions_half, reverse, 0.5),
        (record.excursions_full, reverse, 1.0),
        (record.normal_exceedances, normal, 1.0),
    ):
        plain = [excursions(column, level) if np.any(column) else 0 for column in share.T]
        assert list(counted) == plain
    assert np.sum(record.excursions_half) > 3 and np.sum(record.normal_exceedances) > 3


def test_highest_share_of_each_block_is_that_of_its_own_series(sailed):
    record, moment = sailed
    rows = int(round(BLOCK_TIME / (record.duration / len(moment))))
    for place in np.flatnonzero(np.any(moment, axis=0)):
        blocks = (moment[:, place] / record.normal_limit[place]).reshape(-1, rows).max(axis=1)
        found = record.place_block_normal[place, : len(blocks)]
        assert np.all(np.isnan(found)) or found == pytest.approx(blocks, rel=1e-5)


def test_the_worst_of_the_foil_either_way_is_that_of_what_is_outside_the_hull(sailed, small_study):
    record, _ = sailed
    foil = small_study.boat.foils[small_study.foil_side]
    geometry = geometry_of(foil, small_study.settings[0].extension, model_factors(LIMITS))
    outside = geometry.channel_s >= geometry.bearing - 1e-9
    assert 3 < outside.sum() < len(outside) - 3
    for highest, limit, blocks in (
        ((record.moment_max, record.grid_moment_max), geometry.normal_limit, record.block_worst_normal),
        ((-record.moment_min, -record.grid_moment_min), geometry.reverse_limit, record.block_worst_reverse),
    ):
        share = np.concatenate(highest) / limit
        assert np.nanmax(blocks) == pytest.approx(share[outside].max(), rel=1e-5)

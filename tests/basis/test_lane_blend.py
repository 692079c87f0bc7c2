"""Rows of three anchors blended at two instants: numpy's sum, and a lane has the same bits in any company."""

import numpy as np

from seaload.basis.lane_blend import INSTANTS, PARTS, lane_blend
from seaload.basis.lane_index import LANES

ROWS = 7
RATED = np.array([True, False, True, True, False, False, True])


def drawn(seed, *shape):
    return np.random.default_rng(seed).normal(size=shape).astype(np.float32)


def blended(anchors, weights):
    values, rates = ([np.full(ROWS * LANES, np.nan, dtype=np.float32) for _ in range(INSTANTS)] for _ in range(2))
    lane_blend(tuple(each.reshape(-1) for each in anchors), weights.reshape(-1), RATED, tuple(values), tuple(rates))
    return np.array([values, rates]).reshape(2, INSTANTS, ROWS, LANES)


def test_the_sums_are_numpys_to_rounding_and_only_of_rated_rows_has_a_rate():
    anchors, weights = drawn(1, PARTS // 2, ROWS, 2, LANES), drawn(2, INSTANTS, 2, PARTS, LANES)
    parts = np.concatenate([anchors[:, :, 0], anchors[:, :, 1]]).astype(float)
    true = np.einsum("ivpl,prl->virl", weights.astype(float), parts)
    size = np.einsum("ivpl,prl->virl", np.abs(weights).astype(float), np.abs(parts))
    values, rates = blended(anchors, weights)
    near = 2.0 * PARTS * np.finfo(np.float32).eps * size
    assert np.all(np.abs(values - true[0]) <= near[0])
    assert np.all(np.abs(rates - true[1])[:, RATED] <= near[1][:, RATED]) and np.isnan(rates[:, ~RATED]).all()


def test_a_lane_has_the_same_bits_in_any_company():
    anchors, weights = drawn(1, PARTS // 2, ROWS, 2, LANES), drawn(2, INSTANTS, 2, PARTS, LANES)
    first = blended(anchors, weights)
    for lane in range(LANES):
        other, moved = drawn(3, *anchors.shape), drawn(4, *weights.shape)
        other[..., lane], moved[..., lane] = anchors[..., 0], weights[..., 0]
        other[1, :, :, lane - 1] = np.nan
        assert blended(other, moved)[..., lane].tobytes() == first[..., 0].tobytes()

"""A product whose matrix every lane has for itself: numpy's, and a lane has the same bits in any company."""

import numpy as np
import pytest

from seaload.basis.lane_index import LANES
from seaload.basis.lane_matrix import PAIR, ROWS, lane_matrix_product


def product(matrix, columns):
    out = np.full((len(matrix), PAIR, LANES), np.nan, dtype=matrix.dtype)
    lane_matrix_product(matrix.reshape(-1), columns.reshape(-1), out.reshape(-1), *matrix.shape[:2])
    return out


def drawn(seed, *shape):
    return np.random.default_rng(seed).normal(size=shape)


@pytest.mark.parametrize("kind", [np.float32, np.float64])
@pytest.mark.parametrize("rows, count", [(1, 1), (ROWS + 1, 3), (48, 48)])
def test_the_product_is_numpys_to_rounding(kind, rows, count):
    matrix, columns = drawn(1, rows, count, LANES).astype(kind), drawn(2, count, PAIR, LANES).astype(kind)
    true = np.einsum("ikl,kcl->icl", matrix.astype(float), columns.astype(float))
    size = np.einsum("ikl,kcl->icl", np.abs(matrix).astype(float), np.abs(columns).astype(float))
    assert np.all(np.abs(product(matrix, columns) - true) <= 2.0 * count * np.finfo(kind).eps * size)


def test_a_lane_has_the_same_bits_in_any_company():
    matrix, columns = drawn(1, 5, 48, LANES).astype(np.float32), drawn(2, 48, PAIR, LANES).astype(np.float32)
    first = product(matrix, columns)
    for lane in range(LANES):
        other, moved = drawn(3, 5, 48, LANES).astype(np.float32), drawn(4, 48, PAIR, LANES).astype(np.float32)
        other[..., lane], moved[..., lane] = matrix[..., 0], columns[..., 0]
        moved[7, :, lane - 1] = np.nan
        assert product(other, moved)[..., lane].tobytes() == first[..., 0].tobytes()

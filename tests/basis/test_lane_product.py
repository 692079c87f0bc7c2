"""A product over lanes: numpy's in double precision, and a column has the same bits wherever it stands."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seaload.basis.lane_index import LANES
from seaload.basis.lane_product import ROWS, lane_product


def product(matrix, columns):
    out = np.full((len(matrix), columns.shape[1]), np.nan, dtype=np.float32)
    lane_product(matrix, columns, out)
    return out


def drawn(seed, *shape):
    return np.random.default_rng(seed).normal(size=shape).astype(np.float32)


@given(seed=st.integers(0, 99), rows=st.integers(1, 3 * ROWS + 1), count=st.integers(1, 40), wide=st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_product_is_numpys_to_rounding(seed, rows, count, wide):
    matrix, columns = drawn(seed, rows, count), drawn(seed + 1, count, LANES * (1 + wide))
    true = matrix.astype(float) @ columns.astype(float)
    size = np.abs(matrix).astype(float) @ np.abs(columns).astype(float)
    assert np.all(np.abs(product(matrix, columns) - true) <= count * 2.0**-24 * size)


@pytest.mark.parametrize("rows", [1, ROWS - 1, ROWS, 56])
def test_a_column_has_the_same_bits_at_every_place_and_in_any_company(rows):
    matrix, columns = drawn(1, rows, 481), drawn(2, 481, 2 * LANES)
    first = product(matrix, columns)
    for place in range(2 * LANES):
        moved = drawn(3 + place, 481, 2 * LANES)
        moved[:, place] = columns[:, 0]
        assert product(matrix, moved)[:, place].tobytes() == first[:, 0].tobytes()


def test_a_row_has_the_same_bits_at_every_place():
    matrix, columns = drawn(1, 2 * ROWS + 1, 480), drawn(2, 480, 2 * LANES)
    alone = np.concatenate([product(matrix[i : i + 1], columns) for i in range(len(matrix))])
    assert product(matrix, columns).tobytes() == alone.tobytes()


def test_a_number_that_is_not_one_stays_in_its_column():
    columns = drawn(2, 48, 2 * LANES)
    columns[7, 5] = np.nan
    assert np.flatnonzero(np.isnan(product(drawn(1, 12, 48), columns)).any(axis=0)).tolist() == [5]

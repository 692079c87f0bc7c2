"""The changing arrays of a march, made once for a block, and the copies of fixed ones in single precision."""

import numpy as np

from seaload.basis.lane_index import lined_up
from seaload.simulation.layout import (
    INFLOW_ROWS,
    LAGS,
    LANES,
    MOMENT_ROWS,
    RIGID_ROWS,
    SIDES,
    SPAN_ROWS,
    STRIP_OUT_ROWS,
    TOTAL_ROWS,
    Course,
    Held,
    LoadState,
    Work,
    wave_row_count,
)
from seaload.simulation.wave_layout import HULL_HEADINGS

MOST_DELAY = 2.0  # [s] that a helm may be late


def in_numbers_of(kind, record):
    """A record of plain arrays with every array and number of floats in `kind`; whole numbers stay."""

    def turned(value):
        if isinstance(value, np.ndarray):
            return lined_up(value.astype(kind)) if value.dtype.kind == "f" else value
        return kind(value) if isinstance(value, float) else value

    return type(record)(*(turned(value) for value in record))


def load_state(march, kind):
    """`LoadState` for a `march`, every number zero, in numbers of `kind`."""
    strips = march.strip.shape[0]
    rows = wave_row_count(march.hull.shape[0], strips)
    foil, lags, memory, out = march.foil_strips, LAGS * strips, 2 * strips, STRIP_OUT_ROWS * strips
    sizes = (RIGID_ROWS, lags, lags, lags, memory, 2, rows, rows, TOTAL_ROWS, out)
    span = (INFLOW_ROWS * strips, 2 * strips, 4 * foil, 4 * strips, 4 * foil * foil, 1)
    arrays = [lined_up(np.zeros(size * LANES, dtype=kind)) for size in (*sizes, *span)]
    return LoadState(*arrays, slots=np.full(2 * LANES, -1, dtype=np.int64))


def blank_work(march, table, step):
    """`Work` for a `march` and a `table`, with every array zero; `step` [s] of the march."""
    rows = wave_row_count(march.hull.shape[0], march.strip.shape[0])
    components, rank, parts = table.omega.size, table.project.shape[0], (table.hull, table.nodes)
    double = lambda *shape: lined_up(np.zeros(shape))  # noqa: E731
    single = lambda *shape: lined_up(np.zeros(shape, dtype=np.float32))  # noqa: E731
    waves = single(2 * rows * LANES), single(2 * rows * LANES)
    return Work(
        state=double(RIGID_ROWS, LANES),
        start=double(RIGID_ROWS, LANES),
        gathered=double(RIGID_ROWS, LANES),
        loads=load_state(march, np.float32)._replace(wave=waves[0][: rows * LANES], rate=waves[1][: rows * LANES]),
        waves=waves,
        mode=double(2, LANES),
        mode_half=double(2, LANES),
        mode_end=double(2, LANES),
        held=double(4, LANES),
        place=Course(*(double(LANES) for _ in range(6))),
        gained=double(3, LANES),
        heard=double(int(MOST_DELAY / step) + 3, 2 * LANES),
        helm=double(LANES),
        anchors=single(3, rows, 2 * LANES),
        angle=(double(components * LANES), tuple(single(components * LANES) for _ in range(3))),
        phasor=single(2 * components, 2 * LANES),
        shapes=single(rank, 2 * LANES),
        termed=single(max(len(part.terms) * part.rows.shape[1] for part in parts), 2 * LANES),
        met=single(max(part.rows.shape[1] for part in parts), 2 * LANES),
        nodes=single(len(table.nodes.rows), 2 * LANES),
        turned=single(2 * HULL_HEADINGS * LANES),
        moment=single(march.foil_strips + 1, LANES),
        sums=single(7, LANES),
        wind=double(LANES),
    )


def blank_held(march, level, usual):
    """`Held` for a `march`: from a share `level` [-] on either side, `usual` (2, LANES) mean pitch [rad] and speed
    [m/s].
    """
    single = lambda *shape: lined_up(np.zeros(shape, dtype=np.float32))  # noqa: E731
    strips = march.foil_strips
    return Held(
        level=np.full((SIDES, LANES), level, dtype=np.float32),
        usual=np.array(usual, dtype=np.float32),
        share=single(SIDES, LANES),
        moment=single(SIDES * (MOMENT_ROWS + strips), LANES),
        span=single(SPAN_ROWS * (strips + 1), LANES),
    )

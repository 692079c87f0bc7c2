"""The changing arrays of a march, made once for a block."""

import numpy as np

from seaload.simulation.layout import (
    LAGS,
    LANES,
    RIGID_ROWS,
    STRIP_OUT_ROWS,
    TOTAL_ROWS,
    wave_row_count,
)
from seaload.simulation.march import Work


def blank_work(march, table=None):
    """`Work` with every array zero; without a wave table (still water) the summing arrays are token ones."""
    strips, stations = march.strip.shape[0], march.hull.shape[0]
    states = RIGID_ROWS + LAGS * strips
    rows = wave_row_count(stations, strips)
    components, rank, generic = 1, 1, 1
    if table is not None:
        components, rank, generic = table.omega.size, table.project.shape[0], table.expand.shape[0]
    zeros = np.zeros
    return Work(
        state=zeros((states, LANES)),
        start=zeros((states, LANES)),
        gathered=zeros((states, LANES)),
        memory=zeros((strips, 2, LANES)),
        mode=zeros((2, LANES)),
        mode_now=zeros((2, LANES)),
        mode_half=zeros((2, LANES)),
        mode_end=zeros((2, LANES)),
        total=zeros((TOTAL_ROWS, LANES)),
        out=zeros((strips, STRIP_OUT_ROWS, LANES)),
        before=zeros((rows, 2 * LANES), dtype=np.float32),
        after=zeros((rows, 2 * LANES), dtype=np.float32),
        wave=zeros((rows, LANES)),
        rate=zeros((rows, LANES)),
        angle=zeros((3, components * LANES)),
        phasor=zeros((2 * components, 2 * LANES), dtype=np.float32),
        shapes=zeros((rank, 2 * LANES), dtype=np.float32),
        generic=zeros((generic, 2 * LANES), dtype=np.float32),
        moment=zeros((march.foil_strips + 1, LANES)),
        sums=zeros((4, LANES)),
        held=zeros((4, LANES)),
    )

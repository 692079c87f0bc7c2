"""Kernel: what the strips of each surface, foil, keel fin and rudder, do to each other through their wakes.

Half of a strip's own two-dimensional lift acts at once. The matrix of the surface (`foil/wet_states`) less that half
acts on the inflow that the wake remembers, `recalled`: moved slowly a span lifts as the matrix says, shaken fast as
its sections alone. Memory moves slowly, so the matrix is applied once a full step, to what is recalled and to its
rate, and within the step its answer runs straight on: half its curvature times the square of the step is left out.
"""

from typing import NamedTuple

import numpy as np

from seaload.basis.compile import compiled
from seaload.basis.lane_index import at
from seaload.basis.lane_matrix import PAIR, lane_matrix_product
from seaload.foil.lag_states import recalled, recalled_rate
from seaload.simulation import layout as L
from seaload.simulation.layout import BOAT, LANES

B_LAG = BOAT["lag"]
SLOTS = 2  # states mixed at a time: the even one of two neighbours and the odd one


class Felt(NamedTuple):
    """What a strip answers to."""

    velocity: float  # [m/s] normal velocity past its section after what the other strips do to it
    wash: float  # [m/s] half the wash of the far wake there


@compiled
def remember(state, row, flow, rates, lag, lane):
    """Leave what the wake of a strip recalls, its rate, and what the strip feels beyond it, in `state` (a LoadState).

    `row` number of the strip [-], `flow` its `Inflow`, `rates` [m/s2] of its first three lag states, `lag` [-] 1 with
    memory.
    """
    lags, first = state.lags, L.LAGS * row
    z1, z2, z3 = lags[at(first, lane)], lags[at(first + 1, lane)], lags[at(first + 2, lane)]
    z4 = lags[at(first + 3, lane)]
    past = lag * recalled(z1, z2, z3) + (1.0 - lag) * (flow.motion + flow.gust)
    state.recall[at(PAIR * row, lane)] = past
    state.recall[at(PAIR * row + 1, lane)] = lag * recalled_rate(rates[0], rates[1], rates[2])
    entered = lag * (z4 + z4) + (1.0 - lag) * flow.gust
    state.inflow[at(L.INFLOW_ROWS * row + L.F_BEYOND, lane)] = flow.motion + entered - past


@compiled
def water_at_foil(march, state, ahead):
    """Height of the water over the boat's centre of gravity at the foil [m], mean over its strips, in `level`.

    `march`, `state` as in `strip_loads`, after the inflow; `ahead` [s] later than now.
    """
    strip, inflow, level = march.strip.reshape(-1), state.inflow, state.level
    for lane in range(LANES):
        level[lane] = 0.0
    for s in range(march.foil_strips):
        first = L.INFLOW_ROWS * s
        for lane in range(LANES):
            deeper = ahead * inflow[at(first + L.F_DEEPENING, lane)]
            place = strip[at(L.STRIP_ROWS * s + L.S_Z, lane)]
            level[lane] += (inflow[at(first + L.F_DEPTH, lane)] + deeper + place) * march.span_level[3, lane]


@compiled
def hold_state(march, state, slot, number, lane):
    """Have wet state `number` of a `lane` in a `slot` [-]: its matrix is copied there when another one stands in it.

    `march`, `state` as in `strip_loads`.
    """
    if state.slots[at(slot, lane)] != number:
        strips = march.foil_strips
        for row in range(2 * strips):
            for j in range(strips):
                place = (row * SLOTS + slot) * strips + j
                state.pair[at(place, lane)] = march.span_states[number, row, j, lane]
        state.slots[at(slot, lane)] = number


@compiled
def choose_states(march, state):
    """The two wet states next to the water's height `level` of every lane in their slots, the even one's share in
    `level`.

    `march`, `state` as in `strip_loads`. A lane that is lost, its height not a number, has the lowest two.
    """
    for lane in range(LANES):
        top = march.span_level[2, lane]
        place = (state.level[lane] - march.span_level[0, lane]) * march.span_level[1, lane]
        place = min(place, top) if place >= 0.0 else 0.0 * top
        whole = min(np.floor(place), top - 1.0)
        upward = place - whole
        lower = int(whole)
        odd = lower % 2
        hold_state(march, state, 0, lower + odd, lane)
        hold_state(march, state, 1, lower + 1 - odd, lane)
        state.level[lane] = upward if odd == 1 else 1.0 - upward


@compiled
def mix_states(march, state, ahead):
    """What the foil's wakes recall, `recall`, weighted for the two wet states next to the water's height, in `mixed`.

    `march`, `state` as in `strip_loads`; `ahead` [s] from this instant to the middle of the step.
    """
    water_at_foil(march, state, ahead)
    choose_states(march, state)
    rows = PAIR * march.foil_strips
    for row in range(rows):
        for lane in range(LANES):
            value, share = state.recall[at(row, lane)], state.level[lane]
            state.mixed[at(row, lane)] = share * value
            state.mixed[at(rows + row, lane)] = value - share * value


@compiled
def span_answers(march, state, ahead):
    """Answers [m/s] of all surfaces' matrices to what their wakes recall, in `answer`; `march`, `state`, `ahead` [s] as
    in `mix_states`.
    """
    mix_states(march, state, ahead)
    n, keel, rudder = march.foil_strips, march.keel_span.shape[1], march.rudder_span.shape[1]
    lane_matrix_product(state.pair, state.mixed, state.answer, 2 * n, SLOTS * n)
    one, two = PAIR * LANES * n, PAIR * LANES * (n + keel)
    lane_matrix_product(march.keel_span.reshape(-1), state.recall[one:], state.answer[2 * one :], 2 * keel, keel)
    lane_matrix_product(march.rudder_span.reshape(-1), state.recall[two:], state.answer[2 * two :], 2 * rudder, rudder)


@compiled
def felt_by(state, row, near, since, lane):
    """`Felt` by strip number `row` [-] of a `state`, `since` [s] the matrices were applied.

    `near` [-] share of lift that the surface over the section leaves.
    """
    first = 2 * PAIR * row
    answer = state.answer
    span = answer[at(first, lane)] + since * answer[at(first + 1, lane)]
    wash = answer[at(first + 2, lane)] + since * answer[at(first + 3, lane)]
    beyond = state.inflow[at(L.INFLOW_ROWS * row + L.F_BEYOND, lane)]
    return Felt(near * (0.5 * beyond + span), wash)

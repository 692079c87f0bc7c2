"""The network that a plan is a way through: pieces of the leg, each begun at some moment with some setting.

What a setting takes and costs on a piece is told at moments of an even row and lies linearly between them, so that
sums of costs along a plan are sums of what was told. Blocks are pieces that are passed with one setting.
"""

from typing import NamedTuple

import numpy as np


class Network(NamedTuple):
    """What every setting takes and costs on every piece, by the moment at which the piece is begun."""

    first: np.ndarray  # (n,) [s] moment of the first entry of each piece
    step: float  # [s] between entries
    duration: np.ndarray  # (n, q, j) [s]; infinite where a setting is not open on a piece
    costs: np.ndarray  # (n, q, j, c) [any] of each kind that a budget bounds
    change: np.ndarray  # (n,) bool, the setting may be changed at its start
    least_between: float = 0.0  # [s] between two changes
    start: float = 0.0  # [s]

    @property
    def blocks(self):
        """[(first piece, one past the last)] of each block."""
        begins = np.flatnonzero(self.change)
        return list(zip(begins.tolist(), [*begins[1:].tolist(), len(self.change)], strict=True))


def weighed(first, step, count, moments):
    """(place (n,), share of the next (n,) [-]) of `moments` (n,) on `count` entries from `first`, ends held."""
    if count == 1:
        return np.zeros(len(moments), dtype=int), np.zeros(len(moments))
    found = np.clip((moments - first) / step, 0.0, count - 1.0)
    below = np.minimum(found.astype(int), count - 2)
    return below, found - below


def told_at(values, place, settings):
    """Entries (n, ...) of `values` (q, j, ...) at a `place` of `weighed` for `settings` (n,)."""
    below, share = place
    if len(values) == 1:
        return values[0, settings]
    share = share.reshape(-1, *[1] * (values.ndim - 2))
    low, high = values[below, settings], values[below + 1, settings]
    return low + share * (np.where(share == 0.0, low, high) - low)


def passed(network, block, moments, settings):
    """(moments after, costs (n, c)) of passing a `block` from `moments` (n,) [s] with `settings` (n,) numbers; infinite
    where a setting is not open.
    """
    moments, spent = np.array(moments, dtype=float), np.zeros((len(moments), network.costs.shape[-1]))
    for piece in range(*block):
        open_ = np.isfinite(moments)
        here = np.where(open_, moments, network.first[piece])
        place = weighed(network.first[piece], network.step, network.duration.shape[1], here)
        with np.errstate(invalid="ignore"):
            took = told_at(network.duration[piece], place, settings)
        took = np.where(np.isfinite(took) & open_, took, np.inf)
        spent += np.where(np.isfinite(took)[:, None], told_at(network.costs[piece], place, settings), 0.0)
        moments = here + took
    return moments, spent


class Passages(NamedTuple):
    """Every block passed from every entry with every setting."""

    moments: list  # of (q,) [s] for each block
    after: list  # of (q, j) [s]
    spent: list  # of (q, j, c)


def passages_of(network):
    """`Passages` of a network."""
    moments, after, spent = [], [], []
    count, settings = network.duration.shape[1:]
    for block in network.blocks:
        begin = network.first[block[0]] + network.step * np.arange(count)
        ends, costs = passed(network, block, np.repeat(begin, settings), np.tile(np.arange(settings), count))
        moments.append(begin)
        after.append(ends.reshape(count, settings))
        spent.append(costs.reshape(count, settings, -1))
    return Passages(moments, after, spent)


def rest_of(network, passages, time_price, prices):
    """[(q,)] for each block, and one zero at the end: least time_price x time + prices (c,) x costs from there to the
    end of the leg, whatever is spent and however often the setting is changed.
    """
    found = [np.zeros(1)]
    for number in range(len(passages.after) - 1, -1, -1):
        after = passages.after[number]
        later = rest_at(network, passages, found[0], number + 1, after.ravel()).reshape(after.shape)
        took = after - passages.moments[number][:, None]
        with np.errstate(invalid="ignore"):
            whole = np.where(np.isfinite(after), time_price * took + passages.spent[number] @ prices + later, np.inf)
        found.insert(0, whole.min(axis=1))
    return found


def rest_at(network, passages, rest, number, moments):
    """Values (n,) of one entry of `rest_of`, that of the block `number`, at `moments` (n,) [s].

    Past the last entry that is told as there: what was looked at ends soon after the latest that anybody can be there.
    """
    if number == len(passages.moments):
        return np.zeros(len(moments))
    here = np.where(np.isfinite(moments), moments, passages.moments[number][0])
    below, share = weighed(passages.moments[number][0], network.step, len(rest), here)
    if len(rest) == 1:
        return np.full(len(moments), rest[0])
    with np.errstate(invalid="ignore"):
        low, high = rest[below], rest[below + 1]
        told = low + share * (np.where((share == 0.0) | ~np.isfinite(high), low, high) - low)
    return np.where(np.isnan(told), np.inf, told)

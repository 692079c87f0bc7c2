"""The margin on the board: the worst load to expect in any time, how far off the reading between points is, and what of
the sea moves it most.
"""

import math

import numpy as np

from seaload.report.board.data import interpolate

PASSED = {"median": math.log(2.0), "one_in_twenty": -math.log(0.95)}  # [-] mean number of times passed in the exposure
SPREAD = math.log(PASSED["median"] / PASSED["one_in_twenty"])  # of the tail between both loads
HELD_OUT = ("reverse_worst", "normal_worst", "reverse_rate_high", "normal_rate_high")
ODDS_FLOOR = 1e-4  # [1/h] rates below this are all as rare: how far off they are is not told
NINE_OF_TEN = 0.9


def worst_in(median, one_in_twenty, exposure, hours):
    """(median, 1 in 20) worst load of so many hours, from that of the exposure [h].

    An exponential tail through both loads: rates fall by the same factor for every point of load. In a shorter time
    than the exposure the load of the exposure stands, since what is uncertain does not get less with time.
    """
    shift = (one_in_twenty - median) / SPREAD * math.log(max(hours / exposure, 1.0))
    return median + shift, one_in_twenty + shift


def held_out(board):
    """How far off the reading is at points left out one by one, with their neighbours at twice the distance; None where
    no axis has a point between two others.

    Gives {"count", "points": nine of ten worst loads are off by less [% of the limit], "factor": likewise their rates}.
    """
    axes, fields = board["axes"], {name: board["fields"][name] for name in HELD_OUT}
    shape = [len(axis["values"]) for axis in axes]
    grids = {name: np.array(values, dtype=object).reshape(shape) for name, values in fields.items()}
    points, factors = [], []
    for at, axis in enumerate(axes):
        for left_out in range(1, len(axis["values"]) - 1 if axis["name"] != "sea" else 0):
            kept = [{**a, "values": a["values"][:left_out] + a["values"][left_out + 1 :]} if i == at else a
                    for i, a in enumerate(axes)]  # fmt: skip
            coarse = {"axes": kept, "fields": {k: list(np.delete(g, left_out, axis=at).ravel())
                                               for k, g in grids.items()}}  # fmt: skip
            for index in np.ndindex(*(1 if i == at else n for i, n in enumerate(shape))):
                index = tuple(left_out if i == at else k for i, k in enumerate(index))
                place = {a["name"]: a["values"][k] for a, k in zip(axes, index, strict=True)}
                compare(interpolate(coarse, place), {k: g[index] for k, g in grids.items()}, points, factors)
    if not points:
        return None
    off = [float(np.quantile(values, NINE_OF_TEN)) if values else math.nan for values in (points, factors)]
    return {"count": len(points) // 2, "points": off[0], "factor": math.exp(off[1]) if math.isfinite(off[1]) else None}


def compare(read, true, points, factors):
    """Adds how far a reading is off: worst loads [% of the limit] to `points`, logarithms of rates to `factors`."""
    if "outside" in read or any(value is None for value in true.values()):
        return
    for name, value in true.items():
        if name.endswith("_worst"):
            points.append(abs(read[name] - value))
        elif max(value, read[name]) > ODDS_FLOOR:
            factors.append(abs(math.log(max(read[name], ODDS_FLOOR) / max(value, ODDS_FLOOR))))


def sea_spans(board):
    """{name of an axis of the sea: by how much it moves the worst reverse load from its least to its most
    [% of the limit]}, the mean over all else; axes of a single point left out."""
    shape = [len(axis["values"]) for axis in board["axes"]]
    grid = np.array([np.nan if v is None else v for v in board["fields"]["reverse_worst"]]).reshape(shape)
    spans = {}
    for at, axis in enumerate(board["axes"]):
        if axis["name"] in ("hs_m", "tp_s", "waves_from_bow_deg") and shape[at] > 1:
            over = np.ptp(grid, axis=at)
            if np.isfinite(over).any():
                spans[axis["name"]] = float(np.nanmean(over))
    return spans

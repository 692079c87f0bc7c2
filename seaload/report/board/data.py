"""The response data behind the risk board, and the one way of reading between the points that were sailed.

Between sailed points readings are straight lines along every axis: rates and wear of their logarithm (they change by
factors of ten from one point to the next), the rest of itself. Along the wave height Hs the straight line is in
-1/Hs^2: peaks of a narrow-banded linear sea pass a level at a rate of exp(-a/Hs^2) (Rayleigh), those of a heavier
tail fall less steeply, and a straight line in -1/Hs^2 is then too high between points, not too low. Outside the
points, or next to a point that is missing, unreachable or not shown to be within the limits, there is no reading:
never extrapolated. The page's own script does the same sums in the same order; a test compares the two.
"""

import itertools
import math

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.report.shared.named_values import SIDES
from seaload.report.shared.result_reading import line, number, place_names, setting_values
from seaload.report.shared.wording import full_load_cycles

SEA_AXES = ("hs_m", "tp_s", "waves_from_bow_deg")
SETTING_AXES = ("extension_percent", "rake_deg", "heel_deg", "cant_deg", "ballast_shift_m", "speed_knots")
SAME = {  # values closer than this are the same point of an axis
    "hs_m": 0.06, "tp_s": 0.15, "waves_from_bow_deg": 1.0, "extension_percent": 0.1, "rake_deg": 0.02,
    "heel_deg": 0.05, "cant_deg": 0.05, "ballast_shift_m": 0.005, "speed_knots": 0.02,
}  # fmt: skip
DECIMALS = {  # of an axis' points: what a person would type
    "hs_m": 2, "tp_s": 1, "waves_from_bow_deg": 1, "extension_percent": 1, "rake_deg": 2, "heel_deg": 1,
    "cant_deg": 1, "ballast_shift_m": 2, "speed_knots": 2,
}  # fmt: skip
DIGITS = 8  # significant, of every embedded number
SLACK = 1e-9  # of an axis' span that a typed value may lie outside it
CERTAIN = 1.0 - 1e-12  # [-] odds above this are read as this
IN_DURATIONS = "in_durations"  # rates by duration, apart from the fields: read for one duration at a time
LEAST_RATE = 1e-7  # [1/h] rates and wear below this count as this between points, and as nothing when all do


def board_data(dataset, answer):
    """Axes and response of a sweep as plain lists: {"axes", "sea_names", "fields", "places", "shares", ...}.

    axes : list of {"name", "values"}, seas first; a period that follows the height is no axis but an answer, and
    a list of seas that is no full grid becomes one axis "sea" of whole numbers. fields : {name: flat list over the
    axes, last axis fastest, None where there is no reading}.
    """
    sea_axes, sea_points = sea_grid(dataset)
    setting_axes, setting_points = setting_grid(dataset)
    axes = sea_axes + setting_axes
    shape = [len(axis["values"]) for axis in axes]
    cells = np.full(shape, -1, dtype=int)
    pairs = list(itertools.product(range(dataset.sizes["sea"]), range(dataset.sizes["setting"])))
    for n, (sea, setting) in enumerate(pairs):
        if setting_points[setting, sea] is not None:
            cells[(*sea_points[sea], *setting_points[setting, sea])] = n
    readings = [cell_reading(dataset, answer, setting, sea) for sea, setting in pairs]
    pick = lambda name: [None if n < 0 else readings[n].get(name) for n in cells.ravel()]  # noqa: E731
    lasting = [rates_in_durations(answer.settings[setting, sea]) for sea, setting in pairs]
    apart = {"up", "down", "reverse_place", "normal_place"}  # not read between points
    names = sorted({name for reading in readings for name in reading} - apart)
    return {
        "axes": axes,
        "sea_names": [line(name, 80) for name in dataset["sea_name"].values],
        "sea_of_cell": [None if n < 0 else pairs[n][0] for n in cells.ravel()],
        "fields": {name: pick(name) for name in names},
        "place_names": place_names(dataset),
        "places": {side: pick(f"{side}_place") for side in SIDES},
        "material_m": embedded(dataset["material"].values) if "material" in dataset else [],
        "up": pick("up"),
        "down": pick("down"),
        "durations_h": durations_of(answer),
        IN_DURATIONS: {
            name: [None if n < 0 else lasting[n].get(name) for n in cells.ravel()]
            for name in sorted({name for rates in lasting for name in rates})
        },
    }


def durations_of(answer):
    """The times [h] that the odds of a result are told in beside the exposure; none in results made before."""
    told = next((found.odds["reverse"].in_duration for found in answer.settings.values()), ())
    return embedded([time / HOUR for time, _ in told])


def embedded(values):
    """Numbers with DIGITS significant digits; None for those that are not finite."""
    return [float(f"{v:.{DIGITS}g}") if math.isfinite(v) else None for v in np.asarray(values, dtype=float).tolist()]


def axis_values(values, name):
    """Points of an axis, rising, as a person would type them; values closer than SAME are one point, their mean."""
    same = SAME[name]
    groups = []
    for value in sorted(values):
        if groups and value - groups[-1][-1] <= same:
            groups[-1].append(value)
        else:
            groups.append([value])
    return [round(sum(group) / len(group), DECIMALS[name]) for group in groups]


def nearest(values, value):
    """Index of the axis point nearest to a value."""
    return int(np.argmin(np.abs(np.array(values) - value)))


def sea_grid(dataset):
    """(axes, index tuple of each sea): a full grid in height, period and angle, or in height and angle with one
    period to each height, or else one axis of sea numbers."""
    count = dataset.sizes["sea"]
    names = ("sea_hs", "sea_tp", "waves_from_bow")
    scale = (1.0, 1.0, DEGREE)
    points = [[number(dataset, n, sea=sea) / k for n, k in zip(names, scale, strict=True)] for sea in range(count)]
    axes = [{"name": name, "values": axis_values([p[i] for p in points], name)} for i, name in enumerate(SEA_AXES)]
    index = [tuple(nearest(axis["values"], p) for axis, p in zip(axes, point, strict=True)) for point in points]
    for kept in ((0, 1, 2), (0, 2)):
        found = [tuple(place[i] for i in kept) for place in index]
        full = math.prod(len(axes[i]["values"]) for i in kept)
        if full == count == len(set(found)) and (
            1 in kept or len({place[:2] for place in index}) == full_heights(axes)
        ):
            return [axes[i] for i in kept], found
    return [{"name": "sea", "values": list(range(count))}], [(sea,) for sea in range(count)]


def full_heights(axes):
    """Number of wave heights on the axes of a grid of seas."""
    return len(axes[0]["values"])


def setting_grid(dataset):
    """(axes, {(setting, sea): index tuple}); a speed worked out for each sea is no axis but an answer."""
    settings, seas = dataset.sizes["setting"], dataset.sizes["sea"]
    values = {
        (i, j): setting_values(dataset, i, j)
        for i in range(settings) for j in range(seas)
    }  # fmt: skip
    names = [name for name in SETTING_AXES if name != "speed_knots" or speed_is_set(dataset)]
    axes = [{"name": name, "values": axis_values([v[name] for v in values.values()], name)} for name in names]
    index = {key: tuple(nearest(axis["values"], point[axis["name"]]) for axis in axes) for key, point in values.items()}
    return axes, index


def speed_is_set(dataset):
    """Whether the speed is part of every setting: none of them asks for what can be attained."""
    return not ("attainable" in dataset and np.any(dataset["attainable"].values == 1))


def cell_reading(dataset, answer, setting, sea):
    """What the board reads at one sailed point; empty when nothing may be read there."""
    told = answer.settings[setting, sea]
    if not readable(told):
        return {}
    fields, places = {}, {}
    for side, odds in told.odds.items():
        for end, rate in zip(("", "_low", "_high"), deciding_rates(odds, answer.exposure), strict=True):
            fields[f"{side}_rate{end}"] = rate * HOUR
        worst = told.worst[side]
        share = worst.seen if worst.one_in_twenty is None else worst.one_in_twenty
        fields[f"{side}_worst"] = 100.0 * max(share, 0.0)
        fields[f"{side}_worst_median"] = math.nan if worst.median is None else 100.0 * max(worst.median, 0.0)
        places[side] = worst.place
    for end, wear in (("", told.wear.best), ("_low", told.wear.low), ("_high", told.wear.high)):
        fields[f"wear{end}"] = full_load_cycles(wear) * HOUR
    fields["speed_knots"] = told.speed / KNOT
    able = (told.speed_in_sea, told.speed_attainable)
    fields["attainable_knots"] = next((v / KNOT for v in able if v is not None and math.isfinite(v)), math.nan)
    fields["period_s"] = number(dataset, "sea_tp", sea=sea)
    fields["hours"] = told.time / HOUR
    fields["bearing_m"] = number(dataset, "place_material", setting, place=0)
    found = {name: embedded([value])[0] for name, value in fields.items()}
    found.update({f"{side}_place": place for side, place in places.items()})
    at = {"setting": setting, "sea": sea}
    if "grid_load_ratio_max" in dataset:
        found["up"] = short(dataset["grid_load_ratio_max"].isel(at).values)
        found["down"] = short(dataset["grid_load_ratio_min"].isel(at).values)
    return found


def rates_in_durations(told):
    """{name with the number of the duration: steady rate [1/h] that has the odds told in it} of a sailed point."""
    found = {}
    for side, odds in told.odds.items() if readable(told) else ():
        for k, (time, bounds) in enumerate(odds.in_duration):
            for end, value in (("", bounds.best), ("_low", bounds.low), ("_high", bounds.high)):
                found[f"{side}_rate{end}{k}"] = embedded([-math.log1p(-min(value, CERTAIN)) / time * HOUR])[0]
    return found


def short(ratios):
    """Shares of a limit in %, whole tenths: finer than a line on a screen."""
    return [round(100.0 * v, 1) if math.isfinite(v) else None for v in np.asarray(ratios, dtype=float).tolist()]


def readable(told):
    """Whether a point was sailed, reachable, and every case in it ran to its end inside the validity."""
    return told.reachable and told.at_least is False and math.isfinite(told.odds["reverse"].if_right.best)


def deciding_rates(odds, exposure):
    """(rate, low, high) [1/s] that have the odds to decide by in the `exposure` [s], of one side."""
    told = (odds.deciding.best, odds.deciding.low, odds.deciding.high)
    return tuple(-math.log1p(-min(value, CERTAIN)) / exposure for value in told)


def odds_of(rate_per_hour, hours):
    """Odds of at least one event [-] in so many hours."""
    return -math.expm1(-rate_per_hour * hours)


def rate_in(board, place, name, hours):
    """The steady rate [1/h] that has the odds of a place in so many hours; `name` as "reverse_rate_high", None outside.

    All told, odds grow slower with the time than those of one rate. Between the times of the result a straight line in
    the logarithms of both, beyond them the last.
    """
    times, (found, _) = board["durations_h"], corners(board["axes"], place)
    if found is None or not times:
        return interpolate(board, place).get(name)
    hours = min(max(hours, times[0]), times[-1])
    k = 0
    while k < len(times) - 2 and hours > times[k + 1]:
        k += 1
    share = math.log(hours / times[k]) / math.log(times[k + 1] / times[k])
    ends = [blend(f"{name}{n}", board[IN_DURATIONS], found) for n in (k, k + 1)]
    if None in ends:
        return None
    total = sum(w * math.log(max(v, LEAST_RATE)) for w, v in zip((1.0 - share, share), ends, strict=True))
    return math.exp(total) if total > math.log(LEAST_RATE) + 1e-9 else 0.0


def corners(axes, place):
    """(list of (flat index, weight), None) round a place, or (None, name of the axis it lies outside).

    place : {axis name: value}. Corners of weight zero are left out, so a sailed point reads as itself.
    """
    found = [(0, 1.0)]
    for axis in axes:
        values, value = axis["values"], place[axis["name"]]
        span = max(values[-1] - values[0], 1.0)
        if not values[0] - SLACK * span <= value <= values[-1] + SLACK * span:
            return None, axis["name"]
        value = min(max(value, values[0]), values[-1])
        i = 0
        while i < len(values) - 2 and value > values[i + 1]:
            i += 1
        weight = share_between(axis["name"], values[i], values[i + 1], value) if len(values) > 1 else 0.0
        if axis["name"] == "sea" and weight not in (0.0, 1.0):
            return None, "sea"
        steps = [(i, 1.0 - weight), (min(i + 1, len(values) - 1), weight)]
        found = [(n * len(values) + k, w * v) for n, w in found for k, v in steps if v != 0.0]
    return found, None


def share_between(name, first, last, value):
    """How far a value lies from the first towards the last of two neighbouring points [-]."""
    if name == "hs_m" and first > 0.0:
        first, last, value = -1.0 / (first * first), -1.0 / (last * last), -1.0 / (value * value)
    return (value - first) / (last - first)


def curved(name):
    """Whether a field is read along its logarithm."""
    return "_rate" in name or name.startswith("wear")


def blend(name, fields, found):
    """Reading of one field from the corners; None next to a corner that has none."""
    values = fields[name]
    if any(values[index] is None for index, _ in found):
        return None
    if len(found) == 1:
        return values[found[0][0]]
    total = 0.0
    for index, weight in found:
        total += weight * (math.log(max(values[index], LEAST_RATE)) if curved(name) else values[index])
    if not curved(name):
        return total
    return math.exp(total) if total > math.log(LEAST_RATE) + 1e-9 else 0.0


def interpolate(board, place):
    """Reading of the board at a place: {field: value} or {"outside": name of an axis, or "gap"}."""
    found, outside = corners(board["axes"], place)
    if found is None:
        return {"outside": outside}
    reading = {name: blend(name, board["fields"], found) for name in sorted(board["fields"])}
    if reading["reverse_rate_high"] is None:
        return {"outside": "gap"}
    return reading

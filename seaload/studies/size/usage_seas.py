"""The seas of a usage: cells of a scatter table put together into few, each met from every heading."""

import numpy as np

from seaload.basis.errors import InputError
from seaload.scenario.read_toml import checked, shown
from seaload.scenario.sea_spec import SeaSpec
from seaload.scenario.size_records import UsageSea
from seaload.waves.bulk import bulk_sea
from seaload.waves.spectra import bretschneider, frequency_table, jonswap

TOLD_AT = 10.0  # [s] peak period at which peak and mean period are compared
HIGHEST = 30.0  # [rad/s] far past the peak: the whole tail counts in a mean period


def peak_over_mean(spec):
    """Peak period over mean up-crossing period [-] of the spectrum that `[usage_sea]` names, tail and all."""
    omega = frequency_table(2.0 * np.pi / TOLD_AT, highest=HIGHEST)
    density = bretschneider(omega, 1.0, TOLD_AT) if spec.spectrum == "bretschneider" else jonswap(
        omega, 1.0, TOLD_AT, spec.gamma
    )  # fmt: skip
    return TOLD_AT / bulk_sea(omega, density).tz


def grouped(cells, edges, periods):
    """[(height, period, share)] of the `cells` (height [m], period [s], share [-]) by bands between `edges` [m] and,
    in each band, by up to `periods` groups of alike time.

    The height of a group has the mean energy of its cells, its period is their mean.
    """
    found = []
    for low, high in zip(edges, edges[1:], strict=False):
        mine = sorted((cell for cell in cells if low <= cell[0] < high), key=lambda cell: cell[1])
        total = sum(share for *_, share in mine)
        if total <= 0.0:
            continue
        before = np.cumsum([share for *_, share in mine]) - 0.5 * np.array([share for *_, share in mine])
        number = np.minimum((before / total * periods).astype(int), periods - 1)
        for group in sorted(set(number)):
            h, t, w = np.array([cell for cell, n in zip(mine, number, strict=True) if n == group]).T
            found.append((float(np.sqrt(w @ h**2 / w.sum())), float(w @ t / w.sum()), float(w.sum())))
    return found


def usage_seas(spec, scatter, path):
    """([`SeaSpec`], [`UsageSea`]) of the seas that a size specification and its table make, from every heading.

    InputError, of the study `path`, where heights of the table lie outside the bands.
    """
    edges = spec.usage_sea.height_edges_m
    outside = [height for height, _, _ in scatter.cells if not edges[0] <= height < edges[-1]]
    if outside:
        allowed = f"bands that hold every height of the table; {outside[0]:g} m lies outside"
        raise InputError(shown(path), "usage_sea.height_edges_m", edges, allowed)
    ratio = peak_over_mean(spec.usage_sea)
    groups = grouped(scatter.cells, edges, spec.usage_sea.periods)
    written, told = [], []
    for hs, period, share in groups:
        tz, tp = (period, period * ratio) if scatter.period == "tz" else (period / ratio, period)
        for heading in spec.heading:
            written.append(sea_of(spec.usage_sea, heading, round(hs, 3), round(tp, 3), path))
            told.append(UsageSea(hs, tz, share * heading.share_percent / 100.0))
    return written, told


def sea_of(template, heading, hs, tp, path):
    """`SeaSpec` of one sea of the usage; `template` `[usage_sea]`, `heading` a `[[heading]]`."""
    angle = heading.waves_from_bow_deg
    tables = {
        "name": f"usage {hs:.2f} m {tp:.1f} s from {angle:g} deg",
        "spectrum": template.spectrum,
        "hs_m": max(hs, 0.01),
        "tp_s": min(max(tp, 1.0), 30.0),
        "waves_from_bow_deg": angle,
        "spreading_s": template.spreading_s,
    }
    if template.spectrum == "jonswap":
        tables["gamma"] = template.gamma
    for key, owner in (("true_wind_speed_knots", template), ("true_wind_angle_deg", heading)):
        if getattr(owner, key) is not None:
            tables[key] = getattr(owner, key)
    return checked(SeaSpec, tables, path)


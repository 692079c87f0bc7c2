"""What another usage asks for: a longer season, rough seas more often. No sea is sailed for it: shares change."""

from dataclasses import replace

import numpy as np

from seaload.deciding.size.limits import Sizing
from seaload.deciding.size.season import Season
from seaload.evidence.verdict import SIDES

MORE = 1.25  # [-] times as long, or as often
ROUGHEST = 0.1  # [-] of the usage
LONGER, ROUGHER = "a season a quarter longer", "the roughest tenth of the usage a quarter more often"


def reweighed(season, shares, time):
    """The `Season` with other `shares` (seas,) [-] and another `time` [s]; what was worked out of its cases is kept."""
    seas = [replace(part, share=float(share)) for part, share in zip(season.seas, shares, strict=True)]
    found = Season(season.foil, seas, season.events, time)
    for name in ("blocks", "peaks", "largest", "limits"):
        found.__dict__[name] = getattr(season, name)
    return found


def rougher_shares(season, heights):
    """Shares of the seas, the roughest tenth of the usage MORE often and the rest less; `heights` (usage,) [m]."""
    shares = season.weights.copy()
    usage = [i for i, part in enumerate(season.seas) if part.sea >= 0]
    whole, left = shares[usage].sum(), ROUGHEST * shares[usage].sum()
    gained = 0.0
    for i in sorted(usage, key=lambda i: -heights[season.seas[i].sea]):
        taken = min(shares[i], left)
        left -= taken
        gained += (MORE - 1.0) * taken
        shares[i] += (MORE - 1.0) * taken
    shares[usage] *= whole / (whole + gained)
    return shares


def usage_changes(sizing, heights):
    """[(name, {side: (points,) least limit over that of the usage as it is, less 1 [-]})], wear counted in."""
    season, targets = sizing.season, sizing.targets
    longer = replace(targets, season=MORE * targets.season)
    others = (
        (LONGER, Sizing(reweighed(season, season.weights, longer.season), longer, sizing.spread)),
        (ROUGHER, Sizing(reweighed(season, rougher_shares(season, heights), season.time), targets, sizing.spread)),
    )
    for _, other in others:  # the tail has the shape it has: which seas tell it must not make a difference
        other.keep_shapes(sizing)
    base = least(sizing)
    return [
        (name, {side: least(other)[side] / np.maximum(base[side], 1e-9) - 1.0 for side in SIDES})
        for name, other in others
    ]


def least(sizing):
    """{side: (points,) least limit for odds and wear [N m]}."""
    factor = sizing.wear_factor(sizing.damage())
    return {side: np.maximum(sizing.needed[side].all_told, factor * sizing.season.limits[side]) for side in SIDES}

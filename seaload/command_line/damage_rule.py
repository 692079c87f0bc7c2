"""What a counted cycle costs by the options of `seaload cycles`."""

from typing import NamedTuple

SLOPES, LOADS, ULTIMATES = (1.0, 64.0), (1e-25, 1e25), (1.01, 100.0)  # what may be asked for
SHARES = "(so a file in shares of the normal limit gives wear against 0 -> 100 %)"


class DamageRule(NamedTuple):
    """What a cycle costs; loads in the file's own unit."""

    slope: float = 10.0  # [-] of the S-N curve
    reference: float | None = None  # range of which 10^6 cycles make damage 1; that of the normal limit, else 1
    normal_limit: float | None = None
    reverse_limit: float | None = None
    ultimate: float = 2.5  # [-] ultimate load over limit, both ways

    @property
    def limited(self):
        """Whether the mean of a cycle counts too."""
        return self.normal_limit is not None

    def said(self):
        """The rule in words."""
        if self.limited:
            return (
                f"range and mean: 10^6 cycles 0 -> {self.normal_limit:g} make damage 1, with S-N slope "
                f"{self.slope:g} and ultimate loads {self.ultimate * self.normal_limit:g} and "
                f"-{self.ultimate * self.reverse_limit:g}, in the file's own unit"
            )
        words = (
            f"range only: 10^6 cycles of range {self.reference or 1.0:g}, in the file's own unit, make damage 1, "
            f"with S-N slope {self.slope:g}"
        )
        return words if self.reference else f"{words} {SHARES}"

    def of(self, ranges, means, counts):
        """Damage [-] of cycles, (k,) arrays each."""
        from seaload.fatigue.constant_life import REFERENCE_CYCLES, cycle_damage, reference_scale
        from seaload.fatigue.miner import miner_damage

        if not self.limited:
            return miner_damage(ranges / (self.reference or 1.0), counts, self.slope, REFERENCE_CYCLES)
        ends = self.ultimate * self.normal_limit, self.ultimate * self.reverse_limit
        scale = reference_scale(self.normal_limit, *ends, self.slope)
        each = zip(ranges.tolist(), means.tolist(), counts.tolist(), strict=True)
        return sum(n * cycle_damage(size, mean, *ends, self.slope, scale) for size, mean, n in each)


def damage_rule(slope, reference, normal_limit, reverse_limit, ultimate):
    """`DamageRule` of what was asked for. InputError for a number out of bounds or limits that do not go together."""
    from seaload.basis.errors import InputError

    asked = {"--slope": (slope, SLOPES), "--ultimate-over-limit": (ultimate, ULTIMATES)}
    loads = {"--reference": reference, "--normal-limit": normal_limit, "--reverse-limit": reverse_limit}
    asked |= {name: (value, LOADS) for name, value in loads.items()}
    for name, (value, (least, most)) in asked.items():
        if value is not None and not least <= value <= most:
            raise InputError("cycles", name, value, f"{least:g} to {most:g}")
    if (normal_limit is None) != (reverse_limit is None):
        missing = "--reverse-limit" if reverse_limit is None else "--normal-limit"
        raise InputError("cycles", missing, "nothing", "both limits or neither")
    if reference is not None and normal_limit is not None:
        why = "nothing beside limits: from 0 to the normal limit is the reference"
        raise InputError("cycles", "--reference", reference, why)
    if ultimate is not None and normal_limit is None:
        raise InputError("cycles", "--ultimate-over-limit", ultimate, "nothing without limits")
    return DamageRule(slope, reference, normal_limit, reverse_limit, ultimate or DamageRule().ultimate)

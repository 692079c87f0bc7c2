"""How much a study asks for at its largest budget, and the refusal of one that is large by oversight."""

from typing import NamedTuple

from seaload.basis.errors import InputError
from seaload.basis.units import HOUR
from seaload.scenario.read_toml import shown

MOST_HOURS = 8000.0  # [h] of sea without --yes
MOST_CASES = 100_000  # without --yes
MOST_PAIRS = 1_000_000  # settings times seas, at all
SEA_PER_CORE = 3000.0  # hours of sea a core marches in an hour; measured 3,000 to 7,200 by kind of processor
CASE_BYTES = 75_000  # of memory a finished case takes; measured, six places and a material grid of 0.1 m
CASE_STORED = 5_000  # bytes on disk, measured


class StudySize(NamedTuple):
    """What a study may come to."""

    pairs: int  # settings times seas
    cases: int  # at the largest budget
    hours: float  # of sea

    @property
    def words(self):
        """Cases and hours, and the time, memory and disk they are likely to take."""
        memory, disk, time = self.cases * CASE_BYTES / 1e9, self.cases * CASE_STORED / 1e9, self.hours / SEA_PER_CORE
        return (
            f"up to {self.cases:,} cases, {self.hours:,.0f} hours of sea: about {time:.2g} core-hours, "
            f"{memory:.2g} GB of memory and {disk:.2g} GB on disk"
        )


def study_size(settings, seas, sampling, *, adaptive):
    """`StudySize` of so many settings and seas; `adaptive` counts the most sea that a `Sampling` record allows."""
    realisations = max(sampling.realisations, sampling.most_realisations) if adaptive else sampling.realisations
    cases = settings * seas * realisations
    return StudySize(settings * seas, cases, cases * sampling.realisation_time / HOUR)


def refuse_large(size, field, value, path, *, allowed):
    """InputError for a `StudySize` that needs --yes and has not got it (`allowed`), or that is beyond all machines."""
    if size.pairs > MOST_PAIRS:
        most = f"{size.pairs} settings times seas; at most {MOST_PAIRS}: split the study"
        raise InputError(shown(path), "settings", size.pairs, most)
    if not allowed and (size.hours > MOST_HOURS or size.cases > MOST_CASES):
        most = f"at most {MOST_HOURS:,.0f} hours and {MOST_CASES:,} cases without --yes"
        raise InputError(shown(path), field, value, f"{size.words}; {most}")

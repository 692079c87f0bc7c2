"""The first study, cut to length: the case every march benchmark runs."""

from dataclasses import replace
from pathlib import Path

from seaload.sailing.blas_threads import one_blas_thread
from seaload.simulation.block import march_block
from seaload.studies.load_study import load_study

ROOT = Path(__file__).resolve().parents[2]
STUDY = ROOT / "scenarios" / "studies" / "bow-quarter-swell.toml"
RUN_IN = 10.0  # [s]


def first_study():
    """The loaded study."""
    one_blas_thread()
    return load_study(STUDY)


def marched(study, cases, seconds, *, sea=None, step=None, keep=None, model=None, run_in=RUN_IN):
    """(records, BlockTimes) of cases over `seconds` kept."""
    sampling = replace(
        study.sampling, run_in=run_in, realisation_time=seconds, step=step or study.sampling.step
    )  # fmt: skip
    foil = study.boat.foils[study.foil_side]
    named = {**study.model, **(model or {})}
    return march_block(study.boat, foil, sea or study.seas[0], cases, sampling, named, keep=keep)


def real_time(times):
    """Simulated seconds over processor seconds inside wave field, march and counting."""
    return times.simulated / (times.march + times.count)


def sixteen_settings(study):
    """Sixteen settings round the study's own: extension, rake, heel, all at one speed."""
    s = study.settings[0]
    return [
        replace(s, extension=extension, rake=s.rake + rake, heel=s.heel + heel)
        for extension in (0.5, 0.65, 0.8, 1.0)
        for rake in (0.0, -0.02)
        for heel in (0.0, -0.05)
    ]

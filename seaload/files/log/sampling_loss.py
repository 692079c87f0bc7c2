"""What is lost of a load's peaks, and of its wear, when it is sampled too slowly."""

import numpy as np

from seaload.files.log.limits import load_size
from seaload.files.log.log_chunk import FAIL, NOT_EVALUATED, SUSPECT, Finding
from seaload.files.log.survey import ROUGH_COUNT, STEP_COUNT, STEP_SQUARES, TWO_SQUARES
from seaload.scenario.log_channels import is_load

SUSPECT_BELOW, FAIL_BELOW = 0.98, 0.8  # [-] share of the wear that is counted
SILENT = 0.02  # [-] of the normal limit: a gauge that varies less is not asked
UNLIKE_RATE = 0.1  # [-] how far the rate found may be from that of the boat file


def own_frequency(one_square, two_square, spread, step):
    """Frequency [Hz] of the sine that changes as a load does from sample to sample; (mean squares) over one and over
    two steps, `step` [s] apart.

    For a sine of standard deviation s the mean square over k steps is 2 s^2 (1 - cos k a), a = 2 pi f step; white
    noise adds the same to both, so their difference gives a without it. Where one step already loses half of the
    record's correlation, the first alone is taken. Derived here.
    """
    if spread <= 0.0:
        return 0.0
    cosine = 1.0 - 0.5 * one_square / spread**2
    if cosine > 0.5:
        q = np.clip(0.5 * (two_square - one_square) / spread**2, 0.0, 9.0 / 8.0)
        cosine = 0.25 * (1.0 + np.sqrt(9.0 - 8.0 * q))
    return float(np.arccos(np.clip(cosine, -1.0, 1.0)) / (2.0 * np.pi * step))


def peak_kept(frequency, step):
    """Mean share of a sine's peak that samples `step` [s] apart reach: sin(a)/a, a = pi f step. Derived here."""
    return float(np.sinc(frequency * step))


def wear_kept(frequency, step, slope):
    """Mean share of the wear that is counted: mean of cos^m(a u) over u from 0 to 1, a = pi f step. Derived here."""
    u = (np.arange(400) + 0.5) / 400.0
    return float(np.mean(np.abs(np.cos(np.minimum(np.pi * frequency * step * u, 0.5 * np.pi))) ** slope))


def rate_findings(log, surveys, step, start, end):
    """Findings on the sample rate: too slow for the loads, or not that of the boat file."""
    found = []
    slope = log.boat.foils[log.foil_side].fatigue.slope
    for channel, survey in surveys.items():
        if not is_load(channel) or survey.spread < SILENT * load_size(log, channel):
            continue
        one = survey.sums[STEP_SQUARES] / max(survey.sums[STEP_COUNT], 1.0)
        two = survey.sums[TWO_SQUARES] / max(survey.sums[ROUGH_COUNT], 1.0)
        frequency = own_frequency(one, two, survey.spread, step)
        counted = wear_kept(frequency, step, slope)
        if counted < SUSPECT_BELOW:
            low = 100.0 * (1.0 - peak_kept(frequency, step))
            words = (
                f"{1.0 / step:.3g} samples a second, {1.0 / (frequency * step):.1f} a cycle of this load "
                f"({frequency:.2g} Hz): peaks are read about {low:.1f} % low, wear about "
                f"{100.0 * (1.0 - counted):.0f} % at slope {slope:g}, and what rings faster is not seen"
            )
            flag = FAIL if counted < FAIL_BELOW else SUSPECT
            found.append(Finding(channel, "sample_rate_test", flag, start, end, words))
    logger = log.boat.logger
    if logger is not None and abs(logger.rate * step - 1.0) > UNLIKE_RATE:
        words = f"{1.0 / step:.3g} samples a second found, the boat file says {logger.rate:g}"
        found.append(Finding("", "sample_rate_test", NOT_EVALUATED, start, end, words))
    return found

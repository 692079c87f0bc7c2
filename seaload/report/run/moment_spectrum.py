"""The spectrum of the bending moment at the bearing: which frequencies load the foil."""

import numpy as np

from seaload.report.shared import figure_style as look
from seaload.report.shared.figure_style import label_line, new_figure, styled
from seaload.report.shared.result_reading import number

PARTS = 8  # of a series, that its spectrum is the mean of: half overlapping, as Welch (1967) has it
LEAST = 1e-6  # of the highest density, drawn


def density_of(time, values):
    """(frequency [Hz], density [unit^2/Hz]) of an evenly sampled series by Welch's mean of half overlapping parts."""
    from scipy.signal import welch

    step = float(time[1] - time[0])
    length = max(int(2 * len(values) / (PARTS + 1)), 16)
    frequency, density = welch(values, fs=1.0 / step, window="hann", nperseg=min(length, len(values)))
    return frequency[1:], density[1:]


def moment_series(dataset, setting):
    """{words: (time [s], moment at the bearing [% of the normal limit])} of the kept series; empty without any."""
    found, limit = {}, number(dataset, "normal_limit", setting, place=0)
    for name, axis, words in (("bending_moment_whole", "time_whole", "the whole realisation"),
                              ("bending_moment", "time_minute", "the minute round the deepest load")):  # fmt: skip
        if name in dataset and dataset.sizes[axis] > 64:
            values = dataset[name].isel(place=0).values.astype(float)
            if np.isfinite(values).all():
                found[words] = dataset[axis].values, 100.0 * values / limit
    return found


@styled
def moment_spectrum_figure(series, sea_name):
    """Spectra of the moment at the bearing; series as `moment_series` gives it."""
    figure, axis = new_figure(height=3.4)
    top, ends = 0.0, []
    for (words, (time, values)), colour, stroke in zip(
        series.items(), (look.INK, look.NORMAL), ("-", (0, (5, 1.5))), strict=False
    ):
        frequency, density = density_of(time, values)
        axis.plot(frequency, density, color=colour, linestyle=stroke, linewidth=1.4)
        top = max(top, float(density.max()))
        ends.append((frequency, density, words, colour))
    axis.set(xscale="log", yscale="log", ylim=(LEAST * top, 3.0 * top))
    for i, (frequency, density, words, colour) in enumerate(ends):
        at = int(np.argmax(density)) if i == 0 else int(0.1 * len(frequency))
        label_line(axis, frequency[at], max(density[at], LEAST * top), words, colour, va="bottom", offset=(4, 5))
    axis.set(xlabel="frequency felt on board [Hz]", ylabel="density of the moment\n[(% of the normal limit)²/Hz]")
    for scale in (axis.xaxis, axis.yaxis):
        scale.set_major_formatter(lambda value, _: f"{value:g}")
        scale.set_minor_formatter(lambda value, _: "")
    axis.set_title(look.plain(f"Spectrum of the moment at the bearing: {sea_name}"))
    caption = (
        "Mean of half overlapping parts (Welch 1967); the whole realisation as it is kept, thinned out, so that what "
        "is faster than its last frequency folds back into it; the minute at every kept step. Not shown: other "
        "places, and other realisations."
    )
    return figure, caption

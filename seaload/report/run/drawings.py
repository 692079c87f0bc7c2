"""From a saved run to its figures: which numbers of the result each one shows, and the files they become."""

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.report.run import figures as draw
from seaload.report.run.event_figure import events_drawn
from seaload.report.run.events import events_of
from seaload.report.run.gallery import gallery_of
from seaload.report.run.moment_spectrum import moment_series, moment_spectrum_figure
from seaload.report.shared.figure_style import save_picture
from seaload.report.shared.named_values import SIDES
from seaload.report.shared.result_reading import number, place_names, sea_name
from seaload.report.shared.tail_figure import tail_figure
from seaload.report.shared.tail_reading import tail_of


def run_drawings(dataset, setting=0):
    """All figures of a run that its result can carry: list of (name, figure, caption)."""
    drawn = []
    several = dataset.sizes["sea"] > 1
    for sea in range(dataset.sizes["sea"]):
        end = f"-{sea + 1}" if several else ""
        if "spectrum_asked" in dataset:
            drawn.append((f"sea-spectrum{end}", *spectrum_of(dataset, sea)))
        if holds_minute(dataset, sea):
            drawn.append(("worst-minute", *worst_minute_of(dataset, setting, sea)))
            if series := moment_series(dataset, setting):
                drawn.append(("moment-spectrum", *moment_spectrum_figure(series, sea_name(dataset, sea))))
        if events := events_of(dataset, setting, sea):
            drawn.append((f"events{end}", *events_drawn(dataset, setting, sea, events, sea_name(dataset, sea))))
            drawn.append((f"gallery{end}", *gallery_of(dataset, setting, events)))
        drawn.append((f"load-envelope{end}", *envelope_of(dataset, setting, sea)))
        drawn.append((f"load-cycles{end}", *cycles_of(dataset, setting, sea)))
        tails = {side: tail_of(dataset, setting, sea, side) for side in SIDES}
        if all(tails.values()):
            drawn.append((f"tail{end}", *tail_figure(tails)))
    return drawn


def save_run_figures(dataset, folder, *, kinds=("png", "svg")):
    """Saves the figures of a run in `folder`; gives the paths written, one a figure and kind."""
    paths = []
    for name, figure, caption in run_drawings(dataset):
        paths += [save_picture(figure, folder / f"{name}.{kind}", caption) for kind in kinds]
    return paths


def holds_minute(dataset, sea):
    """Whether the kept series are of this sea."""
    return "bending_moment" in dataset and int(number(dataset, "kept_sea")) == sea


def spectrum_of(dataset, sea):
    """`spectrum_figure` of one sea."""
    frequency = dataset["frequency"].values
    asked, realised = (dataset[f"spectrum_{word}"].isel(sea=sea).values for word in ("asked", "realised"))
    hs = dataset["hs_realised"].isel(sea=sea).values
    return draw.spectrum_figure(
        (frequency, asked),
        (frequency, realised),
        sea_name=sea_name(dataset, sea),
        hs_asked_m=number(dataset, "sea_hs", sea=sea),
        hs_realised_m=float(np.sqrt(np.nanmean(hs**2))),
        realisations=int(np.isfinite(hs).sum()),
        tail_from_hz=tail_start(dataset, sea),
    )


def tail_start(dataset, sea):
    """Where a measured record ends [Hz], read from the notes of the sea; None without one."""
    import re

    name = dataset["sea_name"].values[sea]
    for note in str(dataset.attrs.get("notes", "")).splitlines():
        found = re.search(r"record stops at ([\d.]+) Hz", note)
        if found and note.startswith(f"{name}: "):
            return float(found.group(1))
    return None


def worst_minute_of(dataset, setting, sea):
    """`worst_minute_figure` of the kept series."""
    inside = dataset["place_inside"].isel(setting=setting).values > 0
    shares = kept_shares(dataset, setting)[:, ~inside]
    names = [name for name, hidden in zip(place_names(dataset), inside, strict=True) if not hidden]
    case = {"setting": setting, "sea": sea, "realisation": int(number(dataset, "kept_realisation"))}
    series = {
        "elevation_m": dataset["wave_elevation"].values,
        "heave_m": dataset["heave"].values,
        "pitch_deg": dataset["pitch"].values / DEGREE,
        "speed_knots": dataset["speed"].values / KNOT,
    }
    return draw.worst_minute_figure(
        dataset["time_minute"].values, series, shares, names,
        deepest=float(dataset["deepest_reverse_time"].isel(case).values), sea_name=sea_name(dataset, sea),
    )  # fmt: skip


def kept_shares(dataset, setting):
    """Shares of the limits at the places [%], (time, places): up of the normal, down of the reverse one."""
    moment = dataset["bending_moment"].values
    normal, reverse = (dataset[f"{way}_limit"].isel(setting=setting).values for way in ("normal", "reverse"))
    return 100.0 * np.where(moment >= 0.0, moment / normal, moment / reverse)


def envelope_of(dataset, setting, sea):
    """`envelope_figure` of one sea."""
    at = {"setting": setting, "sea": sea}
    normal, reverse = (dataset[f"grid_{way}_limit"].isel(setting=setting).values for way in ("normal", "reverse"))
    station = dataset["station"].values.astype(int)
    material = dataset["place_material"].isel(setting=setting).values
    envelope = draw.Envelope(
        material=dataset["material"].values,
        lowest=dataset["grid_moment_min"].isel(at).values / 1e3,
        mean=dataset["grid_load_ratio_mean"].isel(at).values * normal / 1e3,
        highest=dataset["grid_moment_max"].isel(at).values / 1e3,
        normal=normal / 1e3,
        reverse=reverse / 1e3,
    )
    return draw.envelope_figure(
        envelope,
        bearing=float(material[station == 0][0]),
        stations=list(material[station > 0]),
        extension_percent=100.0 * number(dataset, "extension", setting),
    )


def cycles_of(dataset, setting, sea):
    """`rainflow_figure` of the place outside the hull with the most wear."""
    at = {"setting": setting, "sea": sea}
    inside = dataset["place_inside"].isel(setting=setting).values > 0
    wear = np.where(inside, -1.0, np.nan_to_num(dataset["damage_rate"].isel(at).values, nan=-1.0))
    place = int(np.argmax(wear))
    count = dataset["rainflow_count"].isel({**at, "place": place}).transpose("range_bin", "mean_bin").values
    edges = [
        100.0 * np.append(dataset[f"{name}_bin_bounds"].values[:, 0], dataset[f"{name}_bin_bounds"].values[-1, 1])
        for name in ("mean", "range")
    ]
    hours = number(dataset, "duration_total", setting, sea) / HOUR
    name = place_names(dataset)[place]
    ratio = number(dataset, "reverse_limit", setting, place=place) / number(
        dataset, "normal_limit", setting, place=place
    )
    return draw.rainflow_figure(
        *edges, np.nan_to_num(count) / hours,
        place="the bearing" if name == "bearing" else name, reverse_share=100.0 * ratio,
    )  # fmt: skip

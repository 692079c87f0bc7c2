"""From a saved sweep to its figures: which settings and seas each one shows, and the files they become."""

import numpy as np

from seaload.basis.units import DEGREE, HOUR, KNOT
from seaload.report.shared.figure_style import save_picture
from seaload.report.shared.named_values import SIDES
from seaload.report.shared.result_reading import angle_deg, number, sea_name, setting_values, setting_words
from seaload.report.shared.tail_figure import tail_figure
from seaload.report.shared.tail_reading import tail_of
from seaload.report.shared.wording import ballast_words, full_load_cycles, significant
from seaload.report.sweep import figures as draw

OTHERS = (  # said under the tail of a setting
    "The bar at 100 % may differ from the fit drawn: the odds of a sweep take the shape of the tail from all its "
    "settings together, and those of a suggestion rest on fresh waves too."
)


def sweep_drawings(dataset, answer):
    """All figures of a sweep: list of (name, figure, caption)."""
    drawn = []
    several = dataset.sizes["sea"] > 1
    accepted = {"reverse": 0.02, **answer.accepted}
    for sea in range(dataset.sizes["sea"]):
        end = f"-{sea + 1}" if several else ""
        found = map_of(dataset, answer, sea, accepted)
        if found is not None:
            drawn.append((f"settings-map{end}", *found))
        drawn.append((f"speed-risk{end}", *speed_risk_of(dataset, answer, sea, accepted["reverse"])))
        setting = answer.seas[sea].shown
        tails = {side: tail_of(dataset, setting, sea, side) for side in SIDES}
        if all(tails.values()):
            figure, caption = tail_figure(tails, f"{sea_name(dataset, sea)}: {setting_words(dataset, setting, sea)}")
            drawn.append((f"tail{end}", figure, f"{caption} {OTHERS}"))
    angles = {round(angle_deg(dataset, sea)) for sea in range(dataset.sizes["sea"])}
    if len(angles) > 1:
        drawn.append(("wave-angle", *wave_angle_of(dataset, answer, accepted["reverse"])))
    return drawn


def save_sweep_figures(dataset, answer, folder, *, kinds=("png", "svg")):
    """Saves the figures of a sweep in `folder`; gives the paths written."""
    paths = []
    for name, figure, caption in sweep_drawings(dataset, answer):
        paths += [save_picture(figure, folder / f"{name}.{kind}", caption) for kind in kinds]
    return paths


def map_slice(dataset, answer, sea):
    """({(extension, rake): setting}, words of what is held) through the shown setting; speed may differ when
    worked out."""
    here = setting_values(dataset, answer.seas[sea].shown, sea)
    worked_out = "attainable" in dataset and np.any(dataset["attainable"].values == 1)
    held = [
        n for n in ("heel_deg", "cant_deg", "ballast_shift_m", "speed_knots") if n != "speed_knots" or not worked_out
    ]
    cells = {}
    for setting in range(dataset.sizes["setting"]):
        point = setting_values(dataset, setting, sea)
        if all(abs(point[n] - here[n]) < 1e-3 for n in held):
            cells[round(point["extension_percent"], 4), round(point["rake_deg"], 4)] = setting
    speed = "attainable speed" if worked_out else f"{here['speed_knots']:.1f} kn"
    words = f"heel {here['heel_deg']:.0f}°, cant {here['cant_deg']:.0f}°, "
    words += f"{ballast_words(here['ballast_shift_m'])}, {speed}"
    return cells, words


def map_of(dataset, answer, sea, accepted):
    """`settings_map` of one sea; None when neither extension nor rake varies."""
    cells, words = map_slice(dataset, answer, sea)
    extensions, rakes = (sorted({key[i] for key in cells}) for i in (0, 1))
    if len(extensions) * len(rakes) < 2:
        return None
    shape = len(extensions), len(rakes)
    odds = {side: np.full((2, *shape), np.nan) for side in ("reverse", "normal")}
    wear = np.full(shape, np.nan)
    decisions = [["unreachable"] * shape[1] for _ in range(shape[0])]
    chosen = None
    for (extension, rake), setting in cells.items():
        at = extensions.index(extension), rakes.index(rake)
        found = answer.settings[setting, sea]
        for side, rows in odds.items():
            rows[:, *at] = found.odds[side].deciding.best, found.odds[side].deciding.high
        wear[at] = full_load_cycles(found.wear.best) * HOUR
        decisions[at[0]][at[1]] = found.decision
        if setting == answer.seas[sea].chosen:
            chosen = at
    hours = answer.exposure / HOUR
    return draw.settings_map(
        draw.SettingGrid(rakes, extensions, odds, wear, decisions),
        accepted=accepted, chosen=chosen, where=f"{sea_name(dataset, sea)}: {words}", hours=hours,
    )  # fmt: skip


def speed_risk_of(dataset, answer, sea, accepted):
    """`speed_risk_figure` of one sea."""
    points = []
    for setting in range(dataset.sizes["setting"]):
        found = answer.settings[setting, sea]
        odds, speed = found.odds["reverse"].deciding, found.speed / KNOT
        if not np.isfinite(odds.best + speed):
            continue
        points.append(
            {
                "speed_knots": speed,
                "odds": odds.best,
                "low": odds.low,
                "high": odds.high if np.isfinite(odds.high) else 1.0,
                "extension_percent": 100.0 * number(dataset, "extension", setting),
                "decision": found.decision,
                "chosen": setting == answer.seas[sea].chosen,
            }
        )
    hours = answer.exposure / HOUR
    return draw.speed_risk_figure(points, accepted=accepted, where=sea_name(dataset, sea), hours=hours)


def wave_angle_of(dataset, answer, accepted):
    """`wave_angle_figure` of the setting that is suggested most often, else the one shown first."""
    shown = [found.shown for found in answer.seas]
    setting = max(sorted(set(shown)), key=shown.count)
    points = []
    for sea in range(len(answer.seas)):
        odds = answer.settings[setting, sea].odds["reverse"].deciding
        if np.isfinite(odds.best):
            where = {"angle_deg": angle_deg(dataset, sea), "hs_m": number(dataset, "sea_hs", sea=sea)}
            points.append({**where, "odds": odds.best, "low": odds.low, "high": odds.high})
    words = f"{100.0 * number(dataset, 'extension', setting):.0f} % out, rake "
    words += f"{significant(number(dataset, 'rake', setting) / DEGREE)}°"
    hours = answer.exposure / HOUR
    return draw.wave_angle_figure(points, accepted=accepted, setting=words, hours=hours)

"""Figures of a run: they show the numbers of the result, say what they leave out, and repeat bit for bit."""

import re

import numpy as np
import pytest

from seaload.report.run.drawings import kept_shares, run_drawings, save_run_figures
from seaload.report.shared import figure_style as look
from tests.report.invented_result import invented_run

NAMES = [
    "sea-spectrum", "worst-minute", "moment-spectrum", "events", "gallery", "load-envelope", "load-cycles", "tail",
]  # fmt: skip
OF_THE_KEPT_MINUTE = ("worst-minute", "moment-spectrum")


@pytest.fixture(scope="module")
def drawings(run_result):
    return {name: (figure, caption) for name, figure, caption in run_drawings(run_result)}


def test_all_are_drawn(drawings):
    assert list(drawings) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_each_has_a_caption_that_says_what_is_left_out(drawings, name):
    assert "Not shown:" in drawings[name][1]


@pytest.mark.parametrize("name", NAMES)
def test_axes_have_labels_with_units(drawings, name):
    axes = [axis for axis in drawings[name][0].axes if axis.get_label() != "<colorbar>"]
    labels = [axis.get_xlabel() for axis in axes] + [axis.get_ylabel() for axis in axes]
    assert any(re.search(r"\[[^\]]+\]", label) for label in labels)


def test_the_envelope_draws_the_moments_of_the_result(run_result, drawings):
    axis = drawings["load-envelope"][0].axes[0]
    drawn = [line.get_ydata() for line in axis.lines]
    highest = run_result["grid_moment_max"].values[0, 0] / 1e3
    outside = run_result["material_inside"].values[0] == 0
    assert any(np.shape(y) == highest[outside].shape and np.allclose(y, highest[outside]) for y in drawn)


def test_the_worst_minute_reaches_the_deepest_share(run_result, drawings):
    load = drawings["worst-minute"][0].axes[3]
    lowest = min(np.min(line.get_ydata()) for line in load.lines if len(line.get_ydata()) > 100)
    assert lowest == pytest.approx(np.min(kept_shares(run_result, 0)[:, 1:]), rel=1e-6) or lowest == pytest.approx(
        np.min(kept_shares(run_result, 0)), rel=1e-6
    )


def test_places_inside_the_hull_are_not_drawn(drawings):
    words = [text.get_text() for text in drawings["worst-minute"][0].axes[3].texts]
    assert "station 2" in words and "station 1" not in words


def test_files_are_written_and_repeat(run_result, drawings, tmp_path):
    first, second = tmp_path / "a", tmp_path / "b"
    for folder in (first, second):
        folder.mkdir()
    save_run_figures(run_result, first, kinds=("svg",))
    for name, (figure, caption) in drawings.items():  # drawn apart from those
        look.save_picture(figure, second / f"{name}.svg", caption)
    for name in NAMES:
        one, two = ((folder / f"{name}.svg").read_bytes() for folder in (first, second))
        assert one == two
        assert len(one) < 600_000


def test_inline_drawings_are_described_and_take_the_colours_of_the_page(drawings):
    svg = look.inline_svg(drawings["sea-spectrum"][0], "sea", 'a "sea" <b>')
    assert svg.startswith("<svg") and svg.endswith("</svg>")
    assert 'role="img"' in svg and "&lt;b&gt;" in svg and "<b>" not in svg
    assert "var(--ink" in svg and "var(--normal" in svg
    ids = re.findall(r'\bid="([^"]*)"', svg)
    assert ids and all(name.startswith("sea-") for name in ids)
    assert set(re.findall(r"url\(#([^)]*)\)", svg)) <= set(ids)


def test_a_result_without_series_or_with_hostile_names_still_draws():
    bare = invented_run(series=False, realisations=2)
    hostile = bare.assign_coords(sea_name=("sea", np.array(["$\\frac{$ <script> \u202e\n" * 500], dtype=object)))
    names = []
    for name, figure, caption in run_drawings(hostile):
        names.append(name)
        svg = look.inline_svg(figure, name, caption)
        assert "<script>" not in svg
    assert names == [name for name in NAMES if name not in OF_THE_KEPT_MINUTE]


def test_neighbouring_labels_are_moved_apart_in_order():
    moved = look.spread_labels([1.0, 1.1, 5.0, 1.05], 1.0)
    assert sorted(range(4), key=lambda i: moved[i]) == [0, 3, 1, 2]
    assert np.min(np.diff(sorted(moved))) >= 1.0 - 1e-9


def test_cutting_coordinates_leaves_printed_numbers_alone():
    figure, axis = look.new_figure()
    axis.plot([0.0, 1.0], [0.0, 1.0])
    axis.text(0.5, 0.5, "0.0024 and 12.34567")
    svg = look.inline_svg(figure, "n", "a test of numbers")
    assert "0.0024 and 12.34567" in svg
    assert not re.search(r' d="[^"]*\.\d{3}', svg)

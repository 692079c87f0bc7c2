"""What a run shows beside its answer: events of both ways, what the replay opens, spectrum and equivalent moment."""

import numpy as np
import pytest

from seaload.report.run.equivalent import equivalent_rows, slopes
from seaload.report.run.events import HEADS, deepest_each_way, event_cells, events_of
from seaload.report.run.gallery import SHOWN, gallery_of
from seaload.report.run.moment_spectrum import density_of, moment_series, moment_spectrum_figure
from seaload.report.run.replay_data import replay_step


def test_the_list_holds_both_ways_where_one_would_fill_it(real):
    events = events_of(real, 0, 0)
    assert not any(event.reverse for event in events[:20])  # all of the deepest are normal ones
    shown = deepest_each_way(events, 20)
    assert sum(event.reverse for event in shown) == min(10, sum(event.reverse for event in events)) > 0
    shares = [event.share_percent for event in shown]
    assert len(shown) == 20 and shares == sorted(shares, reverse=True)
    for way in (True, False):
        most = [max(e.share_percent for e in found if e.reverse == way) for found in (events, shown)]
        assert most[0] == most[1]


@pytest.mark.parametrize(
    ("reverse", "normal", "told"), [(8, 2, (8, 2)), (2, 8, (2, 8)), (9, 9, (5, 5)), (0, 3, (0, 3))]
)
def test_each_way_gives_room_to_the_other(run_result, reverse, normal, told):
    one = events_of(run_result, 0, 0)[0]
    events = [one._replace(reverse=i < reverse, number=i) for i in range(reverse + normal)]
    shown = deepest_each_way(events, 10)
    assert (sum(e.reverse for e in shown), sum(not e.reverse for e in shown)) == told


def test_an_event_tells_the_wave_amidships(run_result):
    event = events_of(run_result, 0, 0)[0]
    assert event.wave_m == pytest.approx(float(run_result["event_elevation"].values[event.number]))
    assert event_cells(event)[HEADS.index("wave, m")] == f"{event.wave_m:+.1f}"


def test_the_replay_opens_events_of_its_minute_alone(real, real_page):
    time, kept = real["time_minute"].values, int(real["kept_realisation"])
    event = next(event for event in events_of(real, 0, 0) if event.reverse)
    step = replay_step(real, 0, event)
    assert abs(time[step] - event.time_s) <= 0.5 * (time[1] - time[0]) + 1e-6 and event.realisation == kept
    assert replay_step(real, 0, event._replace(realisation=kept + 1)) is None
    assert replay_step(real, 0, event._replace(time_s=float(time[-1]) + 1.0)) is None
    assert f'data-replay="{step}"' in real_page


def test_the_gallery_draws_the_strips_of_each_event(real):
    figure, caption = gallery_of(real, 0, events_of(real, 0, 0))
    shown = [axis for axis in figure.axes if axis.get_visible()]
    assert len(shown) == SHOWN and "Not shown:" in caption
    first = deepest_each_way(events_of(real, 0, 0), SHOWN)[0]
    length = (float(real["material"].values[-1]) - float(real["place_material"].values[0, 0])) / real.sizes["strip"]
    drawn = next(line.get_ydata() for line in shown[0].lines if len(line.get_ydata()) == real.sizes["strip"])
    assert np.allclose(drawn, real["event_strip_load"].values[first.number] / length / 1e3)


def test_the_area_under_the_spectrum_is_the_variance_and_a_tone_stands_at_its_frequency():
    """Parseval's theorem (any text on signals)."""
    time = 0.1 * np.arange(6000)
    values = 3.0 * np.sin(2.0 * np.pi * 0.4 * time) + np.random.default_rng(1).standard_normal(len(time))
    frequency, density = density_of(time, values)
    assert np.trapezoid(density, frequency) == pytest.approx(values.var(), rel=0.05)
    assert frequency[np.argmax(density)] == pytest.approx(0.4, abs=frequency[0])


def test_the_spectrum_is_that_of_the_bearing_in_shares_of_its_limit(real):
    series = moment_series(real, 0)
    assert len(series) == 2
    time, values = series["the minute round the deepest load"]
    limit = float(real["normal_limit"].values[0, 0])
    assert np.allclose(values, 100.0 * real["bending_moment"].values[:, 0] / limit) and len(time) == len(values)
    assert "Not shown:" in moment_spectrum_figure(series, "a sea")[1]


def test_one_size_of_cycle_once_a_second_is_its_own_equivalent(run_result):
    """Definition of the damage-equivalent range; the range of a bin is its middle."""
    count = run_result["rainflow_count"].copy(data=np.zeros(run_result["rainflow_count"].shape))
    seconds = float(run_result["duration_total"].values[0, 0])
    place = int(np.flatnonzero(run_result["place_inside"].values[0] == 0)[0])
    index = {"setting": 0, "sea": 0, "place": place, "range_bin": 20, "mean_bin": 14}
    count[index] = seconds
    row = equivalent_rows(run_result.assign(rainflow_count=count), 0, 0)[0]
    middle = 100.0 * run_result["range_bin_bounds"].values[20].mean()
    assert row[2] == f"{middle:.0f} ({middle:.0f}) %"
    half = equivalent_rows(run_result.assign(rainflow_count=count * 2.0 ** -slopes(run_result)[0]), 0, 0)[0]
    assert half[2].startswith(f"{0.5 * middle:.0f} (")


def test_slopes_are_those_of_the_boat_file_also_where_a_foil_is_the_same_as_another(real):
    assert slopes(real) == [16.0, 24.0]
    assert slopes(real.assign_attrs(foil="starboard")) == [16.0, 24.0]
    assert slopes(real.assign_attrs(scenario="{}")) == [10.0, 14.0]

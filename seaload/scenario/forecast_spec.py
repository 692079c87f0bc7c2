"""How far off a forecast of the sea may be, by how long ahead it was made: `[forecast]` of a study."""

from seaload.basis.units import DAY, DEGREE, PERCENT
from seaload.scenario.crew_records import UncertainInput
from seaload.scenario.written import Written, number

USUAL_LEAD_HOURS = 12.0  # of a sea that does not say: the middle of the coming day
FORECAST = ("forecast_hs", "forecast_tp", "forecast_heading")
FROM_MEMORY = "forecast error by lead time, from memory"


class ForecastSpec(Written):
    """`[forecast]`: one deviation of a forecast's error now, and what every day ahead adds to it.

    All from memory: no table of height, period and direction by lead time was found. Published values of single places
    and lead times scatter about it (tests/published/test_forecast_error.py). The correlation is an assumption: had
    every error the same steepness, the period would err by half as much as the height, about 0.4 of its own error.
    """

    hs_percent: number(0, 40, "percent of the height, one deviation of a forecast for now") = 12.0
    hs_percent_per_day: number(0, 4, "percent of the height for every day ahead") = 3.0
    tp_percent: number(0, 40, "percent of the peak period, one deviation of a forecast for now") = 15.0
    tp_percent_per_day: number(0, 4, "percent of the peak period for every day ahead") = 1.25
    heading_deg: number(0, 30, "degrees of the waves' direction, one deviation of a forecast for now") = 15.0
    heading_deg_per_day: number(0, 6, "degrees for every day ahead") = 3.75
    hs_tp_correlation: number(-0.95, 0.95, "of the errors of height and peak period") = 0.4

    def inputs(self, lead):
        """What is uncertain of a sea forecast so long ahead, `lead` [s]: a tuple of `UncertainInput`."""
        days = lead / DAY
        spreads = (
            (self.hs_percent + self.hs_percent_per_day * days) * PERCENT,
            (self.tp_percent + self.tp_percent_per_day * days) * PERCENT,
            (self.heading_deg + self.heading_deg_per_day * days) * DEGREE,
        )
        kinds = ("factor", "factor", "shift")
        return tuple(
            UncertainInput(name, "normal", spread, kind, FROM_MEMORY)
            for name, spread, kind in zip(FORECAST, spreads, kinds, strict=True)
        )


def forecast_words(inputs):
    """One line on the errors assumed, of the `UncertainInput`s of one sea."""
    parts = {entry.name: entry for entry in inputs}
    words = {"forecast_hs": ("Hs", PERCENT, " %"), "forecast_tp": ("Tp", PERCENT, " %"),
             "forecast_heading": ("heading", DEGREE, " degrees")}  # fmt: skip
    named = [(parts[name].spread, *how) for name, how in words.items() if name in parts]
    return ", ".join(f"{word} {spread / unit:.0f}{sign}" for spread, word, unit, sign in named)

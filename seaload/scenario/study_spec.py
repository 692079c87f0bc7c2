"""A whole study, as a person writes it: boat, seas, settings, and what is asked of them."""

from typing import Literal

from pydantic import Field, model_validator

from seaload.scenario.fill_spec import FillSpec
from seaload.scenario.forecast_spec import ForecastSpec
from seaload.scenario.prescribed_spec import MOST_MOTIONS, PrescribedSpec
from seaload.scenario.risk_spec import Doubts, GustSpec, ModelSpec, RiskSpec, SamplingSpec, refuse_other_unit
from seaload.scenario.sea_spec import SeaSpec
from seaload.scenario.setting_spec import SettingsSpec
from seaload.scenario.written import SLUG, Refused, Written

NOT_FILLED = ("risk", "forecast", "gust", "uncertain", "prescribed")  # tables that a library does not ask
LIBRARY = r"^[a-z0-9-]{1,60}\.nc$"  # a name alone: nothing is written outside the results folder
TABLES = ("settings", "risk", "forecast", "sampling", "gust", "model")


class StudySpec(Written):
    """The study file. Needed are name, boat, one [[sea]] and [settings]; the rest has printed defaults."""

    name: str = Field(pattern=SLUG, description="small letters, digits and hyphens, 1 to 60 of them")
    boat: str = Field(min_length=1, description="path of the boat file, from the folder of this file")
    foil: Literal["port", "starboard"] = Field(
        default="port", description="the working (leeward) foil: port on starboard tack"
    )
    sea: list[SeaSpec] = Field(min_length=1, max_length=1000, description="one or more [[sea]] tables")
    settings: SettingsSpec = Field(description="a [settings] table")
    risk: RiskSpec = RiskSpec()
    forecast: ForecastSpec = ForecastSpec()
    sampling: SamplingSpec = SamplingSpec()
    gust: GustSpec = GustSpec()
    model: ModelSpec = ModelSpec()
    uncertain: Doubts = {}
    library: str | None = Field(
        default=None, pattern=LIBRARY, description="name of the boat's library in the results folder, as in demo.nc"
    )
    fill: FillSpec | None = Field(default=None, description="a [fill] table")
    prescribed: list[PrescribedSpec] = Field(
        default=[], max_length=MOST_MOTIONS, description=f"at most {MOST_MOTIONS} [[prescribed]] tables"
    )

    @model_validator(mode="after")
    def _names_are_unique(self):
        for key, why in (("sea", "two seas have this name; random streams follow the name"),
                         ("prescribed", "two motions have this name")):  # fmt: skip
            names = [each.name for each in getattr(self, key)]
            for name in names:
                if names.count(name) > 1:
                    raise Refused(key, name, why)
        return self

    @model_validator(mode="after")
    def _fill_has_a_library(self):
        if self.fill is not None and self.library is None:
            raise Refused("fill", "this table", 'goes with a library: write library = "NAME.nc" too')
        if self.fill is None:
            return self
        for table in NOT_FILLED:
            if table in self.model_fields_set:
                raise Refused(table, "this table", "leave it out: with [fill] nothing is decided")
        for key in ("precision_percent", "max_hours"):
            if getattr(self.sampling, key) is not None:
                raise Refused(f"sampling.{key}", getattr(self.sampling, key), "leave it out: with [fill] hours counts")
        return self

    @model_validator(mode="after")
    def _spreads_have_their_unit(self):
        refuse_other_unit(self.uncertain)
        return self

    @model_validator(mode="after")
    def _gustiness_goes_with_gusts(self):
        for number, sea in enumerate(self.sea, start=1):
            if sea.gustiness_percent is not None and self.model.wind != "gusts":
                allowed = 'goes with [model] wind = "gusts"'
                raise Refused(f"sea[{number}].gustiness_percent", sea.gustiness_percent, allowed)
        return self

    def defaults_used(self):
        """Plain lines "key = value" for every default that the study leaves unsaid."""
        lines = [] if "foil" in self.model_fields_set else [f"foil = {self.foil}"]
        for table in TABLES:
            if self.fill is not None and table in NOT_FILLED:
                continue
            part = getattr(self, table)
            for key in type(part).model_fields:
                value = getattr(part, key)
                if key in part.model_fields_set or value is None:
                    continue
                if key == "ballast_shift_m" and self.settings.tanks is not None:
                    continue
                lines.append(f"{table}.{key} = {value}")
        return tuple(lines)

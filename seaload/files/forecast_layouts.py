"""Names that published forecasts give to waves, wind and current, and which way their directions are meant.

Read in files and model sources (reference: netCDF layouts of WAVEWATCH III, ECMWF, Copernicus Marine), unless a line
says otherwise. A direction's own attributes go before what is usual for its name.
"""

from typing import NamedTuple

FROM, TO, UNSAID = "from", "to", ""
PEAK, PEAK_FREQUENCY = "tp", "fp"
MEAN_PERIODS = {"te": "energy period m-1/m0", "t1": "mean period m0/m1", "tz": "mean period sqrt(m0/m2)"}


class WaveNames(NamedTuple):
    """Names of one wave system: its height, ways of telling its period, its direction."""

    words: str  # what it is
    height: str
    periods: tuple  # of (name, PEAK, PEAK_FREQUENCY or one of MEAN_PERIODS), the best first
    directions: tuple  # of names, the best first
    usual: str  # FROM where the source says so of the name, UNSAID where the file itself has to


TOTALS = (
    WaveNames("all waves", "hs", (("tp", PEAK), ("fp", PEAK_FREQUENCY), ("t0m1", "te"), ("t01", "t1"), ("t02", "tz")),
              ("dir", "dp"), UNSAID),
    WaveNames("all waves", "swh", (("pp1d", PEAK), ("mwp", "te"), ("mp1", "t1"), ("mp2", "tz")), ("mwd",), FROM),
    WaveNames("all waves", "VHM0", (("VTPK", PEAK), ("VTM10", "te"), ("VTM02", "tz")), ("VMDR", "VPED"), UNSAID),
)  # fmt: skip
PARTITIONS = (
    *(WaveNames("wind sea" if n == 0 else f"swell {n}", f"phs{n}", ((f"ptp{n}", PEAK),), (f"pdir{n}",), UNSAID)
      for n in range(8)),
    WaveNames("wind sea", "shww", (("mpww", "te"),), ("mdww",), FROM),
    *(WaveNames(f"swell {n}", f"swh{n}", ((f"mwp{n}", "te"),), (f"mwd{n}",), FROM) for n in range(1, 7)),
    WaveNames("wind sea", "VHM0_WW", (("VTM01_WW", "t1"),), ("VMDR_WW",), UNSAID),
    *(WaveNames(f"swell {n}", f"VHM0_SW{n}", ((f"VTM01_SW{n}", "t1"),), (f"VMDR_SW{n}",), UNSAID) for n in (1, 2)),
)  # fmt: skip
ALL_SWELL = WaveNames("all swell", "shts", (("mpts", "te"),), ("mdts",), FROM)  # where no single swells are told
WINDS = (("u10", "v10"), ("uwnd", "vwnd"), ("10u", "10v"))  # towards east and north; u10, v10 from memory
WIND_BY_ANGLE = ("wnd", "wnddir")  # speed, and where it comes from
CURRENTS = (("ucur", "vcur"), ("uo", "vo"))  # towards east and north; uo, vo from memory
MEMBERS = ("number", "member", "realization", "ensemble")
LATITUDES, LONGITUDES = ("latitude", "lat"), ("longitude", "lon")

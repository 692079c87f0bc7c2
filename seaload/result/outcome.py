"""What a run or a sweep hands back: the Dataset, where it was saved, and how the work went."""

import time
from dataclasses import dataclass, field
from pathlib import Path

SETTING_NAMES = ("extension", "rake", "heel", "cant", "ballast_shift")
PAIR_NAMES = (
    "speed_set", "speed_mean", "reverse_odds", "normal_odds", "reverse_odds_all_told", "normal_odds_all_told",
    "reverse_worst_median", "normal_worst_median", "reverse_worst_one_in_twenty", "normal_worst_one_in_twenty",
    "reverse_event_rate", "reverse_event_rate_half", "reverse_event_rate_joined", "normal_event_rate",
    "normal_event_rate_joined", "damage_rate_worst", "reverse_share_worst", "normal_share_worst", "duration_total",
    "rates_at_least", "gust_leaps", "chosen", "decision", "reachable",
)  # fmt: skip


@dataclass(frozen=True)
class Outcome:
    """A finished study."""

    dataset: object  # xarray.Dataset
    result_path: Path  # of result.nc
    done: int  # cases marched now
    reused: int  # cases found finished
    failed: tuple  # names of cases that ended early or left the validity, with the reason
    missing: tuple  # what only illustrates and could not be made, in plain words
    real_time_factor: float  # [-] simulated seconds over processor seconds in wave field, march and counting
    compile_s: float  # [s] the one compilation, or fetching it from the cache
    wall_s: float  # [s]
    settings: list = field(default_factory=list)  # one dictionary a setting and sea, SI, vocabulary names


def outcome_of(dataset, path, sailer, began):
    """`Outcome` of a Dataset saved at `path`; sailer : of the study's own cases; began : `perf_counter` then."""
    account = sailer.account
    return Outcome(
        dataset=dataset,
        result_path=path,
        done=account.done,
        reused=account.reused,
        failed=sailer.failed(),
        missing=tuple(account.missing),
        real_time_factor=account.real_time_factor,
        compile_s=account.compile_s,
        wall_s=time.perf_counter() - began,
        settings=setting_rows(dataset),
    )


def setting_rows(dataset):
    """The main numbers of every setting in every sea as dictionaries, SI, vocabulary names."""
    names = [f"{name}{end}" for name in PAIR_NAMES for end in ("", "_low", "_high")]
    of_setting = {name: dataset[name].values for name in SETTING_NAMES}
    of_pair, seas = {name: dataset[name].values for name in names if name in dataset}, dataset["sea_name"].values
    rows = []
    for i in range(dataset.sizes["setting"]):
        for j, sea in enumerate(seas):
            row = {"setting": i, "sea_number": j, "sea": str(sea)}
            row.update({name: float(values[i]) for name, values in of_setting.items()})
            row.update({name: float(values[i, j]) for name, values in of_pair.items()})
            rows.append(row)
    return rows

"""Recorded logs of one foil: read, judged, counted, added to the ledger, and told as a Dataset."""

import time
from dataclasses import dataclass, field
from itertools import chain
from pathlib import Path
from typing import Any

from seaload.basis.errors import InputError
from seaload.files.ledger.curve import foil_curve
from seaload.files.ledger.store import Ledger
from seaload.files.ledger.totals import full_load_cycles, page_totals
from seaload.files.result_file import read_result, write_result
from seaload.result.log_dataset import LogFindings, log_dataset
from seaload.scenario.log_channels import is_load
from seaload.scenario.log_spec import read_log_spec
from seaload.studies.log.log_pass import LogPass

CHUNK_ROWS = 16_384  # rows at a time: fewer take longer, more take memory


@dataclass(frozen=True)
class LogOutcome:
    """A log that was read."""

    dataset: object  # xarray.Dataset
    result_path: Path  # of result.nc
    done: int  # files with time that was not counted before
    reused: int  # files whose time was counted already
    failed: tuple  # files left out, with the reason
    real_time_factor: float  # [-] recorded seconds over seconds of work
    compile_s: float
    settings: list = field(default_factory=list)  # one dictionary a setting, SI


def read_log(log, files, *, out="results"):
    """Read the recorded `files` as the description `log` (LOG.toml) says; gives an xarray Dataset.

    `result.nc` is saved, and `ledger.sqlite` in the folder `out` remembers what was counted. InputError for a wrong
    description or files that cannot be read, CannotRun when the disk refuses or another process is at work.
    """
    return log_files(log, files, out=out).dataset


def log_files(log, files, *, out, judged=None):
    """`LogOutcome`; arguments as `read_log`. judged : chunks and the judgement, in place of reading the files."""
    began = time.perf_counter()
    spec = read_log_spec(log)
    foil = spec.boat.foils[spec.foil_side]
    if not foil.id:
        allowed = "give the foil a name of its own, such as P-1: its wear is kept under it"
        raise InputError(spec.boat_file.name, f"foil.{spec.foil_side}.id", "", allowed)
    if not any(is_load(column.channel) for column in spec.columns.values()):
        allowed = "needed: at least one column with channel strain_N or load_share_N"
        raise InputError(spec.file.name, "columns", "no load", allowed)
    curve = foil_curve(foil)
    items = begun(judged or judged_files(spec, files))  # what is wrong with the files is said before a ledger is made
    with Ledger(out) as ledger:
        page = ledger.page(foil.id, spec.page, curve)
        one_pass = LogPass(curve, ledger, page)
        judgement = run_through(items, one_pass)
        pages = [
            (name, page_totals(ledger.stretches(number), its_curve))
            for number, name, its_curve in ledger.pages(foil.id)
        ]
        found = LogFindings(
            judgement=judgement,
            this_log={record.place: record.totals() for record in one_pass.records},
            totals=dict(pages)[spec.page],
            pages=pages,
            ledger_files=len(ledger.files(page)),
            moments=one_pass.moments.finished(),
            trace_channels=[record.channel for record in one_pass.records] + one_pass.traced,
            spans=(*one_pass.ribbon.table(judgement.channels), one_pass.ribbon.span),
            added=one_pass.added,
        )
    dataset = log_dataset(spec, foil, curve, found)
    path = write_result(dataset, Path(out) / spec.name)
    dataset = read_result(path)
    wall = time.perf_counter() - began
    recorded = max((t["repaired"].seconds for t in found.this_log.values() if t["repaired"]), default=0.0)
    return LogOutcome(
        dataset=dataset,
        result_path=path,
        done=sum(seconds > 0.0 for seconds in one_pass.added.values()),
        reused=sum(seconds == 0.0 for seconds in one_pass.added.values()),
        failed=tuple(f"{s.file}: {s.reason}" for s in judgement.skipped if s.rows == 0),
        real_time_factor=recorded / wall,
        compile_s=0.0,
        settings=setting_rows(found.totals),
    )


def judged_files(spec, files):
    """Chunks of the files with their flags, and the judgement last."""
    from seaload.files.log.judge import judge

    return judge(spec, files, chunk_rows=CHUNK_ROWS)


def begun(items):
    """The same items, with the first already made."""
    items = iter(items)
    return chain([next(items)], items)


def run_through(items, one_pass):
    """Every chunk through the pass; gives the judgement that comes last."""
    judgement: Any = None
    for item in items:
        if hasattr(item, "values") and hasattr(item, "flags"):
            one_pass.add(item)
        else:
            judgement = item
    one_pass.finished()
    return judgement


def setting_rows(totals):
    """Hours and wear of every setting in the ledger's page, at the place that wore most."""
    rows = {}
    for place, total in totals.items():
        for (_, setting), (seconds, loaded, damage, _) in total.groups.items():
            here = rows.setdefault(setting, {}).setdefault(place, [0.0, 0.0, 0.0])
            for i, value in enumerate((seconds, loaded, damage)):
                here[i] += value
    told = []
    for setting, places in sorted(rows.items()):
        place = max(places, key=lambda p: places[p][2])
        seconds, loaded, damage = places[place]
        told.append({
            "setting": setting, "place": place, "duration": seconds, "duration_loaded": loaded,
            "damage": damage, "full_load_cycles": full_load_cycles(damage),
        })  # fmt: skip
    return told

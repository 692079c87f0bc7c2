"""The command `seaload`: parses, calls, and turns every expected error into one line and an exit code."""

import gc
import signal
import sys
from pathlib import Path
from typing import Annotated

import typer

from seaload.command_line.options import Json, Out, Quiet, Scheduler, Seed, StudyFile, Verbose, Workers, Yes
from seaload.command_line.streams import last_words, safe_streams

OBJECTS_BETWEEN_SEARCHES = 100_000  # libraries make many that stay: looking for dead ones took a sixth of the start
DONE, BAD_INPUT, CANNOT_RUN, INTERRUPTED = 0, 2, 3, 130
GOES_ON = "interrupted; finished cases are kept, the same command goes on from there"

app = typer.Typer(
    name="seaload",
    help="How often, and how hard, waves load a racing boat's foil.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def show_version(asked: bool):
    """Print the version and stop."""
    if asked:
        from seaload import __version__

        print(__version__)
        raise typer.Exit()


@app.callback()
def common(
    version: Annotated[
        bool, typer.Option("--version", callback=show_version, is_eager=True, help="Print the version.")
    ] = False,
):
    """How often, and how hard, waves load a racing boat's foil."""


@app.command()
def boat(
    boat: Annotated[Path, typer.Argument(help="Boat file (TOML).", show_default=False)],
    out: Out = Path("results"),
    foil: Annotated[str | None, typer.Option("--foil", help="Working foil, port or starboard.")] = None,
    heel_deg: Annotated[float | None, typer.Option("--heel-deg", help="Heel; default: the rig's.")] = None,
    rake_deg: Annotated[float | None, typer.Option("--rake-deg", help="Rake; default: the rig's.")] = None,
    cant_deg: Annotated[float | None, typer.Option("--cant-deg", help="Keel cant; default: the rig's.")] = None,
    json: Json = False,
    quiet: Quiet = False,
):
    """Check a boat file by itself: trim, righting, drag, speed, motions, gauges, limits, and what to mend."""
    from seaload.command_line.boat import boat_command

    angles = {"heel_deg": heel_deg, "rake_deg": rake_deg, "cant_deg": cant_deg}
    return boat_command(boat, foil=foil, angles=angles, out=out, json=json, quiet=quiet)


@app.command()
def run(
    study: StudyFile,
    out: Out = Path("results"),
    seed: Seed = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    json: Json = False,
    quiet: Quiet = False,
    yes: Yes = False,
):
    """Simulate one setting in the study's seas: loads, reverse load past the limit, wear."""
    from seaload.command_line.work import How, run_one

    return run_one(study, How(out, seed, workers, scheduler, json, quiet), yes=yes)


@app.command()
def sweep(
    study: StudyFile,
    out: Out = Path("results"),
    seed: Seed = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    json: Json = False,
    quiet: Quiet = False,
    yes: Yes = False,
    clean: Annotated[bool, typer.Option("--clean", help="Delete stored cases this study does not use.")] = False,
):
    """Compare settings: a grid of settings in every sea of the study, and the one suggested."""
    from seaload.command_line.work import How, sweep_all

    return sweep_all(study, How(out, seed, workers, scheduler, json, quiet), yes=yes, clean=clean)


@app.command()
def leg(
    leg: Annotated[Path, typer.Argument(help="Description of the leg (TOML).", show_default=False)],
    out: Out = Path("results"),
    seed: Seed = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    json: Json = False,
    quiet: Quiet = False,
    march_missing: Annotated[
        bool, typer.Option("--march-missing", help="March seas that the library does not tell into it first.")
    ] = False,
):
    """Plan a rough leg: a setting for every stretch, the fastest within a budget of odds and wear."""
    from seaload.command_line.leg import leg_command
    from seaload.command_line.work import How

    return leg_command(leg, How(out, seed, workers, scheduler, json, quiet), march_missing)


@app.command()
def size(
    study: StudyFile,
    out: Out = Path("results"),
    seed: Seed = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    json: Json = False,
    quiet: Quiet = False,
    yes: Yes = False,
):
    """Size a foil for a season: least limits, what governs them, loads to design and test it by."""
    from seaload.command_line.size import size_command
    from seaload.command_line.work import How

    return size_command(study, How(out, seed, workers, scheduler, json, quiet), yes=yes)


@app.command()
def log(
    log: Annotated[Path, typer.Argument(help="Description of the log (TOML).", show_default=False)],
    files: Annotated[list[Path], typer.Argument(help="Recorded files: CSV or netCDF.", show_default=False)],
    out: Out = Path("results"),
    json: Json = False,
    quiet: Quiet = False,
):
    """Read recorded loads: judge them, count them, and keep the ledger of what this foil has been through."""
    from seaload.command_line.log import log_command

    return log_command(log, files, out=out, json=json, quiet=quiet)


@app.command()
def cycles(
    file: Annotated[Path, typer.Argument(help="CSV: a column of load, optionally one of time before it.")],
    slope: Annotated[float, typer.Option(help="Slope of the S-N curve.")] = 10.0,
    reference: Annotated[
        float | None, typer.Option(help="Range of which a million cycles make damage 1; 1 if not given.")
    ] = None,
    normal_limit: Annotated[float | None, typer.Option(help="Limit of the normal load: the mean counts too.")] = None,
    reverse_limit: Annotated[float | None, typer.Option(help="Limit of the reverse load, positive.")] = None,
    ultimate_over_limit: Annotated[float | None, typer.Option(help="Ultimate load over limit; 2.5.")] = None,
    json: Json = False,
):
    """Count the rainflow cycles of any load history; loads and limits in the file's own unit."""
    from seaload.command_line.cycles import cycles_command
    from seaload.command_line.damage_rule import damage_rule

    return cycles_command(
        file, json, damage_rule(slope, reference, normal_limit, reverse_limit, ultimate_over_limit)
    )


@app.command()
def report(
    result: Annotated[Path, typer.Argument(help="A saved result.nc, or its folder.", show_default=False)],
    json: Json = False,
    quiet: Quiet = False,
    verbose: Verbose = False,
):
    """Write pages and figures from a saved result."""
    from seaload.command_line.work import write_report

    return write_report(result, json=json, quiet=quiet, verbose=verbose)


def exit_code_of(arguments):
    """Run `seaload` with these arguments; expected errors become one line on standard error and a code."""
    from seaload.basis.errors import SealoadError

    try:
        code = typer.main.get_command(app).main(args=arguments, prog_name="seaload", standalone_mode=False)
        if reason := last_words():
            return said(f"standard output: {reason}", CANNOT_RUN)
        if code == INTERRUPTED:  # the option parser makes a code of an interrupt by itself
            return said(GOES_ON, INTERRUPTED)
        return code if isinstance(code, int) else DONE
    except SealoadError as error:
        return said(str(error), error.exit_code)
    except (KeyboardInterrupt, typer.Abort):
        return said(GOES_ON, INTERRUPTED)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        last_words()
        return said(f"{where}{error.strerror or error}", CANNOT_RUN)
    except MemoryError:
        return said("not enough memory", CANNOT_RUN)
    except Exception as error:  # what the option parser refuses; anything else is a defect and is shown whole
        if not hasattr(error, "format_message"):
            raise
        if type(error).__name__ == "NoArgsIsHelpError":
            print(error.format_message(), file=sys.stderr)
            return BAD_INPUT
        return said(error.format_message(), BAD_INPUT)


def said(message, code):
    """Say the message as one line on standard error; gives the code back."""
    line = " ".join("".join(c if c.isprintable() else " " for c in message).split())
    print(f"seaload: {line}", file=sys.stderr)
    return code


def main():
    """Entry point of the command."""
    safe_streams()
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # a polite end is Ctrl-C: 130, to go on from
    gc.set_threshold(OBJECTS_BETWEEN_SEARCHES, *gc.get_threshold()[1:])
    code = exit_code_of(sys.argv[1:])
    gc.freeze()  # the process ends: no last search among the libraries' objects, which took half a second
    sys.exit(code)


if __name__ == "__main__":
    main()

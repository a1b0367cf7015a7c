# SPDX-License-Identifier: Apache-2.0
"""The command line: `tilewater VERB JOB [options]`.

Result on stdout; findings and notes on stderr. Exit 0 done, 1 done but a requirement falls short,
2 the input is at fault. What a verb needs is loaded when it runs, so that the
quick ones stay quick.
"""

import sys
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.basis.units import System
from tilewater.cli.bid_verb import bid
from tilewater.cli.inspect_verb import inspect
from tilewater.cli.monitor_verb import monitor
from tilewater.cli.operate_verb import operate
from tilewater.cli.options import (
    AT_FAULT,
    DONE,
    SHORT,
    AsJson,
    Beds,
    Explain,
    InUnits,
    Job,
    OnDay,
    Search,
    system_of,
)
from tilewater.cli.renew_verb import renew
from tilewater.cli.sheets_verb import sheets
from tilewater.cli.stake_verb import stake

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Denitrifying practices at tile outlets: one job folder from phone call to renewal.",
    epilog="Exit 0: done. 1: a requirement falls short. 2: the input is at fault.",
)


def _require_day(day: str, explain: str, example: str) -> None:
    """A day is asked of a number, and is a day; said before anything is worked out."""
    if not day:
        return
    if not explain:
        print(
            f"--day needs a number to explain. Write --explain {example} --day 2011-05-03.",
            file=sys.stderr,
        )
        raise typer.Exit(AT_FAULT)
    from tilewater.documents.pages.day_page import day_of

    day_of(day)


def _lenient_streams() -> None:
    """Print what a terminal has no letter for as a question mark, and go on."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def run() -> None:
    """Entry of the program `tilewater`."""
    from tilewater.basis.compiled import keep_compiled_in

    _lenient_streams()
    keep_compiled_in(f"{typer.get_app_dir('tilewater')}/kernels", _tell_compiling)
    try:
        app()
    except BadInputFile as error:
        for fault in error.faults:
            print(fault, file=sys.stderr)
        raise SystemExit(AT_FAULT) from None
    except BrokenPipeError:  # the reader has seen enough, as with `| head`
        sys.stdout = None
        raise SystemExit(DONE) from None
    except (TilewaterError, OSError) as error:
        print(error, file=sys.stderr)
        raise SystemExit(AT_FAULT) from None


def _tell_compiling(folder: str) -> None:
    """Say why the first days of a new version take their time."""
    from pathlib import Path

    if not Path(folder).exists():
        print(
            "Compiling the daily model for this machine, once: about half a minute.",
            file=sys.stderr,
            flush=True,
        )


def _version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        print(f"tilewater {version('tilewater')}")
        raise typer.Exit(DONE)


@app.callback()
def tilewater(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_version, is_eager=True, help="Print the version and leave."
        ),
    ] = False,
) -> None:
    """Denitrifying practices at tile outlets: one job folder from phone call to renewal."""


@app.command()
def start(
    job: Annotated[
        Path | None, typer.Argument(help="The new job folder.", show_default=False)
    ] = None,
    template: Annotated[
        bool, typer.Option("--template", help="Print the whole job file commented; write nothing.")
    ] = False,
    example: Annotated[str, typer.Option(help="Copy a bundled example, such as corbel-farm.")] = "",
    answer: Annotated[
        list[str] | None,
        typer.Option(help='An answer, such as main.diameter="10 in"; may be given again.'),
    ] = None,
) -> None:
    """Start a job folder from a few answers: what is not answered yet is "unknown".

    Without --answer it asks ten questions at a terminal; Enter leaves one unknown.
    """
    if template:
        from tilewater.job.template import template_text

        print(template_text(), end="")
        return
    if job is None:
        print("start needs a folder. Write tilewater start my-job.", file=sys.stderr)
        raise typer.Exit(AT_FAULT)
    from tilewater.cli.questions import answers_of
    from tilewater.cli.verbs import show_started
    from tilewater.tasks.starting import start as start_folder

    answers = {} if example else answers_of(answer or [], ask=sys.stdin.isatty())
    show_started(start_folder(job, example=example, answers=answers))


@app.command()
def rough(
    area: Annotated[str, typer.Option(help='Acres that drain to the outlet: "62 acre".')] = "",
    main: Annotated[str, typer.Option(help='Inside diameter of the main: "10 in".')] = "",
    grade: Annotated[str, typer.Option(help='Grade of the main: "0.18 %".')] = "",
    levels: Annotated[
        str,
        typer.Option(help='In place of it: "1180.95 ft, 1181.20 ft, 140 ft".', metavar="LEVELS"),
    ] = "",
    ditch: Annotated[
        str, typer.Option(help='Ditch water below the end of the main: "1.3 ft"; or "0.5 ft over".')
    ] = "",
    strip: Annotated[
        str, typer.Option(help='Ground along the ditch, then away from it: "190 x 62 ft".')
    ] = "",
    nitrate: Annotated[str, typer.Option(help='One sample, as N: "14 mg/L".')] = "",
    begin: Annotated[
        Path | None, typer.Option(help="Begin a job folder with these numbers.", metavar="FOLDER")
    ] = None,
    as_json: AsJson = False,
    units: InUnits = None,
    explain: Explain = "",
) -> None:
    """The ten-minute answer from six numbers; no folder needed. Leave out what nobody knows."""
    from tilewater.cli.verbs import show_rough, show_started
    from tilewater.tasks.roughing import rough_of, start_from_rough

    said = {"area": area, "main": main, "grade": grade, "levels": levels, "ditch": ditch}
    said |= {"strip": strip, "nitrate": nitrate}
    show_rough(rough_of(said), explain, as_json=as_json, units=system_of(units) or "us")
    if begin is not None:
        show_started(start_from_rough(said, begin), to_stderr=as_json)


@app.command()
def check(job: Job, as_json: AsJson = False, units: InUnits = None, explain: Explain = "") -> None:
    """Read the job and every file that it names; report every fault at once."""
    from tilewater.cli.verbs import show_checked, show_explained
    from tilewater.tasks.later_files import check_every_file

    checked, reader = check_every_file(job), system_of(units)
    if explain:
        show_explained(checked, checked.trace, explain, as_json=as_json, units=reader)
        return
    show_checked(checked, as_json=as_json, units=reader)


@app.command()
def water(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    day: OnDay = "",
    fit: Annotated[
        bool, typer.Option("--fit", help="Fit the soil to the measured drain flow; write nothing.")
    ] = False,
    keep: Annotated[
        bool, typer.Option("--keep", help="With --fit: write what was fitted into job.toml.")
    ] = False,
) -> None:
    """Drain flow: daily series, peaks and what controls them, load, days too wet."""
    from tilewater.cli.verbs import show_day, show_explained, show_fit, show_water
    from tilewater.tasks.watering import water_job

    if fit or keep:
        if not fit or explain or day:
            print(
                "--keep goes with --fit, and both with neither --explain nor --day.",
                file=sys.stderr,
            )
            raise typer.Exit(AT_FAULT)
        show_fit(job, as_json=as_json, keep=keep)
        return
    _require_day(day, explain, "water.flow_m3_s")
    watered, reader = water_job(job), system_of(units)
    trace = watered.side.trace
    if day:
        show_day(watered.job, trace, explain, day, as_json=as_json, units=reader)
        return
    if explain:
        show_explained(watered.job, trace, explain, as_json=as_json, units=reader)
        return
    show_water(watered, as_json=as_json, units=reader, out=out)
    raise typer.Exit(DONE if watered.fits else SHORT)


@app.command()
def screen(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    rows: Annotated[
        bool, typer.Option("--rows", help="Show every row of every practice too.")
    ] = False,
) -> None:
    """What could lie here, what cannot and why, what is not known, what to measure next."""
    from tilewater.cli.verbs import show_explained, show_screen
    from tilewater.tasks.screening import screen_folder

    screened, reader = screen_folder(job), system_of(units)
    if explain:
        trace = screened.screen.trace
        show_explained(screened.job, trace, explain, as_json=as_json, units=reader)
        return
    show_screen(screened, as_json=as_json, units=reader, out=out, every=rows)
    raise typer.Exit(SHORT if screened.screen.nothing else DONE)


@app.command()
def compare(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    papers: Annotated[
        bool,
        typer.Option("--papers/--no-papers", help="Write the owner's pages too, or the result."),
    ] = True,
) -> None:
    """Set bed, buffer, raised outlet and a row of both side by side, those that the job describes.

    Keys for --explain begin with the practice: bed, buffer, raised, bed-then-buffer or none.
    """
    from tilewater.chain.compare_record import explained_keys
    from tilewater.cli.page import margin
    from tilewater.cli.verbs import show_compared, show_explained
    from tilewater.tasks.comparing import compare_job
    from tilewater.tasks.results import hold_folder

    hold_folder(out)
    with margin().status("Designing") as status:
        compared = compare_job(job, tell=lambda words: status.update(f"Designing: {words}"))
    reader = system_of(units)
    if explain:
        trace, key = explained_keys(compared.comparison, explain)
        show_explained(compared.job, trace, key, as_json=as_json, units=reader)
        return
    show_compared(compared, as_json=as_json, units=reader, out=out, papers=papers)
    raise typer.Exit(DONE if compared.fits else SHORT)


def _search(
    job: Path, beds: int, *beside: object, as_json: bool, units: System | None, out: Path | None
) -> None:
    """Search instead of one design, and leave; what belongs to one design cannot stand beside."""
    from tilewater.cli.verbs import show_search

    if any(beside):
        print(
            "--search looks at many; --explain, --day, --issue and --compare-with are of one. "
            "Write one of its sizes into the job, and design that.",
            file=sys.stderr,
        )
        raise typer.Exit(AT_FAULT)
    found = show_search(job, beds, as_json=as_json, units=units, out=out)
    raise typer.Exit(DONE if found else SHORT)


@app.command()
def design(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    day: OnDay = "",
    compare_with: Annotated[
        Path | None, typer.Option(help="An earlier result; show what changed since.")
    ] = None,
    papers: Annotated[
        bool,
        typer.Option(
            "--papers/--no-papers", help="Write drawings and reports too, or the result alone."
        ),
    ] = True,
    search: Search = False,
    beds: Beds = 10_000,
    issue: Annotated[
        str | None,
        typer.Option(
            help='Issue a copy that is kept as it is, such as --issue "review copy"; needs --by.',
            metavar="STATUS",
        ),
    ] = None,
    by: Annotated[
        str, typer.Option(help="With --issue: the engineer who answers for it.", metavar="NAME")
    ] = "",
    note: Annotated[
        str, typer.Option(help="With --issue: for whom or for what it is.", metavar="TEXT")
    ] = "",
) -> None:
    """Design the practice: the whole chain, its verdict, and what binds."""
    from tilewater.cli.issue_options import words_of_issue
    from tilewater.cli.verbs import show_day, show_design, show_explained, show_issued
    from tilewater.tasks.designing import design_job
    from tilewater.tasks.results import compare

    _require_day(day, explain, "removal.removed_kg.p50")
    reader = system_of(units)
    if search:
        beside = (explain, day, issue, compare_with)
        _search(job, beds, *beside, as_json=as_json, units=reader, out=out)
    words = words_of_issue(issue, by, note, writes_all=papers and not explain)
    outcome = design_job(job)
    if day:
        trace = outcome.design.trace
        show_day(outcome.job, trace, explain, day, as_json=as_json, units=reader)
        return
    if explain:
        trace = outcome.design.trace
        show_explained(outcome.job, trace, explain, as_json=as_json, units=reader)
        return
    changed = compare(compare_with, outcome) if compare_with else None
    show_design(outcome, changed, as_json=as_json, units=reader, out=out, with_papers=papers)
    if words is not None:
        show_issued(outcome, words, date.today(), units=reader)
    raise typer.Exit(DONE if outcome.fits else SHORT)


app.command()(sheets)
app.command()(stake)
app.command()(bid)
app.command()(inspect)
app.command()(operate)
app.command()(monitor)
app.command()(renew)

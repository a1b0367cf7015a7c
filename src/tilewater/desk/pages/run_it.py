# SPDX-License-Identifier: Apache-2.0
"""Run it: the boards that stand, a change recorded in three taps, the card and its search.

Made for a phone at the structure: what stands and what is to be set come first. The search runs in
a thread of its own; the log is written at once, whatever the search does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from http import HTTPStatus
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile, Fault, TilewaterError
from tilewater.basis.memory import Stopped
from tilewater.chain.operate_compare import Compared, add_compared
from tilewater.chain.operate_plan import SET_WORDS
from tilewater.desk.jobs import cards, state_of, title_of, words_of
from tilewater.desk.runs import Run, runs_of
from tilewater.desk.sending import ending_of, sent
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.operate_page import compared_block, operate_page, stack_said
from tilewater.documents.words import Words
from tilewater.job.board_log import BoardChange, Boards, boards_of
from tilewater.tasks.board_log import (
    board_changes,
    boards_of_job,
    days_of_log,
    record_change,
    zone_of_job,
)
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import Checked
from tilewater.tasks.held import HeldJob
from tilewater.tasks.look_days import look_day
from tilewater.tasks.operating import Operated, change_record, operate_checked
from tilewater.tasks.operating_papers import papers_of_operation

router = APIRouter()
KIND = "operate"
"""The long work of this page."""
LONGEST = 120
"""Letters of what is typed here."""


@dataclass(frozen=True)
class Stands:
    """What stands of a set by the log.

    Attributes
    ----------
    name, words : str
        Of the set.
    stack, down, since : str
        As printed; empty where the log does not have the set.
    """

    name: str
    words: str
    stack: str
    down: str
    since: str


@dataclass(frozen=True)
class Offered:
    """A stack that can be tapped: its height for the form, and what is said of it."""

    height_in: str
    stack: str
    down: str


@router.get("/job/{name}/run-it", response_class=HTMLResponse)
def run_it(request: Request, name: str, board_set: str = "") -> HTMLResponse:
    """What stands, the three taps, the card, the log."""
    return _page(request, name, board_set=board_set)


@router.get("/job/{name}/run-it.json")
def run_it_twin(request: Request, name: str) -> JSONResponse:
    """How far the search is, its record as `operate --json` has it, and the log."""
    held = _held(request, name)
    run = runs_of(request).of(name, KIND)
    job = _checked(held)
    changes = board_changes(job)
    found: Operated | None = None if run is None else run.result
    return JSONResponse(
        {
            "state": "none" if run is None else run.state,
            "said": "" if run is None else run.said,
            "share": None if run is None else run.share,
            "faults": [] if run is None else list(run.faults),
            "is_of_this_job": run is not None and run.version == held.version,
            "found": None if found is None else found.record,
            "standing_m": _last(changes),
            "log": [change_record(job, change) for change in changes],
        }
    )


@router.post("/job/{name}/run-it")
def start(request: Request, name: str) -> Response:
    """Start the search of the boards; the one that runs goes on where there is one."""
    held = _held(request, name)
    job = _checked(held)

    def work(run: Run) -> Operated:
        def tell(said: str, share: float) -> None:
            if not run.goes_on():
                raise Stopped(f"Stopped before {said}.")
            run.tell(said, share)

        stands = as_it_stands(job)
        look = look_day("", date.today(), days_of_log(stands), "")
        return operate_checked(stands, on=look.day, tell=tell)

    runs_of(request).start(name, KIND, held.version, work)
    return _back(request, name)


@router.post("/job/{name}/run-it/stop")
def stop(request: Request, name: str) -> Response:
    """End the search."""
    run = runs_of(request).of(name, KIND)
    if run is not None:
        run.stop()
        run.wait(1.0)
    return _back(request, name)


@router.post("/job/{name}/run-it/log")
def record(
    request: Request,
    name: str,
    board_set: Annotated[str, Form(max_length=LONGEST)],
    stack: Annotated[str, Form(max_length=LONGEST)] = "",
    rim_down: Annotated[str, Form(max_length=LONGEST)] = "",
    time: Annotated[str, Form(max_length=LONGEST)] = "",
    who: Annotated[str, Form(max_length=LONGEST)] = "",
    note: Annotated[str, Form(max_length=LONGEST)] = "",
) -> Response:
    """Write a change of the boards into the log, with the time of now where none is typed."""
    held = _held(request, name)
    job = _checked(held)
    tape = rim_down.strip()
    try:
        record_change(
            held.folder,
            board_set,
            when=_moment(job, time),
            stack="" if tape else stack.strip(),
            rim_down=tape,
            who=who,
            note=note,
        )
    except BadInputFile as error:
        faults = [fault.message for fault in error.faults]
        code = HTTPStatus.OK if is_part(request) else HTTPStatus.UNPROCESSABLE_ENTITY
        return _page(request, name, code, board_set=board_set, faults=faults)
    if is_part(request):
        return _page(request, name, board_set=board_set, kept=True)
    return RedirectResponse(f"/job/{quote(name)}/run-it", HTTPStatus.SEE_OTHER)


@router.get("/job/{name}/run-it/file/{file}")
def running_file(request: Request, name: str, file: str) -> Response:
    """A paper of the boards as they were found, made now."""
    held = _held(request, name)
    run = runs_of(request).of(name, KIND)
    found: Operated | None = None if run is None else run.result
    units = words_of(request, held.job).system
    make = None if found is None else papers_of_operation(found, units).get(file)
    if make is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "No such paper is made. Search the boards again.")
    try:
        content = make()
    except TilewaterError as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None
    return sent(name, file, content, save=ending_of(file) != ".pdf")


def _held(request: Request, name: str) -> HeldJob:
    held = shelf_of(request).held(name)
    if held.changed_on_disk():
        held.reread()
    return held


def _checked(held: HeldJob) -> Checked:
    """The job as read.

    Raises
    ------
    BadInputFile
        With the faults of its files.
    """
    if held.checked is None:
        raise BadInputFile(*held.faults)
    return held.checked


def _moment(job: Checked, typed: str) -> datetime:
    """A time by the clocks of the site: the one typed, else now."""
    zone = zone_of_job(job)
    if not typed.strip():
        return datetime.now() if zone is None else datetime.now(zone.rules).replace(tzinfo=None)
    try:
        return datetime.fromisoformat(typed.strip()).replace(tzinfo=None)
    except ValueError:
        message = f"'{typed}' is no time. Write it like 2027-12-01 09:30."
        raise BadInputFile(Fault("boards-log.csv", None, "time", message)) from None


def _back(request: Request, name: str) -> Response:
    if is_part(request):
        return _page(request, name)
    return RedirectResponse(f"/job/{quote(name)}/run-it", HTTPStatus.SEE_OTHER)


def _page(
    request: Request,
    name: str,
    status: HTTPStatus = HTTPStatus.OK,
    *,
    board_set: str = "",
    faults: Sequence[str] = (),
    kept: bool = False,
) -> HTMLResponse:
    held = _held(request, name)
    words = words_of(request, held.job)
    run = runs_of(request).of(name, KIND)
    found: Operated | None = None if run is None else run.result
    record: dict[str, Any] = {
        "job": {"name": name, "title": title_of(held, name)},
        "run": run,
        "found": found,
        "is_same": run is not None and run.version == held.version,
        "parts": (),
        "files": (),
        "notes": (),
        "faults": list(faults),
        "kept": kept,
        "log": (),
        "stands": (),
        "offered": (),
        "board_set": board_set,
        "compared": None,
        "ahead": "",
        "longest": LONGEST,
    }
    try:
        job = _checked(held)
        record |= _of_log(job, words, board_set, found)
    except BadInputFile as error:
        record["faults"] += [str(fault) for fault in error.faults]
    if found is not None:
        trace = found.design.trace
        shown = operate_page(found.job.title, trace, found.operation, found.periods, None, words)
        record["parts"] = list(shown)[1:]
        record["files"] = list(papers_of_operation(found, words.system))
        record["notes"] = [note.in_units(words.system) for note in found.findings]
    if is_part(request):
        return page(request, "run_it_part.html", status, **record)
    record |= {"cards": cards(shelf_of(request)), "here": name, "state": state_of(held.latest())}
    return page(request, "run_it.html", status, **record)


def _of_log(job: Checked, words: Words, board_set: str, found: Operated | None) -> dict[str, Any]:
    """What the log says: what stands, what may be tapped, the changes, what the card asks for."""
    job = as_it_stands(job)
    boards = boards_of_job(job)
    names = [name for name in boards.sets if name in _moved(job, boards)]
    chosen = board_set if board_set in names else names[0]
    changes = board_changes(job)
    standing = _last(changes)
    look = look_day("", date.today(), days_of_log(job), "")
    compared: Compared | None = None
    block = None
    if found is not None and standing:
        trace = found.design.trace
        compared = add_compared(trace, found.operation, standing, f"{look.day:%m-%d}")
        block = None if compared is None else compared_block(trace, compared, words)
    return {
        "stands": [_stands(job, boards, changes, name, words) for name in names],
        "board_set": chosen,
        "offered": _offered(job, boards, chosen, found, words),
        "log": [_row(job, change, words) for change in reversed(changes)],
        "compared": block,
        "ahead": f"{look.day}" if look.is_ahead else "",
    }


def _last(changes: Sequence[BoardChange]) -> dict[str, float]:
    """Heights of the stacks that the log ends with, by set. [m]"""
    return {change.set: change.height_m for change in changes}


def _moved(job: Checked, boards: Boards) -> set[str]:
    """Sets that are moved: those in which a board stands in the design or in a season."""
    stated = {
        "inlet": ("inputs.boards.inlet_m", ".inlet_boards_m"),
        "outlet": ("inputs.boards.outlet_m", ".outlet_boards_m"),
        "head": ("inputs.buffer.head_boards_m", ".head_boards_m"),
    }
    found = {
        name
        for given in job.inputs.givens
        for name, ends in stated.items()
        if given.key.endswith(ends) and isinstance(given.value, float) and given.value > 0.0
    }
    return found & set(boards.sets) or set(boards.sets)


def _stands(
    job: Checked, boards: Boards, changes: Sequence[BoardChange], name: str, words: Words
) -> Stands:
    last = next((change for change in reversed(changes) if change.set == name), None)
    if last is None:
        return Stands(name, SET_WORDS[name], "", "", "")
    of = boards.sets[name]
    down = words.say(of.rim - of.sill - last.height_m, "size")
    since = change_record(job, last)["time"]
    return Stands(name, SET_WORDS[name], stack_said(last.stack_m, words), down, since)


def _offered(
    job: Checked, boards: Boards, name: str, found: Operated | None, words: Words
) -> list[Offered]:
    """Stacks that may be tapped: those of the card, of the seasons and of the design, and none."""
    heights = {0.0}
    for given in job.inputs.givens:
        is_own = given.key == f"inputs.boards.{name}_m" or (
            given.key.startswith("inputs.season.") and given.key.endswith(f".{name}_boards_m")
        )
        if is_own and isinstance(given.value, float):
            heights.add(round(sum(boards_of(given.value, boards)), 6))
    for period in () if found is None else found.periods:
        for stack in period.stacks:
            if stack.board_set == name:
                heights.add(round(sum(stack.boards), 6))
    of = boards.sets[name]
    return [
        Offered(
            f"{height / 0.0254:.4g}",
            stack_said(boards_of(height, boards), words),
            words.say(of.rim - of.sill - height, "size"),
        )
        for height in sorted(heights)
    ]


def _row(job: Checked, change: BoardChange, words: Words) -> dict[str, str]:
    told = change_record(job, change)
    return {
        "time": str(told["time"]),
        "set": SET_WORDS[change.set],
        "stack": stack_said(change.stack_m, words),
        "who": change.who,
        "note": change.note,
    }

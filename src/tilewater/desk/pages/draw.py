# SPDX-License-Identifier: Apache-2.0
"""Sheets and stakes in the page: a set for a status and a paper, the stake list, their files."""

from http import HTTPStatus
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.desk import paper_runs
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.runs import Run, runs_of
from tilewater.desk.sending import ending_of, sent
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.stake_page import stake_page
from tilewater.documents.sheets.record import PAPERS
from tilewater.job.schema_stake import COLUMNS
from tilewater.tasks.issuing import LONGEST as ISSUE_LONGEST
from tilewater.tasks.issuing import issue_words
from tilewater.tasks.sheeting import SHEETS, STATUSES, sheet_words, sheets_status
from tilewater.tasks.staking import (
    COLUMNS_TOLD,
    LOCATE_GEOJSON,
    LOCATE_KML,
    ROVER,
    Staked,
    columns_text,
    keep_columns,
    locate_geojson,
    locate_kml,
    rover_columns,
    rover_text,
    stake_job,
)

router = APIRouter()
KIND, ISSUE = "sheets", "sheet-issue"
"""The long works of this page."""
TYPED = {"status": "review", "paper": "11x17", "signed": "", "by": "", "note": ""}
"""What stands in the forms before anything is typed."""
LONGEST = 200
"""Letters of what is typed here."""


@router.get("/job/{name}/draw", response_class=HTMLResponse)
def draw(request: Request, name: str) -> HTMLResponse:
    """The set of sheets: what it is for, on which paper, and the set once it is made."""
    return _draw_page(request, name)


@router.get("/job/{name}/draw.json")
def draw_twin(request: Request, name: str) -> JSONResponse:
    """Whether a set is made, and its files."""
    held = shelf_of(request).held(name)
    run = runs_of(request).of(name, KIND)
    files = [] if run is None else sorted(getattr(run.result, "files", {}))
    state = "not made" if run is None else run.state
    current = run is not None and run.version == held.version
    record = {"state": state, "files": files, "is_of_this_job": current}
    return JSONResponse(record | {"issue": _issue_record(runs_of(request).of(name, ISSUE))})


def _issue_record(run: Run | None) -> dict[str, Any]:
    """How far an issue is; its folder and seal once it stands."""
    if run is None:
        return {"state": "not made", "faults": [], "name": None, "seal": None}
    made = run.result
    return {
        "state": run.state,
        "faults": list(run.faults),
        "name": None if made is None else made.folder.name,
        "seal": None if made is None else made.seal,
    }


@router.post("/job/{name}/draw")
def make(
    request: Request,
    name: str,
    status: Annotated[str, Form(max_length=LONGEST)] = "review",
    paper: Annotated[str, Form(max_length=LONGEST)] = "11x17",
    signed: Annotated[str, Form(max_length=LONGEST)] = "",
) -> Response:
    """Draw the set in a thread of its own."""
    job = opened(request, name)
    typed = {"status": status, "paper": paper, "signed": signed}
    try:
        words = sheet_words(status, signed, paper)
        if job.answer.design is None:
            raise BadInputFile(*job.answer.faults)
    except BadInputFile as error:
        faults = [fault.message for fault in error.faults]
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        return _draw_page(request, name, code, typed=typed, faults=faults)
    folder, units = job.held.folder, job.words.system
    runs_of(request).start(
        job.name,
        KIND,
        job.held.version,
        lambda run: paper_runs.draw_sheets(run, folder, units, words),
    )
    if is_part(request):
        return _draw_page(request, name, typed=typed)
    return RedirectResponse(f"/job/{quote(name)}/draw", HTTPStatus.SEE_OTHER)


@router.post("/job/{name}/draw/issue")
def issue(
    request: Request,
    name: str,
    version: Annotated[str, Form(max_length=LONGEST)],
    status: Annotated[str, Form(max_length=LONGEST)] = "review",
    paper: Annotated[str, Form(max_length=LONGEST)] = "11x17",
    signed: Annotated[str, Form(max_length=LONGEST)] = "",
    by: Annotated[str, Form(max_length=LONGEST)] = "",
    note: Annotated[str, Form(max_length=ISSUE_LONGEST["note"])] = "",
) -> Response:
    """Issue a copy with its set; refused where the job is no longer what the page showed."""
    job = opened(request, name)
    typed = {"status": status, "paper": paper, "signed": signed, "by": by, "note": note}
    try:
        words = sheet_words(status, signed, paper)
        slip = issue_words(sheets_status(words), by, note)
        if job.answer.design is None:
            raise BadInputFile(*job.answer.faults)
    except BadInputFile as error:
        faults = [fault.message for fault in error.faults]
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        return _draw_page(request, name, code, typed=typed, faults=faults)
    if version != job.held.version:
        faults = ["The job has changed since this page was shown. Look at it again, then issue."]
        return _draw_page(request, name, HTTPStatus.CONFLICT, typed=typed, faults=faults)
    folder, units = job.held.folder, job.words.system
    runs_of(request).start(
        job.name,
        ISSUE,
        job.held.version,
        lambda run: paper_runs.issue_set(run, folder, words, slip, units),
    )
    if is_part(request):
        return _draw_page(request, name, typed=typed)
    return RedirectResponse(f"/job/{quote(name)}/draw", HTTPStatus.SEE_OTHER)


@router.get("/job/{name}/draw/file/{file:path}")
def drawn_file(request: Request, name: str, file: str, save: bool = False) -> Response:
    """One file of the set as it was made, to look at or to save."""
    shelf_of(request).place(name)
    run = runs_of(request).of(name, KIND)
    content = None if run is None else getattr(run.result, "files", {}).get(file)
    if content is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "No such file is made. Draw the sheets again.")
    return _sent(name, file.rpartition("/")[2], content, save=save)


@router.get("/job/{name}/stake", response_class=HTMLResponse)
def stake(request: Request, name: str) -> HTMLResponse:
    """The stake list, and the columns of the file for the rover."""
    return _stake_page(request, name)


@router.get("/job/{name}/stake.json")
def stake_twin(request: Request, name: str) -> JSONResponse:
    """The stake list as the command line has it."""
    return JSONResponse(_staked(opened(request, name)).record)


@router.post("/job/{name}/stake")
def remember(
    request: Request,
    name: str,
    columns: Annotated[str, Form(max_length=LONGEST)] = "",
) -> Response:
    """Remember the columns of the rover in the job file."""
    staked = _staked(opened(request, name))
    named = tuple(each.strip() for each in columns.split(",") if each.strip())
    try:
        keep_columns(staked, rover_columns(staked, named))
    except BadInputFile as error:
        faults = [fault.message for fault in error.faults]
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        return _stake_page(request, name, code, typed=columns, faults=faults)
    return RedirectResponse(f"/job/{quote(name)}/stake", HTTPStatus.SEE_OTHER)


@router.get("/job/{name}/stake/file/{file}")
def staked_file(request: Request, name: str, file: str) -> Response:
    """Points for the rover, or the ground of the locate request."""
    staked = _staked(opened(request, name))
    if file == ROVER:
        return _sent(name, file, rover_text(staked, rover_columns(staked, ())), save=True)
    if file == COLUMNS_TOLD:
        return _sent(name, file, columns_text(staked, rover_columns(staked, ())), save=True)
    if staked.stakes.locate and file == LOCATE_GEOJSON:
        return _sent(name, file, locate_geojson(staked), save=True)
    if staked.stakes.locate and file == LOCATE_KML:
        return _sent(name, file, locate_kml(staked), save=True)
    raise HTTPException(HTTPStatus.NOT_FOUND, "The stakes have no such file.")


def _sent(name: str, file: str, content: bytes | str, *, save: bool) -> Response:
    return sent(name, file, content, save=save or ending_of(file) != ".pdf")


def _staked(job: Opened) -> Staked:
    """The stakes of a job.

    Raises
    ------
    HTTPException
        If the job cannot be designed or staked out; the page of the job says why.
    """
    if job.answer.design is None:
        raise HTTPException(HTTPStatus.CONFLICT, "The job has no design yet to stake out.")
    try:
        return stake_job(job.held.folder)
    except TilewaterError as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None


def _draw_page(
    request: Request,
    name: str,
    status: HTTPStatus = HTTPStatus.OK,
    *,
    typed: dict[str, str] | None = None,
    faults: list[str] | None = None,
) -> HTMLResponse:
    job = opened(request, name)
    run = runs_of(request).of(name, KIND)
    files = [] if run is None else sorted(getattr(run.result, "files", {}))
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "run": run,
        "issue": runs_of(request).of(name, ISSUE),
        "files": files,
        "first": SHEETS,
        "statuses": STATUSES,
        "papers": PAPERS,
        "typed": TYPED | {"by": _prepared_by(job)} | (typed or {}),
        "longest": ISSUE_LONGEST,
        "faults": faults or [],
    }
    if is_part(request):
        return page(request, "draw_part.html", status, **record)
    return page(request, "draw.html", status, cards=cards(shelf_of(request)), here=name, **record)


def _prepared_by(job: Opened) -> str:
    """Who prepared the job, as it states; "" where it does not."""
    givens = () if job.held.job is None else job.held.job.givens
    value = next((each.value for each in givens if each.key == "inputs.job.prepared_by"), "")
    return value if isinstance(value, str) else ""


def _stake_page(
    request: Request,
    name: str,
    status: HTTPStatus = HTTPStatus.OK,
    *,
    typed: str = "",
    faults: list[str] | None = None,
) -> HTMLResponse:
    job = opened(request, name)
    staked = _staked(job)
    files = [ROVER, COLUMNS_TOLD, *((LOCATE_KML, LOCATE_GEOJSON) if staked.stakes.locate else ())]
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "parts": list(stake_page(job.title, staked.stakes, None, job.words, staked.traverse))[1:],
        "columns": typed or ", ".join(rover_columns(staked, ())),
        "known": COLUMNS,
        "files": files,
        "notes": staked.own_notes,
        "faults": faults or [],
    }
    return page(request, "stake.html", status, cards=cards(shelf_of(request)), here=name, **record)

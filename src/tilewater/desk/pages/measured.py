# SPDX-License-Identifier: Apache-2.0
"""What it removed, in the page: the answer with its range, charts, tables and the papers."""

from http import HTTPStatus
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.number_shown import explained
from tilewater.desk.parts import as_html
from tilewater.desk.sending import ending_of, sent
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.monitor_page import monitor_page
from tilewater.tasks.checking import check_job
from tilewater.tasks.monitor_record import charted
from tilewater.tasks.monitoring import (
    Monitored,
    has_loggers,
    monitor_checked,
    monitored_files,
)

router = APIRouter()
KEPT, MOST = "measured", 2
"""Reports that are kept, so that a number opens without another one."""
TYPES = {
    ".pdf": "application/pdf",
    ".csv": "text/csv",
    ".json": "application/json",
    ".zip": "application/zip",
}
CALLED = {
    "monitor.pdf": "Report to sign and hand on",
    "loads.csv": "Loads by interval",
    "monitor.json": "Record for other programs",
    "data-package.zip": "Data package: readings, samples, how they were read",
}
"""What the files of a report are."""
EMPTY: dict[str, Any] = {
    "waits": False,
    "nothing": "",
    "head": "",
    "body": "",
    "key": "",
    "faults": (),
    "notes": (),
    "files": (),
}
"""What the page shows where there is nothing to show."""
NOTHING = (
    "Nothing was measured here yet. Add loggers and the file of the laboratory to the job: "
    "[logger.NAME] with file, measures and place, and [lab] with its file."
)


@router.get("/job/{name}/measured", response_class=HTMLResponse)
def measured(request: Request, name: str, whole: str = "") -> HTMLResponse:
    """What it removed. A page that can ask for its parts gets them when they are worked out."""
    job = opened(request, name)
    part = is_part(request)
    record: dict[str, Any] = EMPTY | {"job": job, "waits": not (part or whole)}
    if not has_loggers(check_job(job.held.folder)):
        record |= {"nothing": NOTHING, "waits": False}
    elif part or whole:
        record |= _shown(request, name, job)
    if part:
        return page(request, "measured_part.html", **record)
    record |= {
        "cards": cards(shelf_of(request)),
        "here": name,
        "state": state_of(job.held.latest()),
    }
    return page(request, "measured.html", **record)


@router.get("/job/{name}/measured.json")
def measured_twin(request: Request, name: str) -> JSONResponse:
    """The report as the command line has it."""
    return JSONResponse(_asked(request, name).record)


@router.get("/job/{name}/measured/series.json")
def series(request: Request, name: str) -> JSONResponse:
    """Flow by the day and the samples, in the units of the reader."""
    job = opened(request, name)
    return JSONResponse(charted(_asked(request, name).trace, job.words))


@router.get("/job/{name}/measured/number/{key}", response_class=HTMLResponse)
def number(request: Request, name: str, key: str) -> HTMLResponse:
    """Where a number of the report comes from."""
    job = opened(request, name)
    done = _asked(request, name)
    parts = explained(done.trace, key, job.words)
    body = as_html(parts, lambda other: _number(name, other))
    record: dict[str, Any] = EMPTY | {"job": job, "body": body, "key": key}
    record |= {
        "cards": cards(shelf_of(request)),
        "here": name,
        "state": state_of(job.held.latest()),
    }
    return page(request, "measured.html", **record)


@router.get("/job/{name}/measured/file/{file}")
def measured_file(request: Request, name: str, file: str, save: bool = False) -> Response:
    """A paper, a table or a record of the report."""
    job = opened(request, name)
    files = monitored_files(_asked(request, name), job.words.system)
    if file not in files:
        raise HTTPException(HTTPStatus.NOT_FOUND, "The report has no such file.")
    return sent(name, file, files[file](), save=save, media=TYPES[ending_of(file)])


def _shown(request: Request, name: str, job: Opened) -> dict[str, Any]:
    """What the page is made of."""
    try:
        done = _done(request, name)
    except BadInputFile as error:
        return {"faults": [str(fault) for fault in error.faults]}
    words = job.words
    parts = list(monitor_page(job.title, done.trace, words))[1:]
    if done.tracer is not None:
        parts += done.tracer.page(words)
    return {
        "head": as_html(parts[:1], lambda key: _number(name, key)),
        "body": as_html(parts[1:], lambda key: _number(name, key)),
        "notes": [note.in_units(words.system) for note in done.notes],
        "files": [(file, _called(file)) for file in monitored_files(done, words.system)],
    }


def _called(file: str) -> str:
    """What a file of the report is; beside those of every report only tracer tests have one."""
    return CALLED.get(file, f"Tracer test {file.removeprefix('tracer-').rpartition('.')[0]}")


def _asked(request: Request, name: str) -> Monitored:
    """The report of a job.

    Raises
    ------
    HTTPException
        If the job has none.
    """
    try:
        return _done(request, name)
    except TilewaterError as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None


def _done(request: Request, name: str) -> Monitored:
    """The report of this version of a job, from the kept ones where it is there."""
    state = request.app.state
    kept: dict[tuple[str, str], Monitored] = getattr(state, KEPT, {})
    job = opened(request, name)
    asked = (job.name, str(job.held.version))
    if asked not in kept:
        done = monitor_checked(check_job(job.held.folder))
        kept = dict([*kept.items(), (asked, done)][-MOST:])
        setattr(state, KEPT, kept)
    return kept[asked]


def _number(name: str, key: str) -> str:
    return f"/job/{quote(name, safe='')}/measured/number/{quote(key, safe='')}"

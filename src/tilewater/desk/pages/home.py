# SPDX-License-Identifier: Apache-2.0
"""The jobs of the folder, and one of them open."""

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse
from markupsafe import escape

from tilewater.basis.errors import BadInputFile
from tilewater.basis.readiness import READY
from tilewater.desk.jobs import UNREAD, cards, open_job, opened, state_of
from tilewater.desk.view import page, shelf_of

MOMENT_S = 3.0
"""Longest that a state waits for what is there in a moment. [s]"""

router = APIRouter()


@router.get("/", response_class=HTMLResponse)
def jobs(request: Request) -> HTMLResponse:
    """The jobs of the folder; the one job where the desk was opened on a job."""
    shelf = shelf_of(request)
    if shelf.is_one_job:
        return job(request, next(shelf.places()).name)
    return page(request, "jobs.html", cards=cards(shelf), here="")


@router.get("/jobs.json")
def jobs_record(request: Request) -> list[dict[str, str]]:
    """The jobs of the folder, their state in words."""
    return [card._asdict() for card in cards(shelf_of(request))]


@router.get("/job/{name}.json")
def job_record(request: Request, name: str) -> JSONResponse:
    """The design of a job, as `design --json` gives it."""
    answer = opened(request, name).held.refined()
    record: Any = answer.record
    if record is None:
        return JSONResponse({"faults": [str(fault) for fault in answer.faults]}, status_code=422)
    return JSONResponse(record)


@router.get("/job/{name}", response_class=HTMLResponse)
def job(request: Request, name: str) -> HTMLResponse:
    """One job: its living section, five numbers, and the questions beside it."""
    shelf = shelf_of(request)
    return page(request, "job.html", cards=cards(shelf), here=name, **open_job(request, name))


@router.get("/job/{name}/state", response_class=HTMLResponse)
def job_state(request: Request, name: str) -> HTMLResponse:
    """The state of a job in words."""
    READY.wait_in_a_moment(MOMENT_S)
    try:
        state = state_of(opened(request, name).held.latest())
    except BadInputFile:
        state = UNREAD
    return HTMLResponse(escape(state))

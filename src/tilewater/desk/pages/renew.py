# SPDX-License-Identifier: Apache-2.0
"""Renewal in the page: what is left of a bed on a day, with where each number comes from."""

from datetime import date
from http import HTTPStatus
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from markupsafe import Markup

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.chain.renew_carbon import AGE
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.number_shown import explained
from tilewater.desk.parts import as_html
from tilewater.desk.sending import sent
from tilewater.desk.view import page, shelf_of
from tilewater.documents.pages.renew_page import renew_page
from tilewater.documents.renewing.curve import draw_years
from tilewater.tasks.checking import check_job
from tilewater.tasks.look_days import READ, LookDay, days_in, look_day
from tilewater.tasks.renewing import MEMO, Renewed, memo_pdf, renew_checked

router = APIRouter()
KEPT = "renewals"
MOST = 4
"""Renewals that are kept, so that a number opens without another design."""


@router.get("/job/{name}/renew", response_class=HTMLResponse)
def renew(request: Request, name: str, on: str = "") -> HTMLResponse:
    """What is left of the bed: answer, clocks, signs, options, contract."""
    job = opened(request, name)
    try:
        look = _look(job, on)
        renewed = _renewed(request, job, look.day)
    except BadInputFile as error:
        told = [fault.message for fault in error.faults]
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        return _page(request, job, code, faults=told, day=on or date.today().isoformat())
    answer, advice, *parts = list(renew_page(job.title, renewed.trace, job.words))[1:]
    return _page(
        request,
        job,
        told=as_html([answer, advice]),
        curve=Markup(draw_years(renewed.trace)) if renewed.trace.known(AGE) else "",
        body=as_html(parts, lambda key: _number(name, key, renewed.day)),
        notes=[note.in_units(job.words.system) for note in renewed.notes],
        memo=f"{_base(name)}/renew/file/{MEMO}?on={renewed.day}",
        day=renewed.day.isoformat(),
        why=look.why,
    )


@router.get("/job/{name}/renew.json")
def renew_twin(request: Request, name: str, on: str = "") -> JSONResponse:
    """The renewal as the command line has it."""
    return JSONResponse(_asked(request, name, on).record)


@router.get("/job/{name}/renew/number/{key}", response_class=HTMLResponse)
def number(request: Request, name: str, key: str, on: str = "") -> HTMLResponse:
    """Where a number of the renewal comes from."""
    job = opened(request, name)
    renewed = _asked(request, name, on)
    parts = explained(renewed.trace, key, job.words)
    body = as_html(parts, lambda other: _number(name, other, renewed.day))
    return _page(request, job, body=body, day=renewed.day.isoformat(), key=key)


@router.get("/job/{name}/renew/file/{file}")
def renewal_file(request: Request, name: str, file: str, on: str = "") -> Response:
    """The memo."""
    if file != MEMO:
        raise HTTPException(HTTPStatus.NOT_FOUND, "A renewal has no such file.")
    job = opened(request, name)
    content = memo_pdf(_asked(request, name, on), job.words.system)
    return sent(name, MEMO, content, save=False)


def _asked(request: Request, name: str, on: str) -> Renewed:
    """The renewal of a day.

    Raises
    ------
    HTTPException
        If the day is none or the job has no bed that could be looked at.
    """
    try:
        job = opened(request, name)
        return _renewed(request, job, _look(job, on).day)
    except TilewaterError as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None


def _renewed(request: Request, job: Opened, day: date) -> Renewed:
    """The renewal of this version of a job on a day, from the kept ones where it is there."""
    state = request.app.state
    kept: dict[tuple[str, str, date], Renewed] = getattr(state, KEPT, {})
    asked = (job.name, str(job.held.version), day)
    if asked not in kept:
        renewed = renew_checked(check_job(job.held.folder), day)
        kept = dict([*kept.items(), (asked, renewed)][-MOST:])
        setattr(state, KEPT, kept)
    return kept[asked]


def _look(job: Opened, on: str) -> LookDay:
    readings = days_in(check_job(job.held.folder), READ)
    return look_day(on, date.today(), readings, "2031-02-01")


def _base(name: str) -> str:
    return f"/job/{quote(name, safe='')}"


def _number(name: str, key: str, day: date) -> str:
    return f"{_base(name)}/renew/number/{quote(key, safe='')}?on={day}"


def _page(
    request: Request, job: Opened, status: HTTPStatus = HTTPStatus.OK, **more: Any
) -> HTMLResponse:
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "faults": [],
        "why": "",
        "notes": [],
        "told": "",
        "curve": "",
        "body": "",
        "memo": "",
        "key": "",
        **more,
    }
    return page(
        request, "renew.html", status, cards=cards(shelf_of(request)), here=job.name, **record
    )

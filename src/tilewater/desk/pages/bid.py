# SPDX-License-Identifier: Apache-2.0
"""The bid in the page: estimate, alternates, bids side by side, who pays, files to save."""

from datetime import date
from http import HTTPStatus
from pathlib import Path
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.desk.jobs import cards, opened, state_of
from tilewater.desk.number_shown import explained
from tilewater.desk.parts import as_html
from tilewater.desk.sending import TYPES, ending_of, sent
from tilewater.desk.view import page, shelf_of
from tilewater.documents.pages.bid_page import bid_page
from tilewater.documents.pages.said import Part
from tilewater.tasks.bid_papers import (
    ESTIMATE,
    FOR_BIDDERS,
    MEMO,
    SCHEDULE,
    SCHEDULE_BOOK,
    SCHEDULE_CSV,
    TABULATION,
    WORKBOOK,
    bid_files,
)
from tilewater.tasks.bidding import Bidding, bid_job

router = APIRouter()
SHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MEDIA = {**TYPES, ".xlsx": SHEET, ".csv": "text/csv; charset=utf-8"}
CALLED = {
    WORKBOOK: "Workbook with live formulas",
    ESTIMATE: "Engineer's estimate",
    TABULATION: "Bid tabulation",
    MEMO: "Award memo, draft for signature",
    SCHEDULE: "Bid schedule",
    SCHEDULE_BOOK: "Bid schedule to fill in",
    SCHEDULE_CSV: "Bid schedule as a table",
}
"""What a file is called in the page."""


@router.get("/job/{name}/bid", response_class=HTMLResponse)
def bid(request: Request, name: str) -> HTMLResponse:
    """The bid of a job, or why there is none yet."""
    job = opened(request, name)
    bidding: Bidding | None = None
    faults: list[str] = []
    try:
        bidding = _bidding(request, name)
    except BadInputFile as error:
        faults = [str(fault) for fault in error.faults]
    files = [] if bidding is None else list(bid_files(bidding, job.words))
    parts: list[Part] = [] if bidding is None else list(bid_page(bidding.bid, job.words))[1:]
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "shown_parts": _linked(name, parts),
        "for_bidders": [(each, CALLED[each]) for each in files if each in FOR_BIDDERS],
        "for_office": [(each, CALLED[each]) for each in files if each not in FOR_BIDDERS],
        "notes": [
            note.in_units(job.words.system) for note in (bidding.findings if bidding else ())
        ],
        "faults": faults,
    }
    status = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    return page(request, "bid.html", status, cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/bid.json")
def bid_twin(request: Request, name: str) -> JSONResponse:
    """The bid as the command line has it."""
    return JSONResponse(_bid_of(request, name).record)


@router.get("/job/{name}/bid/number/{key}", response_class=HTMLResponse)
def bid_number(request: Request, name: str, key: str) -> HTMLResponse:
    """Where a number of the bid comes from."""
    job = opened(request, name)
    trace = _bid_of(request, name).bid.trace
    parts = explained(trace, key, job.words)
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "shown_parts": _linked(name, parts),
    }
    return page(request, "bid_number.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/bid/file/{file}")
def bid_file(request: Request, name: str, file: str, save: bool = False) -> Response:
    """One file of the bid, made now."""
    job = opened(request, name)
    make = bid_files(_bid_of(request, name), job.words).get(file)
    if make is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "The bid has no such file.")
    try:
        content = make()
    except (TilewaterError, ImportError) as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None
    ending = ending_of(file)
    return sent(name, file, content, save=save or ending != ".pdf", media=MEDIA[ending])


def _linked(name: str, parts: list[Part]) -> object:
    """Parts whose numbers lead to where they come from, bid and all."""
    here = f"/job/{quote(name, safe='')}/bid/number"
    return as_html(parts, lambda key: f"{here}/{quote(key, safe='')}")


def _bid_of(request: Request, name: str) -> Bidding:
    """The bid of a job, for what stands beside its page.

    Raises
    ------
    HTTPException
        If the job cannot be bid; its page says why.
    """
    try:
        return _bidding(request, name)
    except BadInputFile as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None


def _bidding(request: Request, name: str) -> Bidding:
    """The bid of a job as it stands; worked once for each version of its files and each day."""
    held = shelf_of(request).held(name)
    now = (name, held.version, _changes(held.folder), date.today())
    kept = getattr(request.app.state, "bid", None)
    if kept is None or kept[0] != now:
        kept = (now, bid_job(held.folder, date.today()))
        request.app.state.bid = kept
    bidding: Bidding = kept[1]
    return bidding


def _changes(folder: Path) -> tuple[int, ...]:
    """When files of the job folder were written, those of the bidders in a folder of it too."""
    files = (*folder.glob("*"), *folder.glob("*/*.csv"), *folder.glob("*/*.xlsx"))
    return tuple(sorted(file.stat().st_mtime_ns for file in files if file.is_file()))

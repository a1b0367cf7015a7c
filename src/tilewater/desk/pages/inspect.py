# SPDX-License-Identifier: Apache-2.0
"""Inspect: every part of a look at the works, as the command line shows it, and its files.

Rules that rest on the days of a record are left to the command line, so that the page comes at
once; it says so.
"""

from collections import OrderedDict
from datetime import date
from http import HTTPStatus
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.basis.units import System
from tilewater.desk.jobs import cards, state_of, title_of, words_of
from tilewater.desk.sending import ending_of, sent
from tilewater.desk.view import page, shelf_of
from tilewater.tasks.held import HeldJob
from tilewater.tasks.inspecting import Inspected, inspect_checked
from tilewater.tasks.look_days import BUILT, LookDay, days_in, look_day

router = APIRouter()
MOST = 4
"""Looks that are kept, each for a job as it was read."""
Look = tuple[Path, str, System, date]


class Looks:
    """The last looks; a job that was read anew is looked at anew."""

    def __init__(self) -> None:
        self._kept: OrderedDict[Look, Inspected] = OrderedDict()
        self._lock = Lock()

    def of(self, held: HeldJob, system: System, day: date) -> Inspected:
        """A look at a job as it was read.

        Raises
        ------
        BadInputFile
            With the faults of the job and of the files that the look reads.
        """
        if held.checked is None:
            raise BadInputFile(*held.faults)
        look = (held.folder, held.version, system, day)
        with self._lock:
            if look not in self._kept:
                self._kept[look] = inspect_checked(held.checked, day, system=system, by_days=False)
            self._kept.move_to_end(look)
            while len(self._kept) > MOST:
                self._kept.popitem(last=False)
            return self._kept[look]


LOOKS = Looks()


@router.get("/job/{name}/inspect", response_class=HTMLResponse)
def inspect(request: Request, name: str, on: str = "") -> HTMLResponse:
    """Every part that the job has on a day; what is at fault in a file where one is."""
    held = _held(request, name)
    words = words_of(request, held.job)
    faults: list[str] = []
    looked: Inspected | None = None
    look = LookDay(date.today(), "")
    try:
        look = _look(held, on)
        looked = LOOKS.of(held, words.system, look.day)
    except BadInputFile as error:
        faults = [str(fault) for fault in error.faults]
    parts = () if looked is None else looked.parts
    record: dict[str, Any] = {
        "job": {"name": name, "title": title_of(held, name)},
        "state": state_of(held.latest()),
        "day": look.day.isoformat(),
        "why": look.why,
        "parts": [(part.key, part.title, part.page(words)) for part in parts],
        "files": [file for part in parts for file in part.files],
        "notes": [note.in_units(words.system) for note in (looked.notes if looked else ())],
        "faults": faults,
        "has_shots": any(part.key == "grade" for part in parts),
    }
    status = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    return page(
        request, "inspect.html", status, cards=cards(shelf_of(request)), here=name, **record
    )


@router.get("/job/{name}/inspect.json")
def inspect_twin(request: Request, name: str, on: str = "") -> JSONResponse:
    """The look as the command line has it, but for rules that rest on daily flow."""
    return JSONResponse(_looked(request, name, on).record)


@router.get("/job/{name}/inspect/file/{file}")
def inspect_file(request: Request, name: str, file: str, on: str = "") -> Response:
    """A file of the look, made now."""
    looked = _looked(request, name, on)
    make = next((part.files[file] for part in looked.parts if file in part.files), None)
    if make is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "This look at the works has no such file.")
    try:
        content = make()
    except TilewaterError as error:
        raise HTTPException(HTTPStatus.CONFLICT, str(error)) from None
    return sent(name, quote(file), content, save=ending_of(file) != ".pdf")


def _held(request: Request, name: str) -> HeldJob:
    held = shelf_of(request).held(name)
    if held.changed_on_disk():
        held.reread()
    return held


def _looked(request: Request, name: str, on: str) -> Inspected:
    held = _held(request, name)
    return LOOKS.of(held, words_of(request, held.job).system, _look(held, on).day)


def _look(held: HeldJob, on: str) -> LookDay:
    signed = [] if held.checked is None else days_in(held.checked, BUILT)
    return look_day(on, date.today(), signed, "2027-10-06")

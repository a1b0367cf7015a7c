# SPDX-License-Identifier: Apache-2.0
"""A new job: from the ten-minute answer and one more word, or from an example."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from pathlib import Path
from typing import Annotated, Any, NamedTuple

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from pydantic import BaseModel, Field

from tilewater.chain.plain import Record
from tilewater.desk.jobs import cards
from tilewater.desk.placing import NoPlace, new_folder
from tilewater.desk.view import is_part, page, shelf_of, units_of
from tilewater.documents.pages.rough_page import rough_page
from tilewater.documents.words import Words
from tilewater.job.template import example_names
from tilewater.tasks.roughing import NotUnderstood, rough_of, rough_record, start_from_rough
from tilewater.tasks.starting import start

router = APIRouter()
MOST_TYPED = 200
MOST_NAME = 1000
ONE_JOB = (
    "The desk was opened on one job. Open it on the folder above to begin another: "
    "tilewater desk FOLDER."
)


class Asked(NamedTuple):
    """A box of the ten-minute answer."""

    name: str
    label: str
    example: str
    help: str


ASKED = (
    Asked("area", "Acres that drain to the outlet", "62 acre", "A guess is enough."),
    Asked("main", "Inside diameter of the main", "10 in", "As told."),
    Asked("grade", "Grade of the main", "0.18 %", "Leave it out if nobody knows."),
    Asked(
        "levels",
        "Or two elevations and the way between",
        "1180.95 ft, 1181.20 ft, 140 ft",
        "In place of the grade.",
    ),
    Asked("ditch", "Ditch water below the end of the main", "1.3 ft", 'Or "0.5 ft over".'),
    Asked("strip", "Ground along the ditch, then away from it", "190 x 62 ft", "Paced."),
    Asked("nitrate", "One nitrate sample, as N", "14 mg/L", "Leave it out if there is none."),
)
"""The boxes in the order of asking; two of them are answers to one question."""


class Rough(BaseModel):
    """The boxes as they are sent."""

    area: str = Field("", max_length=MOST_TYPED)
    main: str = Field("", max_length=MOST_TYPED)
    grade: str = Field("", max_length=MOST_TYPED)
    levels: str = Field("", max_length=MOST_TYPED)
    ditch: str = Field("", max_length=MOST_TYPED)
    strip: str = Field("", max_length=MOST_TYPED)
    nitrate: str = Field("", max_length=MOST_TYPED)

    def said(self) -> dict[str, str]:
        """What was typed, by box."""
        return {each.name: getattr(self, each.name).strip() for each in ASKED}


class Begun(Rough):
    """The boxes and a name."""

    name: str = Field("", max_length=MOST_NAME)


class Copied(BaseModel):
    """An example and a name."""

    example: str = Field("", max_length=MOST_TYPED)
    name: str = Field("", max_length=MOST_NAME)


@router.get("/new", response_class=HTMLResponse)
def new(request: Request) -> HTMLResponse:
    """Boxes for the ten-minute answer, and the examples."""
    return _page(request, {})


@router.get("/new.json")
def new_record() -> dict[str, list[str]]:
    """Boxes of the ten-minute answer and names of the examples."""
    return {"boxes": [asked.name for asked in ASKED], "examples": list(example_names())}


@router.post("/new/rough", response_class=HTMLResponse)
def rough(request: Request, boxes: Annotated[Rough, Form()]) -> HTMLResponse:
    """The ten-minute answer as bands, and a box for the name of a job begun from it."""
    said = boxes.said()
    try:
        return _page(request, said, parts=_parts(request, said))
    except NotUnderstood as error:
        return _page(request, said, faults={error.box: error.words})


@router.post("/new/rough.json")
def rough_twin(boxes: Annotated[Rough, Form()]) -> JSONResponse:
    """The ten-minute answer, as `rough --json` gives it."""
    record: Record = rough_record(rough_of(boxes.said()))
    return JSONResponse(record)


@router.post("/new/begin", response_class=HTMLResponse)
def begin(request: Request, boxes: Annotated[Begun, Form()]) -> Response:
    """A job folder of that name, begun with what was said."""
    said, title = boxes.said(), " ".join(boxes.name.split())
    try:
        parts = _parts(request, said)
        folder = _folder(request, title)
    except NotUnderstood as error:
        return _page(request, said, faults={error.box: error.words})
    except NoPlace as error:
        return _page(request, said, parts=parts, faults={"name": error.words}, name=title)
    with _taken_away_again(folder):
        start_from_rough(said, folder, title=title)
    return _opened(request, folder)


@router.post("/new/example", response_class=HTMLResponse)
def from_example(request: Request, boxes: Annotated[Copied, Form()]) -> Response:
    """A copy of an example in a folder of that name."""
    example, title = boxes.example, " ".join(boxes.name.split()) or boxes.example
    if example not in example_names():
        return _page(request, {}, faults={"example": "There is no such example. Choose one."})
    try:
        folder = _folder(request, title)
    except NoPlace as error:
        return _page(request, {}, faults={"example": error.words}, chosen=example, name=title)
    with _taken_away_again(folder):
        start(folder, example=example)
    return _opened(request, folder)


def _parts(request: Request, said: dict[str, str]) -> list[Any]:
    return list(rough_page(rough_of(said), Words(units_of(request))))


def _folder(request: Request, name: str) -> Path:
    shelf = shelf_of(request)
    if shelf.is_one_job:
        raise NoPlace(ONE_JOB)
    return new_folder(shelf.root, name)


@contextmanager
def _taken_away_again(folder: Path) -> Iterator[None]:
    """Leave no half of a job: the folder was made here, and nothing else is in it."""
    try:
        yield
    except BaseException:
        shutil.rmtree(folder)
        raise


def _opened(request: Request, folder: Path) -> Response:
    """The way to the new job; a part of a page cannot be sent there by a redirect."""
    here = f"/job/{folder.name}"
    if is_part(request):
        return Response(status_code=HTTPStatus.NO_CONTENT, headers={"HX-Redirect": here})
    return RedirectResponse(here, status_code=HTTPStatus.SEE_OTHER)


def _page(
    request: Request,
    said: dict[str, str],
    *,
    parts: list[Any] | None = None,
    faults: dict[str, str] | None = None,
    name: str = "",
    chosen: str = "",
) -> HTMLResponse:
    shelf = shelf_of(request)
    status = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    record = {
        "asked": ASKED,
        "said": said,
        "parts": parts,
        "faults": faults or {},
        "name": name,
        "chosen": chosen,
        "examples": example_names(),
        "one_job": ONE_JOB if shelf.is_one_job else "",
    }
    return page(request, "new.html", status, cards=cards(shelf), here="", **record)

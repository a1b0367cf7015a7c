# SPDX-License-Identifier: Apache-2.0
"""Where a number comes from: its equation, its inputs with their boxes, its source, its checks."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse

from tilewater.desk.jobs import cards
from tilewater.desk.opening_number import DAYS, open_number, traced
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.day_page import day_record
from tilewater.documents.pages.explain_page import explained_record

router = APIRouter()


@router.get("/job/{name}/number/{key}.json")
def number_record(request: Request, name: str, key: str, day: str = "") -> JSONResponse:
    """What a key leads to, as `--explain KEY --json` gives it; a day of it worked again."""
    held = shelf_of(request).held(name)
    if day:
        return JSONResponse(traced(held, lambda trace: day_record(trace, key, day), DAYS))
    return JSONResponse(traced(held, lambda trace: explained_record(trace, key), key))


@router.get("/job/{name}/number/{key}", response_class=HTMLResponse)
def number(request: Request, name: str, key: str, day: str = "") -> HTMLResponse:
    """A number, or the numbers of a group; a part of the page where the page asks for it."""
    record = open_number(request, name, key, day=day)
    if is_part(request):
        return page(request, "number.html", **record)
    return page(request, "number_page.html", cards=cards(shelf_of(request)), here=name, **record)

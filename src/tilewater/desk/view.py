# SPDX-License-Identifier: Apache-2.0
"""How a record becomes a page: the templates, what they may call, who reads in which units."""

from collections.abc import Iterable
from functools import cache
from http import HTTPStatus
from pathlib import Path
from typing import Any
from urllib.parse import quote

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from markupsafe import Markup

from tilewater.basis.units import System
from tilewater.desk.forms import question_of
from tilewater.desk.parts import as_html
from tilewater.desk.shelf import Shelf
from tilewater.documents.pages.said import Part

HERE = Path(__file__).parent
UNITS = "tilewater-units"
"""The cookie in which a reader's units are kept."""


@cache
def templates() -> Environment:
    """The templates; a name that a page does not give is an error, never an empty place."""
    made = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["shown"] = shown
    made.filters["slug"] = question_of
    return made


def shown(part: Part | Iterable[Part], job: str = "") -> Markup:
    """Parts of a page; the numbers in them lead to their pages where the job is named."""
    return as_html(part, lambda key: number_address(job, key)) if job else as_html(part)


def number_address(job: str, key: str) -> str:
    """Address of the page of a number."""
    return f"/job/{quote(job, safe='')}/number/{quote(key, safe='')}"


def shelf_of(request: Request) -> Shelf:
    """The jobs of the folder that the desk was opened on."""
    shelf: Shelf = request.app.state.shelf
    return shelf


def units_of(request: Request, stated: System = "us") -> System:
    """Units of the reader where they were chosen, else those of the job."""
    return {"us": "us", "si": "si"}.get(request.cookies.get(UNITS, ""), stated)  # type: ignore[return-value]


def is_part(request: Request) -> bool:
    """Whether the page asks for a part of itself; going back asks for the whole."""
    headers = request.headers
    return headers.get("hx-request") == "true" and "hx-history-restore-request" not in headers


def page(
    request: Request, template: str, status: HTTPStatus = HTTPStatus.OK, **record: Any
) -> HTMLResponse:
    """A page, or a part of one, of a record."""
    html = templates().get_template(template).render(request=request, **record)
    return HTMLResponse(html, status_code=status)

# SPDX-License-Identifier: Apache-2.0
"""The desk put together: its pages, its guard, what it says when something is not there."""

from http import HTTPStatus
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.desk.guard import Guard, TooLarge, new_token
from tilewater.desk.pages import ROUTERS
from tilewater.desk.shelf import NoSuchJob, Shelf
from tilewater.desk.view import HERE, page
from tilewater.documents import fonts

TITLE = "Tilewater desk"


def make_app(root: Path, *, token: str | None = None) -> FastAPI:
    """The desk of a folder.

    Parameters
    ----------
    root : Path
        A folder of job folders, or one job folder.
    token : str or None
        Token of this start; a new one where none is given.

    Returns
    -------
    FastAPI
        Its token is `app.state.token`.
    """
    app = FastAPI(title=TITLE, docs_url=None, redoc_url=None, openapi_url="/openapi.json")
    app.state.token = token or new_token()
    app.state.shelf = Shelf(root)
    app.add_middleware(Guard, token=app.state.token)
    for router in ROUTERS:
        app.include_router(router)
    app.mount("/static", StaticFiles(directory=HERE / "static"))
    app.mount("/fonts", StaticFiles(directory=Path(str(fonts.__path__[0]))))
    app.add_exception_handler(NoSuchJob, _no_such_job)
    app.add_exception_handler(TooLarge, _too_large)
    app.add_exception_handler(BadInputFile, _at_fault)
    app.add_exception_handler(TilewaterError, _at_fault)
    return app


def _told(request: Request, status: HTTPStatus, title: str, lines: list[str]) -> Response:
    """Why a page is not there, as a page or as a record."""
    if request.url.path.endswith(".json"):
        return JSONResponse({"title": title, "lines": lines}, status_code=status)
    return page(request, "told.html", status, title=title, lines=lines)


async def _no_such_job(request: Request, error: Exception) -> Response:
    lines = [f"No job folder called '{error}' lies here.", "Its name may have changed meanwhile."]
    return _told(request, HTTPStatus.NOT_FOUND, "No such job", lines)


async def _too_large(request: Request, error: Exception) -> Response:
    lines = ["What was sent is larger than any data file of a job. Nothing was kept."]
    return _told(request, HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "Too large", lines)


async def _at_fault(request: Request, error: Exception) -> Response:
    return _told(
        request, HTTPStatus.UNPROCESSABLE_ENTITY, "This cannot be done", str(error).splitlines()
    )

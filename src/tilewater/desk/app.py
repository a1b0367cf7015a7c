# SPDX-License-Identifier: Apache-2.0
"""The desk put together: its pages, its guard, what it says when something is not there."""

from http import HTTPStatus
from pathlib import Path
from threading import Lock
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.types import Receive, Scope, Send

from tilewater.basis.errors import BadInputFile, TilewaterError
from tilewater.desk.guard import Guard, TooLarge
from tilewater.desk.keys import Tickets, new_token
from tilewater.desk.pages import OPENING, other_routers
from tilewater.desk.shelf import NoSuchJob, Shelf
from tilewater.desk.view import HERE, page
from tilewater.documents import fonts

TITLE = "Tilewater desk"


class Desk(FastAPI):
    """The pages that open a job, and the others once one of them is asked for."""

    def __init__(self) -> None:
        super().__init__(title=TITLE, docs_url=None, redoc_url=None, openapi_url="/openapi.json")
        self._loading = Lock()
        self._is_whole = False
        self._not_found = self.router.default
        for router in OPENING:
            self.include_router(router)
        self.router.default = self._look_again

    def load_all(self) -> None:
        """Load the pages that were left for later."""
        with self._loading:
            if not self._is_whole:
                for router in other_routers():
                    self.include_router(router)
                self._is_whole = True

    def openapi(self) -> dict[str, Any]:
        """What can be asked of the desk, every page included."""
        self.load_all()
        return super().openapi()

    async def _look_again(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer what no page answers yet: by one that was left for later, if there is one."""
        if self._is_whole:
            await self._not_found(scope, receive, send)
            return
        await run_in_threadpool(self.load_all)
        await self.router(scope, receive, send)


def make_app(root: Path, *, token: str | None = None, tickets: Tickets | None = None) -> Desk:
    """The desk of a folder.

    Parameters
    ----------
    root : Path
        A folder of job folders, or one job folder.
    token : str or None
        Token of this start; a new one where none is given.
    tickets : Tickets or None
        Those that open it once; new ones where none are given.

    Returns
    -------
    Desk
        Its token is `app.state.token`; `app.state.tickets` makes tokens that open it once.
    """
    app = Desk()
    app.state.token = token or new_token()
    app.state.tickets = tickets or Tickets()
    app.state.shelf = Shelf(root)
    app.add_middleware(Guard, token=app.state.token, tickets=app.state.tickets)
    app.mount("/static", StaticFiles(directory=HERE / "static"))
    app.mount("/fonts", StaticFiles(directory=Path(str(fonts.__path__[0]))))
    app.add_exception_handler(NoSuchJob, _no_such_job)
    app.add_exception_handler(TooLarge, _too_large)
    app.add_exception_handler(BadInputFile, _at_fault)
    app.add_exception_handler(TilewaterError, _at_fault)
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_exception_handler(HTTPException, _refused)
    app.add_exception_handler(OSError, _not_written)
    app.add_exception_handler(Exception, _defect)
    return app


def _told(request: Request, status: HTTPStatus, title: str, lines: list[str]) -> Response:
    """Why a page is not there, as a page or as a record."""
    sent = request.headers.get("content-type", "")
    if request.url.path.endswith(".json") or sent.startswith("application/json"):
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


async def _not_understood(request: Request, error: Exception) -> Response:
    """What was sent and is of another shape; what it was is not sent back."""
    told = error.errors() if isinstance(error, RequestValidationError) else ()
    lines = [f"{'.'.join(map(str, each['loc']))}: {each['msg']}" for each in told]
    return _told(request, HTTPStatus.UNPROCESSABLE_ENTITY, "This was not understood", lines)


async def _refused(request: Request, error: Exception) -> Response:
    status = HTTPStatus(error.status_code if isinstance(error, HTTPException) else 400)
    detail = error.detail if isinstance(error, HTTPException) else ""
    title = "Not here" if status == HTTPStatus.NOT_FOUND else status.phrase
    words = "There is no such page." if detail in ("", status.phrase) else str(detail)
    return _told(request, status, title, [words])


async def _not_written(request: Request, error: Exception) -> Response:
    why = getattr(error, "strerror", None) or "the file or folder cannot be used"
    lines = [f"{why}.", "Check the space and the rights of the job folder, then do it again."]
    return _told(request, HTTPStatus.CONFLICT, "A file cannot be used", lines)


async def _defect(request: Request, error: Exception) -> Response:
    lines = ["The program failed here. That is its fault, not yours; nothing was written."]
    return _told(request, HTTPStatus.INTERNAL_SERVER_ERROR, "This did not work", lines)

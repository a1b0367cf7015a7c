# SPDX-License-Identifier: Apache-2.0
"""Search the sizes of a job while the page goes on; pick what was found and try it."""

from http import HTTPStatus
from importlib.metadata import version as version_of
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile
from tilewater.basis.memory import Memory
from tilewater.chain.search import BEDS, Search, search_shape
from tilewater.chain.search_ask import Progress
from tilewater.chain.search_record import ENDED, point, search_record
from tilewater.desk.five import five_of
from tilewater.desk.found import edits_of, front_shown
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.runs import Run, runs_of
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.search_page import search_page
from tilewater.tasks.held import JobMoved

router = APIRouter()
KIND = "search"
MOST = 2000
"""Sizes that are led through the days, at most, where nothing is said; about a minute."""


@router.get("/job/{name}/search", response_class=HTMLResponse)
def search(request: Request, name: str, pick: int | None = None) -> HTMLResponse:
    """The search of a job: how far it is, what it found, and one of it opened."""
    record = _shown(request, name, pick)
    if is_part(request):
        return page(request, "search_state.html", **record)
    return page(request, "search.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/search.json")
def search_twin(request: Request, name: str) -> JSONResponse:
    """How far the search is, and its record as `design --search --json` gives it."""
    held, run = shelf_of(request).held(name), runs_of(request).of(name, KIND)
    if run is None:
        return JSONResponse({"state": "none"})
    found: Search | None = run.result
    return JSONResponse(
        {
            "state": run.state,
            "said": run.said,
            "share": run.share,
            "faults": list(run.faults),
            "is_of_this_job": run.version == held.version,
            "found": None if found is None else search_record(found, version_of("tilewater")),
        }
    )


@router.post("/job/{name}/search")
def start(
    request: Request, name: str, most: Annotated[int, Form(ge=1, le=BEDS)] = MOST
) -> Response:
    """Start a search of the job as it stands; the one that runs goes on where there is one."""
    job = opened(request, name)
    design = job.answer.design
    if design is None:
        raise BadInputFile(*job.answer.faults)

    def work(run: Run) -> Search:
        run.tell("designing what stands now")

        def goes_on(progress: Progress) -> bool:
            share = min(1.0, progress.routed / max(1, progress.budget))
            run.tell(
                f"{progress.at}: {progress.tried:,} sizes asked, {progress.routed:,} of at most "
                f"{progress.budget:,} led through every day",
                share,
            )
            return run.goes_on()

        return search_shape(
            design.job,
            design.practice,
            beds=most,
            goes_on=goes_on,
            is_named=run.goes_on,
            memory=Memory(None, run.goes_on),
        )

    runs_of(request).start(name, KIND, job.held.version, work)
    return _back(request, name)


@router.post("/job/{name}/search/stop")
def stop(request: Request, name: str) -> Response:
    """End the search with what is known so far."""
    run = runs_of(request).of(name, KIND)
    if run is not None:
        run.stop()
        run.wait(1.0)
    return _back(request, name)


@router.get("/job/{name}/search/{number}.json")
def member_twin(request: Request, name: str, number: int) -> JSONResponse:
    """One member of the front, with the edits that turn the job into it."""
    job, found = opened(request, name), _found(request, name, number)
    edits = edits_of(found, number, _inputs(job), job.held.text, job.words)
    record = point(found, found.front[number])
    return JSONResponse(record | {"edits": edits, "version": job.held.version})


@router.get("/job/{name}/search/{number}", response_class=HTMLResponse)
def member(request: Request, name: str, number: int) -> HTMLResponse:
    """One member of the front: its sizes, what it costs and does, what binds it."""
    record = _shown(request, name, number)
    if is_part(request):
        return page(request, "search_member.html", **record)
    return page(request, "search.html", cards=cards(shelf_of(request)), here=name, **record)


@router.post("/job/{name}/search/{number}/try", response_class=HTMLResponse)
def try_it(request: Request, name: str, number: int) -> HTMLResponse:
    """Lay a member over the job: what the whole chain says of it. Nothing is written."""
    record = _shown(request, name, number)
    job: Opened = record["job"]
    edits = record["edits"]
    record["tried"] = job.held.refined(edits)
    record["stands"] = job.held.refined()
    record["of_tried"] = five_of(record["tried"], job.words)
    record["of_stands"] = five_of(record["stands"], job.words)
    record["states"] = (state_of(record["stands"]), state_of(record["tried"]))
    if is_part(request):
        return page(request, "search_member.html", **record)
    return page(request, "search.html", cards=cards(shelf_of(request)), here=name, **record)


@router.post("/job/{name}/search/{number}/keep")
def keep(request: Request, name: str, number: int, version: Annotated[str, Form()]) -> Response:
    """Write a member into the job file; it can be taken back like any edit."""
    job, found = opened(request, name), _found(request, name, number)
    edits = edits_of(found, number, _inputs(job), job.held.text, job.words)
    try:
        job.held.keep(edits, version=version)
    except JobMoved as error:
        record = _shown(request, name, number) | {"moved": str(error).splitlines()}
        if is_part(request):  # a part with its faults is shown
            return page(request, "search_member.html", **record)
        record |= {"cards": cards(shelf_of(request)), "here": name}
        return page(request, "search.html", HTTPStatus.CONFLICT, **record)
    if not is_part(request):
        return RedirectResponse(f"/job/{quote(name)}", HTTPStatus.SEE_OTHER)
    record = _shown(request, name, number) | {"kept": True}
    answer = page(request, "search_member.html", **record)
    answer.headers["HX-Trigger"] = "job-changed"
    return answer


def _back(request: Request, name: str) -> Response:
    if is_part(request):
        return page(request, "search_state.html", **_shown(request, name, None))
    return RedirectResponse(f"/job/{quote(name)}/search", HTTPStatus.SEE_OTHER)


def _inputs(job: Opened) -> Any:
    if job.answer.design is None:
        raise BadInputFile(*job.answer.faults)
    return job.answer.design.job


def _found(request: Request, name: str, number: int) -> Search:
    run = runs_of(request).of(name, KIND)
    found: Search | None = None if run is None else run.result
    if found is None or not 0 <= number < len(found.front):
        raise HTTPException(HTTPStatus.NOT_FOUND, "The search found no such size. Search again.")
    return found


def _shown(request: Request, name: str, pick: int | None) -> dict[str, Any]:
    """What the page of a search is made of."""
    job, run = opened(request, name), runs_of(request).of(name, KIND)
    found: Search | None = None if run is None else run.result
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "run": run,
        "most": MOST,
        "most_of_all": BEDS,
        "found": found,
        "front": None,
        "blocks": (),
        "ended": "",
        "picked": None,
        "edits": {},
        "moved": (),
        "kept": False,
        "tried": None,
        "is_same": run is not None and run.version == job.held.version,
    }
    if found is None:
        return record
    record["front"] = front_shown(found, job.words)
    record["blocks"] = list(search_page(job.title, found, job.words))[1:]
    record["ended"] = ENDED[found.ended]
    if pick is not None and job.answer.design is not None:
        _found(request, name, pick)
        record["picked"] = record["front"].members[pick]
        record["edits"] = edits_of(found, pick, _inputs(job), job.held.text, job.words)
    return record

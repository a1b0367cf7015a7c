# SPDX-License-Identifier: Apache-2.0
"""The papers of a job in the page: reports, drawings, copies that are issued, compare, screen."""

from collections.abc import Callable, Iterable
from http import HTTPStatus
from mimetypes import guess_type
from typing import Annotated, Any, NamedTuple
from urllib.parse import quote

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile
from tilewater.desk import paper_runs
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.runs import Run, runs_of
from tilewater.desk.sending import TYPES, ending_of, sent
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.job.issued import issued_copies
from tilewater.tasks.issuing import LONGEST, issue_words
from tilewater.tasks.papers import OWNER, REPORT
from tilewater.tasks.results import write_results
from tilewater.tasks.sheeting import SHEETS
from tilewater.tasks.since_issue import issued_record

router = APIRouter()
KINDS = {
    "papers": "Papers",
    "issue": "Issued copy",
    "compare": "Practices side by side",
    "screen": "What could lie here",
}
"""Long works of this page and what they are called."""
TITLES = {
    REPORT: "Report",
    OWNER: "Pages for the owner",
    "owner-compare.pdf": "Pages for the owner",
    "screen.pdf": "Page for the owner",
    SHEETS: "Set of sheets, for review",
}


@router.get("/job/{name}/papers", response_class=HTMLResponse)
def papers(request: Request, name: str, look: str = "") -> HTMLResponse:
    """The papers of a job: what is made, what is issued, one of them opened."""
    return _page(request, name, look=look)


@router.get("/job/{name}/papers.json")
def papers_twin(request: Request, name: str) -> JSONResponse:
    """What is made and what is issued."""
    held = shelf_of(request).held(name)
    record: dict[str, Any] = {"issued": issued_record(issued_copies(held.folder))}
    for kind in KINDS:
        run = runs_of(request).of(name, kind)
        record[kind] = None if run is None else _run_record(run, held.version)
    return JSONResponse(record)


@router.get("/job/{name}/papers/{kind}.json")
def run_twin(request: Request, name: str, kind: str) -> JSONResponse:
    """What a comparison or a screening found, as the command line has it."""
    run = _run(request, name, kind)
    record = getattr(run.result, "record", None)
    if record is None:
        return JSONResponse(_run_record(run, shelf_of(request).held(name).version))
    return JSONResponse(record)


@router.post("/job/{name}/papers/issue")
def issue(
    request: Request,
    name: str,
    version: Annotated[str, Form()],
    status: Annotated[str, Form()] = "",
    by: Annotated[str, Form()] = "",
    note: Annotated[str, Form()] = "",
) -> Response:
    """Issue a copy of the job as it is; refused where it is no longer what the page showed."""
    job = opened(request, name)
    typed = {"status": status, "by": by, "note": note}
    try:
        words = issue_words(status, by, note)
    except BadInputFile as error:
        faults = [str(fault) for fault in error.faults]
        return _page(request, name, HTTPStatus.UNPROCESSABLE_ENTITY, typed=typed, faults=faults)
    if version != job.held.version:
        faults = ["The job has changed since this page was shown. Look at it again, then issue."]
        return _page(request, name, HTTPStatus.CONFLICT, typed=typed, faults=faults)
    folder, units = job.held.folder, job.words.system
    _start(request, job, "issue", lambda run: paper_runs.issue(run, folder, words, units))
    return _back(request, name)


@router.post("/job/{name}/papers/write")
def write(request: Request, name: str) -> Response:
    """Write the papers that were made into the results of the job folder."""
    made = _run(request, name, "papers").result
    if made is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "No papers are made yet.")
    ready = {
        each: (lambda content=content: content)
        for each, content in made.files.items()
        if each != SHEETS
    }
    written = write_results(made.outcome, papers=ready)
    told = [f"{len(written.files)} files stand in {written.folder.name}/ now."]
    told += [f"{old} was edited by hand and is kept as {new}." for old, new in written.kept]
    told += [f"{each}: {why}." for each, why in written.troubles]
    return _page(request, name, told=told)


@router.post("/job/{name}/papers/{kind}/stop")
def stop(request: Request, name: str, kind: str) -> Response:
    """Let a long work go; nothing half made is kept."""
    run = _run(request, name, kind)
    run.stop()
    run.wait(1.0)
    return _back(request, name)


@router.post("/job/{name}/papers/{kind}")
def start(request: Request, name: str, kind: str) -> Response:
    """Make the papers, compare or screen, in a thread of its own."""
    job = opened(request, name)
    folder, words = job.held.folder, job.words
    works: dict[str, Callable[[Run], Any]] = {
        "papers": lambda run: paper_runs.make_papers(run, folder, words.system),
        "compare": lambda run: paper_runs.compare(run, folder, words),
        "screen": lambda run: paper_runs.screen(run, folder, words),
    }
    if kind not in works:
        raise HTTPException(HTTPStatus.NOT_FOUND, "There is no such paper.")
    _start(request, job, kind, works[kind])
    return _back(request, name)


@router.get("/job/{name}/papers/{kind}/{file}")
def file(request: Request, name: str, kind: str, file: str, save: bool = False) -> Response:
    """One paper as it was made, to look at or to save."""
    made = _run(request, name, kind).result
    content = getattr(made, "files", {}).get(file)
    if content is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "No such paper is made. Make the papers again.")
    ending = ending_of(file)
    media = TYPES.get(ending) or guess_type(file)[0] or "application/octet-stream"
    return sent(name, file, content, save=save or ending == ".dxf", media=media)


def _start(request: Request, job: Opened, kind: str, work: Callable[[Run], Any]) -> None:
    if job.answer.design is None:
        raise BadInputFile(*job.answer.faults)
    runs_of(request).start(job.name, kind, job.held.version, work)


def _run(request: Request, name: str, kind: str) -> Run:
    shelf_of(request).place(name)
    run = runs_of(request).of(name, kind) if kind in KINDS else None
    if run is None:
        raise HTTPException(HTTPStatus.NOT_FOUND, "Nothing of that kind was made yet.")
    return run


def _run_record(run: Run, version: str) -> dict[str, Any]:
    return {
        "state": run.state,
        "said": run.said,
        "share": run.share,
        "faults": list(run.faults),
        "is_of_this_job": run.version == version,
        "files": sorted(getattr(run.result, "files", {})),
        "troubles": [list(each) for each in getattr(run.result, "troubles", ())],
        "issued": _issued(run),
    }


def _issued(run: Run) -> dict[str, str] | None:
    seal = getattr(run.result, "seal", None)
    return None if seal is None else {"name": run.result.folder.name, "seal": seal}


def _back(request: Request, name: str) -> Response:
    if is_part(request):
        return _page(request, name)
    return RedirectResponse(f"/job/{quote(name)}/papers", HTTPStatus.SEE_OTHER)


def _page(
    request: Request,
    name: str,
    status: HTTPStatus = HTTPStatus.OK,
    *,
    look: str = "",
    typed: dict[str, str] | None = None,
    faults: list[str] | None = None,
    told: list[str] | None = None,
) -> HTMLResponse:
    job = opened(request, name)
    runs = {kind: runs_of(request).of(name, kind) for kind in KINDS}
    known = {
        f"{kind}/{file}"
        for kind, run in runs.items()
        if run is not None
        for file in getattr(run.result, "files", {})
    }
    person = _stated(job, "inputs.job.prepared_by")
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "runs": runs,
        "names": KINDS,
        "rows": {
            kind: rows_of(getattr(run.result, "files", {})) if run is not None else []
            for kind, run in runs.items()
        },
        "titles": TITLES,
        "working": [kind for kind, run in runs.items() if run is not None and run.is_running],
        "copies": list(reversed(issued_copies(job.held.folder))),
        "look": look if look in known else _first(known),
        "typed": typed or {"status": "", "by": person, "note": ""},
        "longest": LONGEST,
        "faults": faults or [],
        "told": told or [],
    }
    if is_part(request):
        return page(request, "papers_part.html", **record)  # a part with its faults is shown
    return page(request, "papers.html", status, cards=cards(shelf_of(request)), here=name, **record)


class Row(NamedTuple):
    """One paper, or one drawing in its forms: what it is, its form to look at, all its forms."""

    title: str
    look: str
    forms: tuple[tuple[str, str], ...]


def rows_of(files: Iterable[str]) -> list[Row]:
    """Papers of words first, then drawings, each with its forms."""
    by_stem: dict[str, list[str]] = {}
    for file in files:
        by_stem.setdefault(file.rpartition(".")[0], []).append(file)
    rows = []
    for stem, forms in by_stem.items():
        seen = next((file for file in forms if not file.endswith(".dxf")), "")
        title = TITLES.get(seen) or stem.replace("-", " ").capitalize()
        named = tuple((file.rpartition(".")[2].upper(), file) for file in forms)
        rows.append(Row(title, seen, named))
    return sorted(rows, key=lambda row: row.look not in TITLES)


def _first(known: set[str]) -> str:
    return next((each for each in (f"papers/{REPORT}", f"papers/{OWNER}") if each in known), "")


def _stated(job: Opened, key: str) -> str:
    if job.held.job is None:
        return ""
    given = (g.value for g in job.held.job.givens if g.key == key)
    value = next(given, "")
    return value if isinstance(value, str) else ""

# SPDX-License-Identifier: Apache-2.0
"""The data files of a job: which it names, and one that is sent or pasted taken in."""

from http import HTTPStatus
from typing import Any, NamedTuple
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.desk.incoming import KINDS, MOST_BYTES, Kind, ask_at, faults_told, taken_in
from tilewater.desk.jobs import cards, opened, state_of, title_of
from tilewater.desk.view import page, shelf_of
from tilewater.job.edits import Edit
from tilewater.job.schema import JOB_FILE
from tilewater.job.typed import named_files, typed_values
from tilewater.job.words import Choice
from tilewater.tasks.held import HeldJob, JobMoved

router = APIRouter()
MOST_SHOWN = 200_000
"""Letters of a file at fault that are shown to be mended in the page."""
MOST_PASTED = 1024 * 1024
SENT = {
    "requestBody": {
        "required": True,
        "content": {
            "multipart/form-data": {
                "schema": {
                    "type": "object",
                    "properties": {
                        "version": {"type": "string"},
                        "file": {"type": "string", "format": "binary"},
                        "text": {"type": "string", "maxLength": MOST_PASTED},
                        "replaces": {"type": "string", "enum": ["", "yes"]},
                    },
                }
            }
        },
    }
}


class Beside(NamedTuple):
    """A box that says how a file is read."""

    path: str
    label: str
    example: str
    help: str
    value: str
    choices: tuple[str, ...]


class Shelved(NamedTuple):
    """A sort of data file and what the job names of it."""

    slug: str
    title: str
    name: str
    holds: str


class Sent(NamedTuple):
    """What a form brought."""

    content: bytes
    name: str
    typed: dict[str, str]
    version: str
    replaces: bool


@router.get("/job/{name}/files", response_class=HTMLResponse)
def files(request: Request, name: str) -> HTMLResponse:
    """The data files that a job names, by what they are."""
    job = opened(request, name)
    record: dict[str, Any] = {"job": job, "state": state_of(job.held.latest())}
    record["files"] = shelved_of(job.held)
    return page(request, "files.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/files.json")
def files_record(request: Request, name: str) -> list[dict[str, str]]:
    """The data files that a job names, by what they are."""
    return [each._asdict() for each in shelved_of(shelf_of(request).held(name))]


@router.get("/job/{name}/files/{slug}", response_class=HTMLResponse)
def file(request: Request, name: str, slug: str) -> HTMLResponse:
    """A form to send or paste a data file of one sort."""
    return _form(request, name, _kind(slug))


@router.post("/job/{name}/files/{slug}", response_class=HTMLResponse, openapi_extra=SENT)
async def take(request: Request, name: str, slug: str) -> Response:
    """Take a data file into the job folder, or say by line why not; then it is not kept."""
    kind = _kind(slug)
    async with request.form(max_files=1, max_fields=40, max_part_size=MOST_PASTED) as form:
        sent = await _sent(form, kind)
    return await run_in_threadpool(_take, request, name, kind, sent)


def _take(request: Request, name: str, kind: Kind, sent: Sent) -> Response:
    held = shelf_of(request).held(name)
    try:
        _refuse_size(sent)
        kept = taken_in(
            held,
            kind,
            sent.content,
            sent_as=sent.name,
            beside=_edits(held, sent.typed),
            version=sent.version,
            replaces=sent.replaces,
        )
    except JobMoved as error:
        told = tuple(fault.message for fault in error.faults)
        return _form(request, name, kind, sent, moved=told, status=HTTPStatus.CONFLICT)
    except BadInputFile as error:
        faults = faults_told(error, sent.name)
        status = HTTPStatus.UNPROCESSABLE_ENTITY
        return _form(request, name, kind, sent, faults=faults, status=status)
    if request.headers.get("accept", "").startswith("application/json"):
        return JSONResponse({"name": kept, "version": held.version})
    return RedirectResponse(f"/job/{quote(name)}/files", status_code=HTTPStatus.SEE_OTHER)


async def _sent(form: FormData, kind: Kind) -> Sent:
    def typed(key: str) -> str:
        value = form.get(key)
        return value if isinstance(value, str) else ""

    sent = form.get("file")
    content, called = typed("text").encode("utf-8", "replace"), ""
    if isinstance(sent, UploadFile) and sent.filename:
        content, called = await sent.read(MOST_BYTES + 1), sent.filename
    beside = {path: typed(path).strip() for path in kind.beside if path in form}
    return Sent(content, called, beside, typed("version"), typed("replaces") == "yes")


def _refuse_size(sent: Sent) -> None:
    if not sent.content.strip():
        words = "Nothing was sent. Choose a file, or paste its lines."
        raise BadInputFile(Fault("", None, "", words))
    if len(sent.content) > MOST_BYTES:
        words = f"The file is larger than {MOST_BYTES // 2**20} MB. Take the years you need of it."
        raise BadInputFile(Fault("", None, "", words))


def _edits(held: HeldJob, typed: dict[str, str]) -> dict[str, Edit]:
    """What was typed beside the file and is not what the job file says already."""
    said = _said(held)
    return {path: words or None for path, words in typed.items() if words != said.get(path, "")}


def _said(held: HeldJob) -> dict[str, str]:
    try:
        return {each.key: each.text for each in typed_values(held.text)}
    except ValueError:
        return {}


def shelved_of(held: HeldJob) -> tuple[Shelved, ...]:
    """Every sort of data file with the one that the job names."""
    try:
        named = {file.key: file.name for file in named_files(held.text)}
    except ValueError:
        named = {}
    checked = held.checked
    told = () if checked is None else checked.files
    read = dict(line.split(": ", 1) for line in told if ": " in line)
    found = []
    for kind in KINDS:
        name = named.get(kind.key, "")
        holds = read.get(name.replace("\\", "/").rpartition("/")[2], "")
        found.append(Shelved(kind.slug, kind.title, name, holds))
    return tuple(found)


def _kind(slug: str) -> Kind:
    for kind in KINDS:
        if kind.slug == slug:
            return kind
    raise HTTPException(HTTPStatus.NOT_FOUND, "There is no such sort of file.")


def _form(
    request: Request,
    name: str,
    kind: Kind,
    sent: Sent | None = None,
    *,
    faults: tuple[Fault, ...] = (),
    moved: tuple[str, ...] = (),
    status: HTTPStatus = HTTPStatus.OK,
) -> HTMLResponse:
    held = shelf_of(request).held(name)
    if held.changed_on_disk():
        held.reread()
    said = _said(held) | (sent.typed if sent is not None else {})
    record: dict[str, Any] = {
        "name": name,
        "title": title_of(held, name),
        "state": state_of(held.latest()),
        "kind": kind,
        "ask": kind.ask,
        "named": said.get(kind.key, ""),
        "version": held.version,
        "text": _text(sent),
        "beside": tuple(_beside(path, said.get(path, "")) for path in kind.beside),
        "faults": tuple(_told(fault) for fault in faults),
        "moved": moved,
    }
    return page(request, "file.html", status, cards=cards(shelf_of(request)), here=name, **record)


def _told(fault: Fault) -> str:
    return fault.message if fault.file in ("", JOB_FILE) and fault.line is None else str(fault)


def _text(sent: Sent | None) -> str:
    """What was sent, to be mended in the page; nothing where it is long or no text."""
    if sent is None or len(sent.content) > MOST_SHOWN:
        return ""
    text = sent.content.decode("utf-8", "replace")
    return "" if "\x00" in text else text


def _beside(path: str, value: str) -> Beside:
    ask = ask_at(path)
    choices = tuple(ask.choices) if isinstance(ask, Choice) else ()
    return Beside(path, ask.title, ask.example, ask.help, value, choices)

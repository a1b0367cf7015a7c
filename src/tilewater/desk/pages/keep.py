# SPDX-License-Identifier: Apache-2.0
"""Keep what was typed, take it back, do it again: each by the one door of the job file.

A page that sends JSON gets JSON. A form gets its own boxes back with what is wrong at each, or the
words of what moved on disk beside what was typed. What moved is never written over.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Annotated, Any
from urllib.parse import parse_qsl, quote

from fastapi import APIRouter, Depends, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.units import System
from tilewater.desk.forms import ROWS, at, question_of
from tilewater.desk.forms_paste import read_rows
from tilewater.desk.forms_posted import Sent, group_of, read_form
from tilewater.desk.jobs import cards, opened
from tilewater.desk.opening import data_of, faults_by_path, open_question, slug_of_path
from tilewater.desk.opening_number import open_number
from tilewater.desk.questions import QUESTIONS, question
from tilewater.desk.view import is_part, number_address, page, shelf_of
from tilewater.job.edits import Edit
from tilewater.job.schema import JOB_FILE, member_at
from tilewater.tasks.held import HeldJob, JobMoved

router = APIRouter()
CHANGED = "job-changed"
"""What the page is told when the job is no longer what it shows."""


@dataclass(frozen=True)
class Posted:
    """What was sent: fields of a form, or edits as JSON.

    Attributes
    ----------
    fields : tuple of (name, text)
    edits : dict or None
        None where a form was sent.
    version : str
        Of the job that the page shows.
    fault : str
        Why it cannot be understood.
    """

    fields: tuple[tuple[str, str], ...] = ()
    edits: Mapping[str, Edit] | None = None
    version: str = ""
    fault: str = ""

    def said(self, name: str) -> str:
        """Text of a field, "" where it was not sent."""
        return next((text for key, text in self.fields if key == name), "")


async def posted_of(request: Request) -> Posted:
    """What a request sends, as JSON or as a form."""
    body = await request.body()
    if request.headers.get("content-type", "").partition(";")[0] == "application/json":
        return _of_json(body)
    try:
        text = body.decode("utf-8")
        fields = tuple(parse_qsl(text, keep_blank_values=True, max_num_fields=MOST))
    except ValueError:
        return Posted(fault="What was sent is no form in UTF-8.")
    return Posted(fields, None, next((t for n, t in fields if n == "version"), ""))


MOST = 5000
"""Fields of a form, at most; the longest of ours has some hundreds."""


def _of_json(body: bytes) -> Posted:
    try:
        sent = json.loads(body)
        json.dumps(sent, ensure_ascii=False, allow_nan=False).encode("utf-8")
    except (ValueError, RecursionError):  # half a letter is no text, and nan is no value
        return Posted(edits={}, fault="What was sent cannot be read as JSON.")
    if not isinstance(sent, dict) or not isinstance(sent.get("version"), str):
        return Posted(edits={}, fault="It has no version. Send the version that the page shows.")
    edits = sent.get("edits", {})
    if not isinstance(edits, dict) or not all(map(_is_edit, edits.values())):
        fault = "edits are texts, numbers, lists of texts or null, by path of the job file."
        return Posted(edits={}, version=sent["version"], fault=fault)
    return Posted(edits=edits, version=sent["version"])


def _is_edit(value: Any) -> bool:
    if isinstance(value, list):
        return all(isinstance(one, str) or _is_pair(one) for one in value)
    return value is None or isinstance(value, str | int | float | bool)


def _is_pair(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, str) for one in value)


Sending = Annotated[Posted, Depends(posted_of)]


@dataclass(frozen=True)
class Typed:
    """What of a form could not be kept: what was typed, what stands in the file now."""

    path: str
    title: str
    was: str
    typed: str


@dataclass(frozen=True)
class Moved:
    """What moved on disk while something was typed.

    Attributes
    ----------
    words : tuple of str
    difference : tuple of str
        Lines of the job file, before with `-` and after with `+`.
    typed : tuple of Typed
    """

    words: tuple[str, ...]
    difference: tuple[str, ...] = ()
    typed: tuple[Typed, ...] = field(default=())


@router.post("/job/{name}/keep")
def keep(request: Request, name: str, posted: Sending) -> Response:
    """Write edits to the job file; nothing where the file is no longer what was read."""
    held = shelf_of(request).held(name)
    if posted.fault:
        return _faulty(request, name, posted, Sent(), (Fault(JOB_FILE, None, "", posted.fault),))
    if posted.edits is None:
        system: System = "si" if posted.said("units") == "si" else "us"
        sent = read_form(posted.fields, data_of(held), system)
    else:
        sent = Sent(edits=dict(posted.edits))
    faults = _faults_of(sent)
    if faults:
        return _faulty(request, name, posted, sent, faults)
    return _written(
        request, name, posted, sent, lambda: held.keep(sent.edits, version=posted.version)
    )


@router.post("/job/{name}/undo")
def undo(request: Request, name: str, posted: Sending) -> Response:
    """Take the last change back."""
    held = shelf_of(request).held(name)
    return _written(request, name, posted, Sent(), lambda: held.undo(version=posted.version))


@router.post("/job/{name}/redo")
def redo(request: Request, name: str, posted: Sending) -> Response:
    """Do again what was taken back last."""
    held = shelf_of(request).held(name)
    return _written(request, name, posted, Sent(), lambda: held.redo(version=posted.version))


def _faults_of(sent: Sent) -> tuple[Fault, ...]:
    """What is wrong with edits before they are laid over the file."""
    found = [Fault(JOB_FILE, None, path, words) for path, words in sent.faults.items()]
    for path, value in sent.edits.items():
        member = member_at(tuple(path.split(".")))
        if value is not None and (member is None or member.ask is None):
            words = f"The job file has no place for '{path}'. Nothing was kept."
            found.append(Fault(JOB_FILE, None, path, words))
    return tuple(found)


def _written(
    request: Request, name: str, posted: Posted, sent: Sent, write: Callable[[], str]
) -> Response:
    held = shelf_of(request).held(name)
    before = held.version
    try:
        version = write()
    except JobMoved as error:
        return _moved(request, name, posted, sent, error)
    except BadInputFile as error:
        return _faulty(request, name, posted, sent, error.faults)
    told = {"version": version, "can_undo": held.can_undo, "can_redo": held.can_redo}
    headers = {"HX-Reswap": "none"}
    if version != before:
        headers["HX-Trigger"] = CHANGED
    if posted.edits is None and not is_part(request):
        return RedirectResponse(_address(name, posted), status_code=HTTPStatus.SEE_OTHER)
    return JSONResponse(told, headers=headers)


def _faulty(
    request: Request, name: str, posted: Posted, sent: Sent, faults: tuple[Fault, ...]
) -> Response:
    """What is wrong: at its boxes where a form was sent."""
    status = HTTPStatus.UNPROCESSABLE_ENTITY
    if posted.edits is not None:
        told = [{"where": f.where, "line": f.line, "message": f.message} for f in faults]
        return JSONResponse({"faults": told}, status_code=status)
    wrong = Sent(sent.edits, faults_by_path(_at_boxes(faults, sent)), sent.typed, sent.unknown)
    return _form(request, name, posted, wrong, status)


def _at_boxes(faults: tuple[Fault, ...], sent: Sent) -> list[Fault]:
    """Faults at the boxes where they were typed; those of a new entry stand at its own."""
    moved = []
    for fault in faults:
        group, _, rest = fault.where.partition(".")
        box = f"+{group}.{rest.partition('.')[2]}"
        is_new = fault.where not in sent.typed and box in sent.typed
        moved.append(Fault(fault.file, fault.line, box if is_new else fault.where, fault.message))
    return moved


def _moved(request: Request, name: str, posted: Posted, sent: Sent, error: JobMoved) -> Response:
    """What changed on disk, and what is typed; the job is read again, so that both can be seen."""
    held = shelf_of(request).held(name)
    words = tuple(str(fault) for fault in error.faults)
    _read_again(held)
    status = HTTPStatus.CONFLICT
    if posted.edits is not None:
        return JSONResponse({"moved": list(words), "version": held.version}, status_code=status)
    lines = tuple(
        line for line in error.difference.splitlines() if not line.startswith(("---", "+++", "@@"))
    )
    moved = Moved(words, lines, tuple(_typed(sent, data_of(held))))
    return _form(request, name, posted, sent, status, moved)


def _read_again(held: HeldJob) -> None:
    try:
        held.reread()
    except BadInputFile:
        return  # it is gone; the next page says so


def _typed(sent: Sent, data: Mapping[str, Any]) -> list[Typed]:
    found = []
    for path, value in sent.edits.items():
        member = member_at(tuple(path.split(".")))
        title = member.ask.title if member is not None and member.ask is not None else path
        now = at(data, path)
        found.append(Typed(path, title, "nothing" if now is None else str(now), _told(value)))
    return found


def _told(value: Edit) -> str:
    return "nothing" if value is None else str(value)


def _form(
    request: Request,
    name: str,
    posted: Posted,
    sent: Sent,
    status: HTTPStatus,
    moved: Moved | None = None,
) -> Response:
    """The form again, with what was typed; only the words of what moved where the form stays."""
    if moved is not None and is_part(request):
        shown = page(request, "form_moved.html", status, moved=moved, again=_address(name, posted))
        shown.headers["HX-Retarget"] = "#form-told"
        shown.headers["HX-Reswap"] = "innerHTML"
        return shown
    if key := posted.said("number"):
        record = open_number(request, name, key, sent=sent)
        part, whole = "form_judgement.html", "number_page.html"
    else:
        found = question(posted.said("question")) or question(_slug(sent)) or QUESTIONS[0]
        record = open_question(request, name, found, sent=sent)
        part, whole = "form.html", "ask.html"
    record |= {"moved": moved, "again": _address(name, posted)}
    if is_part(request):
        return page(request, part, status, **record)
    return page(request, whole, status, cards=cards(shelf_of(request)), here=name, **record)


def _slug(sent: Sent) -> str:
    return next((slug_of_path(path) for path in (*sent.faults, *sent.edits)), QUESTIONS[0].slug)


def _address(name: str, posted: Posted) -> str:
    """The page that a form stands on."""
    if key := posted.said("number"):
        return number_address(name, key)
    back = question(posted.said("question"))
    job = f"/job/{quote(name, safe='')}"
    return f"{job}/ask/{back.slug}" if back else job


@router.post("/job/{name}/paste/{group}", response_class=HTMLResponse)
def paste(request: Request, name: str, group: str, posted: Sending) -> HTMLResponse:
    """What pasted rows become, before anything is kept."""
    job, member = opened(request, name), group_of(group)
    if member is None or posted.edits is not None:
        raise HTTPException(404, "There is no such group of entries.")
    system: System = "si" if posted.said("units") == "si" else "us"
    text = posted.said(f"{ROWS}{group}")
    pasted = read_rows(member, text, data_of(job.held), system)
    if is_part(request):
        return page(request, "form_pasted.html", pasted=pasted)
    found = question(question_of(group)) or QUESTIONS[0]
    record = open_question(request, name, found, sent=Sent(typed={f"{ROWS}{group}": text}))
    record |= {"pasted": pasted, "again": _address(name, posted)}
    return page(request, "ask.html", cards=cards(shelf_of(request)), here=name, **record)

# SPDX-License-Identifier: Apache-2.0
"""On site: gates and hold points on a phone, signed by the one door of the job file.

The page needs this machine and nothing else. What was typed is never lost: where the job moved
meanwhile, the boxes come back as they were typed, with what moved beside them.
"""

from collections.abc import Mapping
from datetime import date, datetime
from http import HTTPStatus
from typing import Annotated, Any, NamedTuple
from urllib.parse import quote

from fastapi import APIRouter, Depends, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from tilewater.basis.errors import BadInputFile
from tilewater.basis.told import in_units
from tilewater.chain.gates import Gate
from tilewater.chain.hold_points import UPLIFT, Held, next_point
from tilewater.desk.forms import at
from tilewater.desk.forms_posted import group_of
from tilewater.desk.forms_typed import edit_of, shown_of, usual_unit
from tilewater.desk.jobs import title_of, words_of
from tilewater.desk.opening import data_of
from tilewater.desk.pages.keep import Posted, posted_of
from tilewater.desk.sending import sent
from tilewater.desk.view import page, shelf_of
from tilewater.documents.words import Words
from tilewater.job.edits import Edit
from tilewater.job.fields import Wrong
from tilewater.job.schema import member_at
from tilewater.tasks.checking import Checked
from tilewater.tasks.gates import gates
from tilewater.tasks.held import HeldJob, JobMoved
from tilewater.tasks.holds import BEFORE, BOOK, before_part, field_book, holds_of, holds_part
from tilewater.tasks.inspection import Inspection

router = APIRouter()
BOXES = ("by", "at", "reading", "groundwater", "photo", "note")
LONGEST = 500
"""Letters of what is typed in one box."""


class Box(NamedTuple):
    """A box of a hold point: its key, its words, what stands in it, what is wrong with it."""

    key: str
    words: str
    text: str
    help: str
    fault: str


class Card(NamedTuple):
    """A hold point with its boxes; `is_next` where work stops."""

    number: int
    held: Held
    boxes: tuple[Box, ...]
    is_next: bool
    is_open: bool


class GateShown(NamedTuple):
    """A gate as the page shows it."""

    title: str
    is_open: bool
    rows: tuple[tuple[str, str, str, str], ...]


@router.get("/job/{name}/site", response_class=HTMLResponse)
def site(request: Request, name: str) -> HTMLResponse:
    """Gates, and hold points to sign."""
    return _page(request, name)


@router.get("/job/{name}/site.json")
def site_twin(request: Request, name: str) -> JSONResponse:
    """The hold points as the command line has them, and whether each gate is open."""
    held = _held(request, name)
    checked = _checked(held)
    part = holds_part(Inspection(checked, date.max, only="holds"))
    record: dict[str, Any] = dict(part.record) if part is not None else {}
    record["gates"] = {
        gate.name: {"open": gate.is_open, "missing": [row.what for row in gate.missing]}
        for gate in gates(_look(checked))
    }
    return JSONResponse(record)


@router.get("/job/{name}/site/file/{file}")
def site_file(request: Request, name: str, file: str) -> Response:
    """The field book, or the owner's record of the ground before."""
    checked = _checked(_held(request, name))
    if file == BOOK:
        content = field_book(_look(checked, "holds"))
    elif file == BEFORE and (part := before_part(_look(checked, "before"))) is not None:
        made = part.files[BEFORE]()
        content = made if isinstance(made, bytes) else made.encode()
    else:
        raise HTTPException(HTTPStatus.NOT_FOUND, "There is no such paper of the site.")
    return sent(name, file, content, save=False)


@router.post("/job/{name}/site/{point}")
def sign(
    request: Request, name: str, point: str, posted: Annotated[Posted, Depends(posted_of)]
) -> Response:
    """Sign a hold point: who, when, what was read; kept by the one door of the job file."""
    held = _held(request, name)
    typed = {key: posted.said(key)[:LONGEST] for key in (*BOXES, "result")}
    if point not in {each.point.name for each in _points(_checked(held))}:
        raise HTTPException(HTTPStatus.NOT_FOUND, "This job has no such hold point.")
    edits, faults = _edits(point, typed, words_of(request, held.job))
    if faults:
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        return _page(request, name, code, point=point, typed=typed, faults=faults)
    try:
        held.keep(edits, version=posted.version)
    except JobMoved as error:
        told = [str(fault) for fault in error.faults]
        held.reread()
        told.append("What you typed stands below. Look at it, then press again.")
        return _page(request, name, HTTPStatus.CONFLICT, point=point, typed=typed, told=told)
    except BadInputFile as error:
        code = HTTPStatus.UNPROCESSABLE_ENTITY
        wrong = {fault.where.rpartition(".")[2]: fault.message for fault in error.faults}
        return _page(request, name, code, point=point, typed=typed, faults=wrong)
    return RedirectResponse(f"/job/{quote(name, safe='')}/site#{point}", HTTPStatus.SEE_OTHER)


def _edits(
    point: str, typed: Mapping[str, str], words: Words
) -> tuple[dict[str, Edit], dict[str, str]]:
    """Edits of a hold point, and what is wrong at which box."""
    member = group_of("hold")
    asks = {} if member is None else {m.key: m.ask for m in member.model.members() if m.ask}
    edits: dict[str, Edit] = {}
    faults: dict[str, str] = {}
    for key, ask in asks.items():
        text = typed.get(key, "").replace("T", " ") if key == "at" else typed.get(key, "")
        try:
            edits[f"hold.{point}.{key}"] = edit_of(ask, text, usual_unit(ask, words.system))
        except Wrong as wrong:
            faults[key] = str(wrong)
    for key, asked in (("by", "Who signs"), ("at", "When")):
        if not typed.get(key, "").strip():
            faults[key] = f"{asked} is blank. A hold point counts with a name and a day."
    return edits, faults


def _held(request: Request, name: str) -> HeldJob:
    held = shelf_of(request).held(name)
    if held.changed_on_disk():
        held.reread()
    return held


def _checked(held: HeldJob) -> Checked:
    if held.checked is None:
        raise BadInputFile(*held.faults)
    return held.checked


def _look(checked: Checked, only: str = "") -> Inspection:
    return Inspection(checked, now().date(), only=only)


def now() -> datetime:
    """Day and hour of this machine."""
    return datetime.now()


def _points(checked: Checked) -> tuple[Held, ...]:
    """Hold points with all that is written, of later days too: nothing is signed over unseen."""
    return holds_of(Inspection(checked, date.max)).held


def _page(
    request: Request,
    name: str,
    status: HTTPStatus = HTTPStatus.OK,
    *,
    point: str = "",
    typed: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
    told: list[str] | None = None,
) -> HTMLResponse:
    held = _held(request, name)
    words = words_of(request, held.job)
    look = _look(_checked(held))
    points = _points(_checked(held))
    following = next_point(points)
    water = _water(data_of(held), words)
    shown = [
        _card(
            place,
            each,
            words,
            water=water,
            is_next=each is following,
            is_open=each.point.name == point or (not point and each is following),
            typed=(typed or {}) if each.point.name == point else {},
            faults=(faults or {}) if each.point.name == point else {},
        )
        for place, each in enumerate(points, start=1)
    ]
    record: dict[str, Any] = {
        "name": name,
        "title": title_of(held, name),
        "version": held.version,
        "cards": shown,
        "next": following,
        "gates": [_gate(gate, words) for gate in gates(look)],
        "today": look.day.isoformat(),
        "files": ((BOOK, "Field book to print"), (BEFORE, "Record before building")),
        "told": told or [],
        "is_faulty": bool(faults),
    }
    return page(request, "site.html", status, **record)


def _water(data: Mapping[str, Any], words: Words) -> str:
    """The ground water that is written, as its box shows it."""
    member = member_at(("hold", UPLIFT, "groundwater"))
    if member is None or member.ask is None:
        return ""
    return shown_of(member.ask, at(data, f"hold.{UPLIFT}.groundwater"), words.system).text


def _gate(gate: Gate, words: Words) -> GateShown:
    rows = tuple(
        (row.what, row.state, in_units(row.said, words.system), row.next) for row in gate.missing
    )
    return GateShown(gate.title, gate.is_open, rows)


def _card(
    place: int,
    held: Held,
    words: Words,
    *,
    water: str,
    is_next: bool,
    is_open: bool,
    typed: Mapping[str, str],
    faults: Mapping[str, str],
) -> Card:
    stands = {
        "by": held.by,
        "at": held.at or now().isoformat(sep=" ", timespec="minutes"),
        "reading": held.reading,
        "groundwater": water,
        "photo": held.photo,
        "note": held.note,
    }
    keys = [key for key in BOXES if key != "groundwater" or held.point.name == UPLIFT]
    unit = "ft" if words.system == "us" else "m"
    titles = {
        "by": ("Who signs", "Your name"),
        "at": ("When", "Year-month-day hour:minute"),
        "reading": ("Reading", "What was measured"),
        "groundwater": (f"Ground water, {unit}", "Its elevation in a pit beside the hole"),
        "photo": ("Photo", "Name of the picture in your phone"),
        "note": ("Note", ""),
    }
    boxes = tuple(
        Box(key, *_words(titles[key], typed.get(key, stands[key])), faults.get(key, ""))
        for key in keys
    )
    return Card(place, held, boxes, is_next, is_open)


def _words(title: tuple[str, str], text: str) -> tuple[str, str, str]:
    """Words of a box, its text, its help, in the order of `Box`."""
    return title[0], text, title[1]

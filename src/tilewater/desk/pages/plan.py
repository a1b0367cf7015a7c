# SPDX-License-Identifier: Apache-2.0
"""The plan of the site: a map in the job's own grid, what is moved on it, the same on paper."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from http import HTTPStatus
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from markupsafe import Markup
from pydantic import BaseModel, Field

from tilewater.basis.errors import BadInputFile, OutOfDomain, TilewaterError
from tilewater.basis.findings import Finding
from tilewater.basis.units import parse_quantity
from tilewater.chain.design import Design
from tilewater.chain.scene_plan import plan_scene
from tilewater.desk.jobs import Opened, cards, opened, state_of
from tilewater.desk.moving import (
    Movable,
    edits_to,
    movable_of,
    movables,
    place_typed,
    shifted,
    turned_towards,
)
from tilewater.desk.view import page, shelf_of
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.pages.plan_page import distances, plan_blocks
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows
from tilewater.documents.plan import plan_drawing
from tilewater.documents.plan_json import about_grid, contour_record, plan_record
from tilewater.documents.plan_legend import plan_legend_drawing
from tilewater.documents.scales import foot_of
from tilewater.job.edits import Edit
from tilewater.tasks.held import Answer, JobMoved
from tilewater.tasks.terrain import Lie, lie_of, shots_of

router = APIRouter()
ROOMS = ((200.0, 170.0), (260.0, 200.0), (380.0, 250.0))
"""Rooms in which the plan is drawn on paper, the one first that reads best. [mm]"""
Edits = dict[str, str | list[list[str]]]


class Move(BaseModel):
    """What is moved: by so much of the grid, or to a typed place; turned towards a point.

    `edits` are those of before; the answer has them all.
    """

    name: str = Field(max_length=80)
    edits: Edits = {}
    by: tuple[float, float] | None = None
    towards: tuple[float, float] | None = None
    station: str = Field("", max_length=40)
    offset: str = Field("", max_length=40)
    turn: str = Field("", max_length=40)
    number: int = 0


@router.get("/job/{name}/plan", response_class=HTMLResponse)
def plan(
    request: Request, name: str, move: str = "", station: str = "", offset: str = "", turn: str = ""
) -> HTMLResponse:
    """The plan of a job; with something moved where the address says so."""
    record = _record(request, name)
    job: Opened = record["job"]
    if move and job.answer.design is not None:
        asked = Move(name=move, station=station, offset=offset, turn=turn)
        record |= _tried(job, asked)
    return page(request, "plan.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/plan/part", response_class=HTMLResponse)
def part(request: Request, name: str) -> HTMLResponse:
    """The plan as a drawing with its distances, to stand in another page."""
    return page(request, "plan_part.html", **_record(request, name))


@router.get("/job/{name}/plan.json")
def plan_twin(request: Request, name: str) -> JSONResponse:
    """The features of the plan, as they are drawn."""
    job = opened(request, name)
    return JSONResponse(plan_record(plan_scene(_design(job).trace), job.words.system))


@router.get("/job/{name}/plan/terrain.json")
def terrain(request: Request, name: str) -> JSONResponse:
    """Contours of the terrain that the job names; no feature where it names none."""
    job = opened(request, name)
    lie = _lie(job)
    if lie is None:
        return JSONResponse({"type": "FeatureCollection", "features": []})
    words = job.words
    record = contour_record(lie.terrain, words.system, words.foot)
    return JSONResponse(record | {"file": lie.file})


def _lie(job: Opened) -> Lie | None:
    if job.held.job is None or job.held.checked is None:
        return None
    givens = {given.key: given.value for given in job.held.checked.inputs.givens}
    return lie_of(job.held.job, shots_of(givens))


def _ground(job: Opened) -> list[Part]:
    """What the terrain is, and how it stands to the shots."""
    try:
        lie = _lie(job)
    except BadInputFile as error:
        return [block("Terrain", "", Said(str(error), "strong"))]
    if lie is None:
        return []
    told = "Its contours are drawn on the map; no elevation of the design is taken from it."
    lines: list[list[Cell]] = [[dim("file"), f"{lie.file}. {told}"]]
    if lie.against is not None:
        middle, spread = (
            job.words.say(v, "length") for v in (lie.against.median, lie.against.spread)
        )
        count = lie.against.count
        said = f"terrain less shot {middle} in the middle of {count}, half within {spread} of it"
        lines.append([dim("against the shots"), said])
    lines += [[dim(f.severity), f.message] for f in lie.findings]
    return [block("Terrain", "", rows(("", ""), lines, wide=(1,)))]


@router.post("/job/{name}/plan/try")
def try_it(request: Request, name: str, asked: Move) -> JSONResponse:
    """What the chain says if something were moved. Nothing is written."""
    job = opened(request, name)
    _design(job)
    tried = _tried(job, asked)
    answer: Answer = tried["there"]
    told = bytes(page(request, "plan_told.html", job=job, **tried).body).decode("utf-8")
    record = {
        "number": asked.number,
        "version": job.held.version,
        "edits": tried["edits"],
        "told": told,
        "place": tried["place"],
        "faults": tried["faults"],
    }
    if answer.design is not None:
        record["plan"] = plan_record(plan_scene(answer.design.trace), job.words.system)
    return JSONResponse(record)


@router.post("/job/{name}/plan/keep")
def keep(
    request: Request,
    name: str,
    version: Annotated[str, Form()],
    move: Annotated[str, Form()],
    station: Annotated[str, Form()],
    offset: Annotated[str, Form()],
    turn: Annotated[str, Form()] = "",
) -> Response:
    """Write a typed place into the job file, for a page without script."""
    record = _record(request, name)
    job: Opened = record["job"]
    asked = Move(name=move, station=station, offset=offset, turn=turn)
    record |= _tried(job, asked)
    if not record["faults"]:
        try:
            job.held.keep(record["edits"], version=version)
        except JobMoved as error:
            record["faults"] = str(error).splitlines()
        else:
            return RedirectResponse(f"/job/{quote(name)}/plan", HTTPStatus.SEE_OTHER)
    return page(request, "plan.html", HTTPStatus.CONFLICT, cards=cards(shelf_of(request)),
                here=name, **record)  # fmt: skip


def _design(job: Opened) -> Design:
    if job.answer.design is None:
        raise BadInputFile(*job.answer.faults)
    return job.answer.design


def _record(request: Request, name: str) -> dict[str, Any]:
    """What the page of a plan is made of."""
    job = opened(request, name)
    record: dict[str, Any] = {
        "job": job,
        "state": state_of(job.held.latest()),
        "faults": [],
        "chosen": "",
        "there": None,
        "edits": {},
        "place": {},
        "told": None,
        "movable": (),
        "svg": "",
        "about": "",
        "blocks": (),
    }
    design = job.answer.design
    if design is None:
        return record
    scene = plan_scene(design.trace)
    placed = [(each, place_typed(design, each, job.words)) for each in movables(design)]
    return record | {
        "movable": placed,
        "chosen": placed[0][0].name if placed else "",
        "place": placed[0][1] if placed else {},
        "svg": _svg(design, job),
        "about": about_grid(scene, job.words.system),
        "blocks": [*plan_blocks(design.trace, scene, job.words), *_ground(job)],
        "told": [distances(design.trace, None, job.words)],
    }


def _svg(design: Design, job: Opened) -> Markup:
    """The plan as it is drawn on paper."""
    scene, units = plan_scene(design.trace), job.words.system
    legend = to_svg(plan_legend_drawing(scene, units), hold_widths=True)
    for width, height in ROOMS:
        with suppress(OutOfDomain):  # the words have no place; a larger sheet has it
            drawing = plan_drawing(scene, units, width_mm=width, height_mm=height)
            return Markup("{}{}").format(Markup(to_svg(drawing, hold_widths=True)), Markup(legend))
    return Markup(legend)


def _tried(job: Opened, asked: Move) -> dict[str, Any]:
    """What becomes of the job with something moved."""
    before: dict[str, Any] = dict(asked.edits)
    design = _design(job)
    now = job.held.first(before).design or design
    edits, faults = before, []
    try:
        what = movable_of(now, asked.name)
        edits = before | _edits(job, now, what, asked)
    except TilewaterError as error:
        faults = str(error).splitlines()
    answer = job.held.first(edits)
    faults += [str(fault) for fault in answer.faults]
    place: Mapping[str, str] = {
        "station": asked.station,
        "offset": asked.offset,
        "turn": asked.turn,
    }
    told: list[Part] = []
    if answer.design is not None and not faults:
        place = place_typed(answer.design, movable_of(answer.design, asked.name), job.words)
        told = [distances(design.trace, answer.design.trace, job.words)]
        told += [*_findings(design, answer.design), *_moves(job, answer)]
    record: dict[str, Any] = {"there": answer, "edits": edits, "faults": faults, "place": place}
    record["chosen"] = asked.name
    record["told"] = told
    if answer.design is not None:
        record["svg"] = _svg(answer.design, job)
    return record


def _edits(job: Opened, design: Design, what: Movable, asked: Move) -> dict[str, Edit]:
    if asked.towards is not None:
        turn = turned_towards(design, what, *asked.towards, job.words)
        return edits_to(design, what, what.points, turn, job.words)
    if asked.by is not None:
        points = shifted(design, what, *asked.by, job.words)
        return edits_to(design, what, points, None, job.words)
    stated = design.trace.value("inputs.site.foot") if "inputs.site.foot" in design.trace else ""
    foot = foot_of(stated)
    at = what.points[0]
    station = parse_quantity(asked.station, "station", foot=foot) if asked.station else at[0]
    offset = parse_quantity(asked.offset, "length", foot=foot) if asked.offset else at[1]
    to = parse_quantity(asked.turn, "angle") if asked.turn else None
    points = [(s + station - at[0], o + offset - at[1]) for s, o in what.points]
    return edits_to(design, what, points, to, job.words)


def _moves(job: Opened, answer: Answer) -> list[Part]:
    """Verdict, what binds and cost, now and there."""
    designs = (job.answer.design, answer.design)
    lines: list[list[Cell]] = []
    says: tuple[tuple[str, Callable[[Design], str]], ...] = (
        ("verdict", lambda d: d.verdict),
        ("binds", lambda d: d.governs.text if d.governs else "nothing could be judged"),
        ("estimate", lambda d: _cost(job, d)),
    )
    for title, say in says:
        now, there = (say(design) for design in designs if design is not None)
        lines.append([dim(title), now, Said(there, "strong" if now != there else "")])
    return [block("What it does", "", rows(("", "now", "there"), lines, wide=(1, 2)))]


def _cost(job: Opened, design: Design) -> str:
    key = "cost.total_usd"
    return job.words.say(design.trace.value(key) if key in design.trace else None, "money")


def _findings(before: Design, after: Design) -> list[Part]:
    """Findings that the move brings, and those that it ends."""
    old, new = set(map(_told, before.findings)), set(map(_told, after.findings))
    brought = [f for f in after.findings if _told(f) not in old]
    ended = [f for f in before.findings if _told(f) not in new]
    parts: list[Part] = []
    for title, found in (("New", brought), ("No longer", ended)):
        lines: list[list[Cell]] = [[dim(f.severity), f.message] for f in found]
        if lines:
            parts.append(block(title, "", rows(("", ""), lines, wide=(1,))))
    if not brought and not ended:
        parts.append(dim("No finding comes or goes."))
    return parts


def _told(finding: Finding) -> tuple[str, str, str]:
    return finding.code, finding.subject, finding.message

# SPDX-License-Identifier: Apache-2.0
"""The living section of a job, and what it would be if something were moved. Nothing is written."""

from collections.abc import Mapping
from threading import Lock
from typing import Annotated, Any, cast

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from tilewater.desk.jobs import opened
from tilewater.desk.opening import refined_once
from tilewater.desk.seen import Look, Seen, answer_record, look_of, ruler_markup, see
from tilewater.desk.view import page
from tilewater.documents.living.layout import Scale
from tilewater.job.edits import Edit

router = APIRouter()
WIDTH = 840.0
"""Width of a section where nobody says. [px]"""
Width = Annotated[float, Field(ge=240.0, le=4000.0, allow_inf_nan=False)]
Flow = Annotated[float, Field(ge=0.0, le=1000.0, allow_inf_nan=False)]
Level = Annotated[float, Field(ge=-1000.0, le=10000.0, allow_inf_nan=False)]
Pixels = Annotated[float, Field(gt=1e-3, le=1e5, allow_inf_nan=False)]
Name = Annotated[str, Field(max_length=120)]
Text = Annotated[str, Field(max_length=4000)]
One = Text | bool | int | float | None
PAGES = 200
"""Pages of which the newest question is remembered."""


class LookedAtSent(BaseModel):
    """Flow, ditch and boards that are looked at; they are never saved."""

    model_config = ConfigDict(extra="forbid")
    flow_m3_s: Flow | None = None
    ditch_stage_m: Level | None = None
    setting: Name = "design"


class Sent(BaseModel):
    """What a page asks: edits that might stand, what is looked at, and the number of the asking."""

    model_config = ConfigDict(extra="forbid")
    edits: Annotated[dict[Name, One | list[Text | list[Text]]], Field(max_length=100)] = {}
    looked_at: LookedAtSent = LookedAtSent()
    number: Annotated[int, Field(ge=0, lt=2**53)] = 0
    page: Name = ""
    width: Width = WIDTH
    scale: Annotated[tuple[Pixels, Pixels, Level, Level] | None, Field()] = None

    def asked(self) -> Mapping[str, Edit]:
        """The edits, as a held job takes them."""
        return cast("Mapping[str, Edit]", self.edits)

    def look(self) -> Look:
        """How the page looks at the job."""
        at, held = self.looked_at, None
        if self.scale is not None and self.scale[3] > self.scale[2]:
            held = Scale(*self.scale)
        return look_of(
            self.width,
            flow_m3_s=at.flow_m3_s,
            ditch_stage_m=at.ditch_stage_m,
            setting=at.setting,
            held=held,
        )


class Newest:
    """The newest question of each page, so that an older one is given up."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}
        self._lock = Lock()

    def asks(self, page: str, number: int) -> None:
        """Take note of a question."""
        with self._lock:
            self._numbers[page] = max(number, self._numbers.pop(page, 0))
            while len(self._numbers) > PAGES:
                self._numbers.pop(next(iter(self._numbers)))

    def is_newest(self, page: str, number: int) -> bool:
        """Whether a page has asked nothing since."""
        return not page or self._numbers.get(page, number) <= number


NEWEST = Newest()


@router.get("/job/{name}/section", response_class=HTMLResponse)
def section(
    request: Request,
    name: str,
    width: Annotated[Width, Query()] = WIDTH,
    flow_m3_s: Annotated[Flow | None, Query()] = None,
    ditch_stage_m: Annotated[Level | None, Query()] = None,
    setting: Annotated[Name, Query()] = "design",
) -> Response:
    """The section with what can be moved; a part of the page of its job."""
    look = look_of(width, flow_m3_s=flow_m3_s, ditch_stage_m=ditch_stage_m, setting=setting)
    job = opened(request, name)
    seen = see(job.answer, job.words, look, name)
    rulers = [(ring, ruler_markup(ring)) for ring in seen.rulers]
    return page(
        request,
        "section.html",
        job=job,
        seen=seen,
        living=seen.living,
        rulers=rulers,
        look=look,
        settings=_settings(seen),
    )


@router.get("/job/{name}/section.json")
def section_twin(
    request: Request, name: str, width: Annotated[Width, Query()] = WIDTH
) -> JSONResponse:
    """The section as a record: its drawing, what can be moved by which steps, its words."""
    job = opened(request, name)
    seen = see(job.answer, job.words, look_of(width), name)
    living = seen.living
    if living is None:
        return JSONResponse({"faults": [str(fault) for fault in job.answer.faults]}, 422)
    moved = [*living.rings, *seen.rulers]
    return JSONResponse(
        {
            "title": living.title,
            "about": living.about,
            "svg": living.svg,
            "legend": [shown._asdict() for shown in living.legend],
            "missing": list(living.missing),
            "handles": [
                {
                    "name": ring.name,
                    "words": ring.words,
                    "saved": ring.is_saved,
                    "index": ring.index,
                    "steps": [{"says": step.says, **step.does} for step in ring.steps],
                }
                for ring in moved
            ],
            "version": job.held.version,
        }
    )


@router.post("/job/{name}/try")
def try_edits(request: Request, name: str, sent: Sent) -> JSONResponse:
    """What the chain without days says if these edits stood; nothing is written."""
    NEWEST.asks(sent.page, sent.number)
    job = opened(request, name)
    answer = job.held.first(sent.asked())
    seen = see(answer, job.words, sent.look(), name, with_steps=False)
    return JSONResponse(answer_record(request, job.held, seen, job.words, name, sent.number))


@router.post("/job/{name}/refine")
def refine(request: Request, name: str, sent: Sent) -> JSONResponse:
    """What the whole chain says; the first answer where the page has asked something newer."""
    NEWEST.asks(sent.page, sent.number)
    job = opened(request, name)
    if sent.edits:
        answer = job.held.refined(
            sent.asked(), goes_on=lambda: NEWEST.is_newest(sent.page, sent.number)
        )
    else:
        answer = refined_once(job.held)
    seen = see(answer, job.words, sent.look(), name, with_steps=False)
    return JSONResponse(answer_record(request, job.held, seen, job.words, name, sent.number))


def _settings(seen: Seen) -> list[Any]:
    """Boards that can be shown: those of the design, and of each season."""
    design = seen.answer.design
    if design is None:
        return []
    return ["design", *design.trace.names("inputs.season")]

# SPDX-License-Identifier: Apache-2.0
"""Trouble in the page: what to look at in order, with numbers of the design where there is one."""

from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from tilewater.desk.jobs import cards, opened, state_of
from tilewater.desk.parts import Link, as_html
from tilewater.desk.view import page, shelf_of
from tilewater.documents.pages.trouble_page import FIRST, has_bed, trouble_block, troubles

router = APIRouter()


@router.get("/job/{name}/trouble", response_class=HTMLResponse)
def trouble(request: Request, name: str) -> HTMLResponse:
    """Every trouble with its steps."""
    job = opened(request, name)
    trace = None if job.answer.design is None else job.answer.design.trace
    blocks = [
        (each.name, each.title, as_html(trouble_block(each, trace, job.words), _link(name)))
        for each in troubles(has_bed=has_bed(trace))
    ]
    record: dict[str, Any] = {"job": job, "state": state_of(job.held.latest())}
    record |= {"first": FIRST, "troubles": blocks}
    return page(request, "trouble.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/trouble.json")
def trouble_record(request: Request, name: str) -> list[dict[str, object]]:
    """Every trouble as other programs read it."""
    shelf_of(request).held(name)  # a name that is no job is told
    return [
        {
            "name": each.name,
            "title": each.title,
            "first": each.first,
            "caution": each.caution,
            "steps": [
                {"look": s.look, "tells": s.tells, "then": s.then, "source": s.label}
                for s in each.steps
            ],
        }
        for each in troubles()
    ]


def _link(name: str) -> Link:
    return lambda key: f"/job/{quote(name)}/number/{quote(key, safe='')}"

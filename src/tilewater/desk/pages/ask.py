# SPDX-License-Identifier: Apache-2.0
"""One question opened: what the chain says to it, and the boxes where its inputs are typed."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse

from tilewater.desk.jobs import cards, open_job
from tilewater.desk.questions import QUESTIONS
from tilewater.desk.view import is_part, page, shelf_of

router = APIRouter()


@router.get("/job/{name}/ask/{slug}", response_class=HTMLResponse)
def ask(request: Request, name: str, slug: str) -> HTMLResponse:
    """A question with its answer; a part of the page where the page asks for it."""
    question = next((q for q in QUESTIONS if q.slug == slug), None)
    if question is None:
        raise HTTPException(404, "There is no such question.")
    opened = open_job(request, name)
    design = opened["job"].answer.design
    blocks = [] if design is None else question.blocks(design, opened["job"].words)
    record: dict[str, Any] = {"question": question, "blocks": [b for b in blocks if b is not None]}
    if is_part(request):
        return page(request, "answer.html", **opened, **record)
    return page(request, "ask.html", cards=cards(shelf_of(request)), here=name, **opened, **record)

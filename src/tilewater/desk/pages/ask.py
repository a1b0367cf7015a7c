# SPDX-License-Identifier: Apache-2.0
"""One question opened: what the chain says to it, and the boxes where its inputs are typed."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse

from tilewater.desk.jobs import cards, open_job
from tilewater.desk.opening import open_question, refined_once
from tilewater.desk.question_blocks import numbers_of
from tilewater.desk.questions import Question, asked_of, question
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.since_page import since_page
from tilewater.tasks.since_issue import since_issued

router = APIRouter()


def asked(slug: str) -> Question:
    """The question of a name in an address."""
    found = question(slug)
    if found is None:
        raise HTTPException(404, "There is no such question.")
    return found


@router.get("/job/{name}/ask/{slug}.json")
def ask_record(request: Request, name: str, slug: str) -> JSONResponse:
    """A question with its sentence, findings, numbers and boxes."""
    record = open_question(request, name, asked(slug))
    opening, job = record["opening"], record["job"]
    design = job.answer.design
    groups = {} if design is None else numbers_of(slug, design.trace)
    return JSONResponse(
        {
            "question": opening.question.words,
            "sentence": opening.sentence,
            "is_refined": job.answer.is_refined,
            "version": job.held.version,
            "findings": [finding._asdict() for finding in opening.findings],
            "numbers": {
                step.key: job.words.of_step(step) for steps in groups.values() for step in steps
            },
            "boxes": [
                {
                    "path": box.path,
                    "title": box.title,
                    "text": box.text,
                    "unit": box.unit,
                    "is_unknown": box.is_unknown,
                    "taken": box.taken,
                    "fault": box.fault,
                }
                for section in opening.sections
                for entry in section.entries
                for box in entry.boxes
            ],
        }
    )


@router.get("/job/{name}/ask/{slug}", response_class=HTMLResponse)
def ask(
    request: Request, name: str, slug: str, box: str = "", refined: bool = False
) -> HTMLResponse:
    """A question with its answer; a part of the page where the page asks for it."""
    record = open_question(request, name, asked(slug), is_refined=refined, box=box)
    if is_part(request):
        return page(request, "said.html" if refined else "answer.html", **record)
    return page(request, "ask.html", cards=cards(shelf_of(request)), here=name, **record)


@router.get("/job/{name}/ask/{slug}/numbers", response_class=HTMLResponse)
def numbers(request: Request, name: str, slug: str) -> HTMLResponse:
    """The numbers behind a question, each leading to where it comes from."""
    record = open_job(request, name)
    job, found = record["job"], asked(slug)
    answer = refined_once(job.held)
    groups = {} if answer.design is None else numbers_of(slug, answer.design.trace)
    shown: dict[str, Any] = {
        "question": found,
        "groups": {
            group: [(step.key, step.title, job.words.of_step(step)) for step in steps]
            for group, steps in groups.items()
        },
    }
    if is_part(request):
        return page(request, "numbers.html", **record, **shown)
    shown |= {"cards": cards(shelf_of(request)), "here": name}
    return page(request, "numbers_page.html", **record, **shown)


@router.get("/job/{name}/questions", response_class=HTMLResponse)
def questions(request: Request, name: str, refined: bool = False, here: str = "") -> HTMLResponse:
    """The questions with their sentences; those of the days where they are waited for."""
    record = open_job(request, name)
    job = record["job"]
    if refined:
        job = job._replace(answer=refined_once(job.held))
        record |= {"job": job, "asked": asked_of(job.answer, job.words)}
    return page(request, "questions.html", **record, asked_now=here)


@router.get("/job/{name}/questions.json")
def questions_record(request: Request, name: str, refined: bool = False) -> list[dict[str, str]]:
    """The questions with their sentences."""
    record = open_job(request, name)
    job = record["job"]
    answer = refined_once(job.held) if refined else job.answer
    return [one._asdict() for one in asked_of(answer, job.words)]


@router.get("/job/{name}/since", response_class=HTMLResponse)
def since(request: Request, name: str) -> HTMLResponse:
    """What changed since the last issued copy."""
    record = open_job(request, name)
    job = record["job"]
    answer = refined_once(job.held)
    found, checked = None, job.held.checked
    if checked is not None and answer.design is not None and answer.record is not None:
        changed = since_issued(checked, answer.record)
        found = None if changed is None else since_page(changed, answer.design.trace, job.words)
    shown: dict[str, Any] = {"since": found}
    if is_part(request):
        return page(request, "since.html", **record, **shown)
    shown |= {"cards": cards(shelf_of(request)), "here": name}
    return page(request, "since_page.html", **record, **shown)

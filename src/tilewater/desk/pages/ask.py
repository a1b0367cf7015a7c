# SPDX-License-Identifier: Apache-2.0
"""One question opened: what the chain says to it, and the boxes where its inputs are typed."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse

from tilewater.desk.jobs import cards, open_job, state_of
from tilewater.desk.opening import open_question, refined_once
from tilewater.desk.opening_number import rests_on_days
from tilewater.desk.question_blocks import numbers_of
from tilewater.desk.questions import Question, asked_of, question
from tilewater.desk.view import is_part, page, shelf_of
from tilewater.documents.pages.since_page import since_page
from tilewater.tasks.since_issue import last_issued, since_issued

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
def numbers(request: Request, name: str, slug: str, refined: bool = False) -> HTMLResponse:
    """The numbers behind a question; those that the days change come with the refined answer."""
    record = open_job(request, name)
    job, found = record["job"], asked(slug)
    answer = refined_once(job.held) if refined else job.answer
    groups = {} if answer.design is None else numbers_of(slug, answer.design.trace)
    told = {
        group: [
            (step.key, step.title, job.words.of_step(step))
            for step in steps
            if refined or not rests_on_days(step.key)
        ]
        for group, steps in groups.items()
    }
    shown: dict[str, Any] = {
        "question": found,
        "groups": {group: steps for group, steps in told.items() if steps},
        "waits": bool(groups) and not refined,
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
        asked_now = asked_of(job.answer, job.words)
        record |= {"job": job, "asked": asked_now, "state": state_of(job.held.latest())}
    return page(request, "questions.html", **record, asked_now=here)


@router.get("/job/{name}/questions.json")
def questions_record(request: Request, name: str, refined: bool = False) -> list[dict[str, str]]:
    """The questions with their sentences."""
    record = open_job(request, name)
    job = record["job"]
    answer = refined_once(job.held) if refined else job.answer
    return [one._asdict() for one in asked_of(answer, job.words)]


@router.get("/job/{name}/since", response_class=HTMLResponse)
def since(request: Request, name: str, refined: bool = False) -> HTMLResponse:
    """What changed since the last issued copy; counted once the days are, where there is one."""
    record = open_job(request, name)
    job = record["job"]
    checked = job.held.checked
    is_issued = checked is not None and last_issued(checked.issued) is not None
    found = None
    if refined and checked is not None and is_issued:
        answer = refined_once(job.held)
        changed = since_issued(checked, answer.record) if answer.record else None
        if changed is not None and answer.design is not None:
            found = since_page(changed, answer.design.trace, job.words)
    shown: dict[str, Any] = {"since": found, "waits": is_issued and not refined}
    if is_part(request):
        return page(request, "since.html", **record, **shown)
    shown |= {"cards": cards(shelf_of(request)), "here": name}
    return page(request, "since_page.html", **record, **shown)

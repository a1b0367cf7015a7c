# SPDX-License-Identifier: Apache-2.0
"""A question opened: its sentence, its blocks, its boxes, its findings, as one record."""

import tomllib
from collections.abc import Iterable, Mapping
from threading import Lock
from typing import Any, NamedTuple
from weakref import WeakKeyDictionary

from fastapi import Request

from tilewater.basis.errors import Fault
from tilewater.desk.boxes import Filled, Section
from tilewater.desk.forms import NEW, question_of, sections_of
from tilewater.desk.forms_posted import Sent
from tilewater.desk.jobs import open_job
from tilewater.desk.question_blocks import Told, blocks_of, told_of, waits_for_days
from tilewater.desk.questions import QUESTIONS, Question, asked_of
from tilewater.documents.pages.said import Part
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.held import Answer, HeldJob

_BUSY: WeakKeyDictionary[HeldJob, Lock] = WeakKeyDictionary()
_MAKING = Lock()


def refined_once(held: HeldJob) -> Answer:
    """The refined answer of a job as it is; who asks meanwhile waits for the same one."""
    with _MAKING:
        lock = _BUSY.setdefault(held, Lock())
    with lock:
        return held.refined()


class Elsewhere(NamedTuple):
    """A fault that no box of this question shows: where it stands and what it says."""

    path: str
    words: str
    slug: str


class Opening(NamedTuple):
    """What a question opens to.

    Attributes
    ----------
    question : Question
    sentence : str
    blocks : tuple of Part
    waits : bool
        Whether more comes with the days.
    findings : tuple of Told
    sections : tuple of Section
        Its boxes.
    elsewhere : tuple of Elsewhere
        Faults beside its boxes.
    """

    question: Question
    sentence: str
    blocks: tuple[Part, ...]
    waits: bool
    findings: tuple[Told, ...]
    sections: tuple[Section, ...]
    elsewhere: tuple[Elsewhere, ...]


def data_of(held: HeldJob) -> Mapping[str, Any]:
    """The job file as TOML gives it; empty where it is none."""
    try:
        return tomllib.loads(held.text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError:
        return {}


def open_question(
    request: Request,
    name: str,
    question: Question,
    *,
    is_refined: bool = False,
    box: str = "",
    sent: Sent | None = None,
) -> dict[str, Any]:
    """What the page of a job is made of, with one question opened.

    Parameters
    ----------
    request : Request
        Whose units count.
    name : str
        Name of the job.
    question : Question
        What is opened.
    is_refined : bool
        Whether to wait for the days.
    box : str
        Path of a box that is looked for.
    sent : Sent or None
        What was typed and could not be kept.

    Returns
    -------
    dict
        Record of the page.
    """
    record = open_job(request, name)
    job = record["job"]
    if is_refined:
        job = job._replace(answer=refined_once(job.held))
        record |= {"job": job, "asked": asked_of(job.answer, job.words)}
    sent = sent or Sent()
    faults = {**faults_by_path(job.held.faults), **sent.faults}
    filled = Filled(
        data_of(job.held), job.words.system, sent.typed, sent.unknown, faults, looked_for=box
    )
    sections = sections_of(question.slug, filled)
    opening = Opening(
        question,
        question.sentence(job.answer, job.words),
        tuple(blocks_of(question.slug, job.answer, job.words)),
        waits_for_days(question.slug, job.answer),
        told_of(question.slug, job.answer),
        sections,
        tuple(_elsewhere(faults, sections)),
    )
    return {
        **record,
        "opening": opening,
        "question": question,
        "moved": None,
        "pasted": None,
        "again": "",
    }


def faults_by_path(faults: Iterable[Fault]) -> dict[str, str]:
    """What is wrong in the job file, by path; what has no path goes without."""
    found: dict[str, str] = {}
    for fault in faults:
        if fault.file == JOB_FILE:
            words = fault.message.removeprefix(f"{fault.where}: ")
            found.setdefault(fault.where, words)
    return found


def _elsewhere(faults: Mapping[str, str], sections: tuple[Section, ...]) -> Iterable[Elsewhere]:
    here = {box.path for section in sections for box in section.boxes}
    for path, words in faults.items():
        if path not in here:
            yield Elsewhere(path, words, question_of(path))


def slug_of_path(path: str) -> str:
    """Slug of the question whose form has a box; the first question where none has."""
    return question_of(path.removeprefix(NEW)) or QUESTIONS[0].slug

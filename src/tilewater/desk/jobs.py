# SPDX-License-Identifier: Apache-2.0
"""What the desk says of each job: its title, its state in words, and what its page opens with."""

from pathlib import Path
from typing import Any, NamedTuple

from fastapi import Request

from tilewater.basis.errors import BadInputFile
from tilewater.desk.five import Five, five_of
from tilewater.desk.questions import Asked, asked_of
from tilewater.desk.shelf import Shelf
from tilewater.desk.view import shelf_of, units_of
from tilewater.documents.scales import foot_of
from tilewater.documents.words import Words
from tilewater.job.reading import Job, read_text
from tilewater.job.schema import JOB_FILE
from tilewater.job.toml_text import tables_of
from tilewater.tasks.held import Answer, HeldJob

UNREAD = "the job file cannot be read as it stands"
LONGEST_TITLE = 200


class Card(NamedTuple):
    """A job in the list of jobs."""

    name: str
    title: str


class Opened(NamedTuple):
    """A job as its page opens."""

    name: str
    title: str
    held: HeldJob
    answer: Answer
    words: Words


def cards(shelf: Shelf) -> list[Card]:
    """The jobs of the folder by their titles; nothing is computed for it."""
    return [Card(place.name, _title_in(place.folder) or place.name) for place in shelf.places()]


def _title_in(folder: Path) -> str:
    try:
        return _title(read_text(folder / JOB_FILE))
    except BadInputFile:
        return ""


def _title(text: str) -> str:
    try:
        table = tables_of(text).get("job", {})
    except ValueError:
        return ""
    return str(table.get("title", ""))[:LONGEST_TITLE] if isinstance(table, dict) else ""


def state_of(answer: Answer) -> str:
    """The state of a job in words."""
    if answer.design is None:
        count = len(answer.faults)
        return f"{count} fault{'' if count == 1 else 's'} to mend"
    items = len(answer.design.open_items)
    verdict = answer.design.verdict
    if not items or "open" in verdict:
        return verdict
    return f"{verdict}, {items} open"


def opened(request: Request, name: str) -> Opened:
    """A job held open with its first answer, in the units of the reader.

    What was changed on disk since it was read is read again.
    """
    held = shelf_of(request).held(name)
    if held.changed_on_disk():
        held.reread()
    answer = held.first()
    return Opened(name, title_of(held, name), held, answer, words_of(request, held.job))


def title_of(held: HeldJob, name: str) -> str:
    """The title of a job, else its name."""
    return _title(held.text) or name


def words_of(request: Request, job: Job | None) -> Words:
    """The units of the reader, else those of the job; its foot for elevations."""
    stated = _stated(job, "inputs.job.units")
    foot = foot_of(_stated(job, "inputs.site.foot"))
    return Words(units_of(request, "si" if stated == "si" else "us"), foot)


def _stated(job: Job | None, key: str) -> str:
    if job is None:
        return ""
    return next((str(given.value) for given in job.inputs.givens if given.key == key), "")


def open_job(request: Request, name: str) -> dict[str, Any]:
    """What the page of a job is made of."""
    job = opened(request, name)
    five: tuple[Five, ...] = five_of(job.answer, job.words)
    asked: tuple[Asked, ...] = asked_of(job.answer, job.words)
    return {"job": job, "state": state_of(job.held.latest()), "five": five, "asked": asked}

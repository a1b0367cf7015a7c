# SPDX-License-Identifier: Apache-2.0
"""A number opened, from the first answer at once, or from the refined one where days count."""

from collections.abc import Callable
from typing import Any, TypeVar

from fastapi import Request

from tilewater.basis.errors import BadInputFile, TilewaterError, UnknownName
from tilewater.basis.trace import Trace
from tilewater.desk.boxes import Filled
from tilewater.desk.forms_posted import Sent
from tilewater.desk.jobs import open_job
from tilewater.desk.number_shown import NumberShown, number_shown
from tilewater.desk.opening import data_of, refined_once
from tilewater.desk.questions import question
from tilewater.documents.pages.day_page import day_page
from tilewater.documents.words import Words
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_answers import LEFT_TO_REFINED

T = TypeVar("T")
DAYS = "days"
OF_DAYS = (
    *LEFT_TO_REFINED,
    *(DAYS, "criteria", "requirements", "verdict", "governs", "cost"),
    "capacity.criterion.share_of_annual_flow",
)
"""Keys whose numbers the days change: the refined answer is waited for."""


def rests_on_days(key: str) -> bool:
    """Whether the days change a number, or one of a group."""
    return any(
        key == one or key.startswith(f"{one}.") or one.startswith(f"{key}.") for one in OF_DAYS
    )


def traced(held: HeldJob, of: Callable[[Trace], T], key: str) -> T:
    """What is made of the numbers of a job, for a key.

    Parameters
    ----------
    held : HeldJob
    of : callable
        Makes it of the trace of a design.
    key : str
        Number that is asked for.

    Raises
    ------
    BadInputFile
        If nothing can be computed.
    UnknownName
        If no number has that key.
    """
    first = held.first()
    if first.design is None:
        raise BadInputFile(*first.faults)
    if not rests_on_days(key):
        try:
            return of(first.design.trace)
        except UnknownName:
            pass  # it may be one that only the days tell
    refined = refined_once(held)
    return of((refined.design or first.design).trace)


def open_number(
    request: Request, name: str, key: str, *, day: str = "", sent: Sent | None = None
) -> dict[str, Any]:
    """What the page of a job is made of, with one number opened.

    Parameters
    ----------
    request : Request
        Whose units count.
    name, key : str
        Of the job and of the number.
    day : str
        A day of it to be worked again; "" for none.
    sent : Sent or None
        An overrule that was typed and could not be kept.

    Returns
    -------
    dict
        Record of the page.
    """
    record = open_job(request, name)
    job, sent = record["job"], sent or Sent()
    data = data_of(job.held)
    filled = Filled(data, job.words.system, sent.typed, sent.unknown, sent.faults)
    shown: NumberShown = traced(
        job.held, lambda trace: number_shown(trace, key, job.words, filled), key
    )
    worked = _worked(job.held, shown.key, day, job.words) if day else ()
    return record | {
        "number": shown,
        "day": day,
        "worked": worked,
        "question": question(shown.slug),
        "faults": [words for path, words in sent.faults.items() if path not in shown.box_paths],
        "moved": None,
    }


def _worked(held: HeldJob, key: str, day: str, words: Words) -> tuple[Any, ...]:
    """A day worked again, or why it cannot be."""
    try:
        return traced(held, lambda trace: tuple(day_page(trace, key, day, words)), DAYS)
    except TilewaterError as error:
        return (str(error).removeprefix("--day "),)

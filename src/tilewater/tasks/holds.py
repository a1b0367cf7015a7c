# SPDX-License-Identifier: Apache-2.0
"""Hold points of a job as they stand, the field book, and the owner's record before building."""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.hold_points import (
    HOLDS,
    Held,
    add_holds,
    held_points,
    hold_findings,
    next_point,
    points_of,
)
from tilewater.chain.plain import Record, plain
from tilewater.chain.stake import STAKES, add_stakes
from tilewater.chain.stake_record import stake_list
from tilewater.documents.pages.holds_page import before_page, holds_page
from tilewater.documents.paper.blocks import Paper
from tilewater.tasks.gates import leave_of
from tilewater.tasks.inspection import Inspection, Part

BOOK, BEFORE = "field-book.pdf", "before.pdf"
PAPERS: dict[str, Paper] = {"us": "us-letter", "si": "a4"}
KEYS = ("wet_spots", "yields", "crops", "photos", "note", "signed_by", "signed_on")


@dataclass(frozen=True)
class Site:
    """Hold points on the day of a look, and the trace that holds their numbers."""

    held: tuple[Held, ...]
    trace: Trace


def holds_of(inspection: Inspection) -> Site:
    """Hold points of a job as they stand on the day of a look.

    Parameters
    ----------
    inspection : Inspection
        The job, its design, the day.

    Returns
    -------
    Site
    """
    trace = inspection.design.trace
    if f"{HOLDS}.groundwater_m" not in trace:
        add_holds(trace, inspection.day.isoformat())
    lining = str(trace.value("inputs.bed.lining")) if trace.known("inputs.bed.lining") else ""
    points = points_of(inspection.practice.name, lining)
    return Site(held_points(trace, points, inspection.day.isoformat()), trace)


def holds_part(inspection: Inspection) -> Part | None:
    """The hold points of a job; None where the practice stands and none of it was signed.

    Parameters
    ----------
    inspection : Inspection

    Returns
    -------
    Part or None
        Short where one was refused or signed out of turn, or water stands above the floor.
    """
    is_asked = inspection.only == "holds" or inspection.is_to_be_built
    if not is_asked and not inspection.job.trace.names("inputs.hold"):
        return None
    site = holds_of(inspection)
    notes = tuple(hold_findings(site.trace, site.held))
    return Part(
        key="holds",
        title="Hold points",
        trace=site.trace,
        record=_record(site),
        page=lambda words: holds_page(site.held, site.trace, words),
        notes=notes,
        files={BOOK: lambda: field_book(inspection)},
        short=any(note.severity == "fails" for note in notes),
    )


def field_book(inspection: Inspection) -> bytes:
    """The field book of a job as PDF, as of the day of a look."""
    from tilewater.documents.field.book import Book, book_pdf

    site = holds_of(inspection)
    trace = site.trace
    if not trace.names(STAKES):
        add_stakes(trace)
    book = Book(
        inspection.job.title,
        inspection.day.isoformat(),
        leave_of(inspection).gates,
        site.held,
        stake_list(trace).points,
        tuple(_benchmarks(trace)),
        trace,
    )
    return book_pdf(book, inspection.words, PAPERS[inspection.system])


def _benchmarks(trace: Trace) -> list[tuple[str, float, str]]:
    found = []
    for name in trace.names("inputs.benchmark"):
        here = f"inputs.benchmark.{name}"
        if trace.known(f"{here}.elevation_m"):
            mark = str(trace.value(f"{here}.mark")) if trace.known(f"{here}.mark") else ""
            found.append((name, float(trace.value(f"{here}.elevation_m")), mark))
    return found


def _record(site: Site) -> Record:
    following = next_point(site.held)
    names = ("groundwater_m", "lowest_floor_m", "below_floor.status")
    numbers = {name: f"{HOLDS}.{name}" for name in names}
    return {
        "next": None if following is None else following.point.name,
        "points": {
            each.point.name: {
                "title": each.point.title,
                "state": each.state,
                "by": each.by or None,
                "at": each.at or None,
                "reading": each.reading or None,
                "photo": each.photo or None,
                "note": each.note or None,
                "why": each.why or None,
            }
            for each in site.held
        },
        **{
            name.replace(".", "_"): plain(site.trace, key) if key in site.trace else None
            for name, key in numbers.items()
        },
    }


def before_part(inspection: Inspection) -> Part | None:
    """The owner's record of the ground before; None where nothing of it is written.

    Parameters
    ----------
    inspection : Inspection

    Returns
    -------
    Part or None
    """
    told = _told(inspection)
    if not told and inspection.only != "before":
        return None
    return Part(
        key="before",
        title="Before building",
        trace=inspection.job.trace,
        record={key: list(told.get(key, ())) for key in KEYS},
        page=lambda words: before_page(told),
        files={BEFORE: lambda: _before_sheet(inspection, told)},
    )


def _told(inspection: Inspection) -> dict[str, tuple[str, ...]]:
    told: dict[str, tuple[str, ...]] = {}
    for key in KEYS:
        value = inspection.job.value(f"inputs.before.{key}")
        if value is not None and not is_unknown(value):
            told[key] = tuple(value) if isinstance(value, tuple) else (str(value),)
    return told


def _before_sheet(inspection: Inspection, told: dict[str, tuple[str, ...]]) -> bytes:
    from tilewater.documents.field.before_sheet import before_pdf

    people = [
        f"{who} {name}"
        for who in ("owner", "tenant")
        if isinstance(name := inspection.job.value(f"inputs.people.{who}"), str)
    ]
    title = inspection.job.title
    return before_pdf(title, "; ".join(people), told, PAPERS[inspection.system])

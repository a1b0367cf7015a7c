# SPDX-License-Identifier: Apache-2.0
"""Draw the set of sheets of a job: PDF at true scale, one status on every sheet."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.units import System
from tilewater.chain.locate import STATED as UTILITIES
from tilewater.chain.stake import add_stakes
from tilewater.chain.stake_record import stake_list
from tilewater.documents.words import NOT_KNOWN, Words
from tilewater.job.issued import RESULTS
from tilewater.tasks.built_sheet import built_levels
from tilewater.tasks.checking import Checked
from tilewater.tasks.designing import Outcome
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each
from tilewater.tasks.sheet_drawings import drawings_of, reader_of
from tilewater.tasks.ticket import ticket_of

if TYPE_CHECKING:
    from tilewater.documents.drawing.model import Drawing
    from tilewater.documents.paper.blocks import Paper
    from tilewater.documents.sheets.record import Revision, SheetSet, Strip
    from tilewater.documents.sheets.revised import Marks
    from tilewater.tasks.issuing import Issued

SHEETS, SPECIFICATION, DXF = "sheets.pdf", "specification.pdf", "sheets-dxf"
OFFICE = "office"
"""Folder beside the job, or in it, with the office's own lines, notes and logo."""
STATUSES: Mapping[str, str] = {
    "review": "for review; not for bidding or construction",
    "permit": "for permit; not for construction",
    "bid": "for bidding; not for construction",
    "construction": "for construction, by the signature of the engineer named",
    "as-built": "as designed, levels as built on the sheet As built; by the engineer named",
}
"""What a set is for, and what that means on every sheet."""
AS_BUILT = "as-built"
SIGNED = ("construction", AS_BUILT)
"""Statuses that ask for the engineer's sign-off, typed."""


@dataclass(frozen=True)
class SheetWords:
    """What is typed for a set.

    Attributes
    ----------
    status : str
        One of `STATUSES`.
    signed : str
        The engineer's sign-off: name, licence number, date.
    paper : str
        "11x17", "22x34", "letter" or "a3".
    revisions : tuple of Revision
    """

    status: str = "review"
    signed: str = ""
    paper: str = "11x17"
    revisions: "tuple[Revision, ...]" = ()


def sheet_words(status: str, signed: str, paper: str) -> SheetWords:
    """What is typed for a set, checked.

    Raises
    ------
    BadInputFile
        If a status or a paper is not known, or a sign-off is missing.
    """
    from tilewater.documents.sheets.record import PAPERS

    faults = []
    if status not in STATUSES:
        faults.append(_fault("status", f"'{status}' is no status. Use {_listed(STATUSES)}."))
    if paper not in PAPERS:
        faults.append(_fault("paper", f"'{paper}' is no size of paper. Use {_listed(PAPERS)}."))
    if status in SIGNED and len(signed.split()) < 2:
        faults.append(
            _fault(
                "signed",
                f"A set for {status} needs the engineer's sign-off, typed: --signed with name, "
                "licence number and date. The dig still waits for the locate ticket.",
            )
        )
    if faults:
        raise BadInputFile(*faults)
    return SheetWords(status, " ".join(signed.split()), paper)


def _fault(where: str, message: str) -> Fault:
    return Fault("sheets", None, where, message)


def _listed(names: Mapping[str, object]) -> str:
    return ", ".join(names)


def sheets_of(outcome: Outcome, units: System, words: SheetWords) -> "SheetSet":
    """The set of sheets of a design.

    Parameters
    ----------
    outcome : Outcome
        The design.
    units : "us" or "si"
        Units of the reader.
    words : SheetWords
        What is typed for the set.

    Returns
    -------
    SheetSet
        Ready to be pressed.

    Raises
    ------
    BadInputFile
        If a set as built is asked for and no part of the works was shot.
    """
    from tilewater.documents.details.set_of import not_drawn
    from tilewater.documents.sheets.material import SheetMaterial
    from tilewater.documents.sheets.record import PAPERS
    from tilewater.documents.sheets.sheet_set import sheet_set

    design, trace = outcome.design, outcome.design.trace
    if "stake.factor" not in trace:
        add_stakes(trace)
    reader = reader_of(outcome, units)
    draw = drawings_of(outcome, units)
    ticket = ticket_of(outcome.job, trace)
    built = built_levels(outcome.job, trace, units) if words.status == AS_BUILT else None
    material = SheetMaterial(
        title=outcome.job.title,
        practice=design.practice.name,
        trace=trace,
        stakes=stake_list(trace),
        words=reader,
        draw=draw,
        paper=PAPERS[words.paper],
        strip=_strip(outcome.job, words, built.status_words if built else STATUSES[words.status]),
        open_items=tuple(
            item.why
            for item in design.open_items
            if not (item.key == UTILITIES and ticket.is_given)
        ),
        changes=_changes(outcome, reader),
        marks=_marks(outcome, words),
        without=not_drawn(trace, design.practice.name, draw),
        ticket=ticket,
        built=built,
    )
    return sheet_set(material)


def revisions_of(job: Checked) -> "tuple[Revision, ...]":
    """Issued sets of a job in their order, from the copies that hold one."""
    from tilewater.documents.sheets.record import Revision

    held = [copy for copy in job.issued if (copy.folder / RESULTS / SHEETS).is_file()]
    return tuple(
        Revision(str(number), copy.date, copy.note or copy.status, copy.by)
        for number, copy in enumerate(held, start=1)
    )


def _marks(outcome: Outcome, words: SheetWords) -> "Marks":
    """What is clouded: inputs that were typed anew since the last issued copy."""
    from tilewater.documents.sheets.revised import Marks

    if outcome.since is None:
        return Marks()
    before = words.revisions or revisions_of(outcome.job)
    number = len(before) if words.revisions else len(before) + 1
    typed = (change.key for change in outcome.since.inputs)
    return Marks(str(number), tuple(key for each in typed for key in _shown_by(each)))


def _shown_by(key: str) -> tuple[str, ...]:
    """Keys by which drawings show a typed input: boards of a season by their set."""
    parts = key.split(".")
    if len(parts) == 3 and parts[0] == "season" and parts[2].endswith("_boards"):
        return (f"boards.{parts[2].removesuffix('_boards')}-{parts[1]}",)
    if len(parts) == 2 and parts[0] == "boards":
        return (f"boards.{parts[1]}-design",)
    return (key,)


def _strip(job: Checked, words: SheetWords, status_words: str) -> "Strip":
    from tilewater.documents.sheets.record import Strip

    def text(key: str) -> str:
        value = job.value(key)
        return str(value) if isinstance(value, str) else ""

    held_to = (text(f"inputs.site.{name}") for name in ("vertical_datum", "grid", "foot"))
    grid = ", ".join(filter(None, held_to)).replace("us survey", "US survey")
    office = office_of(job.folder)
    return Strip(
        project=job.title,
        place=", ".join(filter(None, (text("inputs.job.county"), text("inputs.job.state")))),
        owner=text("inputs.people.owner"),
        prepared_by=text("inputs.job.prepared_by"),
        date=text("inputs.job.date"),
        status=words.status,
        status_words=status_words,
        datum=grid or NOT_KNOWN,
        signed=words.signed,
        revisions=words.revisions or revisions_of(job),
        office=office[0],
        logo_svg=office[1],
    )


def office_of(folder: Path) -> tuple[tuple[str, ...], str]:
    """The office's own lines and logo, from a folder `office` in the job or beside it."""
    for place in (folder / OFFICE, folder.parent / OFFICE):
        if place.is_dir():
            lines, logo = place / "title.txt", place / "logo.svg"
            text = lines.read_text(encoding="utf-8") if lines.is_file() else ""
            svg = logo.read_text(encoding="utf-8") if logo.is_file() else ""
            return tuple(line for line in text.splitlines() if line.strip())[:6], svg
    return (), ""


def _changes(outcome: Outcome, words: Words) -> tuple[tuple[str, str, str], ...]:
    """What was typed anew, and the numbers that govern, since the last issued copy."""
    from tilewater.documents.pages.compare_page import change_lines

    since = outcome.since
    if since is None:
        return ()
    typed = ((c.title, c.before or "", c.after or "") for c in (*since.inputs, *since.decisions))
    moved = change_lines(since.governing, outcome.design.trace, words)
    return (*typed, *((str(a), str(b), str(c)) for a, b, c in moved))


def press_set(sheets: "SheetSet") -> bytes:
    """A set as a PDF file."""
    from tilewater.documents.sheets.press import press_sheets

    return press_sheets(sheets)


def specification_of(outcome: Outcome, units: System, words: SheetWords) -> bytes:
    """The specification of a design as a PDF file, with the status of its set."""
    from tilewater.documents.specification.writing import specification_pdf

    foot = ", ".join(filter(None, (words.status, STATUSES[words.status], words.signed)))
    reader = reader_of(outcome, units)
    paper: Paper = "a4" if words.paper == "a3" else "us-letter"
    return specification_pdf(
        outcome.job.title, outcome.design.trace, reader, foot=foot, paper=paper
    )


def dxf_of(sheets: "SheetSet") -> "dict[str, Drawing]":
    """Each drawing of a set once, by the name of its DXF file."""
    from tilewater.documents.sheets.record import Picture

    found: dict[str, Drawing] = {}
    for sheet in sheets.sheets:
        for box in sheet.boxes:
            for block in box.blocks:
                if isinstance(block, Picture) and block.drawing is not None:
                    found.setdefault(f"{DXF}/{block.name}.dxf", block.drawing)
    return {name: drawing for name, drawing in found.items() if "legend" not in name}


def papers_of_set(
    outcome: Outcome, sheets: "SheetSet", units: System, words: SheetWords
) -> dict[str, Callable[[], bytes]]:
    """The files of a set: sheets and specification as PDF, each drawing as DXF.

    Parameters
    ----------
    outcome : Outcome
    sheets : SheetSet
        Its set.
    units : "us" or "si"
        Units of the reader.
    words : SheetWords
        What is typed for the set.

    Returns
    -------
    dict of str to callable
        Gives the content of each file.
    """
    from tilewater.documents.drawing.dxf import to_dxf

    return {
        SHEETS: partial(press_set, sheets),
        SPECIFICATION: partial(specification_of, outcome, units, words),
        **{name: partial(to_dxf, drawing) for name, drawing in dxf_of(sheets).items()},
    }


def issue_sheets(
    outcome: Outcome,
    units: System,
    words: SheetWords,
    by: str,
    note: str,
    day: date,
    *,
    tell: Callable[[str], None] = lambda _: None,
) -> "Issued":
    """Issue a copy of a job with its set of sheets, which has a row for this issue.

    Parameters
    ----------
    outcome : Outcome
        The design.
    units : "us" or "si"
        Units of the reader.
    words : SheetWords
        What is typed for the set.
    by, note : str
        Who answers for it, and for whom or for what it is.
    day : date
        Of the issue.
    tell : callable
        Takes the name of each paper before it is made.

    Returns
    -------
    Issued

    Raises
    ------
    BadInputFile
        If it cannot be issued; nothing of it is left.
    """
    from tilewater.documents.sheets.record import Revision
    from tilewater.tasks.issuing import issue_design, issue_words

    said = issue_words(sheets_status(words), by, note)
    before = revisions_of(outcome.job)
    row = Revision(str(len(before) + 1), day.isoformat(), said.note or said.status, said.by)
    words = replace(words, revisions=(*before, row))
    made = sheets_of(outcome, units, words)
    more = papers_of_set(outcome, made, units, words)
    return issue_design(outcome, said, day, units, tell=tell, more=more)


def sheets_status(words: SheetWords) -> str:
    """What a copy with a set is called."""
    return f"sheets for {words.status}"


def write_sheets(
    outcome: Outcome,
    files: Mapping[str, Callable[[], bytes]],
    out: Path | str | None = None,
) -> Written:
    """Write the files of a set.

    Parameters
    ----------
    outcome : Outcome
        The design.
    files : mapping of str to callable
        From `papers_of_set`.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.

    Returns
    -------
    Written
        Each file is whole or absent.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be made.
    """
    hold_folder(out)
    folder = outcome.job.folder / FOLDER if out is None else Path(out)
    return write_each(folder, files)

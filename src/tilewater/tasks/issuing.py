# SPDX-License-Identifier: Apache-2.0
"""Issue a copy of a job: inputs, result and papers as they are now, with a name under them.

A copy is issued whole or not at all. It may have open items, or not fit; the copy says so.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, TilewaterError
from tilewater.basis.units import System
from tilewater.chain.verdict import FITS, NOT_KNOWN, OPEN, SHORT
from tilewater.job.checksums import CHECKSUMS, digest_of, digest_of_file
from tilewater.job.input_files import InputFile, places_in_copy
from tilewater.job.issued import ISSUED, RESULTS, SLIP, IssuedCopy, issued_copies
from tilewater.job.issued_writing import issue_copy
from tilewater.tasks.designing import Outcome
from tilewater.tasks.issue_slip import IssueWords, slip_text
from tilewater.tasks.papers import papers_of
from tilewater.tasks.records import RECORD, record_text
from tilewater.tasks.results import reason_of

LONGEST = {"status": 60, "name": 80, "note": 1000}
"""Letters that have room, by what is written on a copy."""
SAID_OF_VERDICT = {
    FITS: "",
    OPEN: ", with open items",
    SHORT: ", does not fit",
    NOT_KNOWN: ", not judged",
}
"""What stands behind the name at the foot of every page."""


@dataclass(frozen=True)
class Issued:
    """An issued copy.

    Attributes
    ----------
    folder : Path
    seal : str
        SHA-256 of its list of checksums: who keeps it can tell any later change.
    """

    folder: Path
    seal: str


def issue_words(status: str, by: str, note: str = "") -> IssueWords:
    """The words of a copy, blanks at their ends taken off.

    Parameters
    ----------
    status, by, note : str
        As typed.

    Returns
    -------
    IssueWords
        Words that can stand on one line of every page.

    Raises
    ------
    BadInputFile
        If the status or the name is missing, or a text cannot stand on a page.
    """
    words = {"status": status, "name": by, "note": note}
    words = {what: " ".join(text.split()) for what, text in words.items()}
    faults = [
        Fault(ISSUED, None, what, message)
        for what, text in words.items()
        if (message := _fault_of(what, text))
    ]
    if faults:
        raise BadInputFile(*faults)
    return IssueWords(words["status"], words["name"], words["note"])


def issue_design(
    outcome: Outcome,
    words: IssueWords,
    day: date,
    units: System,
    *,
    tell: Callable[[str], None] = lambda _: None,
    more: Mapping[str, Callable[[], bytes]] | None = None,
) -> Issued:
    """Issue a copy of a job with its design.

    Parameters
    ----------
    outcome : Outcome
        The design, computed from the files as they are.
    words : IssueWords
        What the engineer writes on it.
    day : date
        Date of the copy.
    units : "us" or "si"
        Units of the papers.
    tell : callable
        Takes the name of each paper before it is made.
    more : mapping of str to callable or None
        Further papers of the copy by the name of their files, such as a set of sheets.

    Returns
    -------
    Issued
        Where it stands, and its seal.

    Raises
    ------
    BadInputFile
        If it cannot be issued: an input changed meanwhile, a paper cannot be made, the folder
        cannot be written to. Nothing of it is left.
    """
    folder = outcome.job.folder

    def contents(name: str) -> Mapping[str, bytes]:
        before = _copy_before(outcome)
        _hold_date(before, day)
        number = "-".join(name.split("-")[:4])
        mark = f"{words.status} {number}, {words.by}{SAID_OF_VERDICT[outcome.design.verdict]}"
        return {
            **dict(_inputs(outcome.job.sources)),
            f"{RESULTS}/{RECORD}": record_text(outcome.record).encode("utf-8"),
            **dict(_made(papers_of(outcome, units, mark), tell)),
            **dict(_made(more or {}, tell)),
            SLIP: slip_text(outcome, words, day, units, before).encode("utf-8"),
        }

    try:
        issued = issue_copy(folder, day, words.status, contents)
    except OSError as error:
        raise _refused(
            str(folder / ISSUED), f"no copy can be kept there: {reason_of(error)}"
        ) from None
    return Issued(issued, digest_of_file(issued / CHECKSUMS))


def _fault_of(what: str, text: str) -> str:
    if not text and what != "note":
        example = {"status": '"review copy"', "name": '"R. Lindqvist"'}[what]
        return f"the copy has no {what}. Write one, such as {example}. Nothing was issued."
    if not text.isprintable():
        return f"the {what} has a letter that cannot be printed. Nothing was issued."
    if len(text) > LONGEST[what]:
        return (
            f"the {what} has {len(text)} letters, and {LONGEST[what]} have room. "
            "Shorten it. Nothing was issued."
        )
    return ""


def _refused(place: str, what: str) -> BadInputFile:
    return BadInputFile(Fault(place, None, "", f"{what}. Nothing was issued."))


def _hold_date(before: IssuedCopy | None, day: date) -> None:
    if before is not None and before.date > day.isoformat():
        raise _refused(
            f"{ISSUED}/{before.name}",
            f"this copy is of {before.date}, and today is {day}. Copies follow each other; "
            "set the clock of this machine right",
        )


def _inputs(sources: tuple[InputFile, ...]) -> Iterator[tuple[str, bytes]]:
    """The files that the job was read from, held to be those that the design was made of."""
    places = places_in_copy(sources)
    for source in sources:
        try:
            content = source.path.read_bytes()
        except OSError as error:
            raise _refused(source.name, f"it cannot be read: {reason_of(error)}") from None
        if digest_of(content) != source.digest:
            raise _refused(source.name, "it was changed while the design was made. Issue again")
        yield places[source.name], content


def _made(
    papers: Mapping[str, Callable[[], bytes]], tell: Callable[[str], None]
) -> Iterator[tuple[str, bytes]]:
    for name, make in papers.items():
        tell(name)
        try:
            yield f"{RESULTS}/{name}", make()
        except (OSError, ImportError, TilewaterError) as error:
            raise _refused(name, f"it cannot be made: {reason_of(error)}") from error


def _copy_before(outcome: Outcome) -> IssuedCopy | None:
    """The copy before this one; no other may have been issued since the job was read."""
    names = [copy.name for copy in issued_copies(outcome.job.folder)]
    if names != [copy.name for copy in outcome.job.issued]:
        raise _refused(ISSUED, "another copy was issued or taken away meanwhile. Issue again")
    return outcome.job.issued[-1] if names else None

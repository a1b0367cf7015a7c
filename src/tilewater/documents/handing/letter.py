# SPDX-License-Identifier: Apache-2.0
"""The letter of a hand-over: what is handed over, what is open, how to read it, what can hurt.

A draft. Who hands over reads it, changes it in his own words where it does not fit, and signs.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Heading,
    Items,
    Paper,
    Paragraph,
    Seal,
    Table,
)
from tilewater.documents.paper.press import press

CAUTIONS = (
    "Never climb into a structure or put your head below its rim: the gas of rotting wood and "
    "wet soil gathers there and can kill within breaths. Boards are set from above. Entry is for "
    "trained people under the rules for confined spaces.",
    "Keep lids on and locked; a child or an animal drowns in a box.",
    "Call the one-call center before anyone digs near the pipes. It marks no private lines.",
    "Chips under the cover settle. Keep heavy wheels off the bed.",
)
STATEMENT = (
    "What is handed over is listed in the archive with its checksums. It records what was "
    "measured, computed, built and changed; it replaces no inspection by who takes over."
)


@dataclass(frozen=True)
class Handed:
    """What a letter tells.

    Attributes
    ----------
    title : str
    people : tuple of (str, str)
        Who is who.
    day : str
        Date of the letter; "" leaves a blank.
    contents : tuple of (str, str)
        Folders and files of the archive, and what they are.
    copies : tuple of (str, str)
        Issued copies, and whether they are as they were issued.
    open_items : tuple of (str, str)
        What is not known, and how to know it.
    duties : tuple of str
        What has to be done year by year, as far as the job says.
    left_out : tuple of str
    located : str
        How the locate ticket of the dig stood, in a sentence; "" where nothing is said of it.
    """

    title: str
    people: tuple[tuple[str, str], ...]
    day: str
    contents: tuple[tuple[str, str], ...]
    copies: tuple[tuple[str, str], ...]
    open_items: tuple[tuple[str, str], ...]
    duties: tuple[str, ...]
    left_out: tuple[str, ...]
    located: str = ""


def letter_pdf(handed: Handed, *, paper: Paper = "us-letter") -> bytes:
    """The letter as PDF.

    Parameters
    ----------
    handed : Handed
        What it tells.
    paper : "us-letter" or "a4"

    Returns
    -------
    bytes
        The file; the same letter gives the same bytes.
    """
    foot = "Draft, to be read and signed by who hands over"
    blocks = tuple(letter_blocks(handed))
    title = f"{handed.title}: hand-over"
    return press(Document(title, handed.title, "hand-over", foot, paper, blocks))


def letter_blocks(handed: Handed) -> Iterator[Block]:
    """Parts of the letter.

    Parameters
    ----------
    handed : Handed
        What it tells.

    Returns
    -------
    iterator of Block
    """
    yield Banner("Hand-over of a practice", (handed.title, handed.day or "date: ____________"))
    yield Paragraph(
        "To who takes over the land or the job. With this letter come the records of the practice: "
        "what was measured and decided, what was computed from it, what was issued and built, and "
        "what was measured since.",
    )
    yield _two("Who is who", ("", ""), handed.people)
    yield Heading("What is in the archive", 2)
    yield Table((Column("file or folder"), Column("what it is", wide=True)), handed.contents)
    if handed.copies:
        yield Heading("What was issued", 2)
        yield Table((Column("copy"), Column("state", wide=True)), handed.copies)
    yield Heading("What is not known", 2)
    if handed.open_items:
        yield Table(
            (Column("what", wide=True), Column("how to know it", wide=True)), handed.open_items
        )
    else:
        yield Paragraph("Every question of the job file is answered.")
    yield Heading("What has to be done", 2)
    yield Items(handed.duties)
    yield Heading("What can hurt", 2)
    yield Items(CAUTIONS)
    if handed.located:
        yield Paragraph(f"Locate ticket of the dig: {handed.located} A new dig needs its own.")
    yield Heading("How to read it in years to come", 2)
    yield Paragraph(
        "All files are in open forms: text, comma-separated tables, PDF, DXF and SVG drawings. "
        "README.txt in the archive tells how to read each without the program that wrote them; "
        "checksums.txt tells whether one was changed since."
    )
    if handed.left_out:
        yield Paragraph(f"Not in the archive: {' '.join(handed.left_out)}", "note")
    yield Seal(STATEMENT, "", ("handed over by, date", "taken over by, date"))


def _two(title: str, heads: tuple[str, str], rows: tuple[tuple[str, str], ...]) -> Block:
    return Table((Column(heads[0] or title), Column(heads[1], wide=True)), rows)

# SPDX-License-Identifier: Apache-2.0
"""The owner's record of the ground before anything is opened: one page to sign."""

from collections.abc import Iterator, Mapping

from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Document,
    Heading,
    Items,
    Paper,
    Paragraph,
    Seal,
)
from tilewater.documents.paper.press import press

PURPOSE = (
    "What the field was like before the works, in the words of those who farm it. It helps both "
    "sides when somebody asks, years from now, whether a wet spot is new."
)
STATEMENT = "This is how the ground, the crops and the wet spots were before anything was opened."
NOT_WRITTEN = "not written yet"
PARTS = (
    ("wet_spots", "Wet spots"),
    ("yields", "Yields"),
    ("crops", "Crops and rotation"),
    ("photos", "Photos"),
    ("note", "What else stands or lies there"),
)


def before_pdf(
    title: str, people: str, told: Mapping[str, tuple[str, ...]], paper: Paper = "us-letter"
) -> bytes:
    """The record as PDF.

    Parameters
    ----------
    title : str
        Of the job.
    people : str
        Owner and tenant.
    told : mapping of str to tuple of str
        What is written, by key of the table; signed_by and signed_on too.
    paper : "us-letter" or "a4"

    Returns
    -------
    bytes
        The file.
    """
    blocks = tuple(_blocks(title, people, told))
    foot = "The owner's record before building. Owner and office keep a copy each."
    return press(Document(f"{title}: before", title, "before building", foot, paper, blocks))


def _blocks(title: str, people: str, told: Mapping[str, tuple[str, ...]]) -> Iterator[Block]:
    yield Banner("Before building", (title, people), "", PURPOSE)
    for key, heading in PARTS:
        yield Heading(heading, 2)
        lines = told.get(key, ())
        yield Items(lines) if lines else Paragraph(NOT_WRITTEN, "note")
    by, on = (", ".join(told.get(key, ())) for key in ("signed_by", "signed_on"))
    signed = f" Signed in the job file by {by}, {on}." if by and on else ""
    yield Seal(
        STATEMENT + signed,
        "Room for a sketch of wet spots",
        ("owner, date", "who farms it, date"),
    )

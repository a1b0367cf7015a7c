# SPDX-License-Identifier: Apache-2.0
"""Write the specification from the items of a design and the clauses that belong to them."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Trace
from tilewater.basis.units import parse_quantity
from tilewater.documents.pages.summary_money import quantity_words
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Heading,
    Items,
    Paper,
    Paragraph,
    Table,
)
from tilewater.documents.paper.press import press
from tilewater.documents.words import NOT_KNOWN, Words, step_value

PARTS = (
    ("properties", "What it is"),
    ("placing", "How it is placed"),
    ("tests", "What is tested"),
    ("tolerance", "Tolerance"),
    ("measure", "Measure and payment"),
)
BASIS = (
    "Common practice, no source, except where a clause says otherwise. The engineer who issues it "
    "answers for it; local codes govern."
)
_BLANK = re.compile(r"\{(?P<what>[^|{}]+)\|(?P<kind>\w+)\}")


@dataclass(frozen=True)
class Section:
    """Clauses of one group of items.

    Attributes
    ----------
    name, title : str
    items : tuple of str
        Items it belongs to; one that ends with a hyphen stands for all that begin so.
    parts : dict of str to tuple of str
        Clauses by the part they stand in.
    """

    name: str
    title: str
    items: tuple[str, ...]
    parts: dict[str, tuple[str, ...]]

    def owns(self, item: str) -> bool:
        """Whether an item of the design belongs here."""
        return any(
            item == own or (own.endswith("-") and item.startswith(own)) for own in self.items
        )


@cache
def sections() -> tuple[Section, ...]:
    """All sections in the order of the work."""
    file = resources.files("tilewater.documents.specification") / "clauses.toml"
    tables = tomllib.loads(file.read_text(encoding="utf-8"))
    return tuple(
        Section(
            name,
            table["title"],
            tuple(table["items"]),
            {part: tuple(table[part]) for part, _ in PARTS},
        )
        for name, table in tables.items()
    )


def specification_pdf(
    title: str, trace: Trace, words: Words, *, foot: str, paper: Paper = "us-letter"
) -> bytes:
    """The specification of a design as PDF.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        Of the design.
    words : Words
        Units of the reader.
    foot : str
        What stands at the foot of every page: status, who, when.
    paper : "us-letter" or "a4"

    Returns
    -------
    bytes
        The file; the same design gives the same bytes.
    """
    blocks = tuple(specification_blocks(title, trace, words))
    return press(Document(f"{title}: specification", title, "specification", foot, paper, blocks))


def specification_blocks(title: str, trace: Trace, words: Words) -> Iterator[Block]:
    """Pages of the specification.

    Parameters
    ----------
    title, trace, words
        As for `specification_pdf`.

    Returns
    -------
    iterator of Block
    """
    yield Banner("Specification", (title,), "", BASIS)
    listed = [item for item in trace.names("quantities") if f"quantities.{item}.quantity" in trace]
    number = 0
    for section in sections():
        items = tuple(item for item in listed if section.owns(item))
        if section.items and not items:
            continue
        number += 1
        yield Heading(f"{number}  {section.title}", 1)
        if items:
            rows = tuple(
                (
                    trace.steps[f"quantities.{item}.quantity"].title,
                    quantity_words(trace, item, words),
                )
                for item in items
            )
            yield Table((Column("item", wide=True), Column("quantity", "right")), rows, small=True)
        for part, heading in PARTS:
            clauses = tuple(
                filled
                for clause in section.parts[part]
                if (filled := filled_clause(clause, trace, words))
            )
            if clauses:
                yield Heading(heading, 2)
                yield Items(clauses)
    left = [item for item in listed if not any(section.owns(item) for section in sections())]
    own = [item for item in left if item not in WITHOUT]
    if own:
        named = ", ".join(trace.steps[f"quantities.{item}.quantity"].title for item in own)
        yield Heading("Items without a clause", 1)
        yield Paragraph(f"The engineer writes what is asked of: {named}.")


WITHOUT = ("mobilization", "potholing")
"""Items that the general section and the estimate say enough of."""


def filled_clause(clause: str, trace: Trace, words: Words) -> str:
    """A clause with its numbers; "" where a number of the design is not known.

    Parameters
    ----------
    clause : str
        With blanks such as `{bed.media_depth_m|length}` or `{=0.05 ft|length}`.
    trace : Trace
        Of the design.
    words : Words
        Units of the reader.

    Returns
    -------
    str
        The clause as it is printed.

    Raises
    ------
    UnknownName
        If a blank names a kind that is none.
    """
    missing = False

    def fill(match: re.Match[str]) -> str:
        nonlocal missing
        text = _number(match["what"], match["kind"], trace, words)
        missing = missing or text == NOT_KNOWN
        return text

    filled = _BLANK.sub(fill, clause)
    return "" if missing else filled


def _number(what: str, kind: str, trace: Trace, words: Words) -> str:
    if kind == "text":
        return str(trace.value(what)) if what in trace and trace.known(what) else NOT_KNOWN
    try:
        if what.startswith("="):
            return words.say(parse_quantity(what[1:], kind), kind)
        return words.say(step_value(trace, what), kind)
    except KeyError:
        raise UnknownName(f"'{kind}' is no kind of quantity. Correct the clause.") from None

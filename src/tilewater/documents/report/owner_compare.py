# SPDX-License-Identifier: Apache-2.0
"""The owner's two pages on a choice: practices side by side, and what each of them asks."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.chain.compare import PracticeComparison
from tilewater.chain.compare_contenders import NONE, Contender
from tilewater.chain.compare_words import must_be_true, not_known_of_sort
from tilewater.chain.verdict import FITS, OPEN, SHORT
from tilewater.documents import comparing
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Heading,
    Items,
    NewPage,
    Paragraph,
    Table,
)
from tilewater.documents.paper.press import press
from tilewater.documents.words import Words

STATUS = "Comparison for a talk, no design"
HEAD = 80
SHOWN = 4
PLAIN = {
    "verdict": "Can it be built?",
    "nitrate-N out a year": "Nitrogen kept out of the ditch in a year",
    "of the site's load": "That is, of what leaves the field",
    "costs, built": "Costs to build",
    "a year, hours and ground too": "A year, with your hours and ground",
    "a pound for": "A pound of nitrogen for",
    "ground taken": "Ground it takes",
    "owner's hours a year": "Your hours in a year",
    "more wet days a season": "More wet days in a crop season",
    "lasts": "Lasts",
}
"""Lines of the table that an owner reads, as he would say them."""
KILOGRAM = ("a kilogram for", "A kilogram of nitrogen for")
VERDICTS = {FITS: "yes", OPEN: "yes, as far as we know", SHORT: "no"}


@dataclass(frozen=True)
class CompareMaterial:
    """What the pages are made from.

    Attributes
    ----------
    title : str
        Title of the job.
    comparison : PracticeComparison
    words : Words
        Numbers in the units of the reader.
    version : str
        Version of the program.
    owner, prepared_by, date : str
        "" where not known.
    """

    title: str
    comparison: PracticeComparison
    words: Words
    version: str
    owner: str = ""
    prepared_by: str = ""
    date: str = ""


def owner_compare_pdf(material: CompareMaterial) -> bytes:
    """The two pages as PDF.

    Parameters
    ----------
    material : CompareMaterial
        The comparison and the names on it. [-]

    Returns
    -------
    bytes
        The file; the same material gives the same bytes.
    """
    return press(owner_compare_document(material))


def owner_compare_document(material: CompareMaterial) -> Document:
    """Two pages for the owner."""
    title = material.title
    return Document(
        title=f"{title}: what could be built",
        head=title if len(title) <= HEAD else f"{title[:HEAD]}…",
        kind="For the owner",
        foot=f"Tilewater {material.version} · {STATUS}",
        paper="us-letter" if material.words.system == "us" else "a4",
        blocks=(*_first_page(material), NewPage(), *_second_page(material)),
    )


def first_sentence(comparison: PracticeComparison) -> str:
    """The answer in one sentence: "No" where it is no."""
    described = [c for c in comparison.contenders if c.is_described and c.name != NONE]
    if not described:
        return "We cannot compare anything yet: nothing is planned far enough."
    built = [comparison.contender(name).words for name in comparison.buildable]
    if not built:
        tried = " nor ".join(c.words for c in described)
        either = "neither a" if len(described) > 1 else "a"
        end = "fits" if len(described) > 1 else "does not fit"
        return f"No: {either} {tried} {end} at this outlet as it is planned."
    if len(built) == 1:
        return f"Yes: of what was looked at, one can be built, a {built[0]}."
    return f"Yes: {len(built)} of what was looked at can be built. The choice is yours."


def _first_page(material: CompareMaterial) -> Iterator[Block]:
    comparison = material.comparison
    about = (
        f"For {material.owner}" if material.owner else "For the owner",
        f"from {material.prepared_by}" if material.prepared_by else "",
        material.date,
    )
    yield Banner(
        material.title,
        (" · ".join(filter(None, about)),),
        first_sentence(comparison),
        "Each was worked out from the same water, years and nitrate.",
    )
    yield Heading("Side by side", 2)
    yield _table(material)
    yield Paragraph(
        "Eight of ten likely years lie within a range. Nobody can name it closer: no two years "
        "are alike, and nobody has measured these here. The raised outlet treats nothing; it keeps "
        "water back, and some of the nitrogen may find another way.",
        "note",
    )
    yield Heading("Which is better?", 2)
    told = []
    for answer in comparison.answers:
        told.append(comparing.ahead_words(comparison, answer))
        told += list(comparing.settle_words(comparison, answer))
    yield Items(tuple(told))
    yield Paragraph(
        "One is called better only where it does better in nine of ten draws of what is uncertain."
    )
    lines = comparing.measure_lines(comparison)
    if lines:
        yield Heading("What could be measured first", 2)
        yield Items(tuple(f"{what}: {takes}. {changes}" for what, takes, changes in lines))


def _table(material: CompareMaterial) -> Table:
    comparison = material.comparison
    shown = comparing.shown(comparison)
    labels = PLAIN | dict((KILOGRAM,)) if material.words.system == "si" else PLAIN
    rows = []
    for line in comparing.lines(comparison, material.words):
        if line.label not in labels:
            continue
        cells = line.cells
        if line.label == "verdict":
            cells = tuple(VERDICTS.get(cell, cell) for cell in cells)
        rows.append((labels[line.label], *cells))
    heads = (comparing.HEADS[c.name] for c in shown)
    return Table(
        (Column("", wide=True, share=1.6), *(Column(h, wide=True) for h in heads)),
        tuple(rows),
        small=len(shown) > SHOWN - 1,
    )


def _second_page(material: CompareMaterial) -> Iterator[Block]:
    comparison = material.comparison
    for contender in comparison.contenders:
        if contender.name != NONE:
            yield from _of_one(contender)
    yield Heading("Before you decide", 2)
    yield Items(
        (
            "Your share of the cost hangs on the programs that pay; ask before the choice.",
            "Nobody breaks ground before the contract is signed and the utilities are marked.",
            "Whoever farms the field should read this too: boards are set by the season.",
            f"Ask {material.prepared_by or 'the office that gave you this sheet'} what is open.",
        )
    )
    yield Paragraph("Tilewater assists an engineer; it does not seal a design.", "note")


def _of_one(contender: Contender) -> Iterator[Block]:
    name = f"{contender.words[0].upper()}{contender.words[1:]}"
    yield Heading(name, 2)
    if not contender.is_described:
        yield Paragraph(f"Not looked at: the plans do not give {'; '.join(contender.missing)}.")
        return
    if contender.verdict == SHORT:
        yield Paragraph(f"It does not fit: {comparing.why_not(contender)}.")
    yield Items(
        (
            ("Must be true. ", " ".join(must_be_true(contender))),
            ("Not known. ", " ".join(not_known_of_sort(contender))),
        )
    )

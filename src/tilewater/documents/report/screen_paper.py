# SPDX-License-Identifier: Apache-2.0
"""One page for the owner after a screening: the answer in its first sentence, without jargon."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.unknown import is_unknown
from tilewater.chain.screen import Screen
from tilewater.chain.screen_answers import CANNOT, CLOSER_LOOK, WORDS, Answer
from tilewater.chain.screen_rows import ScreenRow
from tilewater.documents.paper.blocks import Banner, Block, Document, Heading, Items, Paragraph
from tilewater.documents.paper.press import press
from tilewater.documents.screen_words import drawn_words, in_words
from tilewater.documents.words import Words

REASONS, OPEN, ADVICE = 3, 3, 4
STATUS = "Screening, no design"
NO = "No: neither a woodchip bed nor a saturated buffer can lie at this outlet, as it is today."
CALLED = {"bed": "A woodchip bed", "buffer": "A saturated buffer", "raised": "A raised outlet"}


@dataclass(frozen=True)
class ScreenMaterial:
    """What the page is made from.

    Attributes
    ----------
    title, owner, prepared_by, date : str
        "" where not known.
    screen : Screen
    words : Words
        Numbers in the units of the reader.
    version : str
        Version of the program.
    """

    title: str
    owner: str
    prepared_by: str
    date: str
    screen: Screen
    words: Words
    version: str


def screen_pdf(material: ScreenMaterial) -> bytes:
    """The page as PDF.

    Parameters
    ----------
    material : ScreenMaterial
        The screening and the names on it. [-]

    Returns
    -------
    bytes
        The file; the same material gives the same bytes.
    """
    return press(screen_document(material))


def screen_document(material: ScreenMaterial) -> Document:
    """The page for the owner."""
    title = material.title
    return Document(
        title=f"{title}: screening",
        head=title[:80],
        kind="For the owner",
        foot=f"Tilewater {material.version} · {STATUS}",
        paper="us-letter" if material.words.system == "us" else "a4",
        blocks=tuple(_blocks(material)),
    )


def first_sentence(screen: Screen) -> str:
    """The answer in one sentence: "No" where it is no."""
    bed, buffer = screen.answer("bed"), screen.answer("buffer")
    if bed.answer == buffer.answer == CANNOT:
        return NO
    for answer in (buffer, bed):
        if answer.could:
            return f"Yes: {CALLED[answer.practice].lower()} could lie at this outlet."
    if CLOSER_LOOK in (bed.answer, buffer.answer):
        practice = "bed" if bed.answer == CLOSER_LOOK else "buffer"
        return f"Perhaps: {CALLED[practice].lower()} is worth a closer look."
    return "We cannot say yet: too little is known of this outlet."


def _blocks(material: ScreenMaterial) -> Iterator[Block]:
    screen, words = material.screen, material.words
    names = (
        f"For {material.owner}" if material.owner else "For the owner",
        f"from {material.prepared_by}" if material.prepared_by else "",
        material.date,
    )
    yield Banner(
        material.title, (" · ".join(filter(None, names)),), first_sentence(screen), _rest(screen)
    )
    for answer in screen.answers:
        if answer.practice == "raised" and answer.answer == CANNOT:
            continue
        yield from _practice(answer, words)
    yield from _drawn(screen, words)
    if screen.measure:
        yield Heading("What we would measure next", 2)
        yield Items(tuple(f"{each.what}: {each.how}." for each in screen.measure[:OPEN]))
    for title, advice in (
        ("What else could help", screen.helps),
        ("When to look again", screen.again),
    ):
        if advice:
            yield Heading(title, 2)
            yield Items(tuple(in_words(a.said, words, "two figures") for a in advice[:ADVICE]))
    yield Paragraph(
        "Nothing is dug on this page. It designs nothing; an engineer decides, and utilities are "
        "located first.",
        "note",
    )


def _rest(screen: Screen) -> str:
    """What is said of the outlet raised in season, beside bed and buffer."""
    raised = screen.answer("raised")
    said = {
        CANNOT: "Boards that hold the water back in season would not do either.",
        CLOSER_LOOK: "Boards that hold the water back in season are worth a closer look.",
    }
    if raised.could:
        return "Boards that hold the water back in season could be set here."
    return said.get(raised.answer, "")


def _practice(answer: Answer, words: Words) -> Iterator[Block]:
    yield Heading(f"{WORDS[answer.practice].capitalize()}: {answer.answer}", 2)
    told = [in_words(reason, words, "two figures") for reason in answer.reasons[:REASONS]]
    if answer.answer != CANNOT:
        told += [_open(row) for row in answer.open[:OPEN]]
        more = len(answer.open) - OPEN
        told += [f"And {more} more questions are open."] if more > 0 else []
    yield Items(tuple(told)) if told else Paragraph("Nothing that we know speaks against it.")


def _drawn(screen: Screen, words: Words) -> Iterator[Block]:
    drawn, bed = screen.drawn, screen.answer("bed")
    if drawn is None or is_unknown(drawn.share):
        return
    yield Heading("The bed that was drawn", 2)
    yield Paragraph(drawn_words(drawn, words, refused=bed.answer == CANNOT))


def _open(row: ScreenRow) -> str:
    why = "" if not row.hangs else f"; {row.why}"
    return f"Not known: {row.ask[:1].lower()}{row.ask[1:]}{why}."

# SPDX-License-Identifier: Apache-2.0
"""The field book: gates, hold points and forms to fill in and sign by hand on site."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.told import in_units
from tilewater.basis.trace import Trace
from tilewater.chain.chips import SPEC_DEFAULTS
from tilewater.chain.gates import Gate
from tilewater.chain.hold_points import Held
from tilewater.chain.stake_record import StakePoint
from tilewater.documents.field.cautions import CAUTIONS, WHO, applies, depth_words, said
from tilewater.documents.pages.chips_page import share_words, size_words
from tilewater.documents.pages.gates_page import RULES
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Form,
    Heading,
    Paper,
    Paragraph,
    Run,
    Table,
)
from tilewater.documents.paper.press import press
from tilewater.documents.words import Words

TICKET_ROWS, GRADE_ROWS = 20, 6
SIEVES_MM = (50.8, 38.1, 25.4, 19.05, 12.7, 9.525, 6.35, 2.0)


@dataclass(frozen=True)
class Book:
    """What the field book is made of.

    Attributes
    ----------
    title, day : str
    gates : tuple of Gate
    held : tuple of Held
    points : tuple of StakePoint
        With their grades.
    benchmarks : tuple of (name, level, mark)
    trace : Trace
        Of the design.
    """

    title: str
    day: str
    gates: tuple[Gate, ...]
    held: tuple[Held, ...]
    points: tuple[StakePoint, ...]
    benchmarks: tuple[tuple[str, float, str], ...]
    trace: Trace


def book_pdf(book: Book, words: Words, paper: Paper = "us-letter") -> bytes:
    """The field book as PDF.

    Parameters
    ----------
    book : Book
    words : Words
        Units of the reader.
    paper : "us-letter" or "a4"

    Returns
    -------
    bytes
        The file.
    """
    blocks = (
        *_front(book, words),
        *_cautions(book, words),
        *_holds(book),
        *_grade(book, words),
        *_tickets(book, words),
        *_sieve(book, words),
    )
    foot = f"Made on {book.day}. What is written here by hand counts; keep it with the job."
    return press(
        Document(f"{book.title}: field book", book.title, "field book", foot, paper, blocks)
    )


def _front(book: Book, words: Words) -> Iterator[Block]:
    shut = [gate for gate in book.gates if not gate.is_open]
    answer = "Both gates are open" if not shut else f"Shut: {', '.join(g.title for g in shut)}"
    yield Banner("Field book", (book.title, f"as of {book.day}"), answer)
    for gate in book.gates:
        yield Heading(f"{gate.title}: {'open' if gate.is_open else 'shut'}", 2)
        yield Table(
            (
                Column("state"),
                Column("what", wide=True, share=1.0),
                Column("how it stands, what next", wide=True, share=1.6),
                Column("rule"),
            ),
            tuple(
                (
                    Run(row.state, "" if row.is_open else "bold"),
                    row.what,
                    ". ".join(filter(None, (in_units(row.said, words.system), row.next))),
                    Run(RULES[row.seen], "muted"),
                )
                for row in sorted(gate.rows, key=lambda row: row.is_open)
            ),
            small=True,
        )


def _cautions(book: Book, words: Words) -> Iterator[Block]:
    yield Heading("Cautions", 1, new_page=True)
    yield Paragraph(f"Cut of this design: {depth_words(book.trace, words)} deep. {WHO}")
    yield Table(
        (Column("here"), Column("caution", wide=True), Column("clause"), Column("known by")),
        tuple(
            (
                Run("applies", "bold")
                if applies(each, book.trace)
                else Run("not so deep", "muted"),
                said(each, words),
                each.clause,
                Run(each.seen, "muted"),
            )
            for each in CAUTIONS
        ),
    )


def _holds(book: Book) -> Iterator[Block]:
    yield Heading("Hold points", 1, new_page=True)
    yield Paragraph(
        "Work stops at each until someone has looked and signed, in this order. What is printed "
        "was signed in the job file before this book was made."
    )
    columns = (
        Column("hold point, what to look at", share=3.2),
        Column("accepted / refused", share=1.1),
        Column("signed by", share=1.5),
        Column("day, hour", share=1.2),
        Column("reading, photo", share=2.5),
    )
    rows = tuple(
        (
            (Run(f"{place}  {one.point.title}. ", "bold"), Run(one.point.look, "muted")),
            {"open": "", "out of turn": "accepted, out of turn"}.get(
                one.state, "accepted" if one.is_signed else one.state
            ),
            one.by,
            one.at,
            ", ".join(filter(None, (one.reading, one.photo))),
        )
        for place, one in enumerate(book.held, start=1)
    )
    yield Form(columns, rows, 13.2)
    yield Paragraph("Ground water in a pit beside the hole, shot before each shift:")
    blank = tuple(("", "", "", "", "") for _ in range(3))
    heads = ("day, hour", "water", "floor", "below floor, yes or no", "by")
    yield Form(tuple(Column(head) for head in heads), blank, 8.0)


def _grade(book: Book, words: Words) -> Iterator[Block]:
    yield Heading("Grade check", 1, new_page=True)
    known = "; ".join(
        f"{name.upper()} {words.say(level, 'elevation')}" + (f", {mark}" if mark else "")
        for name, level, mark in book.benchmarks
    )
    yield Paragraph(f"Benchmarks: {known or 'none in the job'}.")
    ends = [f"bed.floor_{end}_m" for end in ("outlet", "inlet")]
    if book.trace.known(*ends):
        low, high = (words.say(book.trace.value(key), "elevation") for key in ends)
        yield Paragraph(
            f"Floor of the bed: {low} at its outlet end, {high} at its inlet end, straight between."
        )
    heads = ("benchmark", "its level", "rod on it", "height of instrument", "day, by")
    yield Form(tuple(Column(head) for head in heads), (("", "", "", "", ""),) * 2, 8.0)
    yield Paragraph(
        "Level found is height of instrument less rod reading; difference is found less design."
    )
    unit = words.say(0.0, "length").rpartition(" ")[2]
    columns = (
        Column("point", share=2.2),
        Column("what", share=1.4),
        Column("station", "right", share=0.9),
        Column("offset", "right", share=0.8),
        Column(f"design, {unit}", "right", share=1.0),
        Column("rod", share=0.8),
        Column("found", share=1.0),
        Column("difference", share=1.0),
    )
    lines = [
        (
            point.name.replace("-", " "),
            point.what,
            words.say(point.station, "station"),
            words.say(point.offset, "length", unit=False),
            words.say(point.height, "elevation", unit=False),
            "",
            "",
            "",
        )
        for point in book.points
        if point.height is not None and point.what != "benchmark"
    ]
    lines += [("",) * 8] * GRADE_ROWS
    yield Form(columns, tuple(lines), 7.2)


def _tickets(book: Book, words: Words) -> Iterator[Block]:
    yield Heading("Truck tickets", 1, new_page=True)
    order = "quantities.chips-order.quantity"
    needed = words.say(book.trace.value(order), "volume") if order in book.trace else "not known"
    yield Paragraph(
        f"Chips to order by the design: {needed}, as they lie in the truck. Look into every load "
        "before it is tipped: soil, leaves, nails or treated wood send it back."
    )
    columns = (
        Column("ticket", share=1.1),
        Column("day, hour", share=1.1),
        Column("volume or tons", share=1.1),
        Column("soil, leaves, nails, treated", share=1.7),
        Column("taken, or sent back and why", share=2.0),
        Column("running total", share=1.0),
        Column("by", share=0.8),
    )
    yield Form(columns, (("",) * 7,) * TICKET_ROWS, 8.4)


def _sieve(book: Book, words: Words) -> Iterator[Block]:
    yield Heading("Sieve test", 1, new_page=True)
    value = {
        name: book.trace.value(key) if (key := f"inputs.chips_spec.{name}") in book.trace else usual
        for name, (usual, _, _) in SPEC_DEFAULTS.items()
    }
    yield Paragraph(
        f"Asked: {share_words(value['fines_most'])} at most pass "
        f"{size_words(value['fines_size_m'], words)}; {share_words(value['middle_least'])} at "
        f"least between {size_words(value['middle_from_m'], words)} and "
        f"{size_words(value['middle_to_m'], words)}. Loss over "
        f"{share_words(value['loss_most'])} voids the test."
    )
    heads = ("load, ticket", "day, by", "mass before", "wet or dry", "moisture: wet, dry")
    yield Form(tuple(Column(head) for head in heads), (("",) * 5,), 9.0)
    heads = ("sieve", "mass on it", "sum so far", "% retained", "% passing")
    sieves = [size_words(size / 1000, words) for size in SIEVES_MM]
    rows = tuple((name, "", "", "", "") for name in (*sieves, "pan", "sum", "loss"))
    yield Form(
        tuple(Column(head, share=1.4 if head == "sieve" else 1.0) for head in heads), rows, 8.0
    )
    seen = (
        "soil",
        "leaves",
        "nails, wire",
        "treated wood",
        "accepted / rejected / void",
        "signed",
    )
    yield Form(tuple(Column(head) for head in seen), (("",) * 6,), 14.0)

# SPDX-License-Identifier: Apache-2.0
"""The memo of a renewal as PDF: answer, curve, signs, options, contract."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.renew import LIFE
from tilewater.chain.renew_carbon import AGE
from tilewater.documents.pages.renew_page import (
    PRACTICE,
    advice,
    answer,
    band,
    capacity_by_year,
    carbon_rows,
    contract_words,
    notes_of_options,
    option_rows,
    readings,
    sign_rows,
    years,
)
from tilewater.documents.pages.said import Rows
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Figure,
    Heading,
    Items,
    Paper,
    Paragraph,
    Table,
    number,
)
from tilewater.documents.paper.press import press
from tilewater.documents.renewing.curve import HEIGHT, WIDTH, draw_years
from tilewater.documents.words import Words, step_value

MM = 25.4 / 96.0
FOOT = "An aid to an engineer. Nobody enters a structure or an open bed; gas may stand in it."
BASIS = (
    "Conductivity declines evenly in its logarithm between two values of the job, drawn within "
    "their ranges; each head and flow that was read moves the draws by its error (one standard "
    "deviation, stated in the job). The bed falls short where the whole way from the diversion to "
    "the ditch no longer passes its share of the peak with the water at the inlet crest and at "
    "20 degC. The carbon clock counts nitrate, oxygen and leaching; wood that often stands dry "
    "decays faster. Signs, their limits and the cost of an inlet third are common practice."
)
DIG = (
    "To open a bed is an excavation: locates, a competent person, slopes and a fence as when it "
    "was built; block and test the air of the structures first. Spent chips may hold sediment "
    "and metals: ask where they may go."
)


def renewal_memo(title: str, trace: Trace, words: Words, notes: tuple[Finding, ...]) -> bytes:
    """The memo of a renewal as PDF.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        Of the design with the steps of its renewal.
    words : Words
        Units of the reader.
    notes : tuple of Finding
        What the engineer must know of it.

    Returns
    -------
    bytes
        The file; the same renewal gives the same bytes.
    """
    paper: Paper = "us-letter" if words.system == "us" else "a4"
    blocks = tuple(_blocks(title, trace, words, notes))
    return press(Document(f"{title}: renewal", title, "renewal memo", FOOT, paper, blocks))


def _blocks(title: str, trace: Trace, words: Words, notes: tuple[Finding, ...]) -> Iterator[Block]:
    about = (
        title,
        f"On {trace.value('renew.day')}, chips {years(step_value(trace, AGE), words)} old",
    )
    yield Banner("Renewal", about, answer(trace, words), advice(trace, words).plain)
    if trace.known(AGE):
        caption = (
            "Share of the peak that the bed takes by age, water of 20 degC at the crest: as the "
            "readings have it (line, P10 to P90 shaded) and by the curve of the design alone "
            "(broken). Diamonds are what was read."
        )
        yield Figure(
            draw_years(trace), WIDTH * MM, HEIGHT * MM, caption, "Share of the peak by age"
        )
    yield Paragraph(_lives(trace, words))
    yield Heading("Signs that chips are due", 2)
    yield Table(
        (Column("sign", wide=True), Column("measured", "point"), Column("stands"), Column("")),
        tuple(
            (name, number(value), limit, word)
            for name, value, limit, word, _ in sign_rows(trace, words)
        ),
        small=True,
    )
    yield Paragraph(PRACTICE[0].upper() + PRACTICE[1:] + ".", "note")
    yield Heading("What can be done", 2)
    unit = "a pound" if words.system == "us" else "a kilogram"
    yield Table(
        (
            Column("option", wide=True),
            Column("cost", "right"),
            Column("adds", "right"),
            Column("nitrogen of those years", "right"),
            Column(unit, "right"),
        ),
        tuple(option_rows(trace, words)),
        small=True,
    )
    yield Items(tuple(note.plain for note in notes_of_options(trace, words)))
    yield Heading("Contract", 2)
    yield Paragraph(" ".join(contract_words(trace, words)))
    yield Heading("Capacity by year", 2)
    yield _table(capacity_by_year(trace, words))
    if (read := readings(trace, words)).lines:
        yield Heading("What was read", 2)
        yield _table(read)
    yield Heading("Carbon", 2)
    yield _table(carbon_rows(trace, words))
    told = tuple(note.in_units(words.system).message for note in notes)
    if told:
        yield Heading("To know", 2)
        yield Items(told)
    yield Paragraph(DIG, "note")
    yield Paragraph(BASIS, "note")


def _table(found: Rows) -> Table:
    """Rows of the page as a table on paper."""
    columns = tuple(
        Column(head, "right" if place in found.right else "left", wide=place == 0)
        for place, head in enumerate(found.heads)
    )
    lines = tuple(
        tuple(cell if isinstance(cell, str) else cell.plain for cell in line)
        for line in found.lines
    )
    return Table(columns, lines, small=True)


def _lives(trace: Trace, words: Words) -> str:
    """Both clocks in words."""
    life = band(trace, LIFE + ".{}_years", "years", words)
    alone = band(trace, LIFE + ".by_curve.{}_years", "years", words)
    clock, due = "renew.carbon.clock_years", f"{LIFE}.p50_years"
    said = f"Expected hydraulic life, P10 to P90: {life}; by the curve alone {alone}."
    if not trace.known(clock, due):
        return said
    lasts = f" The carbon that microbes get lasts about {years(trace.value(clock), words)}"
    first = float(trace.value(clock)) > float(trace.value(due))
    return f"{said}{lasts}{': the bed runs out of permeability first' if first else ''}."

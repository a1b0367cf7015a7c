# SPDX-License-Identifier: Apache-2.0
"""The report on a measured practice as PDF: the answer, charts, tables, cautions, method."""

from collections.abc import Iterator, Sequence

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.documents.measured.chart import HEIGHT, WIDTH, draw_flow, draw_loads
from tilewater.documents.pages.monitor_page import is_representative, monitor_page, period, span
from tilewater.documents.pages.said import Block as SaidBlock
from tilewater.documents.pages.said import Cell as SaidCell
from tilewater.documents.pages.said import Rows, Said
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Document,
    Figure,
    Heading,
    Items,
    Paper,
    Paragraph,
    Run,
    Table,
    number,
)
from tilewater.documents.paper.press import press
from tilewater.documents.words import Words

MM = 25.4 / 96.0
TITLE = "What did it remove?"
FOOT = "Measured; the range holds the truth eight times in ten if the errors are as stated."
METHOD = (
    "Flow: each logged level over the crest that stood, by the rating of its structure. Readings "
    "with water below the boards above their crest, in ice, or doubted are not converted; gaps up "
    "to 10 days are bridged by straight lines, longer ones left out.",
    "Loads: concentration times flow at every step. Between samples the concentration, and the "
    "drop across the practice, wander around a mean that may follow the flow; each way to explain "
    "the samples counts by how well it does. The middle is that of the draws. Straight lines "
    "between samples, the usual way, stand beside it.",
    "Range: the error of a rating multiplies the load in and the load out alike, so it counts "
    "once; errors of the two ways, of zeros, gaps, laboratory and sampling are apart. Their sizes "
    "are judgement and memory of published ranges (harmel2006), not a standard's text.",
    "Percents are ratios of loads. The percent of the site counts what went past; the percent of "
    "what went in does not. An average of percents is no removal.",
    "Rates name their volume: chips under water, by the levels, or all of the chips.",
)


def measured_pdf(title: str, trace: Trace, words: Words, notes: Sequence[Finding] = ()) -> bytes:
    """The report as PDF.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace
        With the steps of the report.
    words : Words
        Units of the reader.
    notes : sequence of Finding
        What the engineer must know.

    Returns
    -------
    bytes
        The file; the same report gives the same bytes.
    """
    paper: Paper = "us-letter" if words.system == "us" else "a4"
    blocks = tuple(_blocks(title, trace, words, notes))
    kind = "what was measured"
    return press(Document(f"{title}: {kind}", title, kind, FOOT, paper, blocks))


def _blocks(title: str, trace: Trace, words: Words, notes: Sequence[Finding]) -> Iterator[Block]:
    yield Banner(TITLE, (title, period(trace)), _answer(trace, words))
    yield Figure(
        draw_flow(trace, words),
        WIDTH * MM,
        HEIGHT * MM,
        "Flow by the day, mean; nitrate of the samples on the right. The numbers stand below.",
        "Flow through and past the practice by the day, and nitrate of the samples",
    )
    parts = [part for part in monitor_page(title, trace, words) if isinstance(part, SaidBlock)]
    for part in parts:
        yield from _said(part)
        if part.title == "By interval":
            yield Figure(
                draw_loads(trace, words),
                WIDTH * MM,
                HEIGHT * MM,
                "Loads of the table above.",
                "Load that came and load removed in each interval",
            )
    told = tuple(dict.fromkeys(f.in_units(words.system).message for f in notes if _weighs(f)))
    if told:
        yield Heading("What to keep in mind", 2)
        yield Items(told)
    yield Heading("How it was worked out", 2)
    yield Items(METHOD)


def _weighs(finding: Finding) -> bool:
    return finding.severity != "note"


def _answer(trace: Trace, words: Words) -> str:
    removed = span(trace, words, "removed_kg").plain
    if not is_representative(trace):
        return f"{removed} of nitrate nitrogen; the time is not representative, so no percent"
    site = span(trace, words, "site_percent", "percent").plain
    return f"{removed} of nitrate nitrogen: {site} of what came to the site".replace("  ", " ")


def _said(part: SaidBlock) -> Iterator[Block]:
    """A block of the page as a heading, its note and its rows."""
    yield Heading("In numbers" if part.title == TITLE else part.title, 2)
    if part.note:
        yield Paragraph(f"{part.note[0].upper()}{part.note[1:]}.", "note")
    for body in part.body:
        if isinstance(body, Rows):
            yield _table(body)


def _table(rows: Rows) -> Table:
    heads = tuple(
        Column(head, "point" if at in rows.right else "left", wide=at in rows.wide)
        for at, head in enumerate(rows.heads)
    )
    lines = tuple(
        tuple(_cell(cell, at in rows.right) for at, cell in enumerate(line)) for line in rows.lines
    )
    return Table(heads, lines, small=True)


def _cell(cell: SaidCell, to_point: bool) -> Cell:
    if isinstance(cell, str):
        return number(cell) if to_point else cell
    if to_point:
        return number(cell.plain, style="bold" if _is_strong(cell) else "")
    return tuple(Run(run.words, "bold" if run.tone == "strong" else "") for run in cell.runs)


def _is_strong(said: Said) -> bool:
    return bool(said.runs) and said.runs[0].tone == "strong"

# SPDX-License-Identifier: Apache-2.0
"""A set as built holds what was shot; the ticket on papers is that of the job."""

from functools import cache

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.documents.handing.letter import Handed, letter_blocks
from tilewater.documents.paper.blocks import Paragraph
from tilewater.documents.report.level_pages import level_pages
from tilewater.documents.sheets.record import Blank, Columns, Lines, SheetSet, Title
from tilewater.documents.words import LID_CARD
from tilewater.tasks.built_sheet import built_levels
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome
from tilewater.tasks.sheeting import press_set, sheet_words, sheets_of
from tilewater.tasks.ticket import ticket_of
from tools.package import ROOT


@cache
def outcome(farm: str) -> Outcome:
    job = check_job(ROOT / "examples" / farm)
    practice = first_practice(job.inputs)
    return Outcome(job, design_practice(job.inputs, practice, by_days=False), {}, ())


@cache
def as_built() -> SheetSet:
    words = sheet_words("as-built", "R. Lindqvist", "11x17")
    return sheets_of(outcome("corbel-built"), "us", words)


@cache
def review(farm: str) -> SheetSet:
    return sheets_of(outcome(farm), "us", sheet_words("review", "", "11x17"))


def blocks_of(made: SheetSet, title: str) -> list[object]:
    return [
        block
        for sheet in made.sheets
        if sheet.title.startswith(title)
        for box in sheet.boxes
        for block in box.blocks
    ]


def text_of(made: SheetSet, title: str) -> str:
    lines = (block for block in blocks_of(made, title) if isinstance(block, Lines))
    return " ".join(" ".join(block.words) for block in lines)


@pytest.mark.by_hand(of=(built_levels, sheets_of))
def test_a_sheet_as_built_holds_designed_shot_and_difference():
    tables = [b for b in blocks_of(as_built(), "As built") if isinstance(b, Columns)]
    rows = {row[0]: row[1:] for table in tables for row in table.rows}
    # One shot of the sill, 1181.26 ft, over 1181.20 ft of the design.
    assert rows["inlet structure: sill"] == ("1181.20", "1181.26", "+0.06")
    # Shots 523 and 525 are the lowest and the highest of the return.
    returns = [row for name, row in rows.items() if name.startswith("pipe return: invert")]
    assert [row[1] for row in returns] == ["1180.62", "1180.69"]
    assert all(built for name, (_, built, *_) in rows.items() if name)


@pytest.mark.works(of=(sheets_of,))
def test_words_of_a_set_as_built_are_true():
    made = as_built()
    number = next(n for n, s in enumerate(made.sheets, 1) if s.title.startswith("As built"))
    assert made.strip.status_words == (
        f"drawn as designed; levels as built on sheet {number}, surveyed 2027-10-06; by the "
        "engineer named"
    )
    titles = [b.text for b in blocks_of(made, "Cover") if isinstance(b, Title)]
    assert not any("Before anything is built" in title for title in titles)
    assert f"levels as built on sheet {number}" in text_of(made, "Cover")
    assert "{sheet}" not in text_of(made, "Cover")
    assert press_set(made).startswith(b"%PDF")


@pytest.mark.works(of=(built_levels,))
def test_a_set_as_built_without_shots_is_refused_with_the_next_step():
    words = sheet_words("as-built", "R. Lindqvist", "11x17")
    with pytest.raises(BadInputFile, match=r"Name the shots under \[as_built\]"):
        sheets_of(outcome("corbel-farm"), "us", words)


@pytest.mark.works(of=(built_levels,))
def test_shots_leave_the_trace_of_the_design_as_it_is():
    design = outcome("corbel-built").design.trace
    built_levels(outcome("corbel-built").job, design, "us")
    assert not design.names("built.shots")


@pytest.mark.works(of=(ticket_of, sheets_of))
def test_the_cover_tells_the_ticket_and_else_its_words():
    given = review("corbel-built")
    told = "Ticket 272450118, filed 2027-09-02 15:00, digging may begin 2027-09-0"
    assert told in text_of(given, "Cover")
    assert "call the one-call center" not in text_of(given, "Cover")
    blanks = [b.words for b in blocks_of(given, "Cover") if isinstance(b, Blank)]
    assert "ticket number" not in blanks
    stated = review("merridew-farm")
    assert "As stated: ticket 260410-117" in text_of(stated, "Cover")
    assert "not given under [locate]" in text_of(stated, "Cover")
    assert "ticket number" in [b.words for b in blocks_of(stated, "Cover") if isinstance(b, Blank)]


@pytest.mark.works(of=(letter_blocks,))
def test_the_letter_of_a_hand_over_tells_the_ticket():
    job = outcome("corbel-built").job
    words = ticket_of(job, job.trace).words
    handed = Handed("A farm", (), "", (), (), (), ("Look at it.",), (), words)
    told = [str(b.words) for b in letter_blocks(handed) if isinstance(b, Paragraph)]
    assert any("Ticket 272450118, filed 2027-09-02 15:00" in each for each in told)


@pytest.mark.works(of=(sheets_of, level_pages))
def test_boards_of_the_design_name_the_card_in_the_lid():
    assert LID_CARD in text_of(review("corbel-farm"), "Looking after it")

# SPDX-License-Identifier: Apache-2.0
"""The specification: a section for what the design has, numbers of the design in its clauses."""

import io
from functools import cache

import pypdf
import pytest

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.documents.paper.blocks import Heading, Items
from tilewater.documents.specification.writing import (
    PARTS,
    filled_clause,
    sections,
    specification_blocks,
    specification_pdf,
)
from tilewater.documents.words import Words
from tilewater.tasks.checking import check_job
from tools.package import ROOT


@cache
def trace(farm: str) -> Trace:
    inputs = check_job(ROOT / "examples" / farm).inputs
    return design_practice(inputs, first_practice(inputs), by_days=False).trace


def titles(farm: str) -> list[str]:
    blocks = specification_blocks("A farm", trace(farm), Words())
    return [b.text for b in blocks if isinstance(b, Heading) and b.level == 1]


@pytest.mark.works(of=(specification_blocks,))
def test_a_section_stands_for_what_the_design_has_and_for_nothing_else():
    bed, buffer = " ".join(titles("corbel-farm")), " ".join(titles("merridew-farm"))
    assert "Woodchips" in bed
    assert "Lining" in bed
    assert "Woodchips" not in buffer
    assert "Pipes and headers" in buffer
    assert "Items without a clause" not in bed + buffer


@pytest.mark.works(of=(specification_blocks,))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm"])
def test_no_clause_has_a_blank_left(farm: str):
    for block in specification_blocks("A farm", trace(farm), Words("si")):
        if isinstance(block, Items):
            assert not any("{" in str(item) or "not known" in str(item) for item in block.items)


@pytest.mark.works(of=(filled_clause,))
def test_numbers_of_a_clause_are_those_of_the_design_in_the_units_of_the_reader():
    clause = "to {bed.media_top_m|elevation}, within {=0.10 ft|length}"
    design = trace("corbel-farm")
    assert filled_clause(clause, design, Words()) == "to 1184.20 ft, within 0.10 ft"
    assert "m" in filled_clause(clause, design, Words("si"))
    assert filled_clause("{bed.media_top_m|elevation}", trace("merridew-farm"), Words()) == ""
    with pytest.raises(UnknownName):
        filled_clause("{=1 ft|furlong}", design, Words())


@pytest.mark.works(of=(sections,))
def test_every_section_with_items_says_how_it_is_measured():
    for section in sections():
        assert set(section.parts) == {part for part, _ in PARTS}
        assert section.parts["measure"], section.name


@pytest.mark.works(of=(specification_pdf,))
def test_the_file_is_the_same_each_time_and_says_its_status():
    made = [
        specification_pdf("A farm", trace("corbel-farm"), Words(), foot="bid, not for construction")
        for _ in range(2)
    ]
    assert made[0] == made[1]
    text = "".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(made[0])).pages)
    assert "not for construction" in text
    assert "435 CY" in text

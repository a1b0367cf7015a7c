# SPDX-License-Identifier: Apache-2.0
"""The block of the field as the engineer reads it."""

import io
import re

import pytest

from tests.jobs import FOOT, corbel_inputs
from tests.pages import Console
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.documents.pages.summary_levels import field
from tilewater.documents.words import Words

NOBODY = Unknown("nobody knows", "look")


def page(spring_ditch_ft: float) -> str:
    """The block with the ordinary ditch of spring; the bypass crest is 1184.20 ft."""
    design = design_bed(corbel_inputs({"season.spring.ditch_stage_m": spring_ditch_ft * FOOT}))
    out = io.StringIO()
    Console(file=out, width=80).print(field(design, Words("us")))
    return " ".join(out.getvalue().split())


@pytest.mark.works(of=(field,))
def test_a_ditch_over_the_crest_is_said_to_be_left_out() -> None:
    high = page(1184.6)

    assert "Counted for water that falls free over the bypass boards." in high
    assert "in spring the main full stands at 1184.93 ft at the boards" in high
    assert "Counted for" not in page(1180.1)


@pytest.mark.works(of=(field,))
def test_a_field_that_is_not_known_keeps_its_columns() -> None:
    bare = corbel_inputs(
        {g.key.removeprefix("inputs."): NOBODY for g in corbel_inputs().givens if of_main(g.key)}
    )
    out = io.StringIO()
    Console(file=out, width=80).print(field(design_bed(bare), Words("us")))

    assert "reach of the pool not known" in out.getvalue()
    assert not re.search("not know[^n]", out.getvalue())


def of_main(key: str) -> bool:
    """Whether a key says where the main and its segments lie."""
    return key.startswith("inputs.segment.") and key.endswith(("_m", "_down_m", "_up_m"))

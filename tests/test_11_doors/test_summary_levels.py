# SPDX-License-Identifier: Apache-2.0
"""The block of the field as the engineer reads it."""

import io

import pytest
from rich.console import Console

from tests.jobs import FOOT, corbel_inputs
from tilewater.chain.design import design_bed
from tilewater.cli.summary_levels import field
from tilewater.cli.words import Words


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

# SPDX-License-Identifier: Apache-2.0
"""The block of the seasons as the engineer reads it."""

import io

import pytest

from tests.jobs import FOOT, corbel_inputs
from tests.pages import Console
from tilewater.chain.design import design_bed
from tilewater.documents.pages.summary_bed import seasons
from tilewater.documents.words import Words


def page(autumn_ditch_ft: float) -> str:
    """The block, with the ordinary ditch of autumn, whose bypass crest is 1182.37 ft."""
    inputs = corbel_inputs({"season.autumn.ditch_stage_m": autumn_ditch_ft * FOOT})
    block = seasons(design_bed(inputs).trace, Words("us"))
    assert block is not None
    out = io.StringIO()
    Console(file=out, width=80).print(block)
    return out.getvalue()


@pytest.mark.works(of=(seasons,))
def test_a_flow_below_zero_says_where_the_water_runs() -> None:
    words = "Below zero: the ditch stands above that crest, and its water runs back."

    assert words in page(1182.70)
    assert words not in page(1182.00)

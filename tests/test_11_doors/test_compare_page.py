# SPDX-License-Identifier: Apache-2.0
"""What an edit changed, as the engineer reads it in 80 columns."""

import io
from dataclasses import replace

import pytest

from tests.jobs import corbel_inputs
from tests.pages import Console
from tilewater.chain.changes import compare_results
from tilewater.chain.design import design_bed
from tilewater.chain.result import result_record
from tilewater.documents.pages.compare_page import compare_page
from tilewater.documents.words import Words


@pytest.mark.works(of=(compare_page,))
def test_a_pipe_taken_out_leaves_every_number_its_name() -> None:
    job = corbel_inputs()
    cut = replace(job, givens=tuple(g for g in job.givens if ".pipe.feed." not in g.key))
    before, after = design_bed(job), design_bed(cut)
    out = io.StringIO()
    found = compare_results(*(result_record(design, (), "0") for design in (before, after)))
    Console(file=out, width=80).print(compare_page(found, after.trace, Words("us")))
    lines = [" ".join(line.split()) for line in out.getvalue().splitlines()]

    assert "Flow through the bed, criterion line 0.152 cfs not known" in lines
    assert "first flush" not in out.getvalue()
    assert not [line for line in lines if line.endswith("cfs not")]

# SPDX-License-Identifier: Apache-2.0
"""Which spots of the field a design is held to."""

import pytest

from tests.jobs import corbel_inputs
from tilewater.chain.design import design_bed
from tilewater.chain.field import add_field


@pytest.mark.works(of=(add_field,))
def test_a_spot_below_the_structure_is_told_and_not_judged() -> None:
    design = design_bed(corbel_inputs({"spot.low-1.station_m": 30.0}))

    assert "low-1" not in design.trace.names("field")
    assert "spot-below-structure" in [finding.code for finding in design.findings]
    assert design.governs is not None
    assert not design.governs.key.startswith("field.low-1")

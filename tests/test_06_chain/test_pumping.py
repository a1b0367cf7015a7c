# SPDX-License-Identifier: Apache-2.0
"""A pumped outlet: no line of the bed takes more than the pump lifts."""

import pytest

from tests.jobs import CFS, corbel_inputs, with_givens
from tilewater.basis.trace import Given, Origin
from tilewater.chain.design import design_bed
from tilewater.chain.flow import add_drain_flow

LIFTED = 0.668 * CFS


@pytest.mark.law(of=(add_drain_flow,))
def test_the_bed_never_meets_more_than_the_pump_lifts():
    pump = Given(
        "inputs.drainage.pump_capacity_m3_s", LIFTED, "m3/s", "Capacity of the pump", Origin()
    )
    free, pumped = (
        design_bed(job).trace for job in (corbel_inputs(), with_givens(corbel_inputs(), pump))
    )
    assert pumped.value("drain_flow.full_m3_s") == LIFTED < free.value("drain_flow.full_m3_s")
    for line in ("capacity.spring", "capacity.snowmelt", "seasons.spring.full"):
        both = ("flow_m3_s", "bypass_flow_m3_s")
        assert sum(float(pumped.value(f"{line}.{name}")) for name in both) == pytest.approx(LIFTED)
        head = f"{line}.bypass_head_m"
        assert 0 < float(pumped.value(head)) < float(free.value(head))

# SPDX-License-Identifier: Apache-2.0
"""Buffers one step beside a design: what they are and what stopped them."""

from functools import cache

import pytest

from tests.jobs import FOOT, INCH
from tests.merridew import merridew_inputs
from tilewater.basis.unknown import Unknown
from tilewater.chain.alternatives import Alternative, runners_up
from tilewater.chain.alternatives_buffer import buffers_beside
from tilewater.chain.buffer import BUFFER
from tilewater.chain.design import Design, design_practice

OPEN = {"buffer.width_available_m": 70 * FOOT}


@cache
def designed(pool: bool = False) -> Design:
    near = {"main.property_line_station_m": 1400 * FOOT} if pool else {}
    return design_practice(merridew_inputs(OPEN | near), BUFFER, by_days=False)


def of(design: Design, start: str) -> Alternative:
    return next(each for each in runners_up(design) if each.what.startswith(start))


@pytest.mark.works(of=(runners_up, buffers_beside))
def test_a_shorter_line_is_stopped_by_the_flow_rule() -> None:
    """The farm takes less than five percent, so only the whole length meets the rule."""
    shorter = of(designed(), "a line 1,040 ft")

    assert shorter.what == "a line 1,040 ft instead of 1,050 ft"
    assert shorter.why_not.startswith("falls short: Flow rule")


@pytest.mark.law(of=(buffers_beside,))
def test_a_runner_up_is_judged_as_the_whole_chain_judges_it() -> None:
    trace = designed().trace
    lower = of(designed(), "boards stacked to 54 in")
    job = merridew_inputs(
        OPEN
        | {"boards.inlet_m": 54 * INCH}
        | {f"season.{s}.inlet_boards_m": 54 * INCH for s in ("winter", "spring", "summer")}
    )
    whole = design_practice(job, BUFFER, by_days=False).trace

    less = 100 * (1 - whole.value("buffer.flow_m3_s") / trace.value("buffer.flow_m3_s"))
    assert whole.value("cost.total_usd") == pytest.approx(trace.value("cost.total_usd"))
    assert lower.why_not == f"stands as this one does, takes {less:.2g} percent less water"


@pytest.mark.works(of=(buffers_beside,))
def test_a_strip_is_set_beside_only_where_its_width_is_open() -> None:
    assert of(designed(), "a strip of 60 ft").why_not.endswith("percent less water")
    assert of(designed(), "a strip of 50 ft").why_not.endswith("percent more water")
    closed = design_practice(
        merridew_inputs({"buffer.width_available_m": Unknown("open")}), BUFFER, by_days=False
    )
    assert not any("strip" in each.what for each in runners_up(closed))


@pytest.mark.works(of=(buffers_beside,))
def test_higher_boards_are_stopped_where_the_pool_would_pass_the_line() -> None:
    higher = of(designed(pool=True), "boards stacked to 58 in")

    assert higher.why_not.startswith("falls short: Pool ends before the property line")


@pytest.mark.works(of=(runners_up,))
def test_where_a_size_is_not_known_nothing_stands_beside_it() -> None:
    blank = design_practice(
        merridew_inputs({"buffer.width_m": Unknown("open")}), BUFFER, by_days=False
    )
    assert runners_up(blank) == ()

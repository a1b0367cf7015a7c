# SPDX-License-Identifier: Apache-2.0
"""How far the drain flow may be off: misses as the page has them, spread, what is refused."""

import re
from math import exp, log, sqrt
from pathlib import Path

import numpy as np
import pytest

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table
from tilewater.chain.drain_flow_range import TABLE, drain_flow_range, spread_of_misses
from tilewater.nitrate.parameter_ranges import draw_parameters

PAGE = Path(__file__).parents[2] / "docs" / "how-well.md"


@pytest.mark.works(of=(spread_of_misses,))
def test_misses_are_those_of_the_page_that_tries_the_model():
    row = re.compile(r"^\| ([\w ]+) \| (\d{4}) to (\d{4}) \| defaults \| ([+-]\d+) % \|", re.M)
    page = [
        (plot, int(first), int(last), float(miss))
        for plot, first, last, miss in row.findall(PAGE.read_text(encoding="utf-8"))
    ]
    table = [
        (
            each.text("plot"),
            each.number("first_year"),
            each.number("last_year"),
            each.number("miss"),
        )
        for each in read_table(*TABLE).rows
    ]
    assert len(page) == 8
    assert table == page


@pytest.mark.by_hand(of=(spread_of_misses, drain_flow_range))
def test_the_range_is_the_spread_of_eight_misses_about_none():
    ratios = (1.26, 1.08, 1.60, 1.23, 0.81, 1.10, 0.74, 1.02)
    spread = sqrt(sum(log(ratio) ** 2 for ratio in ratios) / 8)
    assert printed("0.242") == spread_of_misses()
    assert spread_of_misses() == pytest.approx(spread, rel=1e-12)
    found = drain_flow_range("simulated")
    assert found.mid == 1.0
    assert printed("0.73") == found.low
    assert printed("1.36") == found.high
    gauge = drain_flow_range("measured")
    assert gauge.high == pytest.approx(exp(1.2816 * sqrt(log(1 + 0.10**2))), rel=1e-4)
    assert found.low < gauge.low < 1.0 < gauge.high < found.high


@pytest.mark.law(of=(drain_flow_range,))
def test_eight_draws_in_ten_lie_within_the_range():
    found = drain_flow_range("simulated")
    drawn = draw_parameters([found], 1000, seed=1)["drain-flow"]
    assert np.mean((drawn >= found.low) & (drawn <= found.high)) == pytest.approx(0.8, abs=0.002)


@pytest.mark.works(of=(drain_flow_range,))
def test_flow_that_nobody_knows_by_the_day_is_refused():
    with pytest.raises(OutOfDomain, match="basis is stated"):
        drain_flow_range("stated")

# SPDX-License-Identifier: Apache-2.0
"""What removes most: the closed best widths, curves over days, and how flat they are."""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.hydraulics.groundwater import buffer_flow_dupuit, buffer_travel_time_mceachran
from tilewater.practices.buffer.choices import (
    best_width_first_order,
    best_width_zero_order,
    curve_of,
)
from tilewater.practices.buffer.choices_by_days import crest_curve, length_curve, width_curve
from tilewater.practices.buffer.removal import best_width_of, site_of
from tilewater.practices.buffer.route import BufferDraw, board_table, buffer_years, day_series

DAY = 86400.0
RANKS = (np.arange(4000) + 0.5) / 4000
MEAN = 20e4 * 0.300 / 365.25
"""Mean flow of 20 ha and 300 mm a year, 164.3 m3 a day."""
EXPONENTIAL = -np.log(1 - RANKS) * MEAN / DAY
"""Days with an exponential flow of that mean."""


@pytest.mark.by_hand(of=(best_width_first_order,))
@pytest.mark.parametrize(
    ("conductivity", "rate", "width"),
    [
        (1.0, 0.1, "5.991"),
        (2.0, 0.1, "8.47"),
        (5.0, 0.1, "13.40"),
        (0.3, 0.1, "3.28"),
        (1.0, 0.05, "8.47"),
    ],
)
def test_best_width_where_flow_always_exceeds(conductivity, rate, width):
    found = best_width_first_order(
        head_fall=1.0,
        conductivity=conductivity / DAY,
        porosity=0.35,
        rate_per_day=rate,
        factor=1.0,
    )
    assert printed(width) == found


@pytest.mark.oracle("scipy.optimize.minimize_scalar", of=(best_width_first_order,))
def test_best_width_is_where_the_product_is_largest():
    def removal(width: float) -> float:
        seconds = buffer_travel_time_mceachran(
            1.8, 0.8, width=width, conductivity=1 / DAY, porosity=0.35, factor=1.0
        )
        return 1 - math.exp(-0.1 * float(seconds) / DAY)

    def less(width: float) -> float:
        flow = buffer_flow_dupuit(1.8, 0.8, width=width, length=300.0, conductivity=1.0)
        return -float(flow) * removal(width)

    found = minimize_scalar(less, bounds=(1.0, 30.0), method="bounded").x
    best = best_width_first_order(
        head_fall=1.0, conductivity=1 / DAY, porosity=0.35, rate_per_day=0.1, factor=1.0
    )
    assert best == pytest.approx(found, rel=1e-4)
    assert printed(".7153") == removal(best)


@pytest.mark.by_hand(of=(best_width_zero_order,))
@pytest.mark.parametrize(("rate", "width"), [(0.02, "22.36"), (0.04, "15.81"), (0.10, "10.0")])
def test_best_width_where_nitrate_just_runs_out(rate, width):
    assert printed(width) == best_width_zero_order(
        head_fall=1.0, conductivity=1 / DAY, nitrate_mg_per_l=10.0, rate_g_per_m3_day=rate
    )


CAPACITY = [(4.0, "97.5", ".447"), (6.0, "65.0", ".327"), (7.0, "55.7", ".288")]
"""Width, m; capacity of 300 m at heads of 1.8 and 0.8 m, m3 a day; share of the water by hand."""
BARRIER, CREST = 100.0, 101.8
WIDE = board_set_sharp_francis(CREST, BARRIER, crest_width=1e7)
"""Boards so wide that no head stands on them."""
NO_STORE = buffer_years(
    BufferDraw(300.0, 9.1, BARRIER, 1 / DAY, 0.35, 0.0, tested_at=20.0, rate_per_day=0.1, q10=1.0)
)


def days_of(flows: Sequence[float]) -> dict[str, Any]:
    """Days of these flows, all of one whole year, with the ditch 0.8 m over the barrier."""
    flow = np.array(flows)
    full = np.ones(flow.size)
    series = day_series(
        inflow=flow,
        nitrate_mg_per_l=10.0 * full,
        temperature=20.0 * full,
        stage=(BARRIER + 0.8) * full,
        setting=np.zeros(flow.size, dtype=np.int64),
    )
    return {
        "series": series,
        "year": np.zeros(flow.size, dtype=np.int64),
        "is_whole": np.array([True]),
        "buffer": NO_STORE,
        "boards": board_table((WIDE, None)),
    }


@pytest.mark.by_hand(of=(width_curve,))
@pytest.mark.parametrize("row", CAPACITY)
def test_without_storage_a_width_takes_what_exponential_flows_leave_under_its_capacity(
    row: tuple[float, str, str],
) -> None:
    """1 - exp(-c / mean), c = 300 x 2.6 / (2 W) m3 a day."""
    width, capacity, treated = row
    assert printed(capacity) == 300 * 2.6 / (2 * width)

    curve = width_curve(**days_of(EXPONENTIAL), width=9.1, widest=width)

    by_hand = 1 - math.exp(-(300 * 2.6 / (2 * width)) / MEAN)
    assert float(treated) == pytest.approx(by_hand, abs=1e-3)
    assert curve.treated_share[-1] == pytest.approx(by_hand, abs=2e-3)
    assert curve.values[-1] == width


@pytest.mark.law(of=(width_curve,))
def test_a_narrow_strip_takes_more_water_and_the_best_lies_inside() -> None:
    curve = width_curve(**days_of(EXPONENTIAL), width=9.1, widest=30.0)

    assert np.all(np.diff(curve.treated_share) < 0)
    removal = curve.removed_share / curve.treated_share
    assert np.all(np.diff(removal) > 0)
    assert curve.values[0] < curve.flat_low < curve.best < curve.flat_high < curve.values[-1]


@pytest.mark.law(of=(width_curve, best_width_of, site_of))
def test_where_flow_always_exceeds_the_best_width_is_the_closed_one() -> None:
    """By the exact travel time in place of the linear one with its factor, which are 5 % apart."""
    flood = days_of(np.full(2000, 5.0))
    curve = width_curve(**flood, width=9.1, widest=14.0)
    site = site_of(300.0, 9.1, 1.8, 0.8, 1 / DAY, 0.35, 0.1, 0.0)

    assert curve.best == pytest.approx(best_width_of(replace(site, factor=1.05)), abs=0.6)


@pytest.mark.law(of=(length_curve,))
def test_a_longer_line_takes_more_water_and_holds_it_as_long() -> None:
    curve = length_curve(**days_of(EXPONENTIAL), length=300.0, longest_line=600.0)

    assert np.all(np.diff(curve.treated_share) > 0)
    assert np.all(np.diff(curve.removed_share) > 0)
    assert curve.best == curve.flat_high == 600.0
    own = width_curve(**days_of(EXPONENTIAL), width=9.1, widest=9.1)
    assert curve.removed_share[11] == pytest.approx(own.removed_share[-1])


@pytest.mark.law(of=(crest_curve,))
def test_a_higher_crest_takes_more_water_and_holds_it_less_long() -> None:
    curve = crest_curve(
        **days_of(EXPONENTIAL),
        board_heights=(0.2, 0.15),
        seal_gap=0.0,
        highest=102.5,
        length=300.0,
        conductivity=1 / DAY,
        wetted_perimeter=1e9,
    )

    assert curve.values[-1] == pytest.approx(102.5)
    above = curve.values > BARRIER + 0.8
    assert np.all(np.diff(curve.treated_share[above]) > 0)
    assert np.all(np.diff(curve.removed_share[above] / curve.treated_share[above]) < 1e-9)
    assert np.all(curve.treated_share[~above] < 1e-6)


@pytest.mark.by_hand(of=(curve_of,))
def test_a_best_is_flat_where_a_twentieth_is_lost() -> None:
    values = np.array([1.0, 2.0, 3.0, 4.0, 5.0])
    removed = np.array([0.90, 0.951, 1.00, 0.96, 0.94])

    curve = curve_of("width", values, values, removed)

    assert (curve.flat_low, curve.best, curve.flat_high) == (2.0, 3.0, 4.0)


@pytest.mark.works(of=(curve_of,))
def test_a_curve_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfDomain, match="At least one is tried"):
        curve_of("crest", np.array([]), np.array([]), np.array([]))

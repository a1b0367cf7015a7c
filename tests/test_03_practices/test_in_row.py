# SPDX-License-Identifier: Apache-2.0
"""A bed and then a buffer on one main: what each takes out of the same water."""

import numpy as np
import pytest

from tests.test_03_practices.test_buffer_route import buffer
from tests.test_03_practices.test_route import bed, series
from tests.test_03_practices.test_split import table
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed.route import route_by_year, route_days
from tilewater.practices.bed.year_sums import INFLOW, LOAD, REMOVED, THROUGH
from tilewater.practices.buffer.route import board_table, route_buffer_by_year
from tilewater.practices.in_row import route_row_by_year, series_after_bed

BARRIER, CREST = 358.9, 361.0
BOARDS = board_table((board_set_sharp_francis(CREST, BARRIER, crest_width=0.35), None))
BEDS = (bed(), bed(nitrate_factor=1.3))
BUFFERS = (
    buffer(barrier=BARRIER),
    buffer(barrier=BARRIER, rate_per_day=0.02, nitrate_factor=0.7),
)


def year() -> np.ndarray:
    return np.arange(series().inflow.size) // 365


def row(beds=BEDS, buffers=BUFFERS, count: float = 2.0) -> np.ndarray:
    return route_row_by_year(series(), year(), beds, table("design"), buffers, BOARDS, count)


@pytest.mark.by_hand(of=(series_after_bed,))
def test_two_waters_meet_below_the_bed():
    run = route_days(series(), bed(nitrate_factor=1.3), table("design"))
    below = series_after_bed(series(), run, 1.3)
    assert np.array_equal(below.inflow, series().inflow)
    load = below.nitrate * series().inflow * 86.4
    came = 1.3 * series().nitrate * series().inflow * 86.4
    assert np.allclose(load, came - run.removed_kg, atol=1e-9)
    still = series().inflow == 0.0
    assert np.allclose(below.nitrate[still], 1.3 * series().nitrate[still])


@pytest.mark.law(of=(route_row_by_year,))
def test_a_row_removes_more_than_its_bed_and_less_than_both_alone():
    found = row()
    first = route_by_year(series(), year(), BEDS, table("design"))
    # Both alone get the nitrate of the bed's draw.
    same = [b._replace(nitrate_factor=a.nitrate_factor) for a, b in zip(BEDS, BUFFERS, strict=True)]
    second = route_buffer_by_year(series(), year(), same, BOARDS)
    assert np.allclose(found[..., INFLOW], first[..., INFLOW])
    assert np.allclose(found[..., LOAD], first[..., LOAD])
    assert np.all(found[..., REMOVED] > first[..., REMOVED])
    assert np.all(found[..., REMOVED] < first[..., REMOVED] + second[..., REMOVED])
    assert np.all(found[..., REMOVED] < found[..., LOAD])
    assert np.all(found[..., THROUGH] >= first[..., THROUGH] - 1e-9)
    assert np.all(found[..., THROUGH] <= found[..., INFLOW] + 1e-9)


@pytest.mark.law(of=(route_row_by_year,))
def test_a_buffer_that_takes_nothing_leaves_the_bed_alone():
    slow = tuple(b._replace(rate_mg_per_l_day=0.0) for b in BUFFERS)
    first = route_by_year(series(), year(), BEDS, table("design"))
    assert np.allclose(row(buffers=slow)[..., REMOVED], first[..., REMOVED])


@pytest.mark.law(of=(route_row_by_year,))
def test_a_bed_that_takes_nothing_leaves_the_buffer_alone():
    slow = tuple(b._replace(rate_g_per_m3_day=0.0) for b in BEDS)
    same = [b._replace(nitrate_factor=a.nitrate_factor) for a, b in zip(BEDS, BUFFERS, strict=True)]
    second = route_buffer_by_year(series(), year(), same, BOARDS)
    assert np.allclose(row(beds=slow)[..., REMOVED], second[..., REMOVED])


@pytest.mark.law(of=(route_row_by_year,))
def test_fewer_draws_are_the_first_of_all():
    assert np.array_equal(row(count=1.0), row()[:1])
    assert np.array_equal(row(count=9.0), row())

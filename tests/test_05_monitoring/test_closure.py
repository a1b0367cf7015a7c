# SPDX-License-Identifier: Apache-2.0
"""Water and loads that add up, or do not, and what is cut off a difference."""

import numpy as np
import pytest

from tests.digits import printed
from tilewater.basis.errors import NoSolution
from tilewater.monitoring.closure import (
    closure_error_of,
    closure_error_of_range,
)
from tilewater.monitoring.series import Series
from tilewater.monitoring.stage_flow import flow_as_measured
from tilewater.monitoring.water_record import gap_error_of_volume, volume_of, water_record

HOUR = 3600.0


def flow(name, values):
    values = np.asarray(values, float)
    return flow_as_measured(Series(name, HOUR * np.arange(values.size), values))


@pytest.mark.by_hand(of=(closure_error_of))
def test_parts_of_3098_8_against_2830_0_do_not_close_by_9_5_percent():
    assert printed("9.5") == 100.0 * closure_error_of(2830.0, 669.0, 2429.8)


@pytest.mark.practice(of=(closure_error_of_range,))
def test_within_five_percent_nothing_is_said():
    assert closure_error_of_range(100.0, 60.0, 44.9) == ()
    (found,) = closure_error_of_range(100.0, 60.0, 30.0)
    assert found.message == (
        "What went through and past the practice adds up to 10.0% less than came by the main "
        "(90 against 100). A record closes within 5%. Look at the zero of each logger, at flows "
        "that were cut off, and at the ratings."
    )


@pytest.mark.by_hand(of=(water_record,))
def test_what_is_cut_off_a_difference_is_counted():
    record = water_record(
        {"total": flow("total", [4.0, 4.0, 4.0]), "bypass": flow("bypass", [1.0, 5.0, 2.0])},
        start_s=0.0,
        end_s=3 * HOUR,
    )
    assert list(record.treated.flow) == [3.0, 0.0, 2.0]
    assert record.treated.cut_m3 == (5.0 - 4.0) * HOUR


@pytest.mark.law(of=(water_record, volume_of))
def test_short_gaps_are_bridged_and_long_ones_left_out():
    values = np.full(24 * 30, 2.0)
    values[5:9] = np.nan
    values[100 : 100 + 24 * 12] = np.nan
    record = water_record({"treated": flow("treated", values)}, start_s=0.0, end_s=1e9)
    assert list(np.flatnonzero(record.treated.filled)) == [5, 6, 7, 8]
    assert np.isnan(record.treated.flow).sum() == 24 * 12
    assert volume_of(record.treated.flow, record.step_s) == 2.0 * HOUR * (24 * 30 - 24 * 12)
    assert gap_error_of_volume(record.treated, record.step_s) == 0.0  # steady flow is bridged well


@pytest.mark.law(of=(gap_error_of_volume,))
def test_gap_in_a_flashy_flow_is_less_sure_than_in_a_calm_one():
    errors = []
    for swing in (0.1, 0.9):
        values = 1.0 + swing * np.sin(np.arange(2000) / 5.0)
        values[700:720] = np.nan
        record = water_record({"treated": flow("treated", values)}, start_s=0.0, end_s=1e9)
        errors.append(gap_error_of_volume(record.treated, record.step_s))
    assert errors[1] > 3.0 * errors[0] > 0.0


@pytest.mark.works(of=(water_record,))
def test_bypass_alone_is_no_record():
    with pytest.raises(NoSolution) as told:
        water_record({"bypass": flow("bypass", [1.0, 1.0])}, start_s=0.0, end_s=1e9)
    assert str(told.value) == (
        "The period has readings of bypass. Loads need the flow through the practice, or the total "
        "and the bypass. Check the period, and what each logger measures."
    )

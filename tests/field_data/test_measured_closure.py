# SPDX-License-Identifier: Apache-2.0
"""The buffer of 2022: treated is what was left of the inflow, cut off below zero, and it shows.

Repository gjohnson-isu/abe516-project, commit dce5d5a4.
"""

import numpy as np
import pytest

from tests.digits import printed
from tilewater.monitoring.closure import closure_error_of, closure_error_of_range
from tilewater.monitoring.series import DAY, Series
from tilewater.monitoring.stage_flow import flow_as_measured
from tilewater.monitoring.submergence import flat_tops
from tilewater.monitoring.water_record import volume_of, water_record
from tools.measured_buffers import days_2022

GPM = 231 * 0.0254**3 / 60


def in_gpm_days(volume_m3):
    """A volume as the record counts it."""
    return volume_m3 / (GPM * DAY)


@pytest.mark.by_hand(of=(closure_error_of, closure_error_of_range, water_record))
def test_parts_of_2022_are_9_5_percent_more_than_came(field_data):
    _, came, past, treated = days_2022(field_data)
    time = DAY * (np.arange(came.size) + 0.5)
    flows = {
        name: flow_as_measured(Series(name, time, np.asarray(each) * GPM))
        for name, each in (("total", came), ("bypass", past), ("treated", treated))
    }
    water = water_record(flows, start_s=0.0, end_s=float(time[-1]))
    total, through, by = (
        in_gpm_days(volume_of(way.flow, water.step_s))
        for way in (water.total, water.treated, water.bypass)
    )
    assert printed("2830.0") == total
    assert printed("669.0") == through
    assert printed("2429.8") == by
    assert printed("9.5") == 100.0 * closure_error_of(total, through, by)
    (found,) = closure_error_of_range(total, through, by)
    assert "adds up to 9.5% more than came by the main" in found.message


@pytest.mark.by_hand(of=(water_record,))
def test_difference_of_2022_cut_off_at_zero_is_found_as_such(field_data):
    _, came, past, _ = days_2022(field_data)
    time = DAY * (np.arange(came.size) + 0.5)
    flows = {
        "total": flow_as_measured(Series("total", time, np.asarray(came) * GPM)),
        "bypass": flow_as_measured(Series("bypass", time, np.asarray(past) * GPM)),
    }
    water = water_record(flows, start_s=0.0, end_s=float(time[-1]))
    by_hand = np.sum(np.maximum(np.asarray(past) - np.asarray(came), 0.0))
    assert in_gpm_days(water.treated.cut_m3) == pytest.approx(by_hand)
    rest = np.sum(np.maximum(np.asarray(came) - np.asarray(past), 0.0))
    # By days 651; the record, cut off within each day, has 669.
    assert in_gpm_days(volume_of(water.treated.flow, water.step_s)) == pytest.approx(rest)
    assert not water.treated.measured


@pytest.mark.works(of=(flat_tops,))
def test_no_day_of_2022_stands_flat_at_its_top(field_data):
    _, came, _, _ = days_2022(field_data)
    time = DAY * np.arange(came.size)
    assert not flat_tops(Series("total", time, np.asarray(came) * GPM)).any()

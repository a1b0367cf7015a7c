# SPDX-License-Identifier: Apache-2.0
"""Stage to flow: the structure's own rating, crests over time, and what cannot be converted."""

import numpy as np
import pytest

from tests.digits import printed
from tests.jobs import CFS, FOOT
from tilewater.hydraulics.board_sets import (
    board_set_flow,
    board_set_sharp_francis,
    board_set_sharp_kindsvater_carter,
    board_set_v_notch,
)
from tilewater.hydraulics.rectangular_weirs import weir_flow_rectangular_francis
from tilewater.monitoring.passable import flow_passable, flow_passable_range
from tilewater.monitoring.series import FROZEN, SUSPECT, Series
from tilewater.monitoring.stage_flow import (
    BoardSetting,
    flow_as_measured,
    free_flow,
    stage_flow,
    stage_flow_range,
)
from tilewater.monitoring.submergence import flat_tops, is_submerged

CREST, SILL = 360.5, 360.0
BOARDS = board_set_sharp_francis(CREST, SILL, crest_width=1.17 * FOOT)
QUARTER = 900.0


def level(values, flags=None):
    values = np.asarray(values, float)
    time = QUARTER * np.arange(values.size)
    flag = np.zeros(values.size, np.uint8) if flags is None else np.asarray(flags, np.uint8)
    return Series("outlet", time, values, flag)


@pytest.mark.by_hand(of=(free_flow,))
def test_board_of_1_17_feet_passes_what_was_worked_by_hand():
    for head, flow in (("0.05", "0.044"), ("0.12", "0.162"), ("0.25", "0.487"), ("0.40", "0.986")):
        passed = free_flow(np.array([CREST + float(head) * FOOT]), BOARDS)[0]
        assert printed(flow) == passed / CFS
        by_hand = 3.33 * 1.17 * float(head) ** 1.5
        assert passed / CFS == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.by_hand(of=(weir_flow_rectangular_francis,))
def test_end_contractions_take_a_twentieth_at_a_quarter_foot():
    for head, flow in ((0.25, "0.466"), (0.40, "0.918")):
        passed = weir_flow_rectangular_francis(head * FOOT, crest_width=1.17 * FOOT, contractions=2)
        assert printed(flow) == passed / CFS


@pytest.mark.by_hand(of=(free_flow,))
def test_an_offset_of_0_02_feet_is_26_percent_of_a_small_flow():
    true, read = free_flow(np.array([CREST + 0.12 * FOOT, CREST + 0.14 * FOOT]), BOARDS) / CFS
    assert printed("0.162") == true
    assert printed("0.204") == read  # 3.33 * 1.17 * 0.14^1.5
    assert printed("26") == 100.0 * (read / true - 1.0)


@pytest.mark.law(of=(free_flow,))
@pytest.mark.parametrize(
    "boards",
    [
        BOARDS,
        board_set_sharp_francis(CREST, SILL, crest_width=0.36, leak=0.001),
        board_set_sharp_kindsvater_carter(
            CREST, SILL, crest_width=0.36, channel_width=0.4, crest_height=0.5
        ),
        board_set_v_notch(CREST, SILL, notch_angle=0.785, notch_depth=0.15, crest_width=0.36),
    ],
)
def test_many_levels_at_once_pass_what_each_passes_alone(boards):
    levels = np.linspace(SILL - 0.1, CREST + 0.4, 37)
    alone = [board_set_flow(float(each), SILL - 1.0, boards) for each in levels]
    assert free_flow(levels, boards) == pytest.approx(alone, abs=1e-9)


@pytest.mark.law(of=(stage_flow,))
def test_crest_is_the_one_that_stood():
    readings = level([CREST + 0.1] * 8)
    raised = BOARDS._replace(crest=CREST + 0.05)
    settings = (BoardSetting(-np.inf, BOARDS), BoardSetting(4 * QUARTER, raised))
    record = stage_flow(readings, settings)
    low, high = record.flow.value[:4], record.flow.value[4:]
    assert np.all(low == low[0])
    assert high[0] == pytest.approx(low[0] * 0.5**1.5)


@pytest.mark.law(of=(stage_flow, stage_flow_range, is_submerged))
def test_submerged_readings_are_a_gap_and_told():
    readings = level([CREST + 0.2, CREST + 0.2, CREST - 0.1, CREST + 0.1])
    below = level([CREST - 0.5, CREST + 0.01, CREST - 0.2, CREST - 0.2])
    settings = (BoardSetting(-np.inf, BOARDS),)
    record = stage_flow(readings, settings, below)
    assert list(record.submerged) == [False, True, False, False]
    assert np.isnan(record.flow.value[1])
    assert record.flow.value[2] == 0.0
    (found,) = stage_flow_range(readings, settings, below)
    assert found.message == (
        "25.0% of the readings at outlet have water below the boards above their crest. They are "
        "not converted and count as gaps. Read the flow there another way, or raise the crest."
    )


@pytest.mark.practice(of=(flat_tops, stage_flow))
def test_flat_top_is_a_lower_bound():
    rise = [CREST + 0.01 * k for k in (1, 5, 12, 20, 20, 20, 20, 14, 6)]
    record = stage_flow(level(rise), (BoardSetting(-np.inf, BOARDS),))
    assert list(np.flatnonzero(record.at_least)) == [3, 4, 5, 6]
    assert not flat_tops(level([CREST] * 9)).any()


@pytest.mark.works(of=(stage_flow,))
def test_ice_and_doubt_are_not_converted():
    flags = [0, FROZEN, SUSPECT, SUSPECT]
    readings = level([CREST + 0.1, CREST + 0.1, CREST + 0.1, CREST - 0.1], flags)
    flow = stage_flow(readings, (BoardSetting(-np.inf, BOARDS),)).flow.value
    assert list(np.isnan(flow)) == [False, True, True, False]


@pytest.mark.works(of=(flow_as_measured,))
def test_a_flow_that_was_logged_stays_as_it_is():
    flow = Series("flow", np.array([0.0, 1.0, 2.0]), np.array([0.1, 0.2, np.nan]))
    record = flow_as_measured(flow)
    assert record.flow is flow
    assert not record.per_metre.any()


@pytest.mark.practice(of=(flow_passable, flow_passable_range))
def test_flow_that_no_chips_pass_is_not_believed():
    outlet = level([CREST + 0.01, CREST + 0.15])
    inlet = level([CREST + 0.10, CREST + 0.16])
    record = stage_flow(outlet, (BoardSetting(-np.inf, BOARDS),))
    bed = {
        "conductivity": 0.05,
        "floor": SILL,
        "length": 30.0,
        "width": 9.0,
        "side_slope": 1.0,
        "media_depth": 1.0,
    }
    kept = flow_passable(record, inlet, outlet, **bed).flow.value
    # At the second reading 3 K A dh / L is 3 * 0.05 * (9 * 0.655 + 0.655^2) * 0.01 / 30 = 0.0003.
    assert kept[0] == record.flow.value[0]
    assert np.isnan(kept[1])
    (found,) = flow_passable_range(record, inlet, outlet, **bed)
    assert found.code == "monitor-not-passable"

# SPDX-License-Identifier: Apache-2.0
"""The trend of what chips let through, and whether a time was like other years."""

import numpy as np
import pytest
from scipy.stats import theilslopes

from tests.digits import printed
from tilewater.basis.errors import NoSolution
from tilewater.hydraulics.media import conductivity_at_temperature
from tilewater.monitoring.conductivity_index import (
    YEAR,
    IndexDays,
    index_of_days,
    trend_theil_sen,
    trend_theil_sen_range,
)
from tilewater.monitoring.series import DAY, Series
from tilewater.monitoring.wet_volume import mean_wet_volume
from tilewater.monitoring.year_kind import (
    is_representative,
    is_representative_range,
    kind_of_year,
)


def wandering(per_year, years=3.0, scatter=0.1, seed=1):
    """Days of an index that falls by a share a year."""
    random = np.random.default_rng(seed)
    time = np.sort(random.uniform(0.0, years, 180)) * YEAR
    logs = per_year * time / YEAR + random.normal(0.0, scatter, time.size)
    return IndexDays(time, 0.04 * np.exp(logs))


@pytest.mark.oracle("scipy 1.16 theilslopes", of=(trend_theil_sen,))
def test_trend_is_that_of_scipy_where_days_tell_by_themselves():
    days = wandering(-0.09)
    years = (days.time_s - days.time_s[0]) / YEAR
    theirs = theilslopes(np.log(days.index), years, alpha=0.8)
    ours = trend_theil_sen(days)
    assert ours.per_year == pytest.approx(theirs.slope, rel=1e-9)
    assert ours.low <= theirs.low_slope + 0.003
    assert ours.high >= theirs.high_slope - 0.003


@pytest.mark.law(of=(trend_theil_sen,))
def test_trend_is_found_within_its_range():
    inside = 0
    for seed in range(30):
        trend = trend_theil_sen(wandering(-0.09, seed=seed))
        inside += trend.low <= -0.09 <= trend.high
    assert inside >= 20  # of 30 with eight in ten, 18 to 30 in 999 of 1000


@pytest.mark.law(of=(trend_theil_sen,))
def test_days_that_resemble_the_day_before_tell_less():
    random = np.random.default_rng(2)
    time = np.arange(300.0) * DAY * 3
    memory = np.zeros(300)
    for day in range(1, 300):
        memory[day] = 0.9 * memory[day - 1] + random.normal(0.0, 0.05)
    slow = trend_theil_sen(IndexDays(time, np.exp(memory)))
    mixed = trend_theil_sen(IndexDays(time, np.exp(random.permutation(memory))))
    assert slow.high - slow.low > 2.0 * (mixed.high - mixed.low)


@pytest.mark.works(of=(trend_theil_sen, trend_theil_sen_range))
def test_few_days_and_short_records_are_said():
    with pytest.raises(NoSolution) as told:
        trend_theil_sen(IndexDays(np.arange(9.0) * DAY, np.ones(9)))
    assert str(told.value) == (
        "9 days tell flow and head drop. A trend needs 10 or more. Log the level on both sides of "
        "the bed through the flow season."
    )
    (found,) = trend_theil_sen_range(wandering(0.0, years=0.8))
    assert found.code == "monitor-trend-short"
    assert trend_theil_sen_range(wandering(0.0, years=3.0)) == ()


@pytest.mark.by_hand(of=(index_of_days,))
def test_cold_water_is_not_taken_for_clogging():
    time = 3600.0 * np.arange(48)
    thinner = conductivity_at_temperature(1.0, 8.0)
    flow = np.where(time < DAY, 0.004, 0.004 * thinner)
    warm = np.where(time < DAY, 20.0, 8.0)
    ones = np.ones(48)
    days = index_of_days(time, flow, 0.2 * ones, warm, 8.0 * ones, 30.0)
    assert days.index == pytest.approx([0.004 * 30.0 / (8.0 * 0.2)] * 2)
    assert printed("0.724") == thinner


@pytest.mark.law(of=(index_of_days,))
def test_days_with_hardly_a_drop_tell_nothing():
    time, ones = 3600.0 * np.arange(24), np.ones(24)
    days = index_of_days(time, 0.004 * ones, 0.01 * ones, 10.0 * ones, 8.0 * ones, 30.0)
    assert days.time_s.size == 0


@pytest.mark.by_hand(of=(mean_wet_volume,))
def test_wet_volume_is_a_trapezoid_at_the_mean_of_both_depths():
    time = np.array([0.0, DAY])
    inlet, outlet = (
        Series("in", time, np.array([361.0, 361.0])),
        Series("out", time, np.array([360.6, 360.6])),
    )
    wet = mean_wet_volume(inlet, outlet, 360.0, 30.0, 9.0, 1.0, 1.2)
    assert wet == pytest.approx(30.0 * (9.0 * 0.8 + 0.8**2))


@pytest.mark.by_hand(of=(kind_of_year,))
def test_rank_among_other_years():
    years = np.arange(30.0)
    names = ("less", "as usual", "more")
    assert kind_of_year(1.0, years, names).words == "less"  # 1.5 of 30 below
    assert kind_of_year(1.0, years, names).rank == (1 + 0.5) / 30
    assert kind_of_year(14.5, years, names).words == "as usual"
    assert kind_of_year(29.0, years, names).words == "more"
    assert kind_of_year(29.0, years, names).usual == 14.5


@pytest.mark.practice(of=(is_representative, is_representative_range))
def test_a_time_with_few_days_of_flow_has_no_percent():
    assert is_representative(30.0, 100.0)
    assert not is_representative(29.0, 100.0)
    (found,) = is_representative_range(29.0, 100.0)
    assert found.message == (
        "Water flowed on 29 days; 100 are usual in these months. Below 30% of the usual days the "
        "time is not representative: loads are told, no percent is a headline. Measure another "
        "year."
    )

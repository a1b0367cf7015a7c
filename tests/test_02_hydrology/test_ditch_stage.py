# SPDX-License-Identifier: Apache-2.0
"""Ditch level by day and drain flow, however it is known; share of water above a crest."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.channel_sections import channel_section_trapezoid
from tilewater.hydraulics.channels import channel_normal_level_manning
from tilewater.hydrology.ditch_record import (
    season_by_years,
    season_days,
    season_flow,
    season_high,
    season_ordinary,
)
from tilewater.hydrology.ditch_section import (
    largest_misfit,
    stage_section_doubt,
    stage_section_high,
    stage_section_low,
)
from tilewater.hydrology.ditch_shares import (
    days_in_common,
    season_share_above,
    stage_of_days,
    table_on_days,
    volume_share_above,
    year_share_above,
)
from tilewater.hydrology.ditch_stage import (
    SeasonValue,
    day_of_year,
    is_in_season,
    stage_by_flow,
    stage_by_flow_range,
    stage_on_day,
    stage_rule_by_flow,
    stage_rule_by_season,
    year_table,
)

WINTER, SPRING, REST = ("12-01", "03-19"), ("03-20", "06-14"), ("06-15", "11-30")
RULE = stage_rule_by_flow(((0.0, 359.5), (0.01, 359.9), (0.03, 360.1)))
DITCH = channel_section_trapezoid(359.3, 1.5, 1.5)
TWO_YEARS = np.arange("2023-01-01", "2025-01-01", dtype="datetime64[D]")

flows = arrays(np.float64, 40, elements=st.floats(0.001, 5.0))
levels = arrays(np.float64, 40, elements=st.floats(358.0, 362.0))


@pytest.mark.law(of=(day_of_year,))
def test_every_day_of_every_year_has_the_number_of_the_leap_year() -> None:
    days = np.arange("1898-01-01", "2101-01-01", dtype="datetime64[D]")
    leap = {
        str(day)[5:]: i + 1
        for i, day in enumerate(np.arange("2024-01-01", "2025-01-01", dtype="datetime64[D]"))
    }
    assert list(day_of_year(days)) == [leap[str(day)[5:]] for day in days]


@pytest.mark.by_hand(of=(is_in_season, year_table))
def test_a_season_goes_over_the_turn_of_the_year() -> None:
    winter = is_in_season(*WINTER)
    assert winter.sum() == 31 + 31 + 29 + 19
    assert winter[0]
    assert winter[-1]
    assert not winter[200]
    table = year_table(winter=SeasonValue(*WINTER, 1.0), spring=SeasonValue(*SPRING, 2.0))
    assert table[59] == 1.0  # 29 February
    assert table[79] == 2.0  # 20 March
    assert np.isnan(table[200])


@pytest.mark.by_hand(of=(stage_on_day, stage_by_flow))
def test_level_lies_on_straight_lines_and_flat_beyond_the_ends() -> None:
    assert stage_by_flow(0.005, RULE) == pytest.approx(359.5 + 0.4 / 2)
    assert stage_by_flow(0.02, RULE) == pytest.approx(359.9 + 0.2 / 2)
    assert stage_by_flow(0.05, RULE) == 360.1
    seasons = stage_rule_by_season(year_table(spring=SeasonValue(*SPRING, 359.7)))
    assert seasons.stage_on(100, 0.02) == 359.7
    assert np.isnan(seasons.stage_on(300, 0.02))


@pytest.mark.law(of=(stage_on_day, stage_by_flow))
@given(st.floats(-0.01, 0.1), st.floats(-0.01, 0.1), st.integers(1, 366))
def test_rule_never_falls_and_both_forms_agree(one, other, day) -> None:
    low, high = sorted((one, other))
    assert stage_on_day(day, low, RULE) <= stage_on_day(day, high, RULE) + 1e-12
    assert stage_on_day(day, low, RULE) == pytest.approx(stage_by_flow(low, RULE), abs=1e-12)


@pytest.mark.works(of=(stage_by_flow_range, stage_rule_by_flow))
def test_beyond_the_ends_of_a_rule_is_said_and_a_falling_rule_refused() -> None:
    assert stage_by_flow_range(0.01, RULE) == ()
    (above,) = stage_by_flow_range(np.array([0.01, 0.05]), RULE)
    assert above.code == "ditch-rule-above"
    assert above.message == (
        "The drain flow of 1.77 cfs is above the last pair of the rule, 1.06 cfs; the ditch is "
        "held at 1181.43 ft there and may stand higher. Read the ditch at a larger flow and add a "
        "pair."
    )
    (below,) = stage_by_flow_range(0.001, stage_rule_by_flow(((0.01, 1.0), (0.02, 2.0))))
    assert below.code == "ditch-rule-below"
    with pytest.raises(OutOfDomain, match=r"^level 2 of the rule is 1\.000 m\. It cannot be below"):
        stage_rule_by_flow(((0.0, 2.0), (1.0, 1.0)))
    with pytest.raises(OutOfDomain, match=r"^flow 2 of the rule is 0 m3/s\. It must be above the"):
        stage_rule_by_flow(((0.0, 1.0), (0.0, 2.0)))
    with pytest.raises(OutOfDomain, match=r"^the rule has 1 pairs of drain flow and level\."):
        stage_rule_by_flow(((0.0, 1.0),))


@pytest.mark.by_hand(of=(season_days, season_ordinary, season_high, season_by_years, season_flow))
def test_seasons_of_a_series_by_their_days() -> None:
    stage = np.where(TWO_YEARS < np.datetime64("2024-01-01"), 1.0, 3.0)
    stage[TWO_YEARS == np.datetime64("2024-04-02")] = 9.0
    assert season_days(TWO_YEARS, *SPRING) == 2 * 87
    assert season_ordinary(stage, TWO_YEARS, *SPRING) == 2.0  # as many days of 1 as of 3
    assert season_high(stage, TWO_YEARS, *SPRING) == 9.0
    assert season_high(stage, TWO_YEARS, *SPRING, 0.99) == 3.0
    assert season_by_years(stage, TWO_YEARS, *SPRING) == (1.0, 3.0)
    # winters: 79 of 110 days of one that begins before, a whole one, 31 days of a last
    assert season_by_years(stage, TWO_YEARS, *WINTER) == (1.0, 3.0)
    assert season_flow(stage, TWO_YEARS, 10.0, *SPRING, 1.0) == 90.0
    with pytest.raises(OutOfDomain, match=r"^The series has no day from 12-01 to 03-19\."):
        season_ordinary(stage[150:160], TWO_YEARS[150:160], *WINTER)


@pytest.mark.by_hand(of=(volume_share_above, season_share_above, year_share_above, days_in_common))
def test_share_of_volume_counts_days_with_both_values() -> None:
    day = np.array(["2024-03-18", "2024-03-19", "2024-03-20", "2024-03-21", "2024-03-22"], "M8[D]")
    number = day_of_year(day)
    flow = np.array([1.0, 2.0, 3.0, 4.0, 0.0])
    logged = np.array(["2024-03-19", "2024-03-20", "2024-03-21", "2024-03-22"], "M8[D]")
    stage = stage_of_days(day, logged, np.array([5.0, 7.0, 5.0, 9.0]))
    assert np.isnan(stage[0])
    assert volume_share_above(flow, stage, 6.0) == 3 / (2 + 3 + 4)
    assert volume_share_above(flow, stage, 7.0) == 0.0  # at the crest is not above it
    assert season_share_above(flow, number, stage, 6.0, *SPRING) == 3 / (3 + 4)
    assert season_share_above(flow, number, 6.5, 6.0, *SPRING) == 1.0
    assert days_in_common(flow, number, stage, *SPRING) == 2
    assert days_in_common(flow, number, 6.5, *WINTER) == 2
    crest = year_table(winter=SeasonValue(*WINTER, 4.0), spring=SeasonValue(*SPRING, 6.0))
    assert year_share_above(flow, number, stage, crest) == (2 + 3) / (2 + 3 + 4)
    assert list(table_on_days(day, crest)) == [4.0, 4.0, 6.0, 6.0, 6.0]


@pytest.mark.works(of=(volume_share_above,))
def test_a_share_of_no_water_is_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"^No water flows on the days on which the level of the"):
        volume_share_above(np.array([1.0, 0.0]), np.array([np.nan, 3.0]), 1.0)
    with pytest.raises(OutOfDomain, match=r"^flow is -1 m3/s\. It cannot be negative\."):
        volume_share_above(np.array([1.0, -1.0]), np.array([1.0, 3.0]), 1.0)


@pytest.mark.law(of=(volume_share_above,))
@given(flows, levels, st.floats(357.0, 363.0), st.floats(0.0, 2.0))
def test_share_lies_between_none_and_all_and_falls_with_the_crest(flow, stage, crest, up) -> None:
    share = volume_share_above(flow, stage, crest)
    assert 0.0 <= volume_share_above(flow, stage, crest + up) <= share <= 1.0
    assert volume_share_above(flow, stage, 357.0) == 1.0
    assert volume_share_above(flow, stage, 363.0) == 0.0
    assert volume_share_above(3 * flow, stage, crest) == pytest.approx(share, abs=1e-12)
    assert volume_share_above(flow, stage + 10, crest + 10) == pytest.approx(share, abs=1e-12)


@pytest.mark.law(of=(year_share_above, season_share_above))
@given(arrays(np.float64, TWO_YEARS.size, elements=st.floats(0.0, 5.0)), st.floats(0.5, 4.5))
def test_shares_of_the_seasons_add_up_to_that_of_the_year(stage, crest) -> None:
    flow = 1.0 + (TWO_YEARS.astype(int) % 7)
    number = day_of_year(TWO_YEARS)
    parts = [
        season_share_above(flow, number, stage, crest, *season)
        * flow[is_in_season(*season)[number - 1]].sum()
        for season in (WINTER, SPRING, REST)
    ]
    year = year_share_above(flow, number, stage, crest)
    assert sum(parts) / flow.sum() == pytest.approx(year, abs=1e-12)


@pytest.mark.by_hand(of=(stage_section_low, stage_section_high, stage_section_doubt))
def test_the_band_is_the_largest_of_three_doubts() -> None:
    args = (2.0, DITCH, 0.0008, 0.035)

    def level(flow: float, n: float) -> float:
        return channel_normal_level_manning(flow, DITCH, 0.0008, n=n)

    wide = {"n_high": 0.060, "flow_error": 0.1, "misfit": 0.02}
    assert stage_section_high(*args, **wide) == level(2.0, 0.060)
    assert stage_section_doubt(*args, **wide) == "range of n"
    assert stage_section_high(*args, flow_error=0.4) == level(2.0 * 1.4, 0.035)
    assert stage_section_doubt(*args, flow_error=0.4) == "error of the flow"
    assert stage_section_low(*args, flow_error=0.4) == level(2.0 / 1.4, 0.035)
    assert stage_section_low(*args, n_low=0.025) == level(2.0, 0.025)
    assert stage_section_doubt(*args, misfit=1.0) == "misfit of the marks"
    assert stage_section_low(*args, misfit=9.0) == 359.3  # the bottom
    assert largest_misfit(a=0.1, b=-0.3) == 0.3


@pytest.mark.law(of=(stage_section_low, stage_section_high))
@given(st.floats(0.1, 5.0), st.floats(0.0, 1.5), st.floats(0.0, 0.5), st.floats(1.0, 1.5))
def test_a_band_holds_its_level_and_grows_with_each_doubt(flow, error, misfit, spread) -> None:
    args = (flow, DITCH, 0.0008, 0.035)
    level = channel_normal_level_manning(flow, DITCH, 0.0008, n=0.035)
    low = stage_section_low(*args, n_low=0.035 / spread, flow_error=error, misfit=misfit)
    high = stage_section_high(*args, n_high=0.035 * spread, flow_error=error, misfit=misfit)
    assert DITCH.bottom <= low <= level + 1e-8
    assert level - 1e-8 <= high
    assert stage_section_high(*args, flow_error=error) <= high + 1e-8
    assert stage_section_low(*args, misfit=misfit) >= low - 1e-8

# SPDX-License-Identifier: Apache-2.0
"""Five intervals of a season worked by hand: loads, both percents, and the average that is none."""

import numpy as np
import pytest

from tests.digits import printed
from tests.jobs import CFS, POUND, YARD
from tilewater.basis.errors import OutOfDomain
from tilewater.monitoring.concentration import concentration_period, nitrate_of
from tilewater.monitoring.intervals import average_of_percents, intervals_of
from tilewater.monitoring.load_ways import load_into, load_out_of, load_past
from tilewater.monitoring.loads import (
    bed_percent_of,
    flow_weighted_mean_of,
    load_difference,
    load_of,
    site_percent_of,
    treated_share_of,
)
from tilewater.monitoring.removal_rate import removal_rate_of
from tilewater.monitoring.series import DAY, Series, grab_samples
from tilewater.monitoring.stage_flow import flow_as_measured
from tilewater.monitoring.water_record import volume_of, water_record

DAYS = (14, 20, 31, 20, 25)
TREATED_CFS = (0.110, 0.139, 0.142, 0.081, 0.022)
BYPASS_CFS = (0.0, 0.092, 0.210, 0.006, 0.0)
CAME = (12.6, 15.1, 16.4, 13.8, 9.7)
LEFT = (7.9, 11.4, 12.6, 5.2, 0.6)
POUNDS_PER_CFS_DAY = CFS * DAY * 1e-3 / POUND
"""Pounds a day of one cfs at one mg/L: 5.3938."""
WET_M3, CHIPS_M3 = 202.5, 258.1


def by_hand():
    """Loads of each interval in pounds: in, past, removed."""
    rows = zip(DAYS, TREATED_CFS, BYPASS_CFS, CAME, LEFT, strict=True)
    return [
        (
            (q + y) * c * d * POUNDS_PER_CFS_DAY,
            y * c * d * POUNDS_PER_CFS_DAY,
            q * (c - left) * d * POUNDS_PER_CFS_DAY,
        )
        for d, q, y, c, left in rows
    ]


@pytest.fixture(scope="module")
def season():
    """The same season as a record of hours, each sample at the end of its interval."""
    hours = np.repeat(np.arange(5), np.array(DAYS) * 24)
    time = 3600.0 * (np.arange(hours.size) + 0.5)
    ends = np.cumsum(DAYS) * DAY
    flows = {
        "treated": flow_as_measured(Series("outlet", time, np.array(TREATED_CFS)[hours] * CFS)),
        "bypass": flow_as_measured(Series("bypass", time, np.array(BYPASS_CFS)[hours] * CFS)),
    }
    water = water_record(flows, start_s=0.0, end_s=float(ends[-1]))
    inlet, outlet = (
        nitrate_of(grab_samples(place, ends, np.array(values)), 0.5)
        for place, values in (("inlet", CAME), ("outlet", LEFT))
    )
    return water, inlet, outlet


@pytest.mark.by_hand(of=(load_of,))
def test_one_cfs_at_one_mg_per_l_carries_5_3938_pounds_a_day():
    one = np.ones(24)
    load = load_of(one * CFS, one, one * 3600.0, one > 0.0)
    assert printed("5.3938") == load / POUND


@pytest.mark.by_hand(of=(load_into, load_past, load_out_of, load_difference))
def test_season_brings_1604_5_pounds_and_286_9_are_removed(season):
    water, inlet, outlet = season
    load_in = load_into(water, inlet, "period")
    past = load_past(water, inlet, "period")
    removed = load_difference(load_in, load_out_of(water, outlet, "period"))
    totals = np.sum(by_hand(), axis=0)
    assert printed("1604.5") == (load_in + past) / POUND
    assert printed("734.7") == past / POUND
    assert printed("286.9") == removed / POUND
    assert np.allclose(totals, [(load_in + past) / POUND, past / POUND, removed / POUND])


@pytest.mark.by_hand(of=(site_percent_of, bed_percent_of))
def test_site_loses_17_9_percent_and_the_bed_33_0():
    whole, past, removed = np.sum(by_hand(), axis=0)
    assert printed("17.9") == site_percent_of(removed, whole - past, past)
    assert printed("33.0") == bed_percent_of(removed, whole - past)


@pytest.mark.by_hand(of=(average_of_percents, intervals_of))
def test_plain_average_of_the_percents_is_48_2_and_is_no_removal(season):
    water, inlet, outlet = season
    edges = np.concatenate(([0.0], np.cumsum(DAYS) * DAY))
    rows = intervals_of(water, inlet, outlet, inlet, edges)
    assert len(rows) == 5
    by_period = [
        100.0 * (c - left) / c for c, left in zip(CAME, LEFT, strict=True)
    ]  # flow is steady within each
    assert printed("48.2") == float(np.mean(by_period))
    assert average_of_percents(rows) > 1.3 * bed_percent_of(
        sum(row.removed_kg for row in rows), sum(row.bed_in_kg for row in rows)
    )


@pytest.mark.by_hand(of=(treated_share_of, volume_of))
def test_season_treats_56_3_percent_of_its_water(season):
    water, _, _ = season
    volumes = [volume_of(way.flow, water.step_s) for way in (water.treated, water.bypass)]
    assert printed("56.3") == 100.0 * treated_share_of(*volumes)


@pytest.mark.by_hand(of=(removal_rate_of,))
def test_rate_is_5_84_on_the_wet_volume_and_4_58_on_all_chips():
    removed = sum(row[2] for row in by_hand()) * POUND
    days = float(sum(DAYS))
    assert printed("5.84") == removal_rate_of(removed, WET_M3, days)
    assert printed("4.58") == removal_rate_of(removed, CHIPS_M3, days)
    assert CHIPS_M3 == pytest.approx(337.6 * YARD**3, rel=1e-3)


@pytest.mark.by_hand(of=(flow_weighted_mean_of,))
def test_flow_weighted_mean_is_load_over_volume():
    assert flow_weighted_mean_of(14.2, 1000.0) == pytest.approx(14.2)


@pytest.mark.law(of=(concentration_period,))
def test_a_sample_stands_for_the_time_before_it(season):
    _, inlet, _ = season
    just_before, just_after = np.array([13.9 * DAY]), np.array([14.1 * DAY])
    assert concentration_period(inlet, just_before) == CAME[0]
    assert concentration_period(inlet, just_after) == CAME[1]


@pytest.mark.law(of=(site_percent_of,))
def test_no_load_has_no_percent():
    with pytest.raises(OutOfDomain, match="load of the site is 0 kg"):
        site_percent_of(0.0, 0.0, 0.0)

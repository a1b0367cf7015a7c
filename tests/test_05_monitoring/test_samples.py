# SPDX-License-Identifier: Apache-2.0
"""Samples made ready, the ways between them, and what a careful reader asks of a record."""

import numpy as np
import pytest

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.monitoring.concentration import (
    concentration_flow_weighted_mean,
    concentration_linear,
    concentration_nearest,
    nitrate_of,
)
from tilewater.monitoring.quality import (
    censored_share,
    duplicates_apart,
    gaps_found,
    lag_found,
    outlet_above_inlet,
    samples_bear,
)
from tilewater.monitoring.removal_rate import flowing_days_of, limited_steps, retention_of
from tilewater.monitoring.series import DAY, Samples, Series, grab_samples
from tilewater.monitoring.stage_flow import flow_as_measured
from tilewater.monitoring.water_record import water_record

NAN = float("nan")


def samples(values, *, twin=None, limit=0.2, kinds=None, starts=None):
    time = DAY * np.arange(1.0, len(values) + 1.0)
    if twin is not None:
        time[-1] = time[twin]
    values = np.asarray(values, float)
    return Samples(
        "outlet",
        time,
        values,
        np.full(values.size, limit),
        np.isnan(values),
        kinds or ("grab",) * values.size,
        time if starts is None else np.asarray(starts, float),
        np.array([-1] * (values.size - 1) + [-1 if twin is None else twin]),
    )


@pytest.mark.by_hand(of=(nitrate_of, censored_share))
def test_below_detection_counts_as_a_share_of_the_limit():
    two = samples([NAN, 3.0])
    for share in (0.0, 0.5, 1.0):
        assert list(nitrate_of(two, share).mg_per_l) == [share * 0.2, 3.0]
    (found,) = censored_share(two)
    assert found.severity == "note"
    (unstated,) = censored_share(samples([NAN, 3.0], limit=NAN))
    assert unstated.severity == "caution"
    assert "1 have no limit stated and count as 0." in unstated.message


@pytest.mark.by_hand(of=(nitrate_of, duplicates_apart))
def test_a_duplicate_is_averaged_with_its_sample():
    three = samples([4.0, 8.0, 5.0], twin=0)
    assert list(nitrate_of(three, 0.5).mg_per_l) == [4.5, 8.0]
    (found,) = duplicates_apart(three)
    assert found.value == pytest.approx(1.0 / 4.5)
    assert duplicates_apart(samples([4.0, 8.0, 4.2], twin=0)) == ()


@pytest.mark.works(of=(nitrate_of,))
def test_no_value_is_no_load():
    nothing = samples([NAN], limit=NAN)
    nothing = Samples(**(vars(nothing) | {"censored": np.array([False])}))
    with pytest.raises(NoSolution, match="No sample of outlet has a value"):
        nitrate_of(nothing, 0.5)


@pytest.mark.by_hand(of=(concentration_linear, concentration_nearest))
def test_between_two_samples():
    two = nitrate_of(samples([4.0, 8.0]), 0.5)
    at = DAY * np.array([0.0, 1.25, 1.75, 9.0])
    assert list(concentration_linear(two, at)) == [4.0, 5.0, 7.0, 8.0]
    assert list(concentration_nearest(two, at)) == [4.0, 4.0, 8.0, 8.0]


@pytest.mark.law(of=(concentration_linear,))
def test_a_composite_is_flat_over_its_time():
    both = samples([4.0, 8.0], kinds=("grab", "composite"), starts=[DAY, 1.5 * DAY])
    ready = nitrate_of(both, 0.5)
    assert list(concentration_linear(ready, DAY * np.array([1.5, 1.8, 2.0]))) == [8.0, 8.0, 8.0]


@pytest.mark.by_hand(of=(concentration_flow_weighted_mean,))
def test_flow_weighs_the_mean():
    two = nitrate_of(samples([4.0, 8.0]), 0.5)
    weighed = concentration_flow_weighted_mean(two, np.array([3.0, 1.0]))
    assert weighed == (4.0 * 3.0 + 8.0 * 1.0) / 4.0
    assert concentration_flow_weighted_mean(two, np.zeros(2)) == 6.0


@pytest.mark.practice(of=(outlet_above_inlet,))
def test_more_nitrate_out_than_in_is_said():
    came, left = (nitrate_of(samples(values), 0.5) for values in ([5.0, 5.0], [4.0, 9.0]))
    (found,) = outlet_above_inlet(came, left, 0.05)
    assert found.value == 1.0
    assert outlet_above_inlet(came, nitrate_of(samples([5.1, 4.0]), 0.5), 0.05) == ()


@pytest.mark.practice(of=(gaps_found, samples_bear))
def test_gaps_and_time_far_from_any_sample_are_said():
    flow = np.ones(24 * 60)
    flow[24 * 10 : 24 * 14] = np.nan
    logged = flow_as_measured(Series("outlet", 3600.0 * np.arange(flow.size), flow))
    water = water_record({"treated": logged}, start_s=0.0, end_s=1e9)
    (gap,) = gaps_found(water)
    assert gap.value == pytest.approx(4 / 60, abs=1e-3)
    (far,) = samples_bear(nitrate_of(samples([5.0, 5.0]), 0.5), water)
    assert far.code == "monitor-far-from-sample"


@pytest.mark.by_hand(of=(flowing_days_of, limited_steps, retention_of))
def test_days_with_flow_and_days_on_which_nitrate_ran_out():
    flow = np.array([0.0, 0.002, 0.002, np.nan])
    assert flowing_days_of(flow, np.full(4, 0.5 * DAY)) == 1.0
    assert list(limited_steps(flow, np.array([0.1, 0.4, 0.6, 0.1]))) == [False, True, False, False]
    assert retention_of(120.0, 0.002) == 120.0 / 0.002


@pytest.mark.works(of=(Series, Samples, grab_samples))
def test_series_that_make_no_sense_are_refused():
    with pytest.raises(OutOfDomain, match="inlet goes back in time or stands still"):
        Series("inlet", np.array([1.0, 1.0]), np.zeros(2))
    with pytest.raises(OutOfDomain, match="inlet has 2 times, 1 values and 2 flags"):
        Series("inlet", np.array([1.0, 2.0]), np.zeros(1), np.zeros(2, np.uint8))
    three = grab_samples(
        "outlet", np.array([2.0, 1.0, 3.0]), np.array([0.1, 5.0, NAN]), detection_mg_per_l=0.2
    )
    assert list(three.censored) == [False, True, True]
    part = Series("inlet", np.arange(5.0), np.arange(5.0)).between(1.0, 3.0)
    assert list(part.value) == [1.0, 2.0, 3.0]


@pytest.mark.practice(of=(lag_found,))
def test_a_fast_inlet_is_told_with_the_stay():
    calm = nitrate_of(samples([10.0, 10.5, 11.0, 10.0]), 0.5)
    fast = nitrate_of(samples([10.0, 5.0, 12.0, 4.0]), 0.5)
    assert lag_found(calm, 8 * 3600.0) == ()
    (found,) = lag_found(fast, 8 * 3600.0)
    assert found.message.startswith("Water stays 8 h, and 100% of the time the inlet changes")

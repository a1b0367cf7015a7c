# SPDX-License-Identifier: Apache-2.0
"""A raised outlet: what the field keeps back by it, and what it is held to."""

import datetime
import math

import numpy as np
import pytest

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.crops import crop_named
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil
from tilewater.nitrate.parameter_ranges import ParameterRange, draw_parameters, read_ranges
from tilewater.practices.raised import kept, rules
from tilewater.practices.raised.draws import (
    PARTS,
    SLUGS,
    FieldDraw,
    draw_fields,
    field_ranges,
    run_pairs,
    soil_of_draw,
)

DRAIN_FLOW = ParameterRange("drain-flow", "lognormal", 0.7, 1.0, 1.4, "p10", "p90", "-")
PLAIN = FieldDraw(1, 1, 1, 1, 1, 1, 0, 1, 1)
BOTH = np.array([True, True])


def sums_of(*years: tuple[tuple[float, ...], tuple[float, ...]]) -> np.ndarray:
    """One draw: ways of the water by year, boards out and in."""
    return np.array([years])


TWO_YEARS = sums_of(
    ((0.20, 0.01, 0.60, 0.02, 0.0), (0.15, 0.02, 0.61, 0.05, 0.0)),
    ((0.10, 0.00, 0.60, 0.02, 0.0), (0.09, 0.00, 0.60, 0.03, 0.0)),
)


def weather() -> DailyWeather:
    """Two invented years, wet in spring."""
    days = 731
    random = np.random.default_rng(5)
    rain = np.where(random.random(days) < 0.3, random.exponential(0.008, days), 0.0)
    mean = 10.0 - 13.0 * np.cos(2 * np.pi * (np.arange(days) - 15) / 365.25)
    return DailyWeather(datetime.date(2011, 1, 1), math.radians(42.0), rain, mean + 5, mean - 5)


def pairs(draws: tuple[FieldDraw, ...], height: float) -> np.ndarray:
    rotation = (crop_named("corn"), crop_named("soybean"))
    parts = (FieldSoil(), FieldDrains(), FieldCold())
    return run_pairs(weather(), *parts, rotation, height, draws)


@pytest.mark.by_hand(of=(kept.share_kept_back, kept.depth_kept_back))
def test_drain_flow_kept_back_is_a_difference():
    assert kept.share_kept_back(TWO_YEARS, BOTH) == pytest.approx([1 - 0.24 / 0.30])
    assert kept.depth_kept_back(TWO_YEARS, BOTH, 0.15) == pytest.approx([0.05, 0.01])
    assert kept.depth_kept_back(TWO_YEARS, BOTH, 0.30) == pytest.approx([0.10, 0.02])
    assert kept.depth_kept_back(TWO_YEARS, np.array([True, False]), 0.20) == pytest.approx([0.05])


@pytest.mark.by_hand(of=(kept.load_kept_back, kept.load_kept_back_mean, kept.percent_kept_back))
def test_load_kept_back_counts_the_nitrate_of_both_waters():
    draws = (PLAIN._replace(nitrate_factor=1.2, gain=0.5),)  # a fifth of the water is kept back
    common = {"annual_depth": 0.15, "area": 1e5, "nitrate_mg_per_l": 10.0}
    first = 1.2 * 10.0 * 1e5 * (0.20 - 1.1 * 0.15) / 1000
    second = 1.2 * 10.0 * 1e5 * (0.10 - 1.1 * 0.09) / 1000
    found = kept.load_kept_back(TWO_YEARS, BOTH, draws, **common)
    assert found == pytest.approx([first, second])
    mean = kept.load_kept_back_mean(TWO_YEARS, BOTH, draws, **common)
    assert mean == pytest.approx([(first + second) / 2])
    percent = kept.percent_kept_back(TWO_YEARS, BOTH, draws, 0.15, 1.25)
    assert percent == pytest.approx([100 * 0.035 / 0.25, 100 * 0.001 / 0.125])


@pytest.mark.by_hand(of=(kept.annual_depths, kept.load_of_drains))
def test_more_drain_flow_brings_more_nitrate_and_keeps_as_much_more_back():
    draws = (PLAIN, PLAIN._replace(flow_factor=1.3))
    depths = kept.annual_depths(0.15, draws)
    assert depths == pytest.approx([0.15, 0.195])
    both = np.concatenate([TWO_YEARS, TWO_YEARS])
    load = kept.load_of_drains(both, BOTH, draws, depths, 1e5, 10.0)
    assert load == pytest.approx([200, 100, 260, 130])
    back = kept.load_kept_back(both, BOTH, draws, depths, 1e5, 10.0)
    assert back[2:] == pytest.approx(1.3 * back[:2])
    percent = kept.percent_kept_back(both, BOTH, draws, depths, 1.0)
    assert percent[2:] == pytest.approx(percent[:2])


@pytest.mark.by_hand(of=(kept.change_of_way, kept.load_round_boards))
def test_what_seeps_may_carry_its_nitrate():
    assert kept.change_of_way(TWO_YEARS, BOTH, "deep_seepage", 0.15) == pytest.approx([0.02])
    assert kept.change_of_way(TWO_YEARS, BOTH, "drains", 0.15) == pytest.approx([-0.03])
    mass = kept.load_round_boards(TWO_YEARS, BOTH, 0.15, 1e5, 10.0)
    assert mass == pytest.approx([0.02 * 1e5 * 10.0 / 1000])


@pytest.mark.works(of=(kept.share_kept_back,))
def test_a_field_without_drain_flow_says_so():
    with pytest.raises(OutOfDomain, match="0 mm of drain flow"):
        kept.share_kept_back(np.zeros((1, 2, 2, 5)), BOTH)


@pytest.mark.law(of=(run_pairs, soil_of_draw))
def test_boards_that_hold_nothing_change_nothing():
    found = pairs((PLAIN, PLAIN._replace(conductivity=2.0)), 0.0)
    assert np.array_equal(found[:, :, 0], found[:, :, 1])


@pytest.mark.law(of=(run_pairs,))
def test_water_kept_back_leaves_another_way():
    found = pairs((PLAIN,), 0.6)
    without, within = found[0, :, 0].sum(axis=0), found[0, :, 1].sum(axis=0)
    drains = PARTS.index("drains")
    assert within[drains] < without[drains]
    others = np.delete(within - without, drains).sum()
    left = (without[drains] - within[drains]) - others
    # The rest is what the ground holds more or less at both ends of the record.
    assert abs(left) < 0.6 * FieldSoil().drainable_porosity


@pytest.mark.law(of=(run_pairs, kept.share_kept_back))
def test_higher_boards_keep_no_less_back():
    shares = [
        float(kept.share_kept_back(pairs((PLAIN,), height), BOTH)[0])
        for height in (0.0, 0.3, 0.6, 0.9)
    ]
    assert shares == sorted(shares)
    assert shares[0] == 0.0 < shares[-1]


@pytest.mark.law(of=(draw_fields, field_ranges))
def test_fewer_draws_taken_are_the_first_of_all():
    drawn = draw_parameters(field_ranges(DRAIN_FLOW).values(), 64, seed=1)
    every, few = draw_fields(drawn, 64), draw_fields(drawn, 8)
    assert few == every[:8]
    for place in range(len(SLUGS)):
        assert len({draw[place] for draw in every}) == 64
    middle = np.median(np.array(every), axis=0)
    assert np.all(np.abs(middle - np.array(PLAIN._replace(gain=0.1))) < 0.1)


@pytest.mark.law(of=(field_ranges,))
def test_nitrate_of_a_draw_is_the_same_for_every_practice():
    tables = (
        field_ranges(DRAIN_FLOW),
        read_ranges("tilewater.practices", "practice_buffer_ranges"),
        read_ranges("tilewater.nitrate", "practice_parameter_ranges"),
    )
    drawn = [draw_parameters(table.values(), 32, seed=1)["nitrate-factor"] for table in tables]
    assert np.array_equal(drawn[0], drawn[1])
    assert np.array_equal(drawn[0], drawn[2])


@pytest.mark.by_hand(of=(rules.zone_fall, rules.zone_slope))
def test_control_zone_ends_with_the_pool():
    spots = {"a": (50.0, 361.8), "b": (100.0, 361.9), "c": (200.0, 362.4), "d": (400.0, 365.0)}
    end = 361.9 + 0.5 * 60 / 100  # the pool ends at 160, between b and c
    assert rules.zone_fall(120.0, 40.0, **spots) == pytest.approx(end - 361.8)
    assert rules.zone_slope(120.0, 40.0, **spots) == pytest.approx((end - 361.8) / 110.0)
    with pytest.raises(OutOfDomain, match="1 spot"):
        rules.zone_fall(120.0, 390.0, **spots)
    with pytest.raises(OutOfDomain, match="0 spot"):
        rules.zone_slope(120.0, 500.0, **spots)


@pytest.mark.by_hand(of=(rules.water_below_lowest, rules.highest_of, rules.solid_pipe_at))
def test_highest_water_is_measured_under_the_lowest_ground():
    spots = {"a": rules.place_of_spot(50.0, 361.8), "b": rules.place_of_spot(90.0, 361.5)}
    assert rules.water_below_lowest(361.0, **spots) == pytest.approx(0.5)
    assert rules.highest_of(winter=361.0, spring=360.2) == 361.0
    assert rules.solid_pipe_at(above=6.1, below=42.0) == 6.1
    with pytest.raises(OutOfDomain, match="0 spots"):
        rules.water_below_lowest(361.0)

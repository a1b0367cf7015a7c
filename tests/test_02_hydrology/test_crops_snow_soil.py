# SPDX-License-Identifier: Apache-2.0
"""Crops by stage, snow and frost by degree days, water that roots reach and that rises to them."""

import math

import numpy as np
import pytest

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.basis.tables import read_table, slug_faults
from tilewater.hydrology.crops import (
    CROPS,
    Crop,
    crop_coefficient_fao56,
    crop_days,
    crop_named,
    root_depth_linear,
)
from tilewater.hydrology.snow_frost import (
    frost_index_molnau_bissell,
    snow_share_linear,
    snowmelt_degree_day,
)
from tilewater.hydrology.soil_water import (
    available_water,
    stress_factor_fao56,
    upward_flux_factor_gardner,
    upward_flux_gardner,
)

YEAR = np.arange(1.0, 367.0)
DAY = 86400.0


@pytest.mark.law(of=(crop_coefficient_fao56, root_depth_linear))
@pytest.mark.parametrize("name", CROPS)
def test_a_crop_stays_between_its_ends(name):
    crop = crop_named(name)
    coefficients = crop_coefficient_fao56(crop, YEAR)
    assert coefficients.max() == crop.coefficient_mid
    assert coefficients.min() >= min(crop.coefficient_bare, crop.coefficient_end)
    depths = root_depth_linear(crop, YEAR)
    assert depths.max() == pytest.approx(crop.root_depth)
    assert depths.min() == pytest.approx(crop.evaporating_depth)
    assert crop_coefficient_fao56(crop, 20.0) == crop.coefficient_bare


@pytest.mark.by_hand(of=(crop_named,))
def test_roots_are_the_middle_of_the_published_range():
    assert crop_named("corn").root_depth == pytest.approx((1.0 + 1.7) / 2)
    assert crop_named("soybean").root_depth == pytest.approx((0.6 + 1.3) / 2)


@pytest.mark.by_hand(of=(root_depth_linear,))
def test_roots_of_corn_are_half_way_down_after_half_the_growth():
    corn = crop_named("corn")
    # planted 1 May, day 121; full after 30 + 40 days
    assert root_depth_linear(corn, 121.0 + 35.0) == pytest.approx((0.15 + 1.35) / 2)


@pytest.mark.works(of=(crop_days,))
def test_crops_take_turns_by_calendar_year():
    dates = np.arange("2010-01-01", "2014-01-01", dtype="datetime64[D]")
    corn, soybean = crop_named("corn"), crop_named("soybean")
    asked = crop_days(dates, (corn, soybean), first_year=2008)
    july = [
        int(np.flatnonzero(dates == np.datetime64(f"{year}-07-31"))[0]) for year in (2010, 2011)
    ]
    assert list(asked.coefficient[july]) == [1.20, 1.15]
    assert list(asked.full_root_depth[july]) == [corn.root_depth, soybean.root_depth]
    turned = crop_days(dates, (corn, soybean), first_year=2009)
    assert list(turned.coefficient[july]) == [1.15, 1.20]
    with pytest.raises(OutOfDomain, match="The rotation has 0 crops"):
        crop_days(dates, (), first_year=2010)


@pytest.mark.works(of=(crop_named, Crop))
def test_unknown_crops_and_crops_that_cannot_be_are_refused():
    with pytest.raises(UnknownName) as refused:
        crop_named("soybeans")
    assert str(refused.value) == (
        "No crop called 'soybeans'. Known: corn, soybean, small-grain, grass. Did you mean soybean?"
    )
    with pytest.raises(OutOfDomain, match="depletion_share is 1"):
        Crop("x", 5, 1, (1, 1, 1, 1), 0.3, 1.2, 0.4, 0.3, 1.0, 0.15, 1.0)
    with pytest.raises(OutOfDomain, match="stage_days of x sum to 400 days"):
        Crop("x", 5, 1, (100, 100, 100, 100), 0.3, 1.2, 0.4, 0.3, 1.0, 0.15, 0.5)


@pytest.mark.works(of=(read_table,))
@pytest.mark.parametrize(
    ("name", "rows", "digest"),
    [
        ("crop_coefficients_fao56", 2, "1f43534538b5"),
        ("crop_coefficients_remembered", 2, "f91b8b5fc256"),
        ("crop_stages_fao56", 2, "00f877ddeb85"),
        ("practice_crop_calendar", 4, "50998e5b678f"),
        ("practice_bare_ground", 2, "aaf345256f4b"),
        ("practice_field_defaults", 25, "e6281f80673a"),
    ],
)
def test_tables_are_whole_and_as_they_were(name, rows, digest):
    table = read_table("tilewater.hydrology", name)
    assert len(table.rows) == rows
    assert slug_faults(table) == ()
    assert table.digest == digest


@pytest.mark.law(of=(read_table,))
@pytest.mark.parametrize("name", ["practice_field_defaults", "practice_bare_ground"])
def test_defaults_lie_within_their_ranges(name):
    table = read_table("tilewater.hydrology", name)
    values, low, high = (table.numbers(column) for column in ("value", "low", "high"))
    assert np.all(low <= values)
    assert np.all(values <= high)


@pytest.mark.by_hand(of=(snow_share_linear,))
def test_half_of_what_falls_at_one_degree_is_snow():
    shares = snow_share_linear(np.array([-3.0, 0.0, 1.0, 2.0, 9.0]), snow_below=0, rain_above=2)
    assert list(shares) == [1.0, 1.0, 0.5, 0.0, 0.0]
    with pytest.raises(OutOfDomain, match="rain_above is 0 degC and snow_below 2"):
        snow_share_linear(1.0, snow_below=2.0, rain_above=0.0)


@pytest.mark.by_hand(of=(snowmelt_degree_day,))
def test_six_hundredths_of_an_inch_melt_in_a_degree_day_fahrenheit():
    factor = 0.06 * 25.4 * 1.8
    assert printed("2.743") == factor
    assert snowmelt_degree_day(5.0, melt_mm_per_degc_day=factor) == pytest.approx(
        0.06 * 0.0254 * 9.0
    )
    assert snowmelt_degree_day(-5.0, melt_mm_per_degc_day=factor) == 0.0


@pytest.mark.by_hand(of=(frost_index_molnau_bissell,))
def test_frost_of_ten_days_at_five_below():
    index = 0.0
    for _ in range(10):
        index = frost_index_molnau_bissell(
            index, -5.0, 0.0, kept=0.97, cover_per_cm=0.57, snow_density=0.45
        )
    assert index == pytest.approx(5 * (1 - 0.97**10) / (1 - 0.97))
    assert printed("43.76") == index


@pytest.mark.law(of=(frost_index_molnau_bissell,))
def test_snow_shields_and_warmth_thaws():
    still = {"kept": 0.97, "cover_per_cm": 0.57, "snow_density": 0.45}
    bare = frost_index_molnau_bissell(10.0, -5.0, 0.0, **still)
    covered = frost_index_molnau_bissell(10.0, -5.0, 0.05, **still)
    assert 9.7 < covered < bare
    assert frost_index_molnau_bissell(3.0, 20.0, 0.0, **still) == 0.0


@pytest.mark.by_hand(of=(stress_factor_fao56, available_water))
def test_a_crop_takes_half_when_half_of_the_rest_is_gone():
    available = available_water(0.17, 1.0)
    assert available == pytest.approx(0.17)
    assert stress_factor_fao56(0.085, available, depletion_share=0.5) == pytest.approx(1.0)
    assert stress_factor_fao56(0.1275, available, depletion_share=0.5) == pytest.approx(0.5)
    assert stress_factor_fao56(0.17, available, depletion_share=0.5) == pytest.approx(0.0)


@pytest.mark.by_hand(of=(upward_flux_factor_gardner,))
@pytest.mark.parametrize(
    ("exponent", "expected"), [(1.5, "3.761"), (2.0, "2.4674"), (3.0, "1.7680"), (4.0, "1.5220")]
)
def test_factor_of_the_rising_flux(exponent, expected):
    factor = upward_flux_factor_gardner(exponent)
    assert factor == pytest.approx(
        (math.pi / (exponent * math.sin(math.pi / exponent))) ** exponent
    )
    assert printed(expected) == factor


@pytest.mark.oracle("scipy quad of the suction over the flux", of=(upward_flux_gardner,))
@pytest.mark.parametrize("exponent", [2.0, 3.0, 4.0])
def test_the_flux_lifts_water_just_as_high(exponent):
    from scipy.integrate import quad

    # H = integral of ds / (1 + q / K(s)) over all suctions, for K = a / s^n
    a, rise = 1e-8, 0.8
    flux = upward_flux_gardner(rise, suction_coefficient=a, exponent=exponent)
    height, _ = quad(lambda s: 1.0 / (1.0 + flux * s**exponent / a), 0.0, np.inf)
    assert height == pytest.approx(rise, rel=1e-6)


@pytest.mark.works(of=(upward_flux_gardner, upward_flux_factor_gardner, stress_factor_fao56))
def test_soil_water_without_meaning_is_refused():
    with pytest.raises(OutOfDomain, match="rise is 0 m"):
        upward_flux_gardner(0.0, suction_coefficient=1e-8, exponent=3.0)
    with pytest.raises(OutOfDomain, match="exponent is 1"):
        upward_flux_factor_gardner(1.0)
    with pytest.raises(OutOfDomain, match="depletion_share is 1"):
        stress_factor_fao56(0.1, 0.2, depletion_share=1.0)

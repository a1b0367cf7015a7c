# SPDX-License-Identifier: Apache-2.0
"""Loads, and what a bed removes by published rates."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import slug_faults
from tilewater.nitrate.removal import (
    RemovalBand,
    default_rates,
    nitrate_load,
    nitrate_removed_volumetric,
    published_rates,
    removal_band,
    removal_band_range,
)

FOOT = 0.3048
POUND = 0.45359237
ACRE_INCH = 43560 * FOOT**3 / 12


@pytest.mark.by_hand(of=(nitrate_load,))
@pytest.mark.parametrize(
    ("inches", "acres", "nitrate", "pounds"), [(10.5, 62, 14.2, "2095"), (9.5, 38, 11.8, "965")]
)
def test_load_of_a_field(inches: float, acres: float, nitrate: float, pounds: str) -> None:
    load = nitrate_load(inches * acres * ACRE_INCH, nitrate)

    assert inches * acres * nitrate * 0.22662 == pytest.approx(load / POUND, rel=1e-4)
    assert printed(pounds) == load / POUND


@pytest.mark.by_hand(of=(nitrate_removed_volumetric,))
@pytest.mark.parametrize(("rate", "pounds"), [(0.7, "62"), (3.0, "268"), (4.7, "420")])
def test_removed_at_a_constant_rate(rate: float, pounds: str) -> None:
    """7,150 ft3 under water for 200 flowing days."""
    removed = nitrate_removed_volumetric(rate, 7150 * FOOT**3, 200.0, inflow_load=2095 * POUND)

    assert rate * 202.5 * 200 / 1000 == pytest.approx(removed, rel=1e-3)
    assert printed(pounds) == removed / POUND


@pytest.mark.by_hand(of=(removal_band,))
def test_band_in_cold_water() -> None:
    """160 m3 at 8 C at full flow: 6 x 0.585 = 3.5 g/m3/day, 0.56 kg a day."""
    band = removal_band(160.0, 1.0, temperature=8.0, inflow_load=4.3)

    assert printed("3.5") == band.rates_g_per_m3_day[1]
    assert printed("0.56") == band.mid
    assert band.mid * 2.5 / 6 == pytest.approx(band.low, rel=1e-12)
    assert band.mid * 13 / 6 == pytest.approx(band.high, rel=1e-12)


@pytest.mark.by_hand(of=(removal_band,))
def test_band_where_nitrate_runs_out() -> None:
    """184 m3 at 18 C could remove 1.39 kg a day of the 1.30 that enter."""
    band = removal_band(184.0, 1.0, temperature=18.0, inflow_load=1.30)

    assert printed("1.39") == band.able[1]
    assert (1.30, 1.30) == (band.mid, band.high)
    assert ("mid", "high") == band.limited


@pytest.mark.law(of=(removal_band,))
@given(
    volume=st.floats(0.0, 1000.0),
    days=st.floats(0.0, 366.0),
    temperature=st.floats(0.0, 25.0),
    load=st.floats(0.0, 2000.0),
)
def test_band_is_ordered_and_never_more_than_came_in(
    volume: float, days: float, temperature: float, load: float
) -> None:
    band = removal_band(volume, days, temperature=temperature, inflow_load=load)

    assert 0.0 <= band.low <= band.mid <= band.high <= load
    assert all(getattr(band, name) == load for name in band.limited), (
        "what is held back is the whole inflow"
    )


@pytest.mark.law(of=(removal_band,))
@given(temperature=st.floats(0.0, 20.0), warmer=st.floats(0.1, 10.0))
def test_warmer_water_never_removes_less(temperature: float, warmer: float) -> None:
    cold = removal_band(160.0, 200.0, temperature=temperature, inflow_load=150.0)
    warm = removal_band(160.0, 200.0, temperature=temperature + warmer, inflow_load=150.0)

    assert (cold.low, cold.mid, cold.high) <= (warm.low, warm.mid, warm.high)


@pytest.mark.works(of=(removal_band,))
def test_rates_of_a_job_take_the_place_of_the_default() -> None:
    band = removal_band(
        100.0, 10.0, temperature=15.0, inflow_load=99.0, rates_g_per_m3_day=(1.0, 2.0, 3.0)
    )

    assert (1.0, 2.0, 3.0) == pytest.approx((band.low, band.mid, band.high))
    assert isinstance(band, RemovalBand)


@pytest.mark.works(of=(removal_band_range,))
def test_nitrate_that_runs_out_is_reported() -> None:
    (finding,) = removal_band_range(removal_band(184.0, 1.0, temperature=18.0, inflow_load=1.30))

    assert finding.message == (
        "At the mid and high rate the bed could remove more than the 1.3 kg that enter it. "
        "Nitrate should not run out: then sulfide and methane follow. Lower the outlet boards at "
        "low flow, or take a smaller bed."
    )
    assert (1.30, ">=", "kg") == (finding.value, finding.operator, finding.unit)
    assert printed("1.39") == finding.limit
    assert () == removal_band_range(removal_band(1.0, 1.0, temperature=8.0, inflow_load=1.0))


@pytest.mark.works(of=(nitrate_load, nitrate_removed_volumetric))
def test_negative_values_are_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"^volume is -1 m3\. It cannot be negative\."):
        nitrate_load(-1.0, 10.0)
    with pytest.raises(OutOfDomain, match=r"^flow_days is -1 days\."):
        nitrate_removed_volumetric(6.0, 100.0, -1.0, inflow_load=1.0)


@pytest.mark.pinned(of=(default_rates,))
def test_default_rates_are_our_judgement() -> None:
    assert (2.5, 6.0, 13.0) == default_rates()


@pytest.mark.works(of=(published_rates,))
def test_table_of_rates_is_whole() -> None:
    table = published_rates()

    assert 17 == len(table.rows)
    assert () == tuple(slug_faults(table))
    for row in table.rows:
        given_ = [row.number(c) for c in ("low", "typical", "high") if row.is_given(c)]
        assert given_
        assert sorted(given_) == given_


@pytest.mark.works(of=(published_rates,))
def test_every_rate_has_a_source() -> None:
    from tools.package import sources

    assert [] == [key for key in published_rates().texts("source_key") if key not in sources()]


@pytest.mark.law(of=(published_rates, default_rates))
def test_default_range_lies_within_what_was_published_of_beds() -> None:
    table = published_rates()
    beds = [row for row in table.rows if row.text("kind") == "bed"]
    lowest = min(row.number("low") for row in beds if row.is_given("low"))
    highest = max(row.number("high") for row in beds if row.is_given("high"))
    low, mid, high = default_rates()

    assert lowest < low < mid < high < highest

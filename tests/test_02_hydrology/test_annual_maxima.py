# SPDX-License-Identifier: Apache-2.0
"""The largest day of each year: which year a day belongs to, and which years count."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.annual_maxima import CALENDAR_YEAR, annual_maxima, plotting_positions

FIRST = np.datetime64("2000-10-01")
THREE_YEARS = np.arange(FIRST, np.datetime64("2003-10-01"))


def flow(**days: float) -> np.ndarray:
    """A trickle of 1 with larger days, each named as `d2001_04_12`."""
    values = np.ones(THREE_YEARS.size)
    for name, value in days.items():
        day = np.datetime64(name[1:].replace("_", "-"))
        values[int((day - FIRST).astype(int))] = value
    return values


STORMS = flow(d2000_11_20=7.0, d2001_06_03=5.0, d2001_12_30=9.0, d2002_05_01=4.0, d2003_03_15=6.0)


@pytest.mark.by_hand(of=(annual_maxima,))
def test_water_year_begins_in_october_and_is_named_by_its_end():
    found = annual_maxima(THREE_YEARS, STORMS)
    assert list(found.years) == [2001, 2002, 2003]
    assert list(found.values) == [7.0, 9.0, 6.0]
    assert [str(day) for day in found.days] == ["2000-11-20", "2001-12-30", "2003-03-15"]
    assert (found.left_out, found.findings) == ((), ())


@pytest.mark.by_hand(of=(annual_maxima,))
def test_calendar_year_leaves_the_ends_of_the_record_out():
    found = annual_maxima(THREE_YEARS, STORMS, first_month=CALENDAR_YEAR)
    assert list(found.years) == [2001, 2002]
    assert list(found.values) == [9.0, 4.0]
    assert found.left_out == (2000, 2003)
    (note,) = found.findings
    assert note.message == "Left out for less than 90% of their days: 2000, 2003."


@pytest.mark.by_hand(of=(annual_maxima,))
@pytest.mark.parametrize(("missing", "counts"), [(36, True), (37, False)])
def test_year_counts_with_nine_days_in_ten(missing, counts):
    values = STORMS.copy()
    values[200 : 200 + missing] = np.nan  # of 365
    assert (2001 in annual_maxima(THREE_YEARS, values).years) is counts


@pytest.mark.works(of=(annual_maxima,))
def test_largest_day_in_a_year_left_out_is_reported():
    values = STORMS.copy()
    values[366 + 100 : 366 + 200] = np.nan  # the year of the 9
    found = annual_maxima(THREE_YEARS, values)
    assert list(found.values) == [7.0, 6.0]
    assert found.findings[1].message == (
        "The largest day of the record, 2001-12-30, lies in a year that is left out. The maxima "
        "understate the record. Find the missing days or plan with that day too."
    )


@pytest.mark.works(of=(annual_maxima,))
def test_record_without_a_full_year_has_no_maxima():
    found = annual_maxima(THREE_YEARS[:100], STORMS[:100])
    assert (found.values.size, found.days.size, found.left_out) == (0, 0, (2001,))
    nothing = annual_maxima(THREE_YEARS[:3], np.full(3, np.nan))
    assert (nothing.values.size, nothing.left_out, len(nothing.findings)) == (0, (2001,), 1)
    none = annual_maxima(THREE_YEARS[:0], STORMS[:0])
    assert (none.values.size, none.left_out) == (0, ())


@pytest.mark.works(of=(annual_maxima,))
def test_year_without_any_day_is_named_too():
    values = STORMS.copy()
    values[365:730] = np.nan
    there = ~np.isnan(values)
    assert annual_maxima(THREE_YEARS[there], values[there]).left_out == (2002,)


@pytest.mark.law(of=(annual_maxima,))
@given(seed=st.integers(0, 1000), month=st.integers(1, 12), holes=st.integers(0, 200))
def test_order_and_form_of_missing_days_change_nothing(seed, month, holes):
    stream = np.random.default_rng(seed)
    values = stream.gamma(0.5, 2.0, THREE_YEARS.size)
    values[stream.permutation(values.size)[:holes]] = np.nan
    shuffled = stream.permutation(values.size)
    absent = ~np.isnan(values)
    one = annual_maxima(THREE_YEARS, values, first_month=month)
    for days, same in (
        (THREE_YEARS[shuffled], values[shuffled]),
        (THREE_YEARS[absent], values[absent]),
    ):
        other = annual_maxima(days, same, first_month=month)
        assert (list(one.years), list(one.values)) == (list(other.years), list(other.values))
        assert list(one.days) == list(other.days)


@pytest.mark.law(of=(annual_maxima,))
@given(seed=st.integers(0, 1000), month=st.integers(1, 12))
def test_no_day_of_a_year_passes_its_maximum(seed, month):
    values = np.random.default_rng(seed).gamma(0.5, 2.0, THREE_YEARS.size)
    found = annual_maxima(THREE_YEARS, values, first_month=month)
    assert found.years.size == (3 if month == 10 else 2) or found.left_out
    for year, largest in zip(found.years, found.values, strict=True):
        begins = year if month == 1 else year - 1
        start = np.datetime64(f"{begins}-{month:02d}-01")
        end = np.datetime64(f"{begins + 1}-{month:02d}-01")
        assert largest == values[(start <= THREE_YEARS) & (end > THREE_YEARS)].max()


@pytest.mark.by_hand(of=(plotting_positions,))
def test_plotting_positions_of_three_values():
    expected = [(3 - 0.4) / 3.2, (1 - 0.4) / 3.2, (2 - 0.4) / 3.2]
    assert expected == pytest.approx(list(plotting_positions([1.0, 9.0, 4.0])))
    assert [1 / 4, 2 / 4, 3 / 4] == list(plotting_positions([5.0, 5.0, 2.0], constant=0.0))


@pytest.mark.works(of=(annual_maxima, plotting_positions))
@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: annual_maxima(THREE_YEARS, STORMS[1:]),
            "There are 1095 days and 1094 values. Each day needs one. Check the columns.",
        ),
        (
            lambda: annual_maxima(THREE_YEARS[[0, 1, 1]], STORMS[:3]),
            "2000-10-02 comes 2 times. A day has one value. Look for two series in one file.",
        ),
        (
            lambda: annual_maxima(THREE_YEARS, STORMS, first_month=13),
            "first_month is 13. It lies between 1 and 12. Give 10 or 1.",
        ),
        (
            lambda: annual_maxima(THREE_YEARS, STORMS * np.inf),
            "values is inf. A number is needed. Correct the day.",
        ),
        (
            lambda: plotting_positions([1.0, 2.0], constant=0.6),
            "constant is 0.6. It lies between 0 and 0.5. Give 0 or 0.4.",
        ),
    ],
)
def test_meaningless_input_is_refused(call, message):
    with pytest.raises(OutOfDomain) as refused:
        call()
    assert message == str(refused.value)

# SPDX-License-Identifier: Apache-2.0
"""Largest days of the measured plots with free drainage, and what they say of the ten-year day."""

import numpy as np
import pandas as pd
import pytest

from tests.digits import printed
from tilewater.hydrology.annual_maxima import CALENDAR_YEAR, annual_maxima
from tilewater.hydrology.drain_peak import GEV, LIMIT, drain_peak

MM_PER_DAY = 0.001 / 86400.0


def record(folder, site: str, plot: str) -> pd.DataFrame:
    rows = pd.read_csv(folder / "drain-flow" / "daily_drain_flow.csv", parse_dates=["date"])
    return rows[(rows.siteid == site) & (rows.plotid == plot) & (rows.dwm == "FD")]


def maxima(rows: pd.DataFrame):
    days = rows.date.to_numpy().astype("datetime64[D]")
    flow = rows.flow.to_numpy(dtype=np.float64) * MM_PER_DAY
    return annual_maxima(days, flow, first_month=CALENDAR_YEAR)


@pytest.mark.oracle("pandas, grouped by year", of=(annual_maxima,))
@pytest.mark.parametrize(
    ("site", "plot"), [("DPAC", "NE"), ("SERF_IA", "S5"), ("HARDIN_NW", "North")]
)
def test_maxima_of_a_measured_plot_beside_a_library(field_data, site, plot):
    rows = record(field_data, site, plot)
    by_year = rows.groupby(rows.date.dt.year).flow
    enough = by_year.count() >= 0.9 * np.where(by_year.count().index % 4 == 0, 366, 365)
    expected = by_year.max()[enough]
    found = maxima(rows)
    assert list(found.years) == list(expected.index)
    assert found.values == pytest.approx(expected.to_numpy() * MM_PER_DAY)
    assert found.left_out == tuple(enough.index[~enough])


@pytest.mark.by_hand(of=(drain_peak,))
def test_plot_whose_pipe_is_full_in_most_years_has_that_as_its_ten_year_day(field_data):
    """Five of seven years end at 18.84 to 18.97 mm/day, under its coefficient of 3/4 in/day."""
    peak = drain_peak(maxima(record(field_data, "SERF_IA", "S5")).values)
    assert peak.estimates[0].method == LIMIT
    assert printed("18.97") == peak.daily_depth / MM_PER_DAY
    assert peak.daily_depth < 0.75 * 0.0254 / 86400.0


@pytest.mark.works(of=(drain_peak,))
def test_plot_with_free_flow_has_a_ten_year_day_among_its_largest(field_data):
    flow = maxima(record(field_data, "DPAC", "SW")).values
    peak = drain_peak(flow)
    assert peak.estimates[0].method == GEV
    assert np.median(flow) < peak.daily_depth < 1.2 * flow.max()

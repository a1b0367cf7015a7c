# SPDX-License-Identifier: Apache-2.0
"""Nitrate kept back behind raised outlets of a field in south-east Iowa, 2011 to 2015.

Yearly drain flow and nitrate load of free and of controlled plots, as the public data of the
Sustainable Corn project give them.
"""

import numpy as np
import pytest

from tilewater.practices.raised.draws import IN, OUT, PARTS, FieldDraw
from tilewater.practices.raised.kept import load_kept_back

YEARS = {
    # year: mm and kg N a hectare, free drains; the same, outlet raised by calendar
    2011: (329, 25.2, 113, 9.9),
    2012: (78, 9.9, 41, 5.5),
    2013: (366, 34.5, 218, 20.1),
    2014: (408, 56.7, 77, 11.0),
    2015: (274, 33.3, 73, 10.4),
}
HECTARE = 1e4
MIDDLE = FieldDraw(1, 1, 1, 1, 1, 1, 0.1, 1, 1)


def kept(year: int, gain: float) -> float:
    """Load kept back by the measured water of a year, as a share of the load of free drains."""
    free_mm, free_kg, raised_mm, _ = YEARS[year]
    sums = np.zeros((1, 1, 2, len(PARTS)))
    sums[0, 0, OUT, 0], sums[0, 0, IN, 0] = free_mm / 1000, raised_mm / 1000
    strength = free_kg / (free_mm / 1000 * HECTARE) * 1000  # mg/L
    draws = (MIDDLE._replace(gain=gain),)
    found = load_kept_back(sums, np.array([True]), draws, free_mm / 1000, HECTARE, strength)
    return float(found[0]) / free_kg


@pytest.mark.published("cap-research", "drain flow and nitrate, 2011 to 2015", of=(load_kept_back,))
@pytest.mark.parametrize("year", YEARS)
def test_load_kept_back_by_the_measured_water_of_a_year(year):
    _, free_kg, _, raised_kg = YEARS[year]
    assert kept(year, 0.1) == pytest.approx(1 - raised_kg / free_kg, abs=0.04)


@pytest.mark.by_hand(of=(load_kept_back,))
def test_the_range_of_the_gain_holds_every_year():
    gains = []
    for free_mm, free_kg, raised_mm, raised_kg in YEARS.values():
        ratio = (raised_kg / raised_mm) / (free_kg / free_mm)
        gains.append((ratio - 1) / (1 - raised_mm / free_mm))
    assert min(gains) == pytest.approx(-0.05, abs=0.01)
    assert max(gains) == pytest.approx(0.23, abs=0.01)
    assert np.median(gains) == pytest.approx(0.1, abs=0.04)

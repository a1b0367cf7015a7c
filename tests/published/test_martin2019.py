# SPDX-License-Identifier: Apache-2.0
"""Martin, E. A., and others (2019). Retention and removal in pilot beds, Ames, Iowa (abstract).

The abstract prints, for 2, 8 and 16 h: fall of nitrate, percent and rate per volume of bed. It
does not print inflow or porosity, and each figure is a mean of its own, so that one need not
follow exactly from the others: they are held to each other within `MEANS_OF_THEIR_OWN`.
"""

import pytest

from tests.digits import printed
from tilewater.basis.tables import read_table
from tilewater.nitrate.kinetics import outlet_nitrate_zero_order
from tilewater.nitrate.parameter_ranges import default_ranges

ABSTRACT = "abstract"
MEANS_OF_THEIR_OWN = 0.2
"""A mean of ratios differs from the ratio of means; 16 percent is the largest found."""
ROWS = {row.text("slug"): row for row in read_table("tilewater.nitrate", "pilot_beds").rows}
PRINTED = [
    ("ames-2-hours", 2, "1.3", "9.0", "9.0"),
    ("ames-8-hours", 8, "5.5", "32.1", "8.5"),
    ("ames-16-hours", 16, "7.5", "53.8", "7.4"),
]


@pytest.mark.published("martin2019", ABSTRACT, of=(read_table,))
@pytest.mark.parametrize(("slug", "hours", "fall", "percent", "rate"), PRINTED)
def test_rows_of_the_pilot_beds(slug: str, hours: int, fall: str, percent: str, rate: str) -> None:
    row = ROWS[slug]

    assert hours == row.number("retention")
    assert printed(percent) == row.number("removed")
    assert printed(rate) == row.number("rate")
    assert printed(fall) == row.number("inflow") * row.number("removed") / 100


@pytest.mark.by_hand(of=(outlet_nitrate_zero_order,))
@pytest.mark.parametrize(("slug", "hours", "fall", "percent", "rate"), PRINTED)
def test_rate_retention_and_fall_agree_at_the_effective_porosity_of_another_study(
    slug: str, hours: int, fall: str, percent: str, rate: str
) -> None:
    inflow = 100 * float(fall) / float(percent)
    porosity = default_ranges()["porosity-effective"].mid

    left = outlet_nitrate_zero_order(inflow, hours / 24, rate_mg_per_l_day=float(rate) / porosity)

    assert inflow - left == pytest.approx(float(rate) / 0.61 * hours / 24, rel=1e-12)
    assert inflow - left == pytest.approx(float(fall), rel=MEANS_OF_THEIR_OWN)

# SPDX-License-Identifier: Apache-2.0
"""Cameron and Schipper (2010). Barrels of wood at 14 and 23.5 degC, months 10 to 23 (abstract)."""

import pytest

from tests.digits import printed
from tilewater.basis.tables import read_table
from tilewater.nitrate.kinetics import rate_at_temperature

ABSTRACT = "abstract"
PRINTED = [
    ("barrels-softwood-cool", "14", "3.0"),
    ("barrels-softwood-warm", "23.5", "4.9"),
    ("barrels-hardwood-cool", "14", "3.3"),
    ("barrels-hardwood-warm", "23.5", "4.4"),
]


@pytest.mark.published("cameron2010", ABSTRACT, of=(read_table,))
@pytest.mark.parametrize(("slug", "temperature", "rate"), PRINTED)
def test_rows_of_the_barrels(slug: str, temperature: str, rate: str) -> None:
    row = read_table("tilewater.nitrate", "pilot_beds").row(slug)

    assert printed(temperature) == row.number("temperature")
    assert printed(rate) == row.number("rate")


@pytest.mark.by_hand(of=(rate_at_temperature,))
def test_softwood_follows_a_factor_of_one_point_seven() -> None:
    q10 = (4.9 / 3.0) ** (10 / 9.5)

    assert printed("1.68") == q10
    assert printed("4.9") == rate_at_temperature(3.0, 23.5, q10=q10, reference=14.0)


@pytest.mark.by_hand(of=(rate_at_temperature,))
def test_factor_of_the_defaults_lets_wood_barrels_warm_up_too_much() -> None:
    """2.15 gives 6.2 where 4.9 was measured: barrels of 10 to 23 months, young chips."""
    assert printed("6.2") == rate_at_temperature(3.0, 23.5, q10=2.15, reference=14.0)

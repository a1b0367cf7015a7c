# SPDX-License-Identifier: Apache-2.0
"""Discrete cash flow: compound interest factors, table 1 (0.25 percent), as scanned."""

import pytest

from tests.digits import printed
from tilewater.economics.value import capital_recovery_factor, present_value

QUARTER_PERCENT = 0.0025


@pytest.mark.published("interest-tables", "table 1, A/P", of=(capital_recovery_factor,))
@pytest.mark.parametrize(
    ("years", "factor"),
    [
        (1, "1.00250"),
        (2, "0.50188"),
        (5, "0.20150"),
        (8, "0.12641"),
        (10, "0.10138"),
        (15, "0.06801"),
        (20, "0.05132"),
        (24, "0.04298"),
        (25, "0.04131"),
    ],
)
def test_capital_recovery(years: int, factor: str) -> None:
    assert printed(factor) == capital_recovery_factor(QUARTER_PERCENT, years)


@pytest.mark.published("interest-tables", "table 1, P/F", of=(present_value,))
@pytest.mark.parametrize(
    ("years", "factor"), [(1, "0.9975"), (10, "0.9753"), (20, "0.9513"), (26, "0.9371")]
)
def test_single_payment(years: int, factor: str) -> None:
    assert printed(factor) == present_value(1.0, rate=QUARTER_PERCENT, years=years)

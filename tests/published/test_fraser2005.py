# SPDX-License-Identifier: Apache-2.0
"""Fraser, N. M., and others (2005). Compound interest factors, appendix A, 0.5 percent."""

import pytest

from tests.digits import printed
from tilewater.economics.value import present_value


@pytest.mark.published("fraser2005", "appendix A, P/F at 0.5 percent", of=(present_value,))
@pytest.mark.parametrize(
    ("years", "factor"),
    [(1, "0.99502"), (10, "0.95135"), (20, "0.90506"), (40, "0.81914"), (100, "0.60729")],
)
def test_single_payment(years: int, factor: str) -> None:
    assert printed(factor) == present_value(1.0, rate=0.005, years=years)

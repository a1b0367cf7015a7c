# SPDX-License-Identifier: Apache-2.0
"""Maxwell and others: what eight beds of one state cost where they were built. Dollars, m3."""

import pytest

from tests.digits import printed
from tilewater.economics.estimate import cost_of_built_beds


@pytest.mark.published("maxwell-cost", "abstract", of=(cost_of_built_beds,))
def test_a_cubic_metre_of_chips_built():
    assert printed("108") == cost_of_built_beds(1.0)


@pytest.mark.by_hand(of=(cost_of_built_beds,))
def test_a_bed_of_258_cubic_metres():
    # 108 x 258.1; in prices of 2023 16,020 / 12,250 times as much
    assert printed("27,875") == cost_of_built_beds(258.1)
    assert printed("36,453") == cost_of_built_beds(258.1) * 16020 / 12250

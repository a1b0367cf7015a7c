# SPDX-License-Identifier: Apache-2.0
"""Warneke, S. (2011). Nitrate removal in a denitrification bed, Karaka (abstract of the thesis)."""

import pytest

from tests.digits import printed
from tilewater.basis.tables import read_table
from tilewater.nitrate.removal import nitrate_removed_volumetric

ABSTRACT = "abstract"
VOLUME = 176.0 * 5.0 * 1.5  # m3


@pytest.mark.published("karaka-thesis", ABSTRACT, of=(nitrate_removed_volumetric,))
def test_rate_and_whole_bed_are_the_same_removal() -> None:
    """10.1 kg a day stands for 10.05 to 10.15, 7.6 g per m3 for 7.55 to 7.65: they must meet."""
    rate, mass = printed("7.6"), printed("10.1")
    least, most = (
        nitrate_removed_volumetric(end, VOLUME, 1.0, inflow_load=1000.0)
        for end in (rate.value - rate.half_digit, rate.value + rate.half_digit)
    )

    assert least <= mass.value + mass.half_digit
    assert most >= mass.value - mass.half_digit


@pytest.mark.published("karaka-thesis", ABSTRACT, of=(read_table,))
def test_row_of_the_bed() -> None:
    row = read_table("tilewater.nitrate", "pilot_beds").row("karaka")

    assert printed("7.6") == row.number("rate")
    assert row.number("volume") == VOLUME

# SPDX-License-Identifier: Apache-2.0
"""Ritzema, H. P., editor (1994). Drainage Principles and Applications. ILRI Publication 16."""

import pytest
from scipy.optimize import brentq

from tests.digits import printed
from tilewater.hydraulics.groundwater import drain_flux_hooghoudt, equivalent_depth_moody

DAY = 86400.0


@pytest.mark.published(
    "ritzema1994",
    "chapter 8, example of a drain spacing, from memory",
    of=(drain_flux_hooghoudt, equivalent_depth_moody),
)
def test_spacing_for_two_millimetres_a_day() -> None:
    """K 0.8 m/day, water table 0.6 m above the drain, barrier 5 m below it, radius 0.1 m."""
    K = 0.8 / DAY

    def surplus(spacing: float) -> float:
        d = equivalent_depth_moody(5.0, spacing, radius=0.1)
        flux = drain_flux_hooghoudt(
            0.6, spacing=spacing, equivalent_depth=d, conductivity_below=K, conductivity_above=K
        )
        return float(flux) - 0.002 / DAY

    assert printed("87") == brentq(surplus, 20.0, 200.0)


# Hooghoudt summed his own series by hand; his printed table lies up to this near to Moody's form.
TABLE_AGAINST_MOODY = 0.012


@pytest.mark.published(
    "ritzema1994", "table of equivalent depths, r 0.1 m, from memory", of=(equivalent_depth_moody,)
)
@pytest.mark.parametrize(
    ("depth", "spacing", "equivalent"),
    [
        (1.0, 50.0, 0.96),
        (2.0, 50.0, 1.72),
        (3.0, 50.0, 2.29),
        (5.0, 50.0, 3.02),
        (10.0, 50.0, 3.74),
        (5.0, 75.0, 3.49),
    ],
)
def test_table_of_equivalent_depths(depth: float, spacing: float, equivalent: float) -> None:
    assert equivalent == pytest.approx(
        equivalent_depth_moody(depth, spacing, radius=0.1), abs=TABLE_AGAINST_MOODY * equivalent
    )

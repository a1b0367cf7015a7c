# SPDX-License-Identifier: Apache-2.0
"""Patek, J., et al. (2009). Reference correlations for thermophysical properties of liquid water
at 0.1 MPa. Journal of Physical and Chemical Reference Data 38(1), 21-29."""

import pytest

from tests.digits import printed
from tilewater.hydraulics.water import viscosity_patek


@pytest.mark.published("patek2009", "check value at 298.15 K, from memory", of=(viscosity_patek,))
def test_viscosity_at_25_degrees() -> None:
    assert printed("889.99677") == 1e6 * viscosity_patek(25.0)

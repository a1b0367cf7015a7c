# SPDX-License-Identifier: Apache-2.0
"""Sample and fit printed in the tests of the library lmoments3 1.0.8, after Hosking's routines."""

import numpy as np
import pytest

from tests.digits import printed
from tilewater.hydrology.frequency import Gev, fit_gev_l_moments, l_moments, quantile_gev

SAMPLE = [2.0, 3.0, 4.0, 2.4, 5.5, 1.2, 5.4, 2.2, 7.1, 1.3, 1.5]
SIX_DECIMALS = 1e-6
"""To which the source compares; the seventh decimal of its scale is cut off, not rounded."""


@pytest.mark.published("lmoments3-tests", "test_samlmu", of=(l_moments,))
def test_l_moments_of_the_sample():
    digits = [printed(each) for each in ("3.23636364", "1.14181818", ".27388535", ".02335456")]
    assert digits == list(l_moments(SAMPLE))


@pytest.mark.published("lmoments3-tests", "TestGev, correct_fit", of=(fit_gev_l_moments,))
def test_fit_of_the_sample():
    expected = [2.1792884, 1.3956404, -0.1555609]
    assert expected == pytest.approx(list(fit_gev_l_moments(SAMPLE)), abs=SIX_DECIMALS)


@pytest.mark.published("lmoments3-tests", "TestGev, correct_qua", of=(quantile_gev,))
def test_quantiles_of_the_printed_parameters():
    parameters = Gev(2.1792884, 1.3956404, -0.1555609)
    quantiles = quantile_gev(parameters, 1.0 - np.array([0.2, 0.5, 0.8]))
    assert [printed("1.539112"), printed("2.705672"), printed("4.537048")] == list(quantiles)

# SPDX-License-Identifier: Apache-2.0
"""Bulletin 17B of 1982: its table of frequency factors and one worked example, from memory.

The column of the median is left out, as its digits are not surely remembered.
"""

import numpy as np
import pytest

from tests.digits import printed
from tilewater.hydrology.frequency import frequency_factor_pearson3
from tilewater.hydrology.log_pearson3 import LogPearson3, quantile_log_pearson3

EXCEEDANCE = (0.99, 0.2, 0.1, 0.04, 0.02, 0.01, 0.005, 0.002)
TABLE = {
    -1.0: "-3.02256 .85161 1.12762 1.36584 1.49188 1.58838 1.66390 1.74062",
    -0.5: "-2.68572 .85653 1.21618 1.56740 1.77716 1.95472 2.10825 2.28311",
    -0.2: "-2.47226 .84986 1.25824 1.67999 1.94499 2.17840 2.38795 2.63672",
    0.0: "-2.32635 .84162 1.28155 1.75069 2.05375 2.32635 2.57583 2.87816",
    0.2: "-2.17840 .83044 1.30105 1.81756 2.15935 2.47226 2.76321 3.12169",
    1.0: "-1.58838 .75752 1.34039 2.04269 2.54206 3.02256 3.48874 4.08802",
}


@pytest.mark.published("iacwd1982", "appendix 3, from memory", of=(frequency_factor_pearson3,))
@pytest.mark.parametrize("skew", list(TABLE))
def test_frequency_factors_of_the_table(skew):
    ours = frequency_factor_pearson3(skew, np.array(EXCEEDANCE))
    assert [printed(each) for each in TABLE[skew].split()] == list(ours)


@pytest.mark.published(
    "iacwd1982", "appendix 12, Fishkill Creek, from memory", of=(quantile_log_pearson3,)
)
def test_flood_curve_of_fishkill_creek():
    moments = LogPearson3(3.3684, 0.2456, 0.6)
    ours = quantile_log_pearson3(moments, np.array([0.5, 0.1, 0.02, 0.01]))
    assert [printed(each) for each in ("22e2", "495e1", "887e1", "111e2")] == list(ours)

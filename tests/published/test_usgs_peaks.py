# SPDX-License-Identifier: Apache-2.0
"""Frequency analyses of two rivers that the U.S. Geological Survey printed.

Presque Isle River: a complete record of 38 peaks by Bulletin 17B, from the peaks to the limits.
Big Sandy River: the moments come from a method for historic floods that is not ours; from the
printed moments on to the quantiles everything is the same. Peaks in cubic feet per second.
"""

import numpy as np
import pytest

from tests.digits import printed
from tilewater.hydrology.annual_maxima import plotting_positions
from tilewater.hydrology.frequency import frequency_factor_pearson3
from tilewater.hydrology.log_pearson3 import (
    LogPearson3,
    band_log_pearson3,
    fit_log_pearson3_moments,
    low_outlier_limit_grubbs_beck,
    quantile_log_pearson3,
    skew_square_error_wallis,
    skew_weighted,
)

FIRST_YEAR = 1945
FIRST_PEAKS = [1140, 1860, 1030, 518, 1350, 1750, 2600, 2670, 1230, 1680, 1060, 648, 1540, 762, 559]
LATER_PEAKS = [3520, 1040, 662, 975, 1070, 1620, 1000, 1410, 812, 1220, 1610, 1700, 1260, 1050]
LAST_PEAKS = [1390, 1470, 1140, 589, 1180, 1620, 852, 965, 1650]
PEAKS = np.array([*FIRST_PEAKS, *LATER_PEAKS, *LAST_PEAKS], dtype=np.float64)
REGIONAL_SKEW, REGIONAL_ERROR = -0.117, 0.550
"""Printed; the square of the error is printed as 0.303."""

CURVE = """
0.9950  412.3  426.4  310.5  504.5
0.9900  456.2  468.5  351.0  550.7
0.9500  603.0  609.4  490.6  703.2
0.9000  700.9  703.8  586.0  804.4
0.8000  842.1  840.9  724.9  951.9
0.6667  1001   996.3  880.1  1123
0.5000  1202   1195   1070   1349
0.4292  1297   1290   1157   1462
0.2000  1726   1722   1527   2004
0.1000  2090   2097   1820   2502
0.0400  2568   2599   2187   3194
0.0200  2937   2993   2459   3752
0.0100  3315   3403   2733   4343
0.0050  3707   3833   3009   4972
0.0020  4246   4436   3382   5865
"""
"""Exceedance, estimate with weighted skew, with that of the station, lower and upper limit."""
OWN_FACTORS = 1e-4
"""The source has its own factors K: it lies this near, besides rounding. [of the value]"""

BIG_SANDY = {
    "generalized skew": (
        LogPearson3(3.724215, 0.297548, -0.500000),
        {0.5: 5609.41, 0.2: 9529.57, 0.1: 12192.32, 0.04: 15509.26, 0.02: 17906.33}
        | {0.01: 20222.74, 0.002: 25325.19, 0.9: 2140.58, 0.99: 841.56},
    ),
    "skew of the station": (
        LogPearson3(3.717788, 0.290800, 0.017089),
        {0.5: 5211.46, 0.2: 9168.26, 0.1: 12330.80, 0.04: 16927.54, 0.02: 20781.67}
        | {0.01: 25000.13, 0.002: 36374.24, 0.9: 2216.40, 0.99: 1109.03},
    ),
}
MANUAL = LogPearson3(3.717272, 0.289200, -0.118702)
MANUAL_CURVE = (
    {0.002: 32217.14, 0.005: 26912.12, 0.01: 23158.65, 0.02: 19617.73, 0.04: 16276.6}
    | {0.1: 12134.65, 0.2: 9166.15, 0.5: 5284.36, 0.6667: 3957.5, 0.8: 2990.15}
    | {0.9: 2203.77, 0.95: 1706.18, 0.99: 1045.59, 0.995: 871.25}
)
SIX_DECIMALS = 1e-5
"""What the rounding of the printed moments leaves open. [of the value]"""


def weighted() -> LogPearson3:
    fitted = fit_log_pearson3_moments(PEAKS)
    skew = skew_weighted(
        fitted.skew,
        skew_square_error_wallis(fitted.skew, PEAKS.size),
        regional_skew=REGIONAL_SKEW,
        regional_square_error=REGIONAL_ERROR**2,
    )
    return fitted._replace(skew=skew)


@pytest.mark.published("usgs04031500", "systematic record", of=(fit_log_pearson3_moments,))
def test_moments_of_the_logarithms():
    fitted = fit_log_pearson3_moments(PEAKS)
    assert [printed("3.0817"), printed("0.1851"), printed("0.144")] == list(fitted)


@pytest.mark.published(
    "usgs04031500", "estimate of MSE of skew, skew", of=(skew_square_error_wallis, skew_weighted)
)
def test_skew_joined_with_that_of_the_region():
    assert printed("0.1439") == skew_square_error_wallis(fit_log_pearson3_moments(PEAKS).skew, 38)
    assert printed("0.060") == weighted().skew


@pytest.mark.published(
    "usgs04031500",
    "discharges at selected exceedance probabilities",
    of=(quantile_log_pearson3, frequency_factor_pearson3, band_log_pearson3),
)
@pytest.mark.parametrize("line", CURVE.split("\n")[1:-1])
def test_curve_and_its_limits(line):
    exceedance, *digits = line.split()
    p = float(exceedance)
    band = band_log_pearson3(weighted(), p, years=PEAKS.size)
    of_station = quantile_log_pearson3(fit_log_pearson3_moments(PEAKS), p)
    ours = [quantile_log_pearson3(weighted(), p), of_station, band.low, band.high]
    for expected, our in zip(map(printed, digits), ours, strict=True):
        assert abs(expected.value - our) <= expected.half_digit + OWN_FACTORS * our


@pytest.mark.published(
    "usgs04031500", "criterion of low outliers", of=(low_outlier_limit_grubbs_beck,)
)
def test_limit_of_low_outliers():
    limit = low_outlier_limit_grubbs_beck(fit_log_pearson3_moments(PEAKS), PEAKS.size)
    assert printed("388.2") == limit


@pytest.mark.published("usgs04031500", "Weibull plotting positions", of=(plotting_positions,))
@pytest.mark.parametrize(
    ("year", "position"),
    {
        1960: "0.0256",
        1952: "0.0513",
        1965: "0.2308",
        1979: "0.2564",
        1945: "0.5385",
        1976: "0.5641",
        1948: "0.9744",
    }.items(),
)
def test_plotting_positions(year, position):
    positions = plotting_positions(PEAKS, constant=0.0)
    assert printed(position) == positions[year - FIRST_YEAR]


@pytest.mark.published(
    "usgs03606500",
    "estimates with generalized skew and at site",
    of=(quantile_log_pearson3, frequency_factor_pearson3),
)
@pytest.mark.parametrize("skew", list(BIG_SANDY))
def test_quantiles_from_printed_moments(skew):
    moments, curve = BIG_SANDY[skew]
    ours = quantile_log_pearson3(moments, np.array(list(curve)))
    assert list(curve.values()) == pytest.approx(ours, rel=SIX_DECIMALS)


@pytest.mark.published(
    "cohn2012",
    "pages 26-27, as quoted",
    of=(quantile_log_pearson3, frequency_factor_pearson3),
)
def test_quantiles_of_the_manual_from_its_moments():
    ours = quantile_log_pearson3(MANUAL, np.array(list(MANUAL_CURVE)))
    assert list(MANUAL_CURVE.values()) == pytest.approx(ours, rel=SIX_DECIMALS)

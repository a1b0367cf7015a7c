# SPDX-License-Identifier: Apache-2.0
"""Media under water as the levels on both sides of a bed tell it, mean over a time.

The volume that a measured rate stands on. The surface is taken to fall straight from one pool to
the other, which is close for the small falls of a bed.
"""

import numpy as np

from tilewater.basis.domain import require_positive
from tilewater.basis.errors import NoSolution
from tilewater.monitoring.series import Series


def mean_wet_volume(
    level_inlet: Series,
    level_outlet: Series,
    floor: float,
    length: float,
    width: float,
    side_slope: float,
    media_depth: float,
) -> float:
    """Mean volume of media under water while both levels were read.

    Parameters
    ----------
    level_inlet : Series
        Elevation of the pool above the bed. [m]
    level_outlet : Series
        Elevation of the pool below it. [m]
    floor : float
        Elevation of the floor of the bed. [m]
    length : float
        Flow length. [m]
    width : float
        Width of the floor. [m]
    side_slope : float
        Of the sides, horizontal to vertical. [-]
    media_depth : float
        Depth of the media; water above it wets no more. [m]

    Returns
    -------
    float
        Volume of chips and pores. [m3]

    Raises
    ------
    OutOfDomain
        If a size is not above zero.
    NoSolution
        If the levels were never read together.

    Notes
    -----
    V = L (b y + s y^2), y the mean of both depths over the floor, up to the media    (derived)

    References
    ----------
    derived, a trapezoid
    """
    for name, value in (("length", length), ("width", width), ("media depth", media_depth)):
        require_positive(name, value, "m", "Check the size of the bed")
    time = level_outlet.time_s
    good = ~np.isnan(level_inlet.value)
    if not good.any():
        raise _never()
    upper = np.interp(time, level_inlet.time_s[good], level_inlet.value[good], np.nan, np.nan)
    depths = [np.clip(each - floor, 0.0, media_depth) for each in (upper, level_outlet.value)]
    mean = 0.5 * (depths[0] + depths[1])
    mean = mean[~np.isnan(mean)]
    if mean.size == 0:
        raise _never()
    return float(np.mean(length * (width * mean + side_slope * mean**2)))


def _never() -> NoSolution:
    return NoSolution(
        "The levels on both sides of the bed were never read together. The wet volume needs both. "
        "Check the periods of the loggers."
    )

# SPDX-License-Identifier: Apache-2.0
"""Water that will stand in a laid pipe, and a line that is to lie level.

A pool that noise alone could make of a perfect pipe is none.
"""

from math import inf, sqrt

from tilewater.ground.grade_check import LaidPipe
from tilewater.ground.tolerances import Status


def standing_depths(pipe: LaidPipe) -> tuple[float, ...]:
    """Depth of the water that stays in a pipe when it has run empty, at each shot.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]

    Returns
    -------
    tuple of float
        Depth over the invert. [m]

    Notes
    -----
    h_i = max(z_j, j <= i) - z_i, counted from the lower end    (derived)

    References
    ----------
    derived, a pool behind the highest invert below it
    """
    depths, sill = [], -inf
    for invert in pipe.inverts:
        sill = max(sill, invert)
        depths.append(sill - invert)
    return tuple(depths)


def standing_depth(pipe: LaidPipe) -> float:
    """Depth of the deepest water that stays in a pipe when it has run empty.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]

    Returns
    -------
    float
        Depth over the invert. [m]

    Notes
    -----
    h = max h_i, see `standing_depths`    (derived)

    References
    ----------
    derived, a pool behind the highest invert below it
    """
    return max(standing_depths(pipe))


def standing_place(pipe: LaidPipe) -> float:
    """Where the deepest water stays in a pipe.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]

    Returns
    -------
    float
        Distance of that shot from the lower end. [m]

    Notes
    -----
    x_i of the largest h_i    (derived)

    References
    ----------
    derived, the place of a maximum
    """
    depths = standing_depths(pipe)
    return pipe.along[depths.index(max(depths))]


def depth_by_noise(*, noise: float, factor: float) -> float:
    """Difference of two shots that noise alone may make.

    Parameters
    ----------
    noise : float
        One standard deviation of a shot. [m]
    factor : float
        Standard deviations that noise alone may reach. [-]

    Returns
    -------
    float
        Difference. [m]

    Notes
    -----
    d = k s sqrt(2)    (derived)

    References
    ----------
    derived, the variance of a difference
    """
    return factor * noise * sqrt(2.0)


def level_range(pipe: LaidPipe) -> float:
    """Highest over lowest invert of a line that is laid level.

    Parameters
    ----------
    pipe : LaidPipe
        As shot. [m]

    Returns
    -------
    float
        Difference. [m]

    Notes
    -----
    d = max z_i - min z_i    (derived)

    References
    ----------
    derived, a range
    """
    return max(pipe.inverts) - min(pipe.inverts)


def no_more_status(difference: float, *, limit: float, by_noise: float) -> Status:
    """Whether a difference of shots is within its limit, beyond it, or not to be told from noise.

    Parameters
    ----------
    difference : float
        The difference as shot. [m]
    limit : float
        The most that is allowed. [m]
    by_noise : float
        What noise alone may make, see `depth_by_noise`. [m]

    Returns
    -------
    "holds", "short" or "not known"
        Not known where it is over the limit, and noise alone could make as much. [-]

    Notes
    -----
    d <= l holds; else d <= n is not known; else it is short    (derived)

    References
    ----------
    derived, a difference against a limit
    """
    if difference <= limit:
        return "holds"
    return "not known" if difference <= by_noise else "short"


def back_fall_status(difference: float, *, by_noise: float) -> Status:
    """Whether water will stand in a pipe, beyond what noise alone could make it seem.

    Parameters
    ----------
    difference : float
        Depth of the deepest water that stays. [m]
    by_noise : float
        What noise alone may make. [m]

    Returns
    -------
    "holds" or "short"
        Holds where it is no more than noise may make. [-]

    Notes
    -----
    h <= d holds; else it is short    (derived)

    References
    ----------
    derived, a back-fall beyond the noise of the instrument
    """
    return "holds" if difference <= by_noise else "short"

# SPDX-License-Identifier: Apache-2.0
"""Functions that the steps on finished work call."""

from math import hypot

Place = tuple[float, float]


def invert_up_grade(lower: float, grade: float, run: float) -> float:
    """Invert at the upper end of a pipe that lies on a grade.

    Parameters
    ----------
    lower : float
        Invert of its lower end. [m]
    grade : float
        Fall over length. [-]
    run : float
        Length of the pipe. [m]

    Returns
    -------
    float
        Invert of the upper end. [m]

    Notes
    -----
    z_up = z_low + S L    (derived)

    References
    ----------
    derived, a slope
    """
    return lower + grade * run


def pair_of(along: float, level: float) -> Place:
    """Two numbers of a shot together: where it lies, and its level or its other side.

    Parameters
    ----------
    along, level : float
        The two. [m]

    Returns
    -------
    tuple of float
        Both. [m]

    Notes
    -----
    (x, z)    (derived)

    References
    ----------
    derived, the values themselves
    """
    return along, level


def floor_at(
    station: float, low_station: float, run: float, floor_outlet: float, floor_inlet: float
) -> float:
    """Designed floor of a bed at a station.

    Parameters
    ----------
    station : float
        Where it was shot. [m]
    low_station : float
        Station of the end of the floor towards the outlet. [m]
    run : float
        Length of the floor. [m]
    floor_outlet, floor_inlet : float
        Designed floor at both ends. [m]

    Returns
    -------
    float
        Designed floor there; that of the nearer end beyond the ends. [m]

    Notes
    -----
    z = z_out + (z_in - z_out) x / L    (derived)

    References
    ----------
    derived, a straight line
    """
    share = min(1.0, max(0.0, (station - low_station) / run))
    return floor_outlet + (floor_inlet - floor_outlet) * share


def depth_between(upper: float, lower: float) -> float:
    """Depth between two mean levels.

    Parameters
    ----------
    upper, lower : float
        Mean levels. [m]

    Returns
    -------
    float
        Depth. [m]

    Notes
    -----
    d = z_up - z_low    (derived)

    References
    ----------
    derived, a difference
    """
    return upper - lower


def noise_between(upper: float, lower: float) -> float:
    """Noise of a depth between two mean levels.

    Parameters
    ----------
    upper, lower : float
        One standard deviation of each. [m]

    Returns
    -------
    float
        One standard deviation of their difference. [m]

    Notes
    -----
    s = sqrt(s_up^2 + s_low^2)    (derived)

    References
    ----------
    derived, the variance of a difference
    """
    return hypot(upper, lower)


def cover_with_crown(cover_depth: float, crown: float) -> float:
    """Soil over the chips before it settles.

    Parameters
    ----------
    cover_depth : float
        Designed soil over the media. [m]
    crown : float
        Mean height of the crown over it. [m]

    Returns
    -------
    float
        Depth from the chips to the finished ground. [m]

    Notes
    -----
    d = d_cover + d_crown    (derived)

    References
    ----------
    derived, a sum
    """
    return cover_depth + crown


def moved_level(design: float, off: float) -> float:
    """A designed level, moved as the work that was built lies off it.

    Parameters
    ----------
    design : float
        As designed. [m]
    off : float
        Built less designed. [m]

    Returns
    -------
    float
        As built. [m]

    Notes
    -----
    z = z_design + d    (derived)

    References
    ----------
    derived, a sum
    """
    return design + off


def mean_of_inverts(**inverts: float) -> float:
    """Mean of the inverts shot at one end of a pipe, or of a level line.

    Parameters
    ----------
    **inverts : float
        Inverts. [m]

    Returns
    -------
    float
        Mean. [m]

    Notes
    -----
    z = sum z_i / n    (derived)

    References
    ----------
    derived, an arithmetic mean
    """
    return sum(inverts.values()) / len(inverts)

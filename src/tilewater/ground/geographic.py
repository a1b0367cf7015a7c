# SPDX-License-Identifier: Apache-2.0
"""Latitude and longitude of points near a known one, for a locate request or a map on a phone.

The ellipsoid is taken as its two radii of curvature at the known point. Over some hundred metres
that is within a centimetre of the geodesic; it is no survey, and nothing is set out by it.
"""

from math import cos, pi, sin, sqrt, tan

from tilewater.basis.errors import OutOfDomain

MAJOR_AXIS = 6_378_137.0
"""Of GRS 80, which NAD 83 and WGS 84 share to less than a millimetre. [m]"""
FLATTENING = 1.0 / 298.257222101
FARTHEST = 20_000.0
"""Beyond this from the known point the two radii are no longer good enough. [m]"""


def geographic_near(
    north: float,
    east: float,
    *,
    latitude_deg: float,
    longitude_deg: float,
    convergence_deg: float = 0.0,
) -> tuple[float, float]:
    """Latitude and longitude of a point so far north and east of a known one.

    Parameters
    ----------
    north, east : float
        From the known point, in the grid. [m]
    latitude_deg, longitude_deg : float
        Of the known point; west is negative. [deg]
    convergence_deg : float
        Azimuth of grid north, clockwise from true north. [deg]

    Returns
    -------
    tuple of (latitude, longitude)
        Of the point. [deg]

    Raises
    ------
    OutOfDomain
        If the point lies too far away, or the known point at a pole.

    Notes
    -----
    M = a (1 - e^2) / (1 - e^2 sin^2 p)^1.5,  N = a / sqrt(1 - e^2 sin^2 p)    (snyder1987)

    dp = dN / M - dE^2 tan p / (2 M N),  dl = dE / (N cos p), N cos p at the middle latitude

    References
    ----------
    snyder1987, radii of curvature of the ellipsoid, from memory
    """
    if not max(abs(north), abs(east)) <= FARTHEST:
        raise OutOfDomain(
            f"distance is {max(abs(north), abs(east)):g} m. At most {FARTHEST:g} m from the known "
            "point are allowed. Give a point of the site."
        )
    if not abs(latitude_deg) < 89.0:
        raise OutOfDomain(
            f"latitude is {latitude_deg:g} degrees. It is less than 89. Read it again."
        )
    turn = convergence_deg * pi / 180.0
    true_north = north * cos(turn) - east * sin(turn)
    true_east = north * sin(turn) + east * cos(turn)
    squared = FLATTENING * (2.0 - FLATTENING)
    here = latitude_deg * pi / 180.0
    bent = 1.0 - squared * sin(here) ** 2
    meridian = MAJOR_AXIS * (1.0 - squared) / bent**1.5
    across = MAJOR_AXIS / sqrt(bent)
    bow = true_east**2 * tan(here) / (2.0 * meridian * across)
    latitude = here + true_north / meridian - bow
    middle = (here + latitude) / 2.0
    across = MAJOR_AXIS / sqrt(1.0 - squared * sin(middle) ** 2)
    longitude = longitude_deg * pi / 180.0 + true_east / (across * cos(middle))
    return latitude * 180.0 / pi, longitude * 180.0 / pi

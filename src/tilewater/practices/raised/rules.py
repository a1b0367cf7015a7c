# SPDX-License-Identifier: Apache-2.0
"""What a raised outlet is held to: its control zone, its highest water, the pipe at it."""

from collections.abc import Mapping

from tilewater.basis.errors import OutOfDomain

Places = Mapping[str, tuple[float, float]]


def zone_fall(pool_reach: float, station: float, **spots: tuple[float, float]) -> float:
    """Fall of the ground within the reach of the standing pool.

    Parameters
    ----------
    pool_reach : float
        Main that holds standing water. [m]
    station : float
        Station of the structure. [m]
    **spots : tuple of float
        Station and ground of the spots that were shot. [m]

    Returns
    -------
    float
        Highest less lowest ground, straight between spots. [m]

    Raises
    ------
    OutOfDomain
        If fewer than two spots are known there.

    Notes
    -----
    fall = max(ground) - min(ground)    (derived)

    References
    ----------
    derived, a difference of levels
    """
    zone = _zone(pool_reach, station, spots)
    if len(zone) < 2:
        raise OutOfDomain(
            f"{len(zone)} spot lies within {pool_reach:.4g} m of the structure. The fall of the "
            "ground takes two. Shoot the ground along the main."
        )
    ground = [height for _, height in zone]
    return max(ground) - min(ground)


def zone_slope(pool_reach: float, station: float, **spots: tuple[float, float]) -> float:
    """Slope of the ground along the main within the reach of the standing pool.

    Parameters
    ----------
    pool_reach : float
        Main that holds standing water. [m]
    station : float
        Station of the structure. [m]
    **spots : tuple of float
        Station and ground of the spots that were shot. [m]

    Returns
    -------
    float
        Between the first and the last spot there. [m/m]

    Raises
    ------
    OutOfDomain
        If fewer than two spots are known there, or both at one station.

    Notes
    -----
    s = |z_2 - z_1| / (x_2 - x_1)    (derived)

    References
    ----------
    derived, a quotient
    """
    zone = _zone(pool_reach, station, spots)
    (first, low), (last, high) = zone[0] if zone else (0.0, 0.0), zone[-1] if zone else (0.0, 0.0)
    if not last > first:
        raise OutOfDomain(
            f"{len(zone)} spot lies within {pool_reach:.4g} m of the structure. A slope takes two "
            "apart from each other. Shoot the ground along the main."
        )
    return abs(high - low) / (last - first)


def water_below_lowest(highest_crest: float, **spots: tuple[float, float]) -> float:
    """Standing water at its highest setting under the lowest ground that was shot.

    Parameters
    ----------
    highest_crest : float
        Of all settings. [m]
    **spots : tuple of float
        Station and ground of the spots that were shot. [m]

    Returns
    -------
    float
        Depth; negative where water would stand on the ground. [m]

    Raises
    ------
    OutOfDomain
        If no spot was shot.

    Notes
    -----
    d = min(ground) - crest    (derived)

    References
    ----------
    derived, a level pool
    """
    if not spots:
        raise OutOfDomain(
            "0 spots of the field are given. The lowest ground must be known. Shoot the low spots."
        )
    return min(ground for _, ground in spots.values()) - highest_crest


def highest_of(**crests: float) -> float:
    """The highest of several crests.

    Parameters
    ----------
    **crests : float
        Elevations. [m]

    Returns
    -------
    float
        The highest. [m]

    Notes
    -----
    max(crests)    (derived)

    References
    ----------
    derived, the largest
    """
    return max(crests.values())


def place_of_spot(station: float, ground: float) -> tuple[float, float]:
    """Place of a spot along the main, and its ground.

    Parameters
    ----------
    station : float
        Along the main. [m]
    ground : float
        Elevation. [m]

    Returns
    -------
    tuple of float
        Station and ground. [m]

    References
    ----------
    derived, two values of a survey side by side
    """
    return station, ground


def solid_pipe_at(**lengths: float) -> float:
    """Shortest length of solid pipe at the structure.

    Parameters
    ----------
    **lengths : float
        On each side of it. [m]

    Returns
    -------
    float
        The shortest. [m]

    Notes
    -----
    min(lengths)    (derived)

    References
    ----------
    derived, the least
    """
    return min(lengths.values())


def _zone(pool_reach: float, start: float, spots: Places) -> list[tuple[float, float]]:
    """Spots within the reach in the order of their stations, and the ground where it ends."""
    above = sorted(place for place in spots.values() if place[0] >= start)
    end = start + pool_reach
    within = [place for place in above if place[0] <= end]
    beyond = next((place for place in above if place[0] > end), None)
    if not within or beyond is None:
        return within
    (first, low), (last, high) = within[-1], beyond
    return [*within, (end, low + (high - low) * (end - first) / (last - first))]

# SPDX-License-Identifier: Apache-2.0
"""How far raised water reaches up a main that was surveyed in segments, and which crest it allows.

The forms of `wetness` for a uniform main that runs full take a slope; these follow the water
through the segments, part-full where they are. They agree on a uniform main under water.
"""

import math
from collections.abc import Sequence

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.grade_lines import MainSegment, grade_line_level, level_down_for_level
from tilewater.practices.wetness import Laterals, crest_for_midway

Line = Sequence[MainSegment]


def storm_rise_segments(
    crest: float, head: float, flow: float, station: float, segments: Line
) -> float:
    """Rise of the water from the bypass crest to a spot up a surveyed main in a storm.

    Parameters
    ----------
    crest : float
        Elevation of the bypass crest. [m]
    head : float
        Head over it at that flow, the practice shut off. [m]
    flow : float
        Flow of the storm. [m3/s]
    station : float
        Station of the spot. [m]
    segments : sequence of MainSegment
        Segments from the structure up. [-]

    Returns
    -------
    float
        Water level at the spot above the crest. [m]

    Raises
    ------
    OutOfDomain
        If the spot lies outside the segments.

    Notes
    -----
    rise = level(Q, crest + h) - crest, level as in `grade_line`    (manning1891)

    References
    ----------
    manning1891, friction slope
    derived, a difference of levels
    """
    return grade_line_level(flow, crest + head, segments, station) - crest


def crest_for_storm_segments(
    ground: float, limit: float, head: float, flow: float, station: float, segments: Line
) -> float:
    """Highest crest that keeps the limit on the storm grade line at a spot of a surveyed main.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    limit : float
        Clear soil to keep. [m]
    head : float
        Head over the crest at that flow, the practice shut off. [m]
    flow : float
        Flow of the storm. [m3/s]
    station : float
        Station of the spot. [m]
    segments : sequence of MainSegment
        Segments from the structure up. [-]

    Returns
    -------
    float
        Elevation of the crest; minus infinity where the main alone fills up to the limit. [m]

    Raises
    ------
    OutOfDomain
        If the spot lies outside the segments.

    Notes
    -----
    level(Q, crest + h) = ground - limit    (derived)

    References
    ----------
    derived, storm_rise_segments turned round
    """
    return level_down_for_level(flow, ground - limit, segments, station) - head


def crest_for_midway_segments(
    ground: float,
    limit: float,
    drain: float,
    flux: float,
    laterals: Laterals,
    *,
    head: float,
    flow: float,
    station: float,
    segments: Line,
) -> float:
    """Highest crest that keeps the limit midway between the laterals at a spot of a surveyed main.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    limit : float
        Clear soil to keep midway. [m]
    drain : float
        Elevation of the drain at the spot. [m]
    flux : float
        Drain flow per area of field. [m/s]
    laterals : Laterals
        Spacing, equivalent depth and conductivities. [-]
    head : float
        Head over the crest at that flow, the practice shut off. [m]
    flow : float
        Flow of the storm. [m3/s]
    station : float
        Station of the spot. [m]
    segments : sequence of MainSegment
        Segments from the structure up. [-]

    Returns
    -------
    float
        Elevation of the crest; minus infinity where the laterals or the main alone pass the
        limit. [m]

    Raises
    ------
    OutOfDomain
        If the spot lies outside the segments.

    Notes
    -----
    level(Q, crest + h) = drain + E, E of `crest_for_midway`    (derived)

    References
    ----------
    derived, the ellipse form of Hooghoudt, and storm_rise_segments turned round
    """
    level = crest_for_midway(ground, limit, drain, 0.0, flux, laterals)
    if math.isinf(level):
        return level
    return level_down_for_level(flow, level, segments, station) - head


def pool_reach_segments(crest: float, segments: Line) -> float:
    """Distance that the standing pool reaches up a surveyed main.

    Parameters
    ----------
    crest : float
        Elevation of the standing water at the structure. [m]
    segments : sequence of MainSegment
        Segments from the structure up. [-]

    Returns
    -------
    float
        Length of main to the first place with its invert at the water; 0 where the crest is at or
        under the invert of the structure. [m]

    Raises
    ------
    OutOfDomain
        If the pool reaches past the last segment, and that does not rise.

    Notes
    -----
    invert(reach) = crest, on the grade of each segment    (derived)

    Beyond the last segment its grade is carried on.

    References
    ----------
    derived, a level pool on several grades
    """
    start, last = segments[0], segments[-1]
    if crest <= start.invert_down:
        return 0.0
    for segment in segments:
        if segment.invert_up >= crest:
            way = (crest - segment.invert_down) / segment.slope if segment.slope > 0 else 0.0
            return segment.station_down + max(0.0, way) - start.station_down
    if last.slope <= 0:
        raise OutOfDomain(
            f"slope of segment {last.name} is {last.slope:.4g} m/m, and the pool reaches past it. "
            "A pool ends only on a main that rises. Survey the main farther up."
        )
    return last.station_down + (crest - last.invert_down) / last.slope - start.station_down

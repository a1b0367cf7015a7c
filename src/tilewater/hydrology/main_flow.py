# SPDX-License-Identifier: Apache-2.0
"""What a main that was surveyed in segments brings to the diversion, and where it floods.

The main is full when the first of its segments runs full by its own grade: the least of the
full-flow capacities of the segments above the diversion, each over the share of the water that
passes it. A segment without fall carries only under pressure and does not count there.
A main may carry more, surcharged, until the water stands at the ground at some spot.
"""

from collections.abc import Callable, Sequence

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.board_sets import BoardSet, board_head_free
from tilewater.hydraulics.grade_lines import MainSegment, grade_line_level
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydrology.drain_flow import FLOW_TOLERANCE

LARGEST_FLOW = 1e3
"""Flow at which the search for flooding gives up. [m3/s]"""

Line = Sequence[MainSegment]


def segment_flow_full(diameter: float, slope: float, n: float) -> float:
    """What a segment of a main carries full by its own grade.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]
    slope : float
        Grade, negative where it falls the wrong way. [-]
    n : float
        Manning roughness. [-]

    Returns
    -------
    float
        Flow; 0 without fall, where it carries only under pressure. [m3/s]

    Raises
    ------
    OutOfDomain
        If diameter or roughness is not above zero.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891
    """
    return float(pipe_flow_full_manning(diameter, max(slope, 0.0), n=n))


def main_flow_full(segments: Line) -> float:
    """Flow at which the first segment of a main runs full.

    Parameters
    ----------
    segments : sequence of MainSegment
        Segments that the water passes. [-]

    Returns
    -------
    float
        Flow of the whole line. [m3/s]

    Raises
    ------
    NoSolution
        If no segment has fall.

    Notes
    -----
    Q = min(Q_full / share) over the segments with fall    (derived)

    The share of a segment is the area drained through it over the area above the diversion, one
    where it is not stated. Roots, silt and offset joints take more away; none is counted.

    References
    ----------
    manning1891, full pipe
    derived, the first segment that runs full
    """
    return min(_allowed(one) for one in _with_fall(segments))


def limiting_segment(segments: Line) -> str:
    """Name of the segment that runs full first.

    Parameters
    ----------
    segments : sequence of MainSegment
        Segments that the water passes. [-]

    Returns
    -------
    str
        Its name. [-]

    Raises
    ------
    NoSolution
        If no segment has fall.

    Notes
    -----
    argmin of Q_full / share over the segments with fall    (derived)

    References
    ----------
    derived, the first segment that runs full
    """
    return min(_with_fall(segments), key=_allowed).name


def main_flow_to_ground_free(
    ground: float, station: float, outlet_level: float, segments: Line
) -> float:
    """Flow that brings water in a surveyed main to the ground at a spot, boards out.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    station : float
        Station of the spot. [m]
    outlet_level : float
        Water level at the outlet: its crown, or the ditch where that stands higher. [m]
    segments : sequence of MainSegment
        Segments from the outlet up. [-]

    Returns
    -------
    float
        Flow at the diversion; 0 where the water at rest stands at the ground of the spot. [m3/s]

    Raises
    ------
    OutOfDomain
        If the spot lies outside the segments.
    NoSolution
        If no flow brings water there.

    Notes
    -----
    level(Q) at the spot = ground, level as in `grade_line`    (manning1891)

    The structure with its boards out is taken to lose no head.

    References
    ----------
    manning1891, friction slope
    derived, one root of a rising function
    """

    def above(flow: float) -> float:
        return grade_line_level(flow, outlet_level, segments, station) - ground

    return _flow_where(above)


def main_flow_to_ground_boards(
    ground: float, station: float, boards: BoardSet, segments: Line
) -> float:
    """Flow that brings water in a surveyed main to the ground at a spot, over the bypass boards.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    station : float
        Station of the spot. [m]
    boards : BoardSet
        The bypass boards. [-]
    segments : sequence of MainSegment
        Segments from the structure up. [-]

    Returns
    -------
    float
        Flow; 0 where the crest stands at or above the ground of the spot. [m3/s]

    Raises
    ------
    OutOfDomain
        If the spot lies outside the segments.
    NoSolution
        If no flow brings water there.

    Notes
    -----
    level(Q, crest + h(Q)) at the spot = ground, level as in `grade_line`    (manning1891)

    The water falls free behind the boards, and nothing goes through the practice.

    References
    ----------
    manning1891, friction slope
    derived, one root of a rising function
    """

    def above(flow: float) -> float:
        water = boards.crest + board_head_free(flow, boards)
        return grade_line_level(flow, water, segments, station) - ground

    return _flow_where(above)


def place_of_least(**flows: float) -> str:
    """Name of the place that the least flow belongs to.

    Parameters
    ----------
    **flows : float
        Flow of each place. [m3/s]

    Returns
    -------
    str
        The place. [-]

    Notes
    -----
    argmin of Q_i    (derived)

    References
    ----------
    derived, where it happens first
    """
    return min(flows, key=lambda name: flows[name]).replace("_", "-")


def area_apart(area: float, joins: str) -> float:
    """Area of a submain whose water does not reach the diversion.

    Parameters
    ----------
    area : float
        Area that it drains. [m2]
    joins : str
        "above the diversion", "below the diversion" or "same outlet, own main". [-]

    Returns
    -------
    float
        The area, or 0 where it joins above. [m2]

    Notes
    -----
    A_apart = 0 if it joins above the diversion, else A    (derived)

    References
    ----------
    derived, what passes the diversion can be treated
    """
    return 0.0 if joins == "above the diversion" else area


def area_at_diversion(whole: float, **apart: float) -> float:
    """Area whose water reaches the diversion.

    Parameters
    ----------
    whole : float
        Drained area of the site. [m2]
    **apart : float
        Areas whose water comes in below it or leaves by another main. [m2]

    Returns
    -------
    float
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If nothing is left of the whole.

    Notes
    -----
    A_above = A - sum(A_apart)    (derived)

    References
    ----------
    derived, areas of one site
    """
    left = whole - sum(apart.values())
    if left <= 0.0:
        raise OutOfDomain(
            f"area that joins below the diversion or by another main is {sum(apart.values()):.4g} "
            f"m2. It must be less than the whole drained area, {whole:.4g} m2. "
            "Check the areas of the submains: they are parts of drainage.area."
        )
    return left


def flow_share(area: float, area_above: float) -> float:
    """Flow of a segment over the flow at the diversion, by the areas that they drain.

    Parameters
    ----------
    area : float
        Area drained through the segment. [m2]
    area_above : float
        Area drained through the diversion. [m2]

    Returns
    -------
    float
        Share, more than one below a submain that joins below the diversion. [-]

    Raises
    ------
    OutOfDomain
        If no area is drained through the diversion.

    Notes
    -----
    Q_i / Q = A_i / A_above    (derived)

    References
    ----------
    derived, the same flow from each acre
    """
    if area_above <= 0.0:
        raise OutOfDomain(
            f"area_above is {area_above:.4g} m2. It must be above 0. Check the areas."
        )
    return area / area_above


def area_below(area_above: float, **joining: float) -> float:
    """Area drained through the main below the diversion.

    Parameters
    ----------
    area_above : float
        Area drained through the diversion. [m2]
    **joining : float
        Areas of the submains that join below it. [m2]

    Returns
    -------
    float
        Area. [m2]

    Notes
    -----
    A_below = A_above + sum(A_i)    (derived)

    References
    ----------
    derived, a sum of areas
    """
    return area_above + sum(joining.values())


def _with_fall(segments: Line) -> list[MainSegment]:
    found = [one for one in segments if one.slope > 0.0 and one.flow_share > 0.0]
    if not found:
        names = ", ".join(one.name for one in segments)
        raise NoSolution(
            f"No segment of the main has fall ({names}). By its grade it carries nothing. "
            "Shoot the inverts again, or give a long stretch as one segment."
        )
    return found


def _allowed(segment: MainSegment) -> float:
    full = segment_flow_full(segment.diameter, segment.slope, segment.n)
    return full / segment.flow_share


def _flow_where(above: Callable[[float], float]) -> float:
    """Least flow at which a rising function of the flow is no longer negative."""
    if above(0.0) >= 0.0:
        return 0.0
    high = 0.01
    while above(high) < 0.0:
        high *= 2.0
        if high > LARGEST_FLOW:
            raise NoSolution(
                "No flow brings water to the ground there. The ground must lie above the water. "
                "Check the ground and the inverts."
            )
    return bracketed_root(above, 0.0, high, (), FLOW_TOLERANCE)

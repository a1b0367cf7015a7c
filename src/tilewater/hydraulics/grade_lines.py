# SPDX-License-Identifier: Apache-2.0
"""Water levels along a main of several segments, part-full or under pressure, from below up.

Each segment is a straight circular pipe with its own size, grade and roughness. The water is
followed up from a known level at the lower end: gradually varied where a segment runs part-full,
by its friction slope where it runs full. Flow faster than critical is followed no further than its
control at the upper end, and conveyance counts no higher than that of the full pipe, so that the
level never falls as the flow grows.

Between two segments there is no pool: the water level is carried from one to the next. A change
of velocity head there is left out, and so is what a change of size or a joint loses, unless a
segment states a loss; at 2 ft/s one velocity head is 0.06 ft. At the lower end the water enters a
pool and loses all of its velocity head. It does not know structures, boards or ditches.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from tilewater.basis.domain import require_finite, require_not_negative, require_positive
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.basis.unit_table import STANDARD_GRAVITY
from tilewater.hydraulics._pipe_run import PipeRun, area_wetted, choke_depth, depth_inside

GRAVITY = float(STANDARD_GRAVITY)
JOINED = 0.3048
"""Gap or overlap between two segments that counts as none. [m]"""
STILL = 1e-12
"""Flow below which water is taken as standing. [m3/s]"""
LEVEL_TOLERANCE = 1e-10
"""Closeness of a searched level. [m]"""


@dataclass(frozen=True)
class MainSegment:
    """A straight stretch of a main between two stations; stations count up from the outlet.

    Attributes
    ----------
    name : str
        What the job calls it. [-]
    station_down, station_up : float
        Stations of its lower and its upper end. [m]
    invert_down, invert_up : float
        Inverts at these ends. [m]
    diameter : float
        Inside diameter. [m]
    n : float
        Manning roughness. [s/m^(1/3)]
    flow_share : float
        Its flow over the flow that the line is asked for. [-]
    loss_coefficient : float
        Velocity heads lost at its upper end. [-]
    """

    name: str
    station_down: float
    station_up: float
    invert_down: float
    invert_up: float
    diameter: float
    n: float
    flow_share: float = 1.0
    loss_coefficient: float = 0.0

    @property
    def length(self) -> float:
        """Length along the main. [m]"""
        return self.station_up - self.station_down

    @property
    def slope(self) -> float:
        """Fall per length, negative where it falls the wrong way. [-]"""
        return (self.invert_up - self.invert_down) / self.length

    def invert_at(self, station: float) -> float:
        """Invert at a station of the segment. [m]"""
        return self.invert_down + self.slope * (station - self.station_down)


@dataclass(frozen=True)
class GradeNode:
    """Water at one place of a main.

    Attributes
    ----------
    station : float
        Station. [m]
    invert : float
        Invert of the pipe. [m]
    level : float
        Water level, or the level to which the pressure would lift it. [m]
    depth : float
        Level above the invert. [m]
    velocity : float
        Mean velocity. [m/s]
    is_full : bool
        Whether the pipe runs full there. [-]
    segment : str
        Name of the segment. [-]
    """

    station: float
    invert: float
    level: float
    depth: float
    velocity: float
    is_full: bool
    segment: str


Line = Sequence[MainSegment]


def join_segments(**segments: MainSegment) -> tuple[MainSegment, ...]:
    """The segments of a main from its outlet up, each beginning where the one before ends.

    Parameters
    ----------
    **segments : MainSegment
        The segments in any order. [-]

    Returns
    -------
    tuple of MainSegment
        The same in order. [-]

    Raises
    ------
    OutOfDomain
        If there is none, one has no length, size or roughness, or two overlap or leave a gap of
        more than a foot.

    Notes
    -----
    station_down of each = station_up of the one below    (derived)

    References
    ----------
    derived, order by station
    """
    ordered = tuple(sorted(segments.values(), key=lambda one: one.station_down))
    if not ordered:
        raise OutOfDomain("segments is empty. A main has at least one. Survey one.")
    for one in ordered:
        _require_pipe(one)
    for below, above in pairwise(ordered):
        if abs(above.station_down - below.station_up) > JOINED:
            raise OutOfDomain(
                f"station where segment {above.name} begins is {_feet(above.station_down)}, and "
                f"{below.name} ends at {_feet(below.station_up)}. Each must begin where the one "
                "below it ends. Correct a station, or give the stretch between as a segment."
            )
    return ordered


def segments_from(segments: Line, station: float) -> tuple[MainSegment, ...]:
    """The part of a main that lies above a station.

    Parameters
    ----------
    segments : sequence of MainSegment
        Segments from the outlet up. [-]
    station : float
        Where the part begins; a segment that passes it is cut. [m]

    Returns
    -------
    tuple of MainSegment
        Segments from there up. [-]

    Raises
    ------
    OutOfDomain
        If the segments begin more than a foot above the station, or all end below it.

    Notes
    -----
    station_down = max(station_down, station), invert on the grade between    (derived)

    References
    ----------
    derived, a straight pipe cut in two
    """
    left = [one for one in segments if one.station_up > station]
    if not left:
        raise OutOfDomain(
            f"station is {_feet(station)}. No segment of the main lies above it. "
            "Survey the main above, or check the station."
        )
    first = left[0]
    if first.station_down > station + JOINED:
        raise OutOfDomain(
            f"station is {_feet(station)}, and the first segment above begins at "
            f"{_feet(first.station_down)}. The main between must be known. Give it as a segment."
        )
    if first.station_down < station:
        invert = first.invert_at(station)
        left[0] = replace(first, station_down=station, invert_down=invert)
    return tuple(left)


def grade_line(
    flow: float, level_down: float, segments: Line, stations: Sequence[float] = ()
) -> tuple[GradeNode, ...]:
    """Water along a main, from its lower end up.

    Parameters
    ----------
    flow : float
        Flow of the main; each segment carries its share of it. [m3/s]
    level_down : float
        Water level in the pool at the lower end; below the pipe for a free end. [m]
    segments : sequence of MainSegment
        Segments from the lower end up. [-]
    stations : sequence of float
        Further places to report, beside the ends of each segment. [m]

    Returns
    -------
    tuple of GradeNode
        One for each end of each segment and each further place, from below up. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or a level is no number.

    Notes
    -----
    dE/dx = S0 - Sf, Sf = (n Q / (A R^(2/3)))^2, conveyance at most the full one    (manning1891)

    Direct steps of depth from critical depth, or from the crown, to the depth of even flow; under
    pressure level = level below + Sf x. The level is carried from segment to segment.

    References
    ----------
    manning1891, friction slope
    chow1959, ch. 10, direct step method, from memory
    """
    require_not_negative("flow", flow, "m3/s", "Water is followed up against its flow")
    require_finite("level_down", level_down, "m", "Check the water level at the lower end")
    nodes: list[GradeNode] = []
    level = level_down
    for segment in segments:
        inside = sorted(s for s in stations if segment.station_down < s < segment.station_up)
        found = [
            _node(flow, level, segment, station)
            for station in (segment.station_down, *inside, segment.station_up)
        ]
        nodes += found
        level = _level_above(flow, found[-1], segment)
    return tuple(nodes)


def grade_line_level(flow: float, level_down: float, segments: Line, station: float) -> float:
    """Water level at one place of a main.

    Parameters
    ----------
    flow : float
        Flow of the main; each segment carries its share of it. [m3/s]
    level_down : float
        Water level in the pool at the lower end; below the pipe for a free end. [m]
    segments : sequence of MainSegment
        Segments from the lower end up. [-]
    station : float
        The place. [m]

    Returns
    -------
    float
        Water level, or the level to which the pressure would lift it. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, a level is no number, or the place lies outside the segments.

    Notes
    -----
    As `grade_line`; at a joint the level of the segment below    (manning1891)

    References
    ----------
    manning1891, friction slope
    chow1959, ch. 10, direct step method, from memory
    """
    require_not_negative("flow", flow, "m3/s", "Water is followed up against its flow")
    require_finite("level_down", level_down, "m", "Check the water level at the lower end")
    _require_within(segments, station)
    level, last = level_down, segments[-1]
    for segment in segments:
        if station <= segment.station_up or segment is last:
            here = min(max(station, segment.station_down), segment.station_up)
            level = _node(flow, level, segment, here).level
            break
        level = _level_above(flow, _node(flow, level, segment, segment.station_up), segment)
    return level


def level_down_for_level(flow: float, level: float, segments: Line, station: float) -> float:
    """Highest level at the lower end of a main that keeps the water at a place at a level.

    Parameters
    ----------
    flow : float
        Flow of the main; each segment carries its share of it. [m3/s]
    level : float
        Level not to be passed at the place. [m]
    segments : sequence of MainSegment
        Segments from the lower end up. [-]
    station : float
        The place. [m]

    Returns
    -------
    float
        Level at the lower end; minus infinity where the water stands higher at the place with a
        free end already. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, a level is no number, or the place lies outside the segments.

    Notes
    -----
    level(Q, level_down) = level, searched    (derived)

    References
    ----------
    derived, one root of a rising function
    """
    require_finite("level", level, "m", "Check the level at the place")

    def above(level_down: float) -> float:
        return grade_line_level(flow, level_down, segments, station) - level

    if above(level) <= 0.0:
        return level
    lowest = min(level, *(min(one.invert_down, one.invert_up) for one in segments)) - 1.0
    if above(lowest) > 0.0:
        return float("-inf")
    return bracketed_root(above, lowest, level, (), LEVEL_TOLERANCE)


def _node(flow: float, level_down: float, segment: MainSegment, station: float) -> GradeNode:
    """Water at a station of one segment that ends in a pool, or goes on, at `level_down`."""
    invert = segment.invert_at(station)
    carried = flow * segment.flow_share
    if carried <= STILL:
        level = max(level_down, segment.invert_down, invert)
        depth, velocity = level - invert, 0.0
    else:
        length = station - segment.station_down
        run = PipeRun(invert, segment.invert_down, segment.diameter, length, segment.n, 0.0)
        depth = depth_inside(carried, level_down, run)
        velocity = carried / area_wetted(depth, segment.diameter)
    is_full = depth >= segment.diameter * (1.0 - 1e-9)
    return GradeNode(station, invert, invert + depth, depth, velocity, is_full, segment.name)


def _level_above(flow: float, node: GradeNode, segment: MainSegment) -> float:
    """Level just above the upper end of a segment, with what is lost there."""
    weight, carried = segment.loss_coefficient, flow * segment.flow_share
    if weight <= 0.0 or carried <= STILL:
        return node.level
    depth = node.depth
    if depth < segment.diameter:  # below this depth the sum would fall as the water rises
        depth = max(depth, choke_depth(carried, segment.diameter, weight))
    velocity = carried / area_wetted(depth, segment.diameter)
    return node.invert + depth + weight * velocity**2 / (2.0 * GRAVITY)


def _require_pipe(segment: MainSegment) -> None:
    advice = f"Check segment {segment.name}"
    ends = f"{advice}, whose upper end lies farther from the outlet"
    require_positive("length", segment.length, "m", ends)
    require_positive("diameter", segment.diameter, "m", advice)
    require_positive("n", segment.n, "", advice)
    require_not_negative("flow share", segment.flow_share, "", advice)
    require_not_negative("loss coefficient", segment.loss_coefficient, "", advice)


def _require_within(segments: Line, station: float) -> None:
    low, high = segments[0].station_down, segments[-1].station_up
    if not low - JOINED <= station <= high + JOINED:
        raise OutOfDomain(
            f"station is {_feet(station)}, and the main is known from {_feet(low)} to "
            f"{_feet(high)}. It must lie between. Give the rest of the main as a segment."
        )


def _feet(station: float) -> str:
    """A station as the trade writes it, in feet."""
    hundreds, rest = divmod(round(station / 0.3048, 2), 100)
    return f"{int(hundreds)}+{rest:05.2f}"

# SPDX-License-Identifier: Apache-2.0
"""The smallest bed that takes its share and holds the water long enough.

Sizes go in steps of 1 ft at the depth that is given. Smallest means least media; of equal volumes
the shorter bed is taken.
"""

from dataclasses import dataclass
from math import ceil, floor

from tilewater.basis.errors import NoSolution
from tilewater.basis.solids import pit_volume
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.hydrology.flow_record import Series, share_within_capacity
from tilewater.practices.bed.capacity import BedShape, Media, flow_length, retention_hours
from tilewater.practices.bed.system import (
    BedPath,
    bed_flow_at_diversion,
    diversion_level_for_bed,
    wet_media_volume,
)

STEP = 0.3048
"""Step of the floor's length and width. [m]"""

LARGEST = 400
"""Longest and widest floor that is tried, in steps."""


@dataclass(frozen=True)
class SizingTask:
    """What the bed must pass, at the age and temperature of the criterion line."""

    media: Media
    path: BedPath
    level: float
    tailwater: float
    peak: float
    porosity: float
    share: float
    retention_h: float
    reduction: "Reduction"


@dataclass(frozen=True)
class Reduction:
    """What is known of nitrate when a size is searched.

    Attributes
    ----------
    limit : float
        Reduction in the treated water that is asked for; 0 where nitrate or flow is not known. [-]
    rate : float
        High published rate at the temperature of the spring line. [g/m3/day]
    flow_days : float
        Days with flow in a mean year. [days]
    load : float
        Load of a mean year. [kg]
    mean_flow : float
        Mean flow on flow days, for the screening share. [m3/s]
    daily_depth : array or None
        Flow record, which takes the place of the screening share. [m/s]
    area : float
        Drained area of the record. [m2]
    """

    limit: float
    rate: float = 0.0
    flow_days: float = 0.0
    load: float = 0.0
    mean_flow: float = 1.0
    daily_depth: Series | None = None
    area: float = 1.0

    def treated_load(self, flow: float) -> float:
        """Load that a flow through the bed treats in a mean year. [kg]"""
        if self.daily_depth is None:
            return treated_share_exponential(flow, self.mean_flow) * self.load
        return share_within_capacity(self.daily_depth, self.area, flow) * self.load


NO_REDUCTION = Reduction(0.0)


@dataclass(frozen=True)
class Room:
    """Ground that may be used at the top of the cut, and how the cut spreads."""

    length: float
    width: float
    side_slope: float
    media_depth: float
    cut_margin: float


@dataclass(frozen=True)
class Size:
    """Floor of a bed. [m]"""

    length: float
    width: float


def smallest_bed(task: SizingTask, room: Room) -> Size:
    """Smallest bed in steps of 1 ft that falls short of no criterion that its size decides.

    It takes its share of the peak, holds the water long enough, and at the high published rate
    takes out what is asked. Whether the middle rate does so too is for the engineer to judge.

    Parameters
    ----------
    task : SizingTask
        What must be passed. [-]
    room : Room
        Ground that may be used. [-]

    Returns
    -------
    Size
        Length and width of the floor. [m]

    Raises
    ------
    NoSolution
        If no bed within the room passes.

    Notes
    -----
    least V(L, W) with Q(L, W) >= f Q_peak and t(L, W) >= t_min    (derived)

    For a length the flow grows with width, so the least width that takes the share is found by
    halving. Where the water stays too short there, a wider bed may hold it longer, because the head
    over the outlet boards grows; the least such width is found by halving too.

    References
    ----------
    derived, dense search over whole feet
    """
    longest = min(LARGEST, floor((room.length - 2 * room.cut_margin) / STEP + 1e-9))
    widest = min(LARGEST, floor((room.width - 2 * room.cut_margin) / STEP + 1e-9))
    best: tuple[float, Size] | None = None
    for steps in range(1, longest + 1):
        least = _least_width(task, room, steps * STEP, widest)
        if least is None:
            break  # a longer bed passes less at the same width
        if best is not None and _volume(room, steps, least) >= best[0]:
            break  # a longer bed needs no less width
        width = _passing_width(task, room, steps, least, widest, best)
        if width is not None:
            best = _volume(room, steps, width), Size(steps * STEP, width * STEP)
    if best is None:
        raise NoSolution(
            f"No bed within {room.length:.4g} by {room.width:.4g} m of ground takes "
            f"{task.share:.0%} of the peak and holds the water {task.retention_h:g} h. "
            "Deepen the media, raise the inlet crest, lower the outlet crest or find more ground."
        )
    return best[1]


def media_volume(size: Size, side_slope: float, media_depth: float) -> float:
    """Volume of the media of a bed with sloping sides and ends.

    Parameters
    ----------
    size : Size
        Floor of the bed. [m]
    side_slope : float
        Horizontal to vertical. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = d/6 (A0 + 4 Am + A1)    (derived)

    References
    ----------
    derived, prismoid
    """
    volume = pit_volume(size.length, size.width, side_slope=side_slope, depth=media_depth)
    return float(volume)


def flow_of(task: SizingTask, room: Room, size: Size) -> float:
    """Flow through a bed of a size.

    Parameters
    ----------
    task : SizingTask
        Media, boards and depth. [-]
    room : Room
        Depth and side slope of the media. [-]
    size : Size
        Floor of the bed. [m]

    Returns
    -------
    float
        Flow. [m3/s]

    Notes
    -----
    Q of `bed_flow_at_diversion`    (derived)

    References
    ----------
    derived, the capacity of the criterion line
    """
    shape = _shape(room, size)
    return bed_flow_at_diversion(task.level, task.tailwater, task.path, shape, task.media)


def retention_of(task: SizingTask, room: Room, size: Size) -> float:
    """Time in a bed of a size.

    Parameters
    ----------
    task : SizingTask
        Media, boards and depth. [-]
    room : Room
        Depth and side slope of the media. [-]
    size : Size
        Floor of the bed. [m]

    Returns
    -------
    float
        Time. [h]

    Notes
    -----
    t of `retention_hours`    (derived)

    References
    ----------
    derived, the retention of the criterion line
    """
    flow = flow_of(task, room, size)
    return retention_hours(_wet_volume(task, room, size, flow), task.porosity, flow)


def length_of(size: Size) -> float:
    """Length of a size.

    Parameters
    ----------
    size : Size
        Floor of a bed. [m]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    L = L of the size found    (derived)

    References
    ----------
    derived, a part of a record
    """
    return size.length


def width_of(size: Size) -> float:
    """Width of a size.

    Parameters
    ----------
    size : Size
        Floor of a bed. [m]

    Returns
    -------
    float
        Width. [m]

    Notes
    -----
    W = W of the size found    (derived)

    References
    ----------
    derived, a part of a record
    """
    return size.width


def _wet_volume(task: SizingTask, room: Room, size: Size, flow: float) -> float:
    return wet_media_volume(flow, task.tailwater, task.path, _shape(room, size), task.media)


def _holds_and_removes(task: SizingTask, room: Room, size: Size) -> bool:
    flow = flow_of(task, room, size)
    volume = _wet_volume(task, room, size, flow)
    if retention_hours(volume, task.porosity, flow) < task.retention_h - 1e-9:
        return False
    asked = task.reduction
    removed = asked.rate * volume * asked.flow_days / 1000.0
    return removed >= asked.limit * asked.treated_load(flow) - 1e-9


def _shape(room: Room, size: Size) -> BedShape:
    length = flow_length(size.length, room.side_slope, room.media_depth)
    return BedShape(length, size.width, room.side_slope, room.media_depth)


def _volume(room: Room, length: int, width: int) -> float:
    """Media of a size in steps; equal volumes compare equal."""
    volume = media_volume(Size(length * STEP, width * STEP), room.side_slope, room.media_depth)
    return round(volume, 9)


def _passing_width(
    task: SizingTask,
    room: Room,
    length: int,
    least: int,
    widest: int,
    best: tuple[float, Size] | None,
) -> int | None:
    """Least width, from the least that takes the share, that passes with less media than `best`."""

    def passes(width: int) -> bool:
        return _holds_and_removes(task, room, Size(length * STEP, width * STEP))

    if passes(least):
        return least
    high = widest
    while best is not None and high > least and _volume(room, length, high) >= best[0]:
        high -= 1
    if high == least or not passes(high):
        return None
    low = least
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if passes(middle) else (middle, high)
    return high


def _least_width(task: SizingTask, room: Room, length: float, widest: int) -> int | None:
    wanted = task.share * task.peak

    def passes(steps: int) -> bool:
        shape = _shape(room, Size(length, steps * STEP))
        asked = diversion_level_for_bed(wanted, task.tailwater, task.path, shape, task.media)
        return asked <= task.level + 1e-12

    if widest < 1 or not passes(widest):
        return None
    low, high = 0, widest
    while high - low > 1:
        middle = ceil((low + high) / 2)
        low, high = (low, middle) if passes(middle) else (middle, high)
    return high

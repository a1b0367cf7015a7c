# SPDX-License-Identifier: Apache-2.0
"""What high water marks say of a channel: misfit of the computed level, roughness that fits them.

A mark with the flow that left it gives a roughness by itself; several give the one whose levels
lie nearest to all, each counted by how sure it is. A mark whose flow nobody knows cannot do so.
"""

import math
from collections.abc import Mapping
from typing import NamedTuple

from tilewater.basis.domain import require_positive
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.channel_sections import ChannelSection
from tilewater.hydraulics.channels import (
    channel_normal_level_manning,
    channel_roughness_manning,
)

GOLDEN = (5.0**0.5 - 1.0) / 2.0
ROUGHNESS_TOLERANCE = 1e-7
"""How far the fitted roughness may lie from the best one, relative."""


class HighWaterMark(NamedTuple):
    """A mark that high water left, with the flow that left it.

    Attributes
    ----------
    level : float
        Elevation of the mark. [m]
    flow : float
        Flow of the channel at that time. [m3/s]
    doubt : float
        How far the water may have stood from the mark, up or down. [m]
    """

    level: float
    flow: float
    doubt: float


def channel_misfit(mark: HighWaterMark, section: ChannelSection, slope: float, n: float) -> float:
    """Height of a high water mark above the computed level of its flow.

    Parameters
    ----------
    mark : HighWaterMark
        The mark. [m]
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness. [-]

    Returns
    -------
    float
        Mark minus computed level, positive where the water stood higher than computed. [m]

    Notes
    -----
    e = mark - level(Q)    (derived)

    References
    ----------
    derived, a difference
    """
    return mark.level - channel_normal_level_manning(mark.flow, section, slope, n=n)


def channel_roughness_fitted(
    section: ChannelSection, slope: float, **marks: HighWaterMark
) -> float:
    """Roughness whose levels lie nearest to the high water marks.

    Parameters
    ----------
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    **marks : HighWaterMark
        Marks with their flows. [m]

    Returns
    -------
    float
        Manning roughness. [-]

    Raises
    ------
    OutOfDomain
        If there is no mark, or one has no doubt, no flow, or lies at or under the bottom.

    Notes
    -----
    n with the least sum(((mark_i - level(Q_i, n)) / doubt_i)^2)    (derived)

    The best n lies between the smallest and the largest that single marks give. It is found by
    golden section of that range.

    References
    ----------
    derived, least squares of the levels, weighted by the doubt of each mark
    manning1891
    """
    alone = _alone(section, slope, marks)

    def sum_of_squares(n: float) -> float:
        try:
            misfits = [channel_misfit(m, section, slope, n) / m.doubt for m in marks.values()]
        except NoSolution:  # so rough that the flow of a mark would leave the section
            return math.inf
        return sum(each**2 for each in misfits)

    low, high = min(alone), max(alone)
    while high - low > ROUGHNESS_TOLERANCE * high:
        left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        if sum_of_squares(left) <= sum_of_squares(right):
            high = right
        else:
            low = left
    return (low + high) / 2.0


def channel_roughness_least(section: ChannelSection, slope: float, **marks: HighWaterMark) -> float:
    """Smallest roughness that a single high water mark gives, its doubt taken off.

    Parameters
    ----------
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    **marks : HighWaterMark
        Marks with their flows. [m]

    Returns
    -------
    float
        Manning roughness. [-]

    Raises
    ------
    OutOfDomain
        If there is no mark, or one less its doubt lies at or under the bottom.

    Notes
    -----
    n_low = min(n(mark_i - doubt_i, Q_i))    (derived)

    References
    ----------
    derived, each mark by itself at the lower end of its doubt
    manning1891
    """
    lower = {name: m._replace(level=m.level - m.doubt) for name, m in marks.items()}
    return min(_alone(section, slope, lower))


def channel_roughness_most(section: ChannelSection, slope: float, **marks: HighWaterMark) -> float:
    """Largest roughness that a single high water mark gives, its doubt added.

    Parameters
    ----------
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    **marks : HighWaterMark
        Marks with their flows. [m]

    Returns
    -------
    float
        Manning roughness. [-]

    Raises
    ------
    OutOfDomain
        If there is no mark.
    NoSolution
        If a mark and its doubt lie above the lower bank of the section.

    Notes
    -----
    n_high = max(n(mark_i + doubt_i, Q_i))    (derived)

    References
    ----------
    derived, each mark by itself at the upper end of its doubt
    manning1891
    """
    upper = {name: m._replace(level=m.level + m.doubt) for name, m in marks.items()}
    return max(_alone(section, slope, upper))


def _alone(
    section: ChannelSection, slope: float, marks: Mapping[str, HighWaterMark]
) -> tuple[float, ...]:
    """Roughness by each mark."""
    if not marks:
        raise OutOfDomain(
            "there is no high water mark with its flow. One is needed to find a roughness. "
            "State n, or the flow that left a mark."
        )
    for mark in marks.values():
        require_positive("doubt of the mark", mark.doubt, "m", "Say how sure it is, like 0.2 ft")
    return tuple(
        channel_roughness_manning(mark.flow, mark.level, section, slope) for mark in marks.values()
    )

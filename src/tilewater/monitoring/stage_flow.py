# SPDX-License-Identifier: Apache-2.0
"""Flow over boards from a logged water level: the structure's own rating, its crest over time.

A level becomes a flow only where the boards can be trusted to say so: where the water below them
stands above the crest the reading is not converted and counts as a gap (`submergence`), and where
the sensor stood at its end the flow is at least what the boards say. Levels are elevations.
"""

from dataclasses import dataclass, replace

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.hydraulics.board_sets import BoardSet
from tilewater.monitoring.series import FROZEN, OUT_OF_WATER, SUSPECT, Flags, Floats, Series, Truths
from tilewater.monitoring.submergence import flat_tops, is_submerged

NUDGE = 1e-4
"""Step of level by which the slope of a rating is taken. [m]"""


@dataclass(frozen=True)
class BoardSetting:
    """Boards that stood in a structure from a time on.

    Attributes
    ----------
    from_s : float
        Since 1970-01-01 in universal time; minus infinity for the first. [s]
    boards : BoardSet
        Their crest and rating. [-]
    """

    from_s: float
    boards: BoardSet


@dataclass(frozen=True)
class FlowRecord:
    """A flow over time, and what stands behind it.

    Attributes
    ----------
    flow : Series
        NaN where it is not known. [m3/s]
    per_metre : array
        How the flow grows with the level; zeros where it was measured as a flow. [m2/s]
    submerged : array
        Where the water below stood above the crest; not converted. [-]
    at_least : array
        Where the sensor was at its end: the flow was this or more. [-]
    """

    flow: Series
    per_metre: Floats
    submerged: Truths
    at_least: Truths

    def between(self, start_s: float, end_s: float) -> "FlowRecord":
        """The readings from a time to another, both counted."""
        kept = (self.flow.time_s >= start_s) & (self.flow.time_s <= end_s)
        return FlowRecord(
            replace(
                self.flow,
                time_s=self.flow.time_s[kept],
                value=self.flow.value[kept],
                flag=self.flow.flag[kept],
            ),
            self.per_metre[kept],
            self.submerged[kept],
            self.at_least[kept],
        )


def flow_as_measured(flow: Series) -> FlowRecord:
    """A flow that was measured as one, in the form of a flow over boards.

    Parameters
    ----------
    flow : Series
        NaN where it is missing. [m3/s]

    Returns
    -------
    FlowRecord
        None submerged; flat where the flow stays at its highest. [m3/s]
    """
    none = np.zeros(flow.time_s.size, np.bool_)
    return FlowRecord(flow, np.zeros(flow.time_s.size), none, flat_tops(flow))


def stage_flow(
    level: Series, settings: tuple[BoardSetting, ...], tailwater: Series | None = None
) -> FlowRecord:
    """Flow over the boards of a structure from its logged level.

    Parameters
    ----------
    level : Series
        Elevation of the water above the boards. [m]
    settings : tuple of BoardSetting
        What stood in the guides, ascending in time. [-]
    tailwater : Series, optional
        Elevation of the water below the boards; without it they are taken to fall free. [m]

    Returns
    -------
    FlowRecord
        Zero below the crest; NaN where the level is missing or doubted, the sensor stood in ice or
        the boards are submerged. [m3/s]

    Notes
    -----
    Q = (c + c' h) (h + k)^m + leak    (francis1883)

    c, c', k and m are those of the rating in use: the calibration of the job where there is one,
    else the formula of the crest. Submerged readings are left out, not converted: Villemonte's
    factor takes a second level to a few millimetres, which a logger for stage does not give.

    References
    ----------
    francis1883, from memory
    derived, the crest of each reading by the log of the boards
    """
    time = level.time_s
    behind = _at(tailwater, time) if tailwater is not None else np.full(time.size, -np.inf)
    flow = np.full(time.size, np.nan)
    slope = np.zeros(time.size)
    under = np.zeros(time.size, np.bool_)
    starts = [setting.from_s for setting in settings]
    ends = [*starts[1:], np.inf]
    for setting, start, end in zip(settings, starts, ends, strict=True):
        here = (time >= start) & (time < end)
        boards = setting.boards
        water = level.value[here]
        flow[here] = free_flow(water, boards)
        slope[here] = (free_flow(water + NUDGE, boards) - flow[here]) / NUDGE
        under[here] = is_submerged(water, behind[here], boards.crest)
    doubted = level.flagged(SUSPECT) & (flow > 0.0)
    flow[under | doubted | level.flagged(FROZEN)] = np.nan
    flag: Flags = level.flag
    record = Series(level.name, time, flow, flag)
    at_end = (flat_tops(level) | level.flagged(OUT_OF_WATER)) & (flow > 0.0)
    return FlowRecord(record, np.where(np.isnan(slope), 0.0, slope), under, at_end)


def free_flow(level: Floats, boards: BoardSet) -> Floats:
    """Flow over and through a set of boards into air, for many levels at once.

    Parameters
    ----------
    level : array
        Elevation of the water above the boards. [m]
    boards : BoardSet
        Crest and rating. [-]

    Returns
    -------
    array
        NaN where the level is. [m3/s]

    Notes
    -----
    Q = (c + c' h) (h + k)^m + leak    (francis1883)

    References
    ----------
    francis1883, from memory
    derived, the arithmetic of `board_sets.board_set_flow` for arrays
    """
    head = np.maximum(level - boards.crest, 0.0)
    added = np.minimum(boards.head_added, head)
    coefficient = boards.coefficient + boards.growth * np.minimum(head, boards.growth_ends)
    flow = coefficient * (head + added) ** boards.exponent
    if np.isfinite(boards.top):
        above = np.maximum(head - boards.top, 0.0)
        k, m = boards.head_added, boards.exponent
        flow += boards.wings * above**1.5 - boards.coefficient * ((above + k) ** m - k**m)
    if boards.leak > 0.0:
        wet = np.maximum(np.minimum(level, boards.crest) - boards.sill, 0.0)
        fall = wet + head
        root = np.sqrt(2.0 * 9.80665)
        flow = flow + boards.leak * root * (fall**1.5 - head**1.5) / 1.5
    return np.asarray(np.where(np.isnan(level), np.nan, flow), np.float64)


def stage_flow_range(
    level: Series, settings: tuple[BoardSetting, ...], tailwater: Series | None = None
) -> tuple[Finding, ...]:
    """Say where readings could not be converted, or are only a lower bound.

    Parameters
    ----------
    level : Series
        Elevation of the water above the boards. [m]
    settings : tuple of BoardSetting
        What stood in the guides. [-]
    tailwater : Series, optional
        Elevation of the water below the boards. [m]

    Returns
    -------
    tuple of Finding
    """
    if level.time_s.size == 0:
        return ()
    record = stage_flow(level, settings, tailwater)
    found = []
    drowned = float(record.submerged.mean())
    if drowned > 0.0:
        found.append(
            Finding(
                "monitor-submerged",
                "caution",
                f"Level at {level.name}",
                f"{drowned:.1%} of the readings at {level.name} have water below the boards above "
                "their crest. They are not converted and count as gaps. Read the flow there "
                "another way, or raise the crest.",
                drowned,
                source="derived",
            )
        )
    flat = float(record.at_least.mean())
    if flat > 0.0:
        found.append(
            Finding(
                "monitor-flat-top",
                "caution",
                f"Level at {level.name}",
                f"{flat:.1%} of the readings at {level.name} stand flat at the highest level read. "
                "The flow was that or more, so loads are lower bounds. Set the sensor deeper or "
                "take one with more range.",
                flat,
                source="derived",
            )
        )
    return tuple(found)


def _at(series: Series, time_s: Floats) -> Floats:
    """Values of a series at other times; NaN values are bridged, ends held."""
    known = ~np.isnan(series.value)
    if not known.any():
        return np.full(time_s.size, -np.inf)
    return np.asarray(np.interp(time_s, series.time_s[known], series.value[known]))

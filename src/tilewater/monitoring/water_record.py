# SPDX-License-Identifier: Apache-2.0
"""Flows of a practice on one axis of time, their gaps filled by rule and counted.

Three flows can be logged: what goes through the practice, what goes past it, and all that the main
brings. Any two give the third, and it is said where it was so; a difference below zero is cut off
and its volume counted, for it is an error that one sees. A gap between readings is bridged by a
straight line and told; before the first and after the last reading nothing is put in.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.monitoring.sensor_end import mean_flow_beyond
from tilewater.monitoring.series import DAY, Floats, Truths
from tilewater.monitoring.stage_flow import FlowRecord

Name = Literal["treated", "bypass", "total"]
NAMES: tuple[Name, ...] = ("treated", "bypass", "total")
LONGEST_FILLED = 10.0 * DAY
"""Longest gap that is bridged; a longer one is left out of the loads. [s]"""
MISSING = 1.75
"""Steps between two readings from which some are missing."""


@dataclass(frozen=True)
class Way:
    """One flow on the axis of time.

    Attributes
    ----------
    flow : array
        With gaps bridged; NaN in those too long. [m3/s]
    filled : array
        Where it was bridged. [-]
    per_metre : array
        How it grows with the logged level. [m2/s]
    at_least : array
        Where it was this or more. [-]
    beyond : float
        What is taken beyond a reading there, and counted in the flow. [m3/s]
    submerged_share : float
        Of the readings. [-]
    measured : bool
        Whether it was logged itself; else it is a difference, or nothing.
    cut_m3 : float
        What was below zero in a difference, and cut off. [m3]
    """

    flow: Floats
    filled: Truths
    per_metre: Floats
    at_least: Truths
    submerged_share: float
    measured: bool
    cut_m3: float = 0.0
    beyond: float = 0.0


@dataclass(frozen=True)
class WaterRecord:
    """Flows of a practice on one axis of time.

    Attributes
    ----------
    time_s : array
        Middle of each step. [s]
    step_s : array
        Length of each step. [s]
    treated, bypass : Way
        Through the practice, and past it.
    total : Way or None
        What the main brings, where it was logged.
    """

    time_s: Floats
    step_s: Floats
    treated: Way
    bypass: Way
    total: Way | None

    @property
    def known(self) -> Truths:
        """Where both ways are known; loads are those of these steps."""
        return ~(np.isnan(self.treated.flow) | np.isnan(self.bypass.flow))


def water_record(
    flows: dict[str, FlowRecord],
    *,
    start_s: float,
    end_s: float,
    longest_filled_s: float = LONGEST_FILLED,
) -> WaterRecord:
    """Flows of a practice on one axis of time, gaps bridged.

    Parameters
    ----------
    flows : dict of str to FlowRecord
        By treated, bypass, total; treated, or both others, must be there. [m3/s]
    start_s : float
        Begin of the period, in universal time. [s]
    end_s : float
        Its end. [s]
    longest_filled_s : float
        Longest gap that is bridged. [s]

    Returns
    -------
    WaterRecord
        Steps as long as those of the finest logger. [m3/s]

    Raises
    ------
    NoSolution
        If neither the treated flow nor both others have readings in the period.

    Notes
    -----
    Q = Q1 + (Q2 - Q1) (t - t1)/(t2 - t1) in a gap;  Q_bypass = Q_total - Q_treated    (derived)

    References
    ----------
    derived, straight lines and differences
    """
    used = {
        name: cut
        for name, record in flows.items()
        if (cut := record.between(start_s, end_s)).flow.time_s.size > 1
    }
    if "treated" not in used and not {"bypass", "total"} <= set(used):
        message = (
            f"The period has readings of {', '.join(used) or 'no flow'}. Loads need the flow "
            "through the practice, or the total and the bypass. Check the period, and what each "
            "logger measures."
        )
        raise NoSolution(message)
    step = min(float(np.median(np.diff(record.flow.time_s))) for record in used.values())
    first = min(float(record.flow.time_s[0]) for record in used.values())
    last = max(float(record.flow.time_s[-1]) for record in used.values())
    time = np.asarray(first + step * np.arange(round((last - first) / step) + 1), np.float64)
    ways = {name: _way(record, time, longest_filled_s) for name, record in used.items()}
    steps = np.full(time.size, step)
    total = ways.get("total")
    treated = ways.get("treated") or _difference(ways["total"], ways["bypass"], steps)
    bypass = ways.get("bypass")
    if bypass is None:
        bypass = _nothing(time.size) if total is None else _difference(total, treated, steps)
    return WaterRecord(time, steps, treated, bypass, total)


def _way(record: FlowRecord, time: Floats, longest: float) -> Way:
    """One flow on the axis."""
    series = record.flow
    own_step = float(np.median(np.diff(series.time_s)))
    place = np.clip(np.searchsorted(series.time_s, time), 1, series.time_s.size - 1)
    near = np.where(
        time - series.time_s[place - 1] <= series.time_s[place] - time, place - 1, place
    )
    good = ~np.isnan(series.value)
    if not good.any():
        nothing = np.full(time.size, np.nan)
        none = np.zeros(time.size, np.bool_)
        share = float(record.submerged.mean())
        return Way(nothing, none, np.zeros(time.size), none, share, measured=True)
    known_at, known = series.time_s[good], series.value[good]
    after = np.searchsorted(known_at, time)
    low = np.clip(after - 1, 0, known_at.size - 1)
    high = np.clip(after, 0, known_at.size - 1)
    exact = known_at[high] == time
    gap = np.where(exact, 0.0, known_at[high] - known_at[low])
    outside = (time < known_at[0] - 0.5 * own_step) | (time > known_at[-1] + 0.5 * own_step)
    flow = np.interp(time, known_at, known)
    flow[outside | (gap > longest)] = np.nan
    filled = (gap > MISSING * own_step) & ~np.isnan(flow)
    at_least = record.at_least[near] & ~filled
    beyond = mean_flow_beyond(flow, at_least)
    return Way(
        np.where(at_least, flow + beyond, flow),
        np.asarray(filled),
        np.where(filled, 0.0, record.per_metre[near]),
        at_least,
        float(record.submerged.mean()),
        measured=True,
        beyond=beyond,
    )


def _difference(whole: Way, part: Way, steps: Floats) -> Way:
    """The third flow from two."""
    rest = whole.flow - part.flow
    cut = float(np.nansum(np.where(rest < 0.0, -rest, 0.0) * steps))
    return Way(
        np.maximum(rest, 0.0),
        whole.filled | part.filled,
        np.zeros(steps.size),
        whole.at_least,
        max(whole.submerged_share, part.submerged_share),
        measured=False,
        cut_m3=cut,
        beyond=whole.beyond,
    )


def _nothing(size: int) -> Way:
    none = np.zeros(size, np.bool_)
    return Way(np.zeros(size), none, np.zeros(size), none, 0.0, measured=False)


def volume_of(flow: Floats, step_s: Floats) -> float:
    """Volume of a flow.

    Parameters
    ----------
    flow : array
        NaN where it is not known, and not counted. [m3/s]
    step_s : array
        Length of each step. [s]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = sum(Q dt)    (derived)

    References
    ----------
    derived, a sum
    """
    return float(np.nansum(flow * step_s))


def gap_error_of_volume(way: Way, step_s: Floats) -> float:
    """How far the volume of a flow may be off by its bridged gaps.

    Each gap is laid over stretches of the record that were read, bridged there in the same way, and
    held against what was read. Stretches that begin and end about as high as the gap count where
    there are ten of them.

    Parameters
    ----------
    way : Way
        One flow with its gaps bridged. [m3/s]
    step_s : array
        Length of each step. [s]

    Returns
    -------
    float
        Standard error. [m3]

    Notes
    -----
    e^2 = sum over gaps of V_gap^2 mean((V_read / V_bridged - 1)^2)    (derived)

    Half of a gap's volume is taken where no stretch of its length was read (practice).

    References
    ----------
    derived, the gap laid where the answer is known
    practice, half of the volume where it cannot be laid
    """
    edges = np.flatnonzero(np.diff(np.concatenate(([0], way.filled.view(np.int8), [0]))))
    gaps = list(zip(edges[::2], edges[1::2], strict=True))
    if not gaps:
        return 0.0
    flow = np.nan_to_num(way.flow)
    bad = way.filled | np.isnan(way.flow)
    total = np.concatenate(([0.0], np.cumsum(flow * step_s)))
    wrong = np.concatenate(([0], np.cumsum(bad)))
    variance = 0.0
    for first, last in gaps:
        volume = float(total[last] - total[first])
        variance += (volume * _relative_error(flow, step_s, total, wrong, first, last)) ** 2
    return float(np.sqrt(variance))


def _relative_error(
    flow: Floats,
    step_s: Floats,
    total: Floats,
    wrong: Floats,
    first: int,
    last: int,
) -> float:
    """Root mean square error of bridging a stretch as long as a gap, as a share."""
    length = last - first
    begin = np.arange(1, flow.size - length)
    clean = begin[(wrong[begin + length + 1] - wrong[begin - 1]) == 0]
    bridged = 0.5 * (flow[clean - 1] + flow[clean + length]) * length * step_s[0]
    read = total[clean + length] - total[clean]
    edge = 0.5 * (flow[max(first - 1, 0)] + flow[min(last, flow.size - 1)]) * length * step_s[0]
    like = (bridged > 0.5 * edge) & (bridged < 2.0 * edge)
    chosen = like if like.sum() >= 10 else bridged > 0.0
    if chosen.sum() < 10:
        return 0.5
    share = read[chosen] / bridged[chosen] - 1.0
    return float(np.sqrt(np.mean(np.clip(share, -3.0, 3.0) ** 2)))

# SPDX-License-Identifier: Apache-2.0
"""What a chart of the daily drain flow shows, read from a trace; nothing is computed here."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Trace
from tilewater.chain.water_series import EPOCH

Series = NDArray[np.float64]


@dataclass(frozen=True)
class Mark:
    """A flow to compare with: its words, value and key.

    Attributes
    ----------
    words : str
    flow : float
        [m3/s]
    key : str
    """

    words: str
    flow: float
    key: str


@dataclass(frozen=True, eq=False)
class DaysScene:
    """The daily drain flow of a job.

    Attributes
    ----------
    title, basis : str
    first, last : str
        First and last day of the series.
    days : int
    mean_depth : float
        Drainage of a mean year. [m]
    median_year : int
        The year that is drawn day by day.
    year_day : array of int
        Its days with a value, 0 for 1 January.
    year_flow : array
        Flow of each. [m3/s]
    falling : array
        All flows of the series, the largest first. [m3/s]
    month_depth : array of 12
        Drainage by month of a mean year. [m]
    years : array of int
    year_depth : array
        Drainage of each of these years. [m]
    marks : tuple of Mark
    """

    title: str
    basis: str
    first: str
    last: str
    days: int
    mean_depth: float
    median_year: int
    year_day: NDArray[np.int64]
    year_flow: Series
    falling: Series
    month_depth: Series
    years: NDArray[np.int64]
    year_depth: Series
    marks: tuple[Mark, ...]


NEEDED = ("flow_m3_s", "mean_annual_depth_m", "month_depth_m", "year_depth_m", "median_year")
MARKS = (
    ("main full", "drain_flow.candidates_m3_s.main_full"),
    ("day of ten years", "water.ten_year.flow_m3_s"),
    ("bed, criterion line", "capacity.criterion.flow_m3_s"),
)
CLOSE = 0.02
"""Marks that lie within this share of each other are written on one line."""


def days_scene(trace: Trace) -> DaysScene | None:
    """What there is to draw; None where there is no series with a whole year.

    Parameters
    ----------
    trace : Trace
        Steps with the water side. [-]

    Returns
    -------
    DaysScene or None
        Records of the chart. [-]
    """
    if not trace.known(*(f"water.{name}" for name in NEEDED)):
        return None
    title = trace.value("inputs.job.title") if trace.known("inputs.job.title") else ""
    day, flow = trace.value("water.day"), trace.value("water.flow_m3_s")
    dates = (day - EPOCH).astype("datetime64[D]")
    median = int(trace.value("water.median_year"))
    of_year = dates.astype("datetime64[Y]").astype(np.int64) + 1970 == median
    since = (dates[of_year] - np.datetime64(f"{median}-01-01")).astype(np.int64)
    return DaysScene(
        title=str(title),
        basis=str(trace.value("water.basis")),
        first=str(dates[0]),
        last=str(dates[-1]),
        days=int(day.size),
        mean_depth=float(trace.value("water.mean_annual_depth_m")),
        median_year=median,
        year_day=since,
        year_flow=flow[of_year],
        falling=np.sort(flow)[::-1],
        month_depth=trace.value("water.month_depth_m"),
        years=trace.value("water.years"),
        year_depth=trace.value("water.year_depth_m"),
        marks=_marks(trace),
    )


def _marks(trace: Trace) -> tuple[Mark, ...]:
    found: list[Mark] = []
    for words, key in MARKS:
        if not trace.known(key):
            continue
        flow = float(trace.value(key))
        near = [i for i, mark in enumerate(found) if abs(mark.flow / flow - 1.0) < CLOSE]
        if near:
            mark = found[near[0]]
            found[near[0]] = Mark(f"{mark.words}, {words}", mark.flow, mark.key)
        else:
            found.append(Mark(words, flow, key))
    return tuple(found)

# SPDX-License-Identifier: Apache-2.0
"""The daily series of a design that one looks at, and their sums over any span of days.

What was routed, what the drains brought, the water at the diversion and in the ditch, the clear
soil at each spot. All at the middle of every range; nothing is routed here.
"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown

Array = NDArray[np.float64]
Group = Literal["flow", "nitrate", "level", "soil"]

DAY_S = 86_400.0
"""Seconds of a day."""
EPOCH = date(1970, 1, 1).toordinal()
GROUPS: dict[Group, str] = {
    "flow": "Flow",
    "nitrate": "Nitrate taken out",
    "level": "Water at the diversion and in the ditch",
    "soil": "Clear soil midway between laterals",
}
"""What is drawn in one panel, from the top."""


@dataclass(frozen=True, eq=False)
class DaySeriesShown:
    """One daily series.

    Attributes
    ----------
    name, title : str
    key : str
        Key of the step that it comes from.
    group : str
        Panel in which it is drawn.
    kind : str
        Kind of its unit.
    values : array of shape (days,)
        In SI; not a number where a day has none. [-]
    limit : float or None
        What it is held to. [-]
    """

    name: str
    title: str
    key: str
    group: Group
    kind: str
    values: Array
    limit: float | None = None


@dataclass(frozen=True, eq=False)
class DaysShown:
    """The days of a record with their series.

    Attributes
    ----------
    days : array of datetime64[D]
    series : tuple of DaySeriesShown
    inlet_mg_per_l, outlet_mg_per_l : array or None
        Nitrate before and behind the practice; None where nothing was routed. [mg/L]
    missing : tuple of Unknown
        What is not there, and what would bring it.
    """

    days: NDArray[np.datetime64]
    series: tuple[DaySeriesShown, ...]
    inlet_mg_per_l: Array | None
    missing: tuple[Unknown, ...]

    def one(self, name: str) -> DaySeriesShown | None:
        """The series of a name."""
        return next((each for each in self.series if each.name == name), None)


@dataclass(frozen=True)
class SpanSums:
    """What a span of days adds up to.

    Attributes
    ----------
    first, last : date
        First and last day of the record within it.
    days : int
    drain_m3, treated_m3, bypass_m3 : float or None
        None where it is not known. [m3]
    load_kg, removed_kg : float or None
        Nitrate nitrogen at the diversion, and taken out. [kg]
    flowing, treating, bypassing : int or None
        Days with flow, with treated flow, with flow over the boards. [days]
    highest_m : float or None
        Highest water at the diversion. [m]
    least_m : tuple of (spot, clear soil, days below its limit)
    """

    first: date
    last: date
    days: int
    drain_m3: float | None
    treated_m3: float | None
    bypass_m3: float | None
    load_kg: float | None
    removed_kg: float | None
    flowing: int
    treating: int | None
    bypassing: int | None
    highest_m: float | None
    least_m: tuple[tuple[str, float, int], ...]

    @property
    def share_treated(self) -> float | None:
        """Share of the drain flow that is treated. [-]"""
        if self.treated_m3 is None or not self.drain_m3:
            return None
        return self.treated_m3 / self.drain_m3


def days_shown(trace: Trace) -> DaysShown:
    """The daily series of a design.

    Parameters
    ----------
    trace : Trace
        Of a design by days. [-]

    Returns
    -------
    DaysShown
        Without a series where no day is known; what is missing says why. [-]
    """
    if "water.flow_m3_s" not in trace or not trace.known("water.day", "water.flow_m3_s"):
        return DaysShown(np.array([], "datetime64[D]"), (), None, (_why_no_days(trace),))
    days = (trace.value("water.day") - EPOCH).astype("datetime64[D]")
    flow = np.asarray(trace.value("water.flow_m3_s"), dtype=np.float64)
    series = [DaySeriesShown("drain", "Drain flow", "water.flow_m3_s", "flow", "flow", flow)]
    missing: list[Unknown] = []
    inlet = None
    if "days.run" in trace and trace.known("days.run", "days.date"):
        series += _routed(trace, days)
        inlet = _on(days, trace.value("days.date"), trace.value("days.series").nitrate)
    else:
        missing.append(_why_not_routed(trace))
    series += _soil(trace, days)
    if not any(each.group == "soil" for each in series):
        missing.append(
            Unknown(
                "no spot was run day by day, so clear soil by days is not known",
                "give spots and the weather, so that the field is simulated",
            )
        )
    return DaysShown(days, tuple(series), inlet, tuple(missing))


def _why_no_days(trace: Trace) -> Unknown:
    for key in ("water.flow_m3_s", "water.run", "water.weather"):
        if key in trace and isinstance(trace.value(key), Unknown):
            found: Unknown = trace.value(key)
            return found
    return Unknown(
        "the drain flow is not known day by day",
        "name a file of daily weather under [weather], or a record of flow",
    )


def _why_not_routed(trace: Trace) -> Unknown:
    if "days.run" in trace and isinstance(trace.value("days.run"), Unknown):
        found: Unknown = trace.value("days.run")
        return found
    return Unknown("no days were led through the practice, only the drain flow is shown")


def _routed(trace: Trace, days: NDArray[np.datetime64]) -> list[DaySeriesShown]:
    run, dates = trace.value("days.run"), trace.value("days.date")
    through = "through the bed" if "bed.side_slope" in trace else "into the buffer"

    def series(name: str, title: str, group: Group, kind: str, values: Array) -> DaySeriesShown:
        return DaySeriesShown(name, title, "days.run", group, kind, _on(days, dates, values))

    stage = DaySeriesShown(
        "ditch",
        "Water in the ditch",
        "days.stage_m",
        "level",
        "elevation",
        _on(days, dates, trace.value("days.stage_m")),
    )
    return [
        series("treated", f"Flow {through}", "flow", "flow", run.bed_flow),
        series("bypass", "Flow over the bypass boards", "flow", "flow", run.bypass_flow),
        series("removed", "Nitrate-N taken out in the day", "nitrate", "mass", run.removed_kg),
        series("level", "Water at the diversion", "level", "elevation", run.level),
        stage,
    ]


def _soil(trace: Trace, days: NDArray[np.datetime64]) -> list[DaySeriesShown]:
    found = []
    for spot in trace.names("water.spot"):
        key = f"water.spot.{spot}.boards_in.run"
        if key not in trace or not trace.known(key):
            continue
        run, limit = trace.value(key), f"field.{spot}.limits_m.midway"
        dates = np.datetime64(run.weather.first_day) + np.arange(run.table_depth.size)
        found.append(
            DaySeriesShown(
                f"soil-{spot}",
                f"Clear soil at {spot}",
                key,
                "soil",
                "length",
                _on(days, dates, run.table_depth),
                float(trace.value(limit)) if limit in trace and trace.known(limit) else None,
            )
        )
    return found


def _on(days: NDArray[np.datetime64], dates: NDArray[np.datetime64], values: Array) -> Array:
    """Values by their own dates as a series of the days that are shown."""
    if dates.shape == days.shape and bool((dates == days).all()):
        return np.asarray(values, dtype=np.float64)
    out = np.full(days.shape, np.nan)
    place = np.searchsorted(days, dates)
    inside = place < days.size
    inside[inside] = days[place[inside]] == dates[inside]
    out[place[inside]] = np.asarray(values, dtype=np.float64)[inside]
    return out


def sums_of_span(shown: DaysShown, first: date, last: date) -> SpanSums | None:
    """What the days of a span add up to.

    Parameters
    ----------
    shown : DaysShown
        The days. [-]
    first, last : date
        Ends of the span, both within it. [-]

    Returns
    -------
    SpanSums or None
        None where the record has no day in it. [-]

    Notes
    -----
    V = sum Q t,  M = sum C Q t / 1000,  t = 86400 s    (derived)

    References
    ----------
    derived, sums over days
    """
    low, high = np.datetime64(first), np.datetime64(last)
    inside = (shown.days >= low) & (shown.days <= high)
    if not inside.any():
        return None
    picked = {each.name: each.values[inside] for each in shown.series}
    drain = picked["drain"]
    load = None
    if shown.inlet_mg_per_l is not None:
        load = float(np.nansum(drain * shown.inlet_mg_per_l[inside])) * DAY_S / 1000.0
    days = shown.days[inside]
    return SpanSums(
        first=days[0].astype(object),
        last=days[-1].astype(object),
        days=int(inside.sum()),
        drain_m3=_volume(drain),
        treated_m3=_volume(picked.get("treated")),
        bypass_m3=_volume(picked.get("bypass")),
        load_kg=load,
        removed_kg=None if "removed" not in picked else float(np.nansum(picked["removed"])),
        flowing=int((drain > 0.0).sum()),
        treating=_count(picked.get("treated")),
        bypassing=_count(picked.get("bypass")),
        highest_m=_highest(picked.get("level")),
        least_m=tuple(
            (each.title, *_least(picked[each.name], each.limit))
            for each in shown.series
            if each.group == "soil"
        ),
    )


def _volume(flow: Array | None) -> float | None:
    return None if flow is None else float(np.nansum(flow)) * DAY_S


def _count(flow: Array | None) -> int | None:
    return None if flow is None else int((flow > 0.0).sum())


def _highest(level: Array | None) -> float | None:
    if level is None or np.isnan(level).all():
        return None
    return float(np.nanmax(level))


def _least(soil: Array, limit: float | None) -> tuple[float, int]:
    below = 0 if limit is None else int((soil < limit).sum())
    return float(np.nanmin(soil)) if not np.isnan(soil).all() else float("nan"), below


def spans_of(shown: DaysShown, *, year: int | None = None) -> tuple[tuple[date, date], ...]:
    """First and last day of each year of the record, or of each month of one year.

    Parameters
    ----------
    shown : DaysShown
        The days. [-]
    year : int or None
        The year whose months are asked. [-]

    Returns
    -------
    tuple of (date, date)
        Those with a day in the record. [-]

    References
    ----------
    derived, the calendar
    """
    if shown.days.size == 0:
        return ()
    unit = "datetime64[Y]" if year is None else "datetime64[M]"
    starts = np.unique(shown.days.astype(unit))
    if year is not None:
        starts = starts[starts.astype("datetime64[Y]") == np.datetime64(str(year), "Y")]
    return tuple(
        (
            start.astype("datetime64[D]").astype(object),
            ((start + 1).astype("datetime64[D]") - 1).astype(object),
        )
        for start in starts
    )

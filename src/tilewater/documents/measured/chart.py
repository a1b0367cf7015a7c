# SPDX-License-Identifier: Apache-2.0
"""Charts of a measured practice: flow with its samples, loads by interval. They print in grey."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import HERE
from tilewater.documents.scales import round_step
from tilewater.documents.sheet import INK, MUTED, PAPER, WATER, WATER_FILL, Frame, Sheet
from tilewater.documents.words import Words
from tilewater.monitoring.concentration import Nitrate
from tilewater.monitoring.intervals import Interval
from tilewater.monitoring.series import DAY, Floats
from tilewater.monitoring.water_record import WaterRecord

WIDTH, HEIGHT = 620.0, 270.0
LEFT, RIGHT, TOP, BASE = 52.0, 572.0, 40.0, 232.0
SMALL, DOT = 9.5, 2.6
HEADROOM = 1.08
MOST_TICKS = 13
FEW_DAYS = 75.0
BAR = 0.36
Scale = Callable[[float], float]


def daily(water: WaterRecord, flow: Floats) -> tuple[Floats, Floats]:
    """Days and the mean flow of each; NaN where nothing is known."""
    day, which = np.unique(np.floor(water.time_s / DAY), return_inverse=True)
    good = ~np.isnan(flow)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.bincount(which, np.where(good, flow, 0.0)) / np.bincount(which, good)
    return day, np.asarray(mean)


def draw_flow(trace: Trace, words: Words) -> str:
    """Draw flow through and past the practice by the day, and the samples of both places, as SVG.

    Parameters
    ----------
    trace : Trace
        With the steps of the report.
    words : Words
        Units of the reader.

    Returns
    -------
    str
        The file.
    """
    water: WaterRecord = trace.value(f"{HERE}.water")
    day, through = daily(water, water.treated.flow)
    _, both = daily(water, water.treated.flow + water.bypass.flow)
    per = float(words.say(1e3, "flow", unit=False).replace(",", "")) / 1e3
    top = max(float(np.nanmax(both)) * per * HEADROOM, 1e-9)
    places: dict[str, Nitrate] = {
        name: trace.value(f"{HERE}.nitrate.half.{name}") for name in ("inlet", "outlet")
    }
    most = max(float(each.mg_per_l.max()) for each in places.values()) * HEADROOM
    first, last = float(day[0]), float(day[-1]) + 1.0
    across = (RIGHT - LEFT) / (last - first)
    sheet = Sheet(WIDTH)
    sheet.open_panel("flow", Frame(0.0, 0.0, LEFT, BASE, across, 1.0))

    def x_of(at: float) -> float:
        return LEFT + (at - first) * across

    def flow_y(value: float) -> float:
        return BASE - value * per / top * (BASE - TOP)

    def nitrate_y(value: float) -> float:
        return BASE - value / most * (BASE - TOP)

    for values, fill, stroke in ((both, PAPER, MUTED), (through, WATER_FILL, WATER)):
        for begin, end in _runs(values):
            points = [(x_of(day[i] + 0.5), flow_y(float(values[i]))) for i in range(begin, end)]
            shape = [(points[0][0], BASE), *points, (points[-1][0], BASE)]
            sheet.line(shape, stroke="none", fill=fill, width=0.0)
            sheet.line(points, stroke=stroke, width=1.0, dash="4 2" if stroke == MUTED else "")
    _axis(sheet, top, lambda v: flow_y(v / per), LEFT, "end")
    _axis(sheet, most, nitrate_y, RIGHT, "start")
    _days(sheet, first, last, x_of)
    for name, samples in places.items():
        for at, value in zip(samples.time_s / DAY, samples.mg_per_l, strict=True):
            if first <= at <= last:
                filled = INK if name == "inlet" else PAPER
                spot = (x_of(float(at)), nitrate_y(float(value)))
                _dot(sheet, spot, filled)
    unit = words.say(1.0, "flow").rpartition(" ")[2]
    sheet.text((LEFT - 6, TOP - 10), unit, anchor="end", size=SMALL, colour=MUTED)
    sheet.text((RIGHT + 6, TOP - 10), "mg/L", anchor="start", size=SMALL, colour=MUTED)
    _key(sheet)
    sheet.close_panel()
    return sheet.svg("Flow and samples", f"{day.size} days", HEIGHT)


def _dot(sheet: Sheet, at: tuple[float, float], fill: str) -> None:
    """A sample: an octagon, which reads as a dot."""
    turns = np.arange(8) * np.pi / 4.0 + np.pi / 8.0
    ring = [(at[0] + DOT * float(np.cos(a)), at[1] + DOT * float(np.sin(a))) for a in turns]
    sheet.line([*ring, ring[0]], stroke=INK, width=0.8, fill=fill)


def _key(sheet: Sheet) -> None:
    """What each line and mark is, above the chart."""
    y = 14.0
    sheet.line(((LEFT, y - 3), (LEFT + 18, y - 3)), stroke=WATER, width=2.2)
    sheet.text((LEFT + 23, y), "through", size=SMALL)
    sheet.line(((LEFT + 75, y - 3), (LEFT + 93, y - 3)), stroke=MUTED, width=1.2, dash="4 2")
    sheet.text((LEFT + 98, y), "through and past", size=SMALL)
    _dot(sheet, (LEFT + 200, y - 3), INK)
    sheet.text((LEFT + 207, y), "nitrate in", size=SMALL)
    _dot(sheet, (LEFT + 270, y - 3), PAPER)
    sheet.text((LEFT + 277, y), "nitrate out", size=SMALL)


def _runs(values: Floats) -> list[tuple[int, int]]:
    """Stretches without a gap."""
    good = ~np.isnan(values)
    edges = np.flatnonzero(np.diff(np.concatenate(([0], good.view(np.int8), [0]))))
    return [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def _axis(sheet: Sheet, top: float, y_of: Scale, x: float, anchor: str) -> None:
    step, value = round_step(top, 4.0), 0.0
    away = -6.0 if anchor == "end" else 6.0
    while value <= top:
        y = y_of(value)
        if anchor == "end":
            sheet.line(((LEFT, y), (RIGHT, y)), stroke=MUTED, width=0.4, opacity=0.5)
        sheet.text((x + away, y + 3.5), f"{value:g}", anchor=anchor, size=SMALL, colour=MUTED)
        value = round(value + step, 9)
    sheet.line(((LEFT, BASE), (RIGHT, BASE)), width=1.0)


def _days(sheet: Sheet, first: float, last: float, x_of: Scale) -> None:
    """First days of months, as many as have room; weeks where there are few."""
    if last - first < FEW_DAYS:
        for number in np.arange(first, last, 7.0):
            _tick(sheet, x_of(float(number)), f"{_date(float(number)):%b %d}")
        return
    months = max(int((last - first) / 30.4 / MOST_TICKS) + 1, 1)
    at = _date(first).replace(day=1)
    while (number := at.timestamp() / DAY) <= last:
        if number >= first and (at.month - 1) % months == 0:
            _tick(sheet, x_of(number), f"{at:%b}" if at.month > 1 else f"{at:%Y}")
        at = (at + timedelta(days=32)).replace(day=1)


def _tick(sheet: Sheet, x: float, words: str) -> None:
    sheet.line(((x, BASE), (x, BASE + 4)), width=0.8)
    sheet.text((x, BASE + 15), words, anchor="middle", size=SMALL, colour=MUTED)


def _date(day: float) -> datetime:
    return datetime.fromtimestamp(day * DAY, UTC)


def draw_loads(trace: Trace, words: Words) -> str:
    """Draw what came and what was removed in each interval as SVG, numbers over the bars.

    Parameters
    ----------
    trace : Trace
        With the steps of the report.
    words : Words
        Units of the reader.

    Returns
    -------
    str
        The file.
    """
    table: tuple[Interval, ...] = trace.value(f"{HERE}.intervals")
    came = [row.bed_in_kg + row.bypass_kg for row in table]
    top = max(*came, 1e-9) * 1.15
    wide = (RIGHT - LEFT) / len(table)
    sheet = Sheet(WIDTH)
    sheet.open_panel("loads", Frame(0.0, 0.0, LEFT, BASE, 1.0, 1.0))
    per = float(words.say(1e6, "mass", unit=False).replace(",", "")) / 1e6

    def y_of(load: float) -> float:
        return BASE - max(load, 0.0) / top * (BASE - TOP)

    _axis(sheet, top * per, lambda v: y_of(v / per), LEFT, "end")
    for at, (row, whole) in enumerate(zip(table, came, strict=True)):
        middle = LEFT + (at + 0.5) * wide
        _bar(sheet, middle, BAR * wide, y_of(whole), PAPER)
        _bar(sheet, middle, BAR * wide, y_of(row.removed_kg), WATER_FILL)
        said = words.say(row.removed_kg, "mass", unit=False)
        if len(table) <= MOST_TICKS + 2:
            place = (middle, y_of(whole) - 4)
            sheet.text(place, said, anchor="middle", size=SMALL)
        day = datetime.fromtimestamp(row.start_s, UTC)
        if at % (len(table) // MOST_TICKS + 1) == 0:
            sheet.text(
                (middle, BASE + 15), f"{day:%b %d}", anchor="middle", size=SMALL, colour=MUTED
            )
    unit = words.say(1.0, "mass").rpartition(" ")[2]
    sheet.text((LEFT - 6, TOP - 10), unit, anchor="end", size=SMALL, colour=MUTED)
    sheet.text((LEFT, 14.0), "bar: came; shaded, and the number: removed", size=SMALL)
    sheet.close_panel()
    return sheet.svg("Loads by interval", f"{len(table)} intervals", HEIGHT)


def _bar(sheet: Sheet, middle: float, half: float, top: float, fill: str) -> None:
    left, right = middle - half, middle + half
    outline = [(left, BASE), (left, top), (right, top), (right, BASE)]
    sheet.line(outline, stroke=INK, width=0.7, fill=fill)

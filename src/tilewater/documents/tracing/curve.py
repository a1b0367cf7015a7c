# SPDX-License-Identifier: Apache-2.0
"""The curve of a tracer test: samples, tail, and where a tenth, half and nine tenths had left."""

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.documents.scales import round_step
from tilewater.documents.sheet import INK, MUTED, PAPER, WATER, WATER_FILL, Frame, Sheet

WIDTH, HEIGHT = 620.0, 300.0
LEFT, RIGHT, TOP, BASE = 62.0, 600.0, 26.0, 254.0
HEADROOM, BEYOND = 1.1, 1.25
SMALL, DOT = 9.5, 2.6
NEAR_END = 0.85
CROWD = 60.0
"""How far another mark must lie for words to stand before it."""
HOUR = 3600.0


def draw_tracer(trace: Trace, name: str) -> str:
    """Draw the curve of a test as SVG.

    Parameters
    ----------
    trace : Trace
        With the steps of the test.
    name : str
        Of the test.

    Returns
    -------
    str
        The file; numbers carry their key.
    """
    here = f"tracer.{name}"
    hours = np.asarray(trace.value(f"{here}.time_s")) / HOUR
    found = np.asarray(trace.value(f"{here}.curve_kg_per_m3")) * 1e3
    end = float(hours[-1])
    tail = trace.value(f"{here}.tail") if f"{here}.tail" in trace else None
    marks = _marks(trace, here)
    last = max(end, *(at for _, at, _ in marks)) * (BEYOND if tail is not None else 1.04)
    sheet = Sheet(WIDTH)
    top = float(found.max()) * HEADROOM
    across, up = (RIGHT - LEFT) / last, (BASE - TOP) / top
    sheet.open_panel("tracer", Frame(0.0, 0.0, LEFT, BASE, across, up))
    points = [(LEFT + x * across, BASE - y * up) for x, y in zip(hours, found, strict=True)]
    sheet.line(
        [(points[0][0], BASE), *points, (points[-1][0], BASE)],
        stroke="none",
        fill=WATER_FILL,
        width=0.0,
    )
    _draw_axes(sheet, top, last, across, up)
    if tail is not None:
        beyond = np.linspace(end, last, 60)
        values = tail.concentration * 1e3 * np.exp(-tail.decay * (beyond - end) * HOUR)
        line = [
            (LEFT + x * across, BASE - min(y, top) * up)
            for x, y in zip(beyond, values, strict=True)
        ]
        sheet.line(line, stroke=WATER, width=1.2, dash="5 3", name="tail")
    sheet.line(points, stroke=WATER, width=1.4, name="curve")
    for x, y in points:
        diamond = ((x - DOT, y), (x, y - DOT), (x + DOT, y), (x, y + DOT))
        sheet.line(diamond, stroke=WATER, width=1.0, fill=PAPER)
    _draw_marks(sheet, marks, across)
    sheet.close_panel()
    about = f"{hours.size} samples over {end:.0f} hours"
    return sheet.svg(f"Tracer test {name}", about, HEIGHT)


def _marks(trace: Trace, here: str) -> list[tuple[str, float, str]]:
    """Words, hour and key of each mark."""
    wanted = (
        ("t10", "t10_s"),
        ("t50", "t50_s"),
        ("mean", "mean_residence_s"),
        ("t90", "t90_s"),
        ("V/Q", "nominal_residence_s"),
    )
    return [
        (words, float(trace.value(f"{here}.{key}")) / HOUR, f"{here}.{key}")
        for words, key in wanted
        if trace.known(f"{here}.{key}")
    ]


def _draw_axes(sheet: Sheet, top: float, last: float, across: float, up: float) -> None:
    step, value = round_step(top, 4.0), 0.0
    while value <= top:
        y = BASE - value * up
        sheet.line(((LEFT, y), (RIGHT, y)), stroke=MUTED, width=0.4, opacity=0.5)
        sheet.text((LEFT - 6, y + 3.5), f"{value:g}", anchor="end", size=SMALL, colour=MUTED)
        value = round(value + step, 9)
    step, hour = round_step(last, 8.0), 0.0
    while hour <= last:
        x = LEFT + hour * across
        sheet.line(((x, BASE), (x, BASE + 4)), width=0.8)
        sheet.text((x, BASE + 15), f"{hour:g}", anchor="middle", size=SMALL, colour=MUTED)
        hour = round(hour + step, 9)
    sheet.line(((LEFT, BASE), (RIGHT, BASE)), width=1.0)
    sheet.text((LEFT - 6, TOP - 10), "mg/L", anchor="end", size=SMALL, colour=MUTED)
    sheet.text((RIGHT, BASE + 30), "hours since the injection", anchor="end", size=SMALL)


def _draw_marks(sheet: Sheet, marks: list[tuple[str, float, str]], across: float) -> None:
    """Upright lines, each with its words at the first height that has room."""
    placed = sorted(marks, key=lambda mark: mark[1])
    for words, hour, _ in placed:
        x, dash = LEFT + hour * across, "2 3" if words == "V/Q" else "7 4"
        sheet.line(((x, TOP - 2), (x, BASE)), stroke=INK, width=0.9, dash=dash)
    for words, hour, key in reversed(placed):
        x, y, text = LEFT + hour * across, TOP + 6, f"{words} {hour:.1f} h"
        crowded = words == "t50" and any(
            0.0 < other - hour < CROWD / across for _, other, _ in marks
        )
        anchor = "end" if crowded or x > NEAR_END * RIGHT else "start"
        place = x - 4 if anchor == "end" else x + 4
        while not sheet.has_room((place, y), text, size=SMALL, anchor=anchor) and y < BASE - 20:
            y += 13
        sheet.text((place, y), ((text, key),), size=SMALL, anchor=anchor, clear=PAPER)

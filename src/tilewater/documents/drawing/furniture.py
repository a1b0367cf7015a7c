# SPDX-License-Identifier: Apache-2.0
"""What a drawing carries besides its subject: scale bar, scale in words, marks with their words.

All of it is made of plain entities, so a scale bar is measured on paper like anything else that is
drawn and cannot say another scale than that of its drawing.
"""

from tilewater.basis.units import Foot, System, format_quantity, to_si
from tilewater.documents.drawing.frame import MM, Frame, Point
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import (
    SMALL,
    Area,
    Entity,
    Mark,
    Part,
    Polyline,
    Text,
)
from tilewater.documents.scales import SI_STEPS, US_STEPS, printed_times, round_step

BAR_HIGH = 1.6
"""Height of a scale bar. [mm]"""
BAR_PARTS = 4
NOTCH = 1.4
"""Room between a mark and its words. [mm]"""
_SAME = 1e-6


def metre_per_unit(units: System, foot: Foot) -> float:
    """Metres of the unit in which lengths of a drawing are read. [m]"""
    if units == "si":
        return 1.0
    return to_si(1.0, "survey ft" if foot == "us survey foot" else "ft")


def length_words(value: float, units: System, foot: Foot = "international foot") -> str:
    """A length in metres as dimensions write it: hundredths of a foot, or millimetres of a metre.

    The unit is left out; a note on the drawing says it (`units_note`).
    """
    return format_quantity(value, "length", system=units, unit=False, foot=foot)


def size_words(value: float, units: System) -> str:
    """The size of a pipe or board in metres as it is bought: inches or millimetres, with unit."""
    return format_quantity(value, "size", system=units)


def units_note(units: System, foot: Foot = "international foot") -> str:
    """The note that says in what the drawing is dimensioned."""
    if units == "si":
        return "Lengths and elevations in metres, pipe and boards in millimetres."
    kind = "US survey feet" if foot == "us survey foot" else "feet"
    return f"Lengths and elevations in decimal {kind}, pipe and boards in inches."


def scale_words(frame: Frame, units: System) -> str:
    """The scale of a drawing in words, with how much heights are exaggerated."""
    across = _one_scale(frame.scale_x, units)
    if abs(frame.exaggeration - 1.0) < _SAME:
        return f"Scale {across}"
    up = _one_scale(frame.scale_y, units)
    times = f"{frame.exaggeration:.3g}"
    return f"Scale across {across}, up {up}: heights drawn {times} times"


def _one_scale(drawn: float, units: System) -> str:
    ratio = drawn / printed_times()
    feet = ratio * 0.0254 / to_si(1.0, "ft")
    if units == "us" and any(abs(feet / step - 1.0) < _SAME for step in US_STEPS):
        return f"1 in = {feet:.0f} ft"
    if units == "si" and any(abs(ratio / step - 1.0) < _SAME for step in SI_STEPS):
        return f"1 : {ratio:.0f}"
    return f"1 in = {feet:.3g} ft" if units == "us" else f"1 : {ratio:.4g}"


def scale_bar(
    frame: Frame,
    at: Point,
    units: System,
    foot: Foot = "international foot",
    *,
    length_mm: float = 50.0,
    upright: bool = False,
) -> tuple[Entity, ...]:
    """A bar of four equal pieces of ground, inked in turn, with its lengths.

    Parameters
    ----------
    frame : Frame
    at : tuple of float
        Its lower left corner; of an upright bar the foot of its left side. [m]
    units, foot
        Units of the reader.
    length_mm : float
        About how long it may be. [mm]
    upright : bool
        Whether it measures heights.

    Returns
    -------
    tuple of Entity
    """
    unit = metre_per_unit(units, foot)
    ratio = frame.scale_y if upright else frame.scale_x
    piece = round_step(length_mm / MM * ratio / unit, BAR_PARTS) * unit
    made: list[Entity] = []
    for index in range(BAR_PARTS):
        corners = _piece(frame, at, index * piece, (index + 1) * piece, upright)
        made.append(Area(corners, "ink" if index % 2 == 0 else "paper", name="scale bar"))
        made.append(Polyline(corners, "dimension", closed=True))
    for index in range(0, BAR_PARTS + 1, 2):
        figure = f"{index * piece / unit:.10g}"
        last = " " + ("ft" if units == "us" else "m") if index == BAR_PARTS else ""
        made.append(_figure(frame, at, index * piece, figure, last, upright))
    return tuple(made)


def _piece(frame: Frame, at: Point, a: float, b: float, upright: bool) -> tuple[Point, ...]:
    x, y = at
    if upright:
        right = frame.moved(at, BAR_HIGH, 0.0)[0]
        return (x, y + a), (right, y + a), (right, y + b), (x, y + b)
    top = frame.moved(at, 0.0, BAR_HIGH)[1]
    return (x + a, y), (x + b, y), (x + b, top), (x + a, top)


def _figure(frame: Frame, at: Point, along: float, figure: str, unit: str, upright: bool) -> Text:
    """A figure of the bar: its digits, not its unit, stand at the place that they say."""
    words = (Part(figure), Part(unit, weight="light")) if unit else figure
    if upright:
        where = frame.moved((at[0], at[1] + along), BAR_HIGH + 1.0, 0.0)
        return Text(where, words, size_mm=SMALL, up="middle")
    beside = text_width(unit, SMALL, "light") / 2
    where = frame.moved((at[0] + along, at[1]), beside, BAR_HIGH + 1.0)
    return Text(where, words, size_mm=SMALL, across="middle")


def north_arrow(at: Point, *, north_deg: float = 90.0) -> tuple[Entity, ...]:
    """An arrow to the north; the direction counts counter-clockwise from the right. [deg]"""
    return (Mark(at, "north", "dimension", north_deg - 90.0, name="north"),)


def elevation_mark(
    frame: Frame,
    at: Point,
    words: str | tuple[Part, ...],
    *,
    key: str = "",
    water: bool = False,
    to_left: bool = False,
) -> tuple[Entity, ...]:
    """A mark that stands on a level, with its elevation beside it."""
    side = -NOTCH if to_left else NOTCH
    layer = "water" if water else "dimension"
    text = Text(
        frame.moved(at, side, 0.7),
        words,
        layer="label-water" if water else "label",
        size_mm=SMALL,
        across="right" if to_left else "left",
        key=key,
        clear=True,
    )
    return Mark(at, "water" if water else "level", layer), text


def station_ticks(
    frame: Frame,
    y: float,
    start: float,
    end: float,
    units: System,
    foot: Foot = "international foot",
    *,
    apart_mm: float = 25.0,
) -> tuple[Entity, ...]:
    """Ticks at round stations on a level line, with the stations below it.

    Parameters
    ----------
    frame : Frame
        Its x are stations. [m]
    y : float
        Level of the line. [m]
    start, end : float
        Stations between which ticks stand. [m]
    units, foot
        Units of the reader.
    apart_mm : float
        About how far ticks stand apart. [mm]
    """
    unit = metre_per_unit(units, foot)
    step = round_step(apart_mm / MM * frame.scale_x / unit, 1.0)
    first, last = -int(-start / unit // step), int(end / unit // step)
    made: list[Entity] = [Polyline(((start, y), (end, y)), "grid")]
    for index in range(first, last + 1):
        at = index * step * unit, y
        words = format_quantity(at[0], "station", system=units, foot=foot)
        made.append(Mark(at, "tick", "grid"))
        made.append(
            Text(
                frame.moved(at, 0.0, -2.0),
                words,
                layer="label-muted",
                size_mm=SMALL,
                across="middle",
                up="top",
            )
        )
    return tuple(made)

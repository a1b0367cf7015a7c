# SPDX-License-Identifier: Apache-2.0
"""What every section carries beside its subject: a head with its scale, and an axis of heights."""

import math

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import System
from tilewater.documents.drawing.furniture import scale_bar, scale_words
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import BODY, SMALL
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures, fitting_scale, round_step

HEAD = 9.0
"""Height of the head. [mm]"""
AXIS = 10.0
"""Room of the elevations of the axis. [mm]"""
TICK = 8.0
"""About how near elevations of the axis may stand. [mm]"""
LEAST = 14.0
"""Paper that a section needs for itself. [mm]"""
BARS = (40.0, 26.0, 16.0)
"""Lengths of the scale bar, the first that has room. [mm]"""


def usual_scale(
    length: float, room_mm: float, units: System, what: str, *, least: float = 0.0
) -> float:
    """The largest usual scale at which a length fits into its room on paper.

    Parameters
    ----------
    length : float
        [m]
    room_mm : float
        [mm]
    units : "us" or "si"
    what : str
        What is to be drawn, for the message.
    least : float
        Ratio that it is not to go under, so that heights are not drawn too many times. [-]

    Returns
    -------
    float
        Metres of ground on a metre of paper. [-]

    Raises
    ------
    OutOfDomain
        If there is no room for it.
    """
    wanted = max(length, least * room_mm / 1000.0)
    ratio = fitting_scale(wanted, room_mm, units)
    if room_mm < LEAST or length * 1000.0 / ratio > room_mm + 1e-9:
        raise OutOfDomain(
            f"{what} has {room_mm:.0f} mm of paper beside its labels. It needs {LEAST:g} mm, and "
            "more the longer it is. Give a larger sheet."
        )
    return ratio


def write_head(plot: Plot, figures: Figures, title: str, binds: str = "") -> None:
    """Write the title of a section, its scale in words and as a bar, and what binds elsewhere."""
    frame = plot.frame
    y = frame.height_mm - 4.0
    plot.write((0.0, y), title, size_mm=BODY, weight="semibold")
    x = text_width(title, BODY, "semibold") + 4.0
    words = scale_words(frame, figures.units)
    plot.write((x, y), words, layer="label-muted")
    taken = x + text_width(words, SMALL) + 4.0
    for bar in BARS:
        long = _bar_length(plot, figures, bar)
        if frame.width_mm - long > taken:
            at = frame.ground((frame.width_mm - long, y - 2.0))
            plot.entities += scale_bar(frame, at, figures.units, figures.foot, length_mm=bar)
            break
    if binds:
        plot.write((0.0, y - 3.8), binds, layer="binds-label")


def _bar_length(plot: Plot, figures: Figures, about_mm: float) -> float:
    """Room of a bar with its last figure. [mm]"""
    unit, ratio = figures.metre_per_unit, plot.frame.scale_x
    whole = 4 * round_step(about_mm / 1000.0 * ratio / unit, 4)
    return whole * unit * 1000.0 / ratio + text_width(f"{whole:.10g} {figures.unit}", SMALL)


def write_axis(
    plot: Plot, figures: Figures, high: float, *, left: float = 0.0, parts: float = 8.0
) -> None:
    """Write round elevations up the left side of a section that starts so far from the frame."""
    unit = figures.metre_per_unit
    tall = (high - plot.base) * 1000.0 / plot.frame.scale_y
    round_one = round_step((high - plot.base) / unit, min(parts, tall / TICK))
    digits = max(0, -math.floor(math.log10(round_one)))
    step = round_one * unit
    number = int(plot.base / step) + 1
    while number * step <= high:
        z = number * step
        y = plot.frame.paper((0.0, z))[1]
        words = f"{z / unit:.{digits}f}"
        plot.write((left + AXIS - 3.0, y), words, layer="label-muted", up="middle", across="right")
        plot.rule(((left + AXIS - 2.2, y), (left + AXIS - 0.8, y)), "grid")
        number += 1

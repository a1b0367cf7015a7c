# SPDX-License-Identifier: Apache-2.0
"""The ditch of a practice without a return: its shape is laid where the main ends in the bank."""

from dataclasses import replace

from tilewater.basis.trace import Trace
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import DitchPart, Level, MainPart
from tilewater.chain.scene_way import outline_of_ditch, read_ditch

SLOPE = "inputs.ditch.section.side_slope"


def ditch_where_main_ends(trace: Trace, main: MainPart | None) -> DitchPart:
    """The ditch with the end of the main at distance 0.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]
    main : MainPart or None
        Its main. [-]

    Returns
    -------
    DitchPart
        Without an outline where its slope or the end of the main is not known. [-]
    """
    reading = SceneReading(trace)
    ditch = read_ditch(reading, None, False)
    bottom, bank_top = ditch.bottom, ditch.bank_top
    slope = reading.number(SLOPE)
    if main is None or bottom is None or bank_top is None or slope is None:
        return ditch
    over = max(0.0, bank_top.elevation - main.invert_outlet.elevation)
    outline = outline_of_ditch(reading, bottom, bank_top, slope * over)
    at = Level(bank_top.elevation, bank_top.key)
    return replace(ditch, outline=outline, bank_top=at, bank_at=slope * over)

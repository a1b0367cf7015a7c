# SPDX-License-Identifier: Apache-2.0
"""Ways from the diversion through a bed to the ditch, for tests.

The first kind has pipes so wide, short and deep under water that they take no head: what is left
is the bed between its two sets of boards, which can be worked by hand.
"""

from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed.works import BedPath

FREE = -10.0
"""Ditch so low that it touches nothing. [m]"""
WIDE = PipeRun(-50.0, -50.0, 10.0, 0.0, 0.013, 0.5)
"""A pipe that takes no head: 0.2 m3/s has a velocity head of 0.0003 mm in it."""


def sharp(crest: float, crest_width: float) -> BoardSet:
    """Boards with a sharp top edge, that stand far below it."""
    return board_set_sharp_francis(crest, crest - 2.0, crest_width=crest_width)


def without_losses(outlet_crest: float, crest_width: float) -> BedPath:
    """The bed, its floor at 0, and its outlet boards alone."""
    return BedPath(0.0, WIDE, WIDE, WIDE, 0.0, 0.0, sharp(outlet_crest, crest_width))


def narrow(outlet_crest: float, crest_width: float) -> BedPath:
    """The bed between pipes of 4 and 5 in, which take about as much head as the media."""
    return BedPath(
        0.0,
        PipeRun(0.05, 0.0, 0.102, 6.0, 0.012, 0.5),
        PipeRun(0.0, -0.02, 0.102, 6.0, 0.012, 0.5),
        PipeRun(-0.02, -0.05, 0.127, 7.0, 0.012, 0.5),
        300.0,
        300.0,
        board_set_sharp_francis(outlet_crest, -0.02, crest_width=crest_width),
    )

# SPDX-License-Identifier: Apache-2.0
"""Draw what was designed, beside its result."""

from pathlib import Path

from tilewater.basis.units import System
from tilewater.chain.scene import long_section_scene
from tilewater.documents.long_section import draw_long_section
from tilewater.tasks.designing import Outcome
from tilewater.tasks.results import write_whole

LONG_SECTION = "long-section.svg"


def write_long_section(outcome: Outcome, folder: Path, units: System) -> Path:
    """Write the long section of a design into a folder that is there.

    Parameters
    ----------
    outcome : Outcome
        The design.
    folder : Path
        Where its result was written.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    Path
        The file written, whole or absent.

    Raises
    ------
    OSError
        If it cannot be written there.
    """
    drawn = folder / LONG_SECTION
    write_whole(drawn, draw_long_section(long_section_scene(outcome.design.trace), units=units))
    return drawn

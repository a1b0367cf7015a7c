# SPDX-License-Identifier: Apache-2.0
"""Steps that turn the boards of each setting into a set with its rating.

Keys are `structure.inlet.set-design`, `structure.outlet.set-spring` and so on; the value is the
`BoardSet` that every flow and level over these boards is computed with.
"""

from tilewater.basis.trace import Trace
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed.settings import DESIGN

STRUCTURES = ("inlet", "outlet")


def set_key(structure: str, setting: str = DESIGN) -> str:
    """Key of the board set of a structure in a setting."""
    return f"structure.{structure}.set-{setting}"


def add_board_sets(trace: Trace) -> None:
    """Record the board set of both structures, for the design setting and each season's own."""
    for structure in STRUCTURES:
        for setting in (DESIGN, *trace.names("inputs.season")):
            _add_set(trace, structure, setting)


def _add_set(trace: Trace, structure: str, setting: str) -> None:
    given = f"inputs.structure.{structure}"
    trace.compute(
        set_key(structure, setting),
        board_set_sharp_francis,
        unit="",
        title=f"Rating of the {structure} boards, {setting} setting",
        crest=f"boards.{structure}-{setting}.crest_m",
        sill=f"{given}.sill_m",
        crest_width=f"{given}.crest_width_m",
    )

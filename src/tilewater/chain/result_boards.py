# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record about the boards, their rating and the head on the old main."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.practices.bed.board_kinds import SHARP, crest_kind, ratings_of
from tilewater.practices.bed.board_steps import set_key

INCH = 0.0254
SETS = {"inlet": "bypass", "outlet": "outlet", "head": "head"}
"""Which set of boards a key means."""
STANDS_IN = {"inlet": "inlet", "outlet": "outlet", "head": "inlet"}
"""Structure that a set of boards stands in."""


def boards_record(trace: Trace) -> list[Record]:
    """Every set of boards of every setting, from the sill up."""
    rows = []
    for name in trace.names("boards"):
        boards, _, season = name.partition("-")
        stack = plain(trace, f"boards.{name}.stack_m")
        down = plain(trace, f"boards.{name}.rim_down_m")
        rows.append(
            {
                "name": name,
                "structure": boards,
                "set": SETS[boards],
                "season": season,
                "sill_m": plain(trace, f"inputs.structure.{STANDS_IN[boards]}.sill_m"),
                "stack_in": None if stack is None else [round(b / INCH, 3) for b in stack],
                "crest_m": plain(trace, f"boards.{name}.crest_m"),
                "rim_down_in": None if down is None else down / INCH,
                "rating": rating_record(trace, boards, season),
            }
        )
    return rows


def rating_record(trace: Trace, structure: str, setting: str) -> Record:
    """Rating of one set of boards: kind of crest, its record, how well it is known."""
    own = structure == STANDS_IN[structure]
    kind = crest_kind(trace, structure) if own else SHARP
    return {
        "kind": kind if isinstance(kind, str) else None,
        "name": "".join(ratings_of(trace, structure)[-1:]) if own else "",
        "set": set_key(structure, setting),
        "uncertainty": plain(trace, f"structure.{STANDS_IN[structure]}.rating_uncertainty"),
    }


def bypass_head_record(trace: Trace, group: str) -> Record:
    """Head over the bypass boards in a storm, with the range that their rating leaves."""
    names = ("head_m", "head_low_m", "head_high_m", "rating_uncertainty")
    return {name: plain(trace, f"{group}.{name}") for name in names}


def old_main_record(trace: Trace) -> Record:
    """Water over the crown of the old main at the structure and at each spot."""
    return {
        place: {
            name: plain(trace, f"old_main.{place}.{name}")
            for name in ("crown_m", "standing_head_m", "storm_head_m")
        }
        for place in trace.names("old_main")
    }

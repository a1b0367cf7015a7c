# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record about the rating of the boards and the head on the old main."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.practices.bed.board_kinds import crest_kind, ratings_of
from tilewater.practices.bed.board_steps import set_key


def rating_record(trace: Trace, structure: str, setting: str) -> Record:
    """Rating of one set of boards: kind of crest, its record, how well it is known."""
    kind = crest_kind(trace, structure)
    return {
        "kind": kind if isinstance(kind, str) else None,
        "name": "".join(ratings_of(trace, structure)[-1:]),
        "set": set_key(structure, setting),
        "uncertainty": plain(trace, f"structure.{structure}.rating_uncertainty"),
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

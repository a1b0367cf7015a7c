# SPDX-License-Identifier: Apache-2.0
"""Parts of the result record about the rating of the boards and the head on the old main."""

from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.practices.bed.board_kinds import CALIBRATED, crest_kind, ratings_of
from tilewater.practices.bed.board_steps import set_key


def rating_record(trace: Trace, structure: str, setting: str) -> Record:
    """Rating of one set of boards: kind of crest, its law in SI, how well and where it is known."""
    kind = crest_kind(trace, structure)
    key = set_key(structure, setting)
    boards = trace.value(key) if trace.known(key) else None
    names = ratings_of(trace, structure)[-1:]
    law = trace.value(f"rating.{names[0]}.calibration") if names else None
    is_fitted = kind == CALIBRATED and boards is not None
    return {
        "kind": kind if isinstance(kind, str) else None,
        "name": "".join(names),
        "coefficient": None if boards is None else boards.coefficient,
        "exponent": None if boards is None else boards.exponent,
        "uncertainty": plain(trace, f"structure.{structure}.rating_uncertainty"),
        "fitted_from_m": law.head_lowest if is_fitted and law else None,
        "fitted_to_m": law.head_highest if is_fitted and law else None,
        "joint_leak_m": None if boards is None else boards.leak,
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

# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the boards: the design setting and that of each season."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.practices.bed.board_kinds import is_notched, needed
from tilewater.practices.boards import (
    board_stack,
    crest_elevation,
    notch_point,
    rim_down,
    stack_height,
)

DESIGN = "design"


def add_boards(trace: Trace, structures: tuple[str, ...] = ("inlet", "outlet")) -> None:
    """Record the stacks of the structures, for the design setting and each season's own."""
    for structure in structures:
        add_stack(trace, structure, DESIGN, f"inputs.boards.{structure}_m")
        for season in trace.names("inputs.season"):
            own = f"inputs.season.{season}.{structure}_boards_m"
            target = own if own in trace else f"inputs.boards.{structure}_m"
            add_stack(trace, structure, season, target)


def add_stack(trace: Trace, structure: str, season: str, target: str) -> None:
    """Record a stack that reaches nearest to a target, its crest and its distance from the rim."""
    key = f"boards.{structure}-{season}"
    given = f"inputs.structure.{structure}"
    what = f"{structure} boards, {season} setting"
    trace.compute(
        f"{key}.stack_m",
        board_stack,
        unit="m",
        title=f"Stack of the {what}",
        target=target,
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    trace.compute(
        f"{key}.height_m",
        stack_height,
        unit="m",
        title=f"Height of the {what}",
        stack=f"{key}.stack_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    if trace.known(target, f"{key}.height_m"):
        wanted, got = float(trace.value(target)), float(trace.value(f"{key}.height_m"))
        if wanted - got > 0.001:
            trace.findings.append(
                Finding(
                    "boards-not-exact",
                    "note",
                    what,
                    f"{wanted / 0.0254:.4g} in cannot be stacked from the boards there are; "
                    f"{got / 0.0254:.4g} in is used, the nearest that is not higher.",
                    source="practice",
                )
            )
    top = _add_crest(trace, structure, key, what)
    trace.compute(
        f"{key}.rim_down_m",
        rim_down,
        unit="m",
        title=f"Measure down from the rim to the {what}",
        rim=f"{given}.rim_m",
        crest=top,
    )


def _add_crest(trace: Trace, structure: str, key: str, what: str) -> str:
    """Record the crest, of a notched top board the point of its notch; return the key of its top.

    Where no board stands there is no notch, and the sill is the crest.
    """
    given = f"inputs.structure.{structure}"
    notched = is_notched(trace, structure) and bool(trace.value(f"{key}.stack_m"))
    top = f"{key}.top_m" if notched else f"{key}.crest_m"
    trace.compute(
        top,
        crest_elevation,
        unit="m",
        title=f"Top of the {what}" if notched else f"Crest of the {what}",
        sill=f"{given}.sill_m",
        height=f"{key}.height_m",
    )
    if notched:
        trace.compute(
            f"{key}.crest_m",
            notch_point,
            unit="m",
            title=f"Crest of the {what}, the point of the notch",
            top=top,
            notch_depth=needed(trace, structure, "notch_depth_m"),
        )
    return top

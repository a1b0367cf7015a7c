# SPDX-License-Identifier: Apache-2.0
"""Steps of the boards of a buffer: the bypass set, and the head set before it where there is one.

The main comes into the first chamber; over the head boards the water goes into the chamber of the
line, and over the bypass boards out of it. The bypass crest holds the head at the line; the higher
of both crests holds the water of the field. Both stand on the sill of the inlet structure.
"""

from tilewater.basis.trace import Trace
from tilewater.hydraulics._board_set import BoardSet, board_level_upstream
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed.board_steps import add_board_sets, set_key
from tilewater.practices.bed.settings import DESIGN, add_boards
from tilewater.practices.boards import board_stack, crest_elevation, rim_down, stack_height
from tilewater.practices.buffer.givens import LINE

BYPASS = ("inlet",)
"""The bypass boards are those of the diversion, as of a bed."""
TYPED = f"{LINE}.head_boards_m"


def add_buffer_boards(trace: Trace) -> None:
    """Record stacks, crests and ratings of both sets, and the crest that holds the field."""
    add_boards(trace, BYPASS)
    add_board_sets(trace, BYPASS)
    for setting in (DESIGN, *trace.names("inputs.season")):
        if has_head_boards(trace):
            add_head_set(trace, setting)
        add_field_crest(trace, setting)


def has_head_boards(trace: Trace) -> bool:
    """Whether the job has a head set."""
    return TYPED in trace


def add_head_set(trace: Trace, setting: str, target: str = "") -> None:
    """Record the head stack of a setting and its rating, at a target or as the season has it."""
    key, given = f"boards.head-{setting}", "inputs.structure.inlet"
    own = target or f"inputs.season.{setting}.head_boards_m"
    what, compute = f"head boards, {setting} setting", trace.compute
    compute(
        f"{key}.stack_m",
        board_stack,
        unit="m",
        title=f"Stack of the {what}",
        target=own if own in trace else TYPED,
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    compute(
        f"{key}.height_m",
        stack_height,
        unit="m",
        title=f"Height of the {what}",
        stack=f"{key}.stack_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    compute(
        f"{key}.crest_m",
        crest_elevation,
        unit="m",
        title=f"Crest of the {what}",
        sill=f"{given}.sill_m",
        height=f"{key}.height_m",
    )
    compute(
        f"{key}.rim_down_m",
        rim_down,
        unit="m",
        title=f"Measure down from the rim to the {what}",
        rim=f"{given}.rim_m",
        crest=f"{key}.crest_m",
    )
    compute(
        set_key("head", setting),
        board_set_sharp_francis,
        unit="",
        title=f"Rating of the {what}",
        crest=f"{key}.crest_m",
        sill=f"{given}.sill_m",
        crest_width=f"{given}.crest_width_m",
    )


def add_field_crest(trace: Trace, setting: str) -> None:
    """Record the crest that holds the water of the field in a setting."""
    head = f"boards.head-{setting}.crest_m"
    trace.compute(
        f"buffer.field_crest.{setting}_m",
        higher_crest,
        unit="m",
        title=f"Crest that holds the water of the field, {setting} setting",
        bypass=f"boards.inlet-{setting}.crest_m",
        **({"head": head} if head in trace else {}),
    )


def higher_crest(bypass: float, head: float | None = None) -> float:
    """The crest that holds the water of the field: the higher of bypass and head boards.

    Parameters
    ----------
    bypass : float
        Crest of the bypass boards. [m]
    head : float or None
        Crest of the head boards; None where there are none. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    max of both    (derived)

    References
    ----------
    derived, two crests in a row
    """
    return bypass if head is None else max(bypass, head)


def field_level(
    flow: float, tailwater: float, bypass: BoardSet, head: BoardSet | None = None
) -> float:
    """Water where the main comes in when a flow passes both sets, the line shut off.

    Parameters
    ----------
    flow : float
        Flow of the main. [m3/s]
    tailwater : float
        Water below the bypass boards. [m]
    bypass : BoardSet
        Bypass boards. [-]
    head : BoardSet or None
        Head boards; None where there are none. [-]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    level over the bypass boards, and from it over the head boards, drowned or free    (derived)

    References
    ----------
    francis1883, boards
    derived, two sets in a row
    """
    level = board_level_upstream(flow, tailwater, bypass)
    return level if head is None else board_level_upstream(flow, level, head)

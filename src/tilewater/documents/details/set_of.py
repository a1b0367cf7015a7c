# SPDX-License-Identifier: Apache-2.0
"""The details that a design has, by name, each for the room that a sheet gives it."""

from collections.abc import Callable, Collection
from typing import cast

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.basis.units import Foot, System
from tilewater.documents.details.bed import header_detail, post_detail
from tilewater.documents.details.drafting import level_of
from tilewater.documents.details.line import cap_detail, solid_detail
from tilewater.documents.details.outlet import outlet_detail
from tilewater.documents.details.structures import (
    anchor_detail,
    boards_detail,
    collar_detail,
    gate_detail,
)
from tilewater.documents.drawing.model import Drawing
from tilewater.documents.scales import Figures
from tilewater.documents.words import Words

Draw = Callable[[float, float], Drawing]
Make = Callable[[tuple[float, float]], Drawing | None]


def details_of(
    trace: Trace, practice: str, words: Words, units: System, foot: Foot
) -> dict[str, Draw]:
    """Every detail of a design by its name.

    Parameters
    ----------
    trace : Trace
    practice : str
        "bed", "buffer" or "raised".
    words : Words
        Of the reader.
    units : "us" or "si"
    foot : str
        What a foot is on this ground.

    Returns
    -------
    dict of str to callable
        Each draws for a width and a height of paper, in millimetres.
    """
    figures = Figures(units, foot)
    made: dict[str, Make] = {}
    for name in trace.names("inputs.structure"):
        made[f"detail-boards-{name}"] = lambda room, name=name: boards_detail(  # type: ignore[misc]
            trace, figures, room, name
        )
    made["detail-outlet"] = lambda room: outlet_detail(trace, figures, room)
    if practice == "bed":
        made["detail-header"] = lambda room: header_detail(trace, figures, room)
        made["detail-gate"] = lambda room: gate_detail(trace, figures, room)
    if practice == "buffer":
        made["detail-solid"] = lambda room: solid_detail(trace, figures, room)
        made["detail-cap"] = lambda room: cap_detail(figures, room)
    made["detail-collar"] = lambda room: collar_detail(trace, figures, room)
    concrete = _concrete(trace, words)
    made["detail-anchor"] = lambda room: anchor_detail(trace, figures, room, concrete)
    if practice != "raised":
        said = "post at each corner of the bed" if practice == "bed" else "post over the line"
        made["detail-post"] = lambda room: post_detail(figures, room, said)
    return {name: _drawn(make) for name, make in made.items() if _is_drawn(make)}


SIZES: dict[str, tuple[str, tuple[tuple[str, str], ...]]] = {
    "detail-outlet": (
        "outlet in the bank",
        (
            ("inputs.ditch.bottom_m", "bottom of the ditch"),
            ("inputs.ditch.bank_top_m", "bank top"),
        ),
    ),
    "detail-header": (
        "header at the inlet end of the bed",
        (
            ("bed.floor_inlet_m", "floor of the bed"),
            ("bed.media_top_m", "top of the chips"),
            ("bed.side_slope", "slope of its sides"),
            ("inputs.bed.cover_depth_m", "soil over the chips"),
            ("inputs.pipe.header-inlet.diameter_m", "size of the inlet header"),
        ),
    ),
    "detail-gate": (
        "gate on the feed",
        (
            ("inputs.bed.feed_gate", "whether the feed has a gate"),
            ("inputs.pipe.feed.diameter_m", "size of the feed"),
            ("inputs.structure.inlet.rim_m", "rim of the inlet structure"),
            ("inputs.structure.inlet.floor_m", "floor of the inlet structure"),
            ("inputs.structure.inlet.ground_m", "ground at the inlet structure"),
        ),
    ),
    "detail-solid": (
        "line from its box",
        (("inputs.buffer.pipe_diameter_m", "size of the line"),),
    ),
    "detail-trench": (
        "trench of the line",
        (
            ("inputs.buffer.trench_width_m", "width of the trench"),
            ("inputs.buffer.pipe_diameter_m", "size of the line"),
            ("inputs.buffer.line_invert_m", "invert of the line"),
            ("inputs.buffer.ground_at_line_m", "ground over the line"),
        ),
    ),
}
"""Details by name: what they are called, and sizes that each needs, with their words."""
OF = {
    "bed": ("detail-outlet", "detail-header", "detail-gate"),
    "buffer": ("detail-outlet", "detail-solid", "detail-trench"),
    "raised": ("detail-outlet",),
}
"""Details that a practice should have."""
OF_BOARDS = (
    ("rim_m", "rim"),
    ("ground_m", "ground"),
    ("sill_m", "sill"),
    ("floor_m", "floor"),
    ("crest_width_m", "width of the boards"),
)


def not_drawn(trace: Trace, practice: str, drawn: Collection[str]) -> tuple[str, ...]:
    """Details that a set of this practice should have and that sizes are missing for.

    Parameters
    ----------
    trace : Trace
    practice : str
        "bed", "buffer" or "raised".
    drawn : collection of str
        Names of what is drawn.

    Returns
    -------
    tuple of str
        "outlet in the bank: bank top not given".
    """
    wanted = {name: SIZES[name] for name in OF.get(practice, ()) if name not in drawn}
    for name in trace.names("inputs.structure"):
        if f"detail-boards-{name}" not in drawn:
            keys = tuple((f"inputs.structure.{name}.{k}", words) for k, words in OF_BOARDS)
            wanted[f"detail-boards-{name}"] = f"boards of the {name} structure", keys
    told = []
    for title, keys in wanted.values():
        missing = [words for key, words in keys if key not in trace or not trace.known(key)]
        if missing:
            told.append(f"{title}: {', '.join(missing)} not given")
    return tuple(told)


def _is_drawn(make: Make) -> bool:
    """Whether the design has what a detail shows, however much room it needs."""
    try:
        return make((300.0, 220.0)) is not None
    except OutOfDomain:
        return False


def _drawn(make: Make) -> Draw:
    return lambda width, height: cast(Drawing, make((width, height)))


def _concrete(trace: Trace, words: Words) -> str:
    """How much concrete anchors each structure."""
    said = []
    for name in trace.names("inputs.structure"):
        volume = level_of(trace, f"flotation.{name}.anchor_m3")
        if volume is not None:
            said.append(f"{name} {words.concrete(volume)}")
    return ", ".join(said)

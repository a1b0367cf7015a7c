# SPDX-License-Identifier: Apache-2.0
"""Schedules: structures, boards by season, pipes, media, lining and fabric."""

from collections.abc import Iterator

from tilewater.documents.sheets.cover import quantity_rows
from tilewater.documents.sheets.flow import flowed
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    Block,
    Columns,
    Lines,
    SheetPage,
    Title,
    body_of,
)
from tilewater.documents.words import NOT_KNOWN, step_value

Part = Title | Columns | Lines
LEVELS = (
    ("rim_m", "rim"),
    ("ground_m", "ground"),
    ("sill_m", "sill of boards"),
    ("floor_m", "floor inside"),
)
INCHES = 0.0254


def schedule_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """Structures, boards and pipes on one sheet."""
    blocks: tuple[Block, ...] = (
        *_structures(material),
        *board_schedule(material),
        *pipe_schedule(material),
        *_media(material),
    )
    yield from flowed("Schedules", blocks, body_of(material.paper))


def _structures(material: SheetMaterial) -> Iterator[Part]:
    names = [
        name
        for name in material.trace.names("inputs.structure")
        if f"inputs.structure.{name}.rim_m" in material.trace
    ]
    if not names:
        return
    rows = [
        (label, *(material.say(f"inputs.structure.{n}.{key}", "elevation") for n in names))
        for key, label in LEVELS
    ]
    rows += [
        (
            "box outside",
            *(
                f"{material.say(f'inputs.structure.{n}.box_length_m', 'length')} by "
                f"{material.say(f'inputs.structure.{n}.box_width_m', 'length')}"
                for n in names
            ),
        ),
        (
            "water over boards, wide",
            *(material.say(f"inputs.structure.{n}.crest_width_m", "length") for n in names),
        ),
        (
            "concrete that anchors it",
            *(
                material.words.concrete(step_value(material.trace, f"flotation.{n}.anchor_m3"))
                for n in names
            ),
        ),
    ]
    yield Title("Structures", material.strip.datum)
    yield Columns(("", *names), tuple(rows), right=tuple(range(1, len(names) + 1)))


def board_schedule(material: SheetMaterial) -> Iterator[Part]:
    """Stack, crest and measure down from the rim, for every set and season."""
    rows = []
    for name in material.trace.names("boards"):
        boards, _, season = name.partition("-")
        stack = step_value(material.trace, f"boards.{name}.stack_m")
        if not isinstance(stack, tuple):
            continue
        sizes = " + ".join(f"{round(board / INCHES, 2):g}" for board in stack)
        pieces = f"{sizes} in" if sizes else "none"
        rows.append(
            (
                boards,
                season,
                pieces,
                material.say(f"boards.{name}.crest_m", "elevation", unit=False),
                material.say(f"boards.{name}.rim_down_m", "size"),
            )
        )
    if rows:
        yield Title("Boards by season", "from the sill up; measure down from the rim to the top")
        heads = ("set", "season", "boards", "crest", "down")
        yield Columns(heads, tuple(rows), right=(3, 4), wide=(2,))


def pipe_schedule(material: SheetMaterial) -> Iterator[Part]:
    """What each pipe does, its size, length, inverts and fall."""
    rows = [_pipe(material, pipe) for pipe in material.trace.names("inputs.pipe")]
    line = "inputs.buffer.line_invert_m"
    if line in material.trace:
        level = material.say(line, "elevation", unit=False)
        size = material.say("inputs.buffer.pipe_diameter_m", "size")
        length = material.say("buffer.line_length_m", "length", unit=False)
        rows.append(("line", "lets water out", size, "perforated", length, level, level, "level"))
        for title, key in (
            ("line at the box, each branch", "inputs.buffer.solid_at_structure_m"),
            ("line past trees, in all", "inputs.buffer.tree_length_m"),
        ):
            if material.trace.known(key):
                length = material.say(key, "length", unit=False)
                rows.append((title, "lets none out", size, "solid", length, level, level, "level"))
    if rows:
        yield Title("Pipes", "inside diameter; inverts of the upper and the lower end")
        yield Columns(PIPE_HEADS, tuple(rows), right=(2, 4, 5, 6, 7))


PIPE_HEADS = ("pipe", "what it does", "size", "wall", "length", "upper", "lower", "fall")


def _pipe(material: SheetMaterial, pipe: str) -> tuple[str, ...]:
    """What a pipe is, its inverts, and its fall where both are known."""
    here, say = f"inputs.pipe.{pipe}", material.words.say
    levels = {point.name: point.height for point in material.stakes.points}
    upper, lower = (levels.get(f"pipe-{pipe}-{end}") for end in ("upper", "lower"))
    length = step_value(material.trace, f"{here}.length_m")
    fall = ""
    if upper is not None and lower is not None and isinstance(length, float) and length > 0.0:
        fall = say((upper - lower) / length, "slope") if upper > lower else "level"
    return (
        pipe.replace("-", " "),
        material.text(f"{here}.use"),
        material.say(f"{here}.diameter_m", "size"),
        material.text(f"{here}.kind"),
        material.say(f"{here}.length_m", "length", unit=False),
        *("" if level is None else say(level, "elevation", unit=False) for level in (upper, lower)),
        fall,
    )


MEDIA = ("woodchips", "chips-order", "lining", "cover-fabric", "topsoil", "backfill", "spoil")


def _media(material: SheetMaterial) -> Iterator[Part]:
    named = {
        material.trace.steps[f"quantities.{item}.quantity"].title
        for item in MEDIA
        if f"quantities.{item}.quantity" in material.trace
    }
    rows = tuple(row for row in quantity_rows(material) if row[0] in named)
    if rows:
        yield Title("Media, lining, fabric and soil")
        yield Columns(("what", "quantity"), rows, right=(1,), wide=(0,))
    if "bed.media_depth_m" in material.trace:
        top = material.say("bed.media_top_m", "elevation")
        floor = material.say("bed.floor_m", "elevation")
        depth = material.say("bed.media_depth_m", "length")
        slope = material.say("bed.side_slope", "side_slope")
        yield Lines(
            (
                f"Chips {depth} deep, from {floor} to {top}, sides {slope}, lined with "
                f"{material.text('inputs.bed.lining')}.",
            )
        )
    if material.text("inputs.media.spec") != NOT_KNOWN:
        yield Lines((material.text("inputs.media.spec"),))

# SPDX-License-Identifier: Apache-2.0
"""Schedules: structures, boards by season and to order, pipes, media, lining and fabric."""

from collections import Counter
from collections.abc import Iterator
from math import hypot

from tilewater.documents.sheets.cover import quantity_rows
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import Columns, Lines, Title
from tilewater.documents.words import NOT_KNOWN, step_value

Part = Title | Columns | Lines
LEVELS = (
    ("rim_m", "rim"),
    ("ground_m", "ground"),
    ("sill_m", "sill of boards"),
    ("floor_m", "floor inside"),
)


def schedule_blocks(material: SheetMaterial) -> Iterator[Part]:
    """Structures, boards, pipes, media."""
    yield from _structures(material)
    yield from board_schedule(material)
    yield from _boards_to_order(material)
    yield from pipe_schedule(material)
    yield from _media(material)


def _structures(material: SheetMaterial) -> Iterator[Part]:
    names = [
        name
        for name in material.trace.names("inputs.structure")
        if f"inputs.structure.{name}.rim_m" in material.trace
    ]
    if not names:
        return
    here = "inputs.structure"
    rows = [_place(material, label, side, kind, names) for label, side, kind in PLACES]
    rows += [
        (label, *(material.say(f"{here}.{n}.{key}", "elevation") for n in names))
        for key, label in LEVELS
    ]
    rows += [
        (
            "box outside",
            *(
                f"{material.say(f'{here}.{n}.box_length_m', 'length')} by "
                f"{material.say(f'{here}.{n}.box_width_m', 'length')}"
                for n in names
            ),
        ),
        (
            "water over boards, wide",
            *(material.say(f"{here}.{n}.crest_width_m", "length") for n in names),
        ),
        (
            "concrete that anchors it",
            *(
                material.words.concrete(step_value(material.trace, f"flotation.{n}.anchor_m3"))
                for n in names
            ),
        ),
        ("pipes, size and invert", *(_pipes_at(material, name) for name in names)),
    ]
    yield Title("Structures", material.strip.datum)
    many = tuple(range(1, len(names) + 1))
    kept = tuple(row for row in rows if any(row[1:]))
    yield Columns(("", *names), kept, right=many, wide=many)


PLACES = (
    ("station", "station", "station"),
    ("offset, right looking up the main", "offset", "length"),
    ("north", "north", "coordinate"),
    ("east", "east", "coordinate"),
)


def _place(
    material: SheetMaterial, label: str, side: str, kind: str, names: list[str]
) -> tuple[str, ...]:
    """A row of where structures stand; "" where that is not known."""
    keys = [f"plan.points.{name}-structure.{side}_m" for name in names]
    said = (
        material.say(key, kind, unit=False).replace(",", "") if key in material.trace else ""
        for key in keys
    )
    return (label, *said)


def _pipes_at(material: SheetMaterial, name: str) -> str:
    """Pipes that end at a structure, by what is staked within a pipe's length of its middle."""
    points = {point.name: point for point in material.stakes.points}
    box = points.get(f"{name}-structure")
    if box is None:
        return ""
    near = []
    for pipe in material.trace.names("inputs.pipe"):
        for end in ("upper", "lower"):
            point = points.get(f"pipe-{pipe}-{end}")
            if point is None or point.height is None:
                continue
            if hypot(point.north - box.north, point.east - box.east) <= AT_STRUCTURE:
                size = material.say(f"inputs.pipe.{pipe}.diameter_m", "size")
                level = material.words.say(point.height, "elevation", unit=False)
                near.append(f"{pipe.replace('-', ' ')} {size} {level}")
    return ", ".join(near)


AT_STRUCTURE = 1.2
"""How far from the middle of a structure a pipe that enters it may end. [m]"""


def _stacks(material: SheetMaterial) -> dict[tuple[str, str], tuple[float, ...]]:
    """Boards of each set and season; a set that never holds a board is no set."""
    found: dict[tuple[str, str], tuple[float, ...]] = {}
    for name in material.trace.names("boards"):
        boards, _, season = name.partition("-")
        stack = step_value(material.trace, f"boards.{name}.stack_m")
        if isinstance(stack, tuple):
            found[boards, season] = stack
    used = {boards for (boards, _), stack in found.items() if stack}
    return {key: stack for key, stack in found.items() if key[0] in used}


def _boards_to_order(material: SheetMaterial) -> Iterator[Part]:
    """The boards of each set that the season with most of them needs."""
    most: dict[str, Counter[float]] = {}
    for (boards, _), stack in _stacks(material).items():
        most[boards] = most.get(boards, Counter()) | Counter(stack)
    rows = tuple(
        (
            boards,
            ", ".join(
                f"{count} of {material.words.say(high, 'size')}"
                for high, count in sorted(counts.items(), reverse=True)
            ),
            material.say(f"inputs.structure.{boards}.crest_width_m", "length"),
        )
        for boards, counts in most.items()
    )
    if rows:
        yield Title("Boards to order", "as many as any season needs; water over them so wide")
        yield Columns(("set", "boards", "wide"), rows, right=(2,), wide=(1,))


def board_schedule(material: SheetMaterial) -> Iterator[Part]:
    """Stack, crest and measure down from the rim, for every set and season."""
    rows = []
    for (boards, season), stack in _stacks(material).items():
        name = f"{boards}-{season}"
        sizes = [material.words.say(board, "size", unit=False) for board in stack]
        unit = material.words.say(0.0, "size").rpartition(" ")[2]
        rows.append(
            (
                boards,
                season,
                f"{' + '.join(sizes)} {unit}" if sizes else "none",
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


ENDS_OF_MAIN = ("inputs.main.invert_diversion_m", "inputs.main.invert_outlet_m")
"""Inverts of a bypass where it lies in the place of the main."""


def _pipe(material: SheetMaterial, pipe: str) -> tuple[str, ...]:
    """What a pipe is, its inverts, and its fall where both are known."""
    here, say = f"inputs.pipe.{pipe}", material.words.say
    levels = {point.name: point.height for point in material.stakes.points}
    upper, lower = (levels.get(f"pipe-{pipe}-{end}") for end in ("upper", "lower"))
    use = material.text(f"{here}.use")
    if use == "bypass" and upper is None and lower is None and material.trace.known(*ENDS_OF_MAIN):
        upper, lower = (float(material.trace.value(key)) for key in ENDS_OF_MAIN)
    length = step_value(material.trace, f"{here}.length_m")
    fall = ""
    if upper is not None and lower is not None and isinstance(length, float) and length > 0.0:
        fall = say((upper - lower) / length, "slope") if upper > lower else "level"
    elif use == "solid replacement":
        fall = "as the main"
    return (
        pipe.replace("-", " "),
        use,
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

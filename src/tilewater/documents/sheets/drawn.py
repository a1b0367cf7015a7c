# SPDX-License-Identifier: Apache-2.0
"""Sheets that are drawings first: existing ground, plan, profiles, sections."""

from collections.abc import Iterator, Sequence

from tilewater.chain.stake_record import StakePoint
from tilewater.documents.sheets.flow import flowed, largest_in
from tilewater.documents.sheets.material import SheetMaterial, is_sound
from tilewater.documents.sheets.record import (
    GAP,
    Block,
    Box,
    Columns,
    Lines,
    Picture,
    SheetPage,
    Title,
    body_of,
)
from tilewater.documents.sheets.schedules import board_schedule, pipe_schedule
from tilewater.documents.words import NOT_KNOWN

NO_ROOM = "This drawing has no room on this size of paper. It stands in the set on larger paper."
COLUMN = 104.0
"""Width of a column of tables beside a drawing. [mm]"""


def existing_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """The site as it was found, with its benchmarks; nothing of the works."""
    yield from drawn_with(material, "Existing conditions", "existing", tuple(_found(material)))


def plan_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """The plan of the works with its distances, the points to set out where they have room."""
    points = tuple(_point_blocks(material)) if material.stakes.points else ()
    legend = ("legend",)
    pages = tuple(drawn_with(material, "Plan", "plan", points, legend)) if points else ()
    if len(pages) == 1:
        yield from pages
    else:
        yield from drawn_with(material, "Plan", "plan", (), legend)


def drawn_with(
    material: SheetMaterial,
    title: str,
    name: str,
    words: Sequence[Block],
    under: Sequence[str] = (),
) -> Iterator[SheetPage]:
    """A drawing as large as it can be, its words below it or beside it, else on the next sheet.

    Parameters
    ----------
    material : SheetMaterial
    title : str
    name : str
        Of the drawing; where the design has none, there is no sheet.
    words : sequence of Block
    under : sequence of str
        Further drawings, set below it first.
    """
    body = body_of(material.paper)
    width, height = body
    lower = [p for each in under if (p := material.picture(each, width, height)) is not None]
    low = sum(picture.height_mm + GAP for picture in lower)
    found: list[tuple[float, SheetPage]] = []
    wide = material.picture(name, width, height - low)
    if wide is not None and wide.height_mm <= height - low:
        top = wide.height_mm + GAP
        boxes = [Box(0.0, 0.0, width, wide.height_mm, (wide,)), *_stacked(lower, top, width)]
        top += low
        room = (0.0, top, width, height - top)
        text = largest_in(room, words, 3) if words and room[3] > 0.0 else ()
        if text or not words:
            found.append((wide.ratio, SheetPage(title, (*boxes, *text))))
    beside = material.picture(name, width - COLUMN - GAP, height - low) if words else None
    if beside is not None and beside.height_mm <= height - low:
        text = largest_in((width - COLUMN, 0.0, COLUMN, height), words, 1)
        boxes = [Box(0.0, 0.0, width - COLUMN - GAP, beside.height_mm, (beside,))]
        if lower and all(picture.width_mm > width - COLUMN for picture in lower):
            text = ()
        if text:
            found.append((beside.ratio, SheetPage(title, (*boxes, *text))))
    if found:
        yield min(found, key=lambda each: each[0])[1]
    elif wide is not None and wide.height_mm <= height:
        whole = [Box(0.0, 0.0, width, wide.height_mm, (wide,))]
        if wide.height_mm + low <= height:
            whole += _stacked(lower, wide.height_mm + GAP, width)
        yield SheetPage(title, tuple(whole))
        if words:
            yield from flowed(f"{title}: words", words, body)
    elif words:
        yield from flowed(title, words, body)


def _stacked(pictures: Sequence[Picture], top: float, width: float) -> list[Box]:
    boxes = []
    for picture in pictures:
        boxes.append(Box(0.0, top, width, picture.height_mm, (picture,)))
        top += picture.height_mm + GAP
    return boxes


def _found(material: SheetMaterial) -> Iterator[Block]:
    marks = [p for p in material.stakes.points if p.what == "benchmark"]
    if marks:
        rows = tuple(
            (
                mark.name.removeprefix("benchmark-"),
                material.words.say(mark.height, "elevation", unit=False),
                material.text(f"inputs.benchmark.{mark.name.removeprefix('benchmark-')}.mark"),
            )
            for mark in marks
        )
        yield Title("Benchmarks", material.strip.datum)
        yield Columns(("", "elevation", "what it is"), rows, right=(1,), wide=(2,))
    yield Title("What the lines rest on")
    yield Lines(
        (
            "A tile line is drawn as it was found: exposed and shot, probed, located, or only on a "
            "map. One that is only on a map may lie elsewhere: expose it before anything is set "
            "out from it.",
            f"Utilities: {material.text('inputs.site.utilities')}.",
            f"Drainage district: {material.text('inputs.people.drainage_district')}.",
            f"Easements: {material.text('inputs.people.easements')}.",
        )
    )
    yield from _borings(material)


def _borings(material: SheetMaterial) -> Iterator[Block]:
    holes = material.trace.names("inputs.boring")
    rows = []
    for hole in holes:
        here = f"inputs.boring.{hole}"
        ground = material.say(f"{here}.ground_m", "elevation", unit=False)
        water = material.say(f"{here}.water_m", "elevation", unit=False)
        rows.append((hole, ground, "" if water == NOT_KNOWN else water))
    if rows:
        yield Title("Bore holes", "water stands higher in a wet season")
        yield Columns(("hole", "ground", "water"), tuple(rows), right=(1, 2))


def setting_out_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """Stake-out table: coordinates and grades of points and hubs, tape checks."""
    if material.stakes.points:
        yield from flowed("Setting out", tuple(_set_out(material)), body_of(material.paper))


def _point_blocks(material: SheetMaterial) -> Iterator[Block]:
    stakes = material.stakes
    points = _points(material, stakes.points)
    yield Title("Points", "coordinates in the grid, grade of what is named")
    yield Columns((*HEADS, "what"), _with_what(points, stakes.points), right=NUMBERS, wide=(0, 6))


def _set_out(material: SheetMaterial) -> Iterator[Block]:
    stakes = material.stakes
    yield from _point_blocks(material)
    if stakes.hubs:
        hubs = tuple((*row, "", "") for row in _points(material, stakes.hubs))
        yield Title("Hubs", "beyond the dig; shoot each top, cut = top less grade")
        yield Columns((*HEADS, "top", "cut"), hubs, right=NUMBERS, wide=(0,), tall=True)
    if stakes.tapes:
        yield Title("Tape checks", "sides and diagonals on the ground")
        yield Columns(("outline", "lengths"), _tapes(material), wide=(1,))
    yield Lines(
        (
            "Check in on a benchmark before the first stake and after the last. Set the rover "
            f"to the {material.text('inputs.site.foot')}.",
            "Stations run up the main from its outlet, offsets square to it, positive to the "
            "right looking up.",
        ),
        quiet=True,
    )


HEADS = ("point", "station", "offset", "north", "east", "grade")
NUMBERS = (1, 2, 3, 4, 5)


def _points(material: SheetMaterial, points: tuple[StakePoint, ...]) -> tuple[tuple[str, ...], ...]:
    say = material.words.say
    return tuple(
        (
            point.name.replace("-", " "),
            say(point.station, "station"),
            say(point.offset, "length", unit=False),
            say(point.north, "coordinate", unit=False).replace(",", ""),
            say(point.east, "coordinate", unit=False).replace(",", ""),
            say(point.height, "elevation", unit=False),
        )
        for point in points
    )


def _with_what(
    rows: tuple[tuple[str, ...], ...], points: tuple[StakePoint, ...]
) -> tuple[tuple[str, ...], ...]:
    return tuple((*row, point.what) for row, point in zip(rows, points, strict=True))


def _tapes(material: SheetMaterial) -> tuple[tuple[str, str], ...]:
    rows = []
    for outline in dict.fromkeys(tape.outline for tape in material.stakes.tapes):
        lengths = [
            material.words.say(tape.distance, "length")
            for tape in material.stakes.tapes
            if tape.outline == outline
        ]
        rows.append((outline.replace("-", " "), ", ".join(dict.fromkeys(lengths))))
    return tuple(rows)


def profile_sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    """Profiles along the water: of the bed, of a line; below them pipes and boards."""
    pipes, boards = tuple(pipe_schedule(material)), tuple(board_schedule(material))
    for name, title in (("long-section", "Profile of the bed"), ("line-section", "The line")):
        if name not in material.draw:
            continue
        for words in ((*pipes, *boards), pipes, boards, ()):
            pages = tuple(drawn_with(material, title, name, words))
            if len(pages) == 1 and all(map(is_sound, _pictures(pages[0]))):
                yield from pages
                break
        else:
            body = body_of(material.paper)
            told = (Title(title), Lines((NO_ROOM,)), *pipes, *boards)
            yield from flowed(title, told, body)


def _pictures(page: SheetPage) -> Iterator[Picture]:
    for box in page.boxes:
        for block in box.blocks:
            if isinstance(block, Picture):
                yield block


def section_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """Cross sections and sections through the headers, as many on a sheet as have room."""
    width, height = body_of(material.paper)
    pile: list[Box] = []
    top, sheets = 0.0, []
    for name in ("cross-section", "header-inlet", "header-outlet", "buffer-section", "structure"):
        picture = material.picture(name, width, height)
        if picture is None or picture.height_mm > height:
            continue
        if pile and top + picture.height_mm > height:
            sheets.append(tuple(pile))
            pile, top = [], 0.0
        pile.append(Box(0.0, top, width, picture.height_mm, (picture,)))
        top += picture.height_mm + GAP
    if pile:
        sheets.append(tuple(pile))
    for number, boxes in enumerate(sheets, start=1):
        yield SheetPage("Sections" if number == 1 else f"Sections, {number}", boxes)

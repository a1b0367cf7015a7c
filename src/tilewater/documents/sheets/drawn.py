# SPDX-License-Identifier: Apache-2.0
"""Sheets that are drawings first: existing ground, plan, profiles, sections."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf

from tilewater.chain.stake_record import StakePoint
from tilewater.documents.sheets.flow import flowed, largest_in
from tilewater.documents.sheets.main_sheets import matched_sheets
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
from tilewater.documents.sheets.schedules import (
    board_schedule,
    pipe_schedule,
    schedule_blocks,
)
from tilewater.documents.words import NOT_KNOWN

NO_ROOM = "This drawing has no room on this size of paper. It stands in the set on larger paper."
LEGEND, SETTING_OUT, SCHEDULES = "legend", "Setting out", "Schedules"
PROFILES = (
    ("long-section", "Profile of the bed", 60.0 * 12.0),
    ("line-section", "The line", 200.0 * 12.0),
)
"""Profiles: of which drawing, what they are called, the smallest scale that they are shown at."""
SECTIONS = (
    "cross-section",
    "header-inlet",
    "header-outlet",
    "buffer-section",
    "detail-trench",
    "structure",
)
LEAST_DETAIL = 70.0
"""Height from which on a detail stands below a section. [mm]"""
MUCH = 1.4
"""How much smaller a drawing may be for the sake of words beside it. [-]"""
COLUMN = 104.0
"""Width of a column of tables beside a drawing. [mm]"""


def existing_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """The site as it was found, with its benchmarks; nothing of the works."""
    under = () if legend_on_plan(material) else (LEGEND,)
    words = tuple(_found(material))
    yield from drawn_with(material, "Existing conditions", "existing", words, under)


def plan_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """The plan of the works with its distances; its legend below it where that costs no scale."""
    under = (LEGEND,) if legend_on_plan(material) else ()
    yield from drawn_with(material, "Plan", "plan", (), under)


def legend_on_plan(material: SheetMaterial) -> bool:
    """Whether the legend stands below the plan without making the plan smaller."""
    width, height = body_of(material.paper)
    whole, legend = (material.picture(name, width, height) for name in ("plan", LEGEND))
    if whole is None or legend is None:
        return False
    smaller = material.picture("plan", width, height - legend.height_mm - GAP)
    return smaller is not None and smaller.ratio <= whole.ratio


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
    narrow = width - COLUMN - GAP  # never at a larger scale than the width of the sheet gives
    beside = material.picture(name, narrow, height - low) if words and not found else None
    if beside is not None and beside.height_mm <= height - low:
        text = largest_in((width - COLUMN, 0.0, COLUMN, height), words, 1)
        boxes = [Box(0.0, 0.0, width - COLUMN - GAP, beside.height_mm, (beside,))]
        if lower and all(picture.width_mm > width - COLUMN for picture in lower):
            text = ()
        if text:
            found.append((beside.ratio, SheetPage(title, (*boxes, *text))))
    most = inf if wide is None or wide.height_mm > height - low else MUCH * wide.ratio
    found = [each for each in found if each[0] <= most]
    if found:
        yield min(found, key=lambda each: each[0])[1]
    elif (alone := material.picture(name, width, height)) is not None:
        wide = alone if words else wide or alone
        whole = [Box(0.0, 0.0, width, wide.height_mm, (wide,))]
        stands = wide.height_mm + low <= height
        if stands:
            whole += _stacked(lower, wide.height_mm + GAP, width)
        yield SheetPage(title, tuple(whole))
        if words:
            told = tuple(flowed(f"{title}: words", words, (width, height - low)))
            foot = () if stands else tuple(_stacked(lower, height - low + GAP, width))
            yield from (*told[:-1], replace(told[-1], boxes=(*told[-1].boxes, *foot)))
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
                *_in_grid(material, mark),
                material.words.say(mark.height, "elevation", unit=False),
                material.text(f"inputs.benchmark.{mark.name.removeprefix('benchmark-')}.mark"),
            )
            for mark in marks
        )
        yield Title("Benchmarks", material.strip.datum)
        heads = ("", "north", "east", "elevation", "what it is")
        yield Columns(heads, rows, right=(1, 2, 3), wide=(4,))
    yield Title("What the lines rest on")
    yield Lines(
        (
            "A tile line is drawn as it was found: exposed and shot, probed, located, or only on a "
            "map. One that is only on a map may lie elsewhere: expose it before anything is set "
            "out from it.",
            f"Utilities: {material.located}",
            f"Drainage district: {material.text('inputs.people.drainage_district')}.",
            f"Easements: {material.text('inputs.people.easements')}.",
        )
    )
    yield from _borings(material)


def _borings(material: SheetMaterial) -> Iterator[Block]:
    rows = []
    for hole in material.trace.names("inputs.boring"):
        here = f"inputs.boring.{hole}"
        levels = (
            material.say(f"{here}.{each}_m", "elevation", unit=False)
            for each in ("ground", "water", "mottles", "bottom")
        )
        place = (
            material.say(f"{here}.station_m", "station"),
            material.say(f"{here}.offset_m", "length", unit=False),
        )
        rows.append((hole, *("" if said == NOT_KNOWN else said for said in (*place, *levels))))
    if rows:
        yield Title("Bore holes", "water stands higher in a wet season; mottles tell how high")
        heads = ("hole", "station", "offset", "ground", "water", "mottles", "bottom")
        yield Columns(heads, tuple(rows), right=(1, 2, 3, 4, 5, 6))


def setting_out_sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    """The works drawn large with their points; then hubs and tape checks with the schedules."""
    left: tuple[Block, ...] = ()
    if material.stakes.points:
        whole, points = tuple(_set_out(material)), tuple(_point_blocks(material))
        left = whole
        if _is_larger(material):
            for words in (whole, points):
                pages = tuple(drawn_with(material, SETTING_OUT, "works", words))
                if len(pages) == 1 and any(_pictures(pages[0])):
                    yield pages[0]
                    left = whole[len(words) :]
                    break
            else:
                yield from drawn_with(material, "Plan of the works", "works", ())
    schedules = tuple(schedule_blocks(material))
    points_left = len(left) > 2 or any(isinstance(each, Columns) for each in left)
    if not points_left:
        yield from flowed(SCHEDULES, (*schedules, *left), body_of(material.paper))
        return
    title = f"{SETTING_OUT} and {SCHEDULES.lower()}"
    pages = tuple(flowed(title, (*left, *schedules), body_of(material.paper)))
    if len(pages) == 1:
        yield from pages
        return
    apart = (
        *flowed(SETTING_OUT, left, body_of(material.paper)),
        *flowed(SCHEDULES, schedules, body_of(material.paper)),
    )
    yield from apart if len(apart) <= len(pages) else pages


def _is_larger(material: SheetMaterial) -> bool:
    """Whether the works by themselves are drawn at a larger scale than on the plan."""
    width, height = body_of(material.paper)
    works, plan = (material.picture(name, width, height) for name in ("works", "plan"))
    if works is None or plan is None or not is_sound(works):
        return False
    return works.height_mm <= height and works.ratio < plan.ratio * (1.0 - 1e-6)


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
            f"to the {material.foot}.",
            "Stations run up the main from its outlet, offsets square to it, positive to the "
            "right looking up. Lower is toward the outlet of the main, near is toward the main.",
        ),
        quiet=True,
    )


HEADS = ("point", "station", "offset", "north", "east", "grade")
NUMBERS = (1, 2, 3, 4, 5)


def _in_grid(material: SheetMaterial, point: StakePoint) -> tuple[str, str]:
    """North and east as they are keyed in."""
    say = material.words.say
    north, east = (
        say(value, "coordinate", unit=False).replace(",", "") for value in (point.north, point.east)
    )
    return north, east


def _points(material: SheetMaterial, points: tuple[StakePoint, ...]) -> tuple[tuple[str, ...], ...]:
    say = material.words.say
    return tuple(
        (
            point.name.replace("-", " "),
            say(point.station, "station"),
            say(point.offset, "length", unit=False),
            *_in_grid(material, point),
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
    """Profiles along the water: of the bed, of a line; below them pipes and boards.

    Where words beside it would make it smaller it stands alone; where paper is too small for it, it
    is broken at match lines.
    """
    pipes, boards = tuple(pipe_schedule(material)), tuple(board_schedule(material))
    for name, title, least in PROFILES:
        if name not in material.draw:
            continue
        found: list[tuple[float, int, SheetPage]] = []
        for order, words in enumerate(((*pipes, *boards), pipes, boards, ())):
            pages = tuple(drawn_with(material, title, name, words))
            pictures = [] if len(pages) != 1 else list(_pictures(pages[0]))
            if pictures and all(map(is_sound, pictures)):
                found.append((pictures[0].ratio, order, pages[0]))
        best = min(found, default=None, key=lambda each: each[:2])
        if best is not None and best[0] <= least * (1.0 + 1e-6):
            yield best[2]
            continue
        strips = tuple(matched_sheets(material, name, title, least))
        if strips and all(is_sound(each) for page in strips for each in _pictures(page)):
            yield from strips
        elif best is not None:
            yield best[2]
        else:
            yield from flowed(title, (Title(title), Lines((NO_ROOM,)), *pipes, *boards),
                              body_of(material.paper))  # fmt: skip


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
    for name in SECTIONS:
        room = height
        if name.startswith("detail-") and height - top >= LEAST_DETAIL:
            room = height - top
        picture = material.picture(name, width, room)
        if picture is None or picture.height_mm > height:
            continue
        if pile and top + picture.height_mm > height:
            sheets.append(tuple(pile))
            pile, top = [], 0.0
        pile.append(Box(0.0, top, width, picture.height_mm, (picture,)))
        top += picture.height_mm + GAP
    levels = material.picture("season-levels", width, height)
    if levels is not None and pile and top + levels.height_mm <= height and is_sound(levels):
        pile.append(Box(0.0, top, width, levels.height_mm, (levels,)))
    if pile:
        sheets.append(tuple(pile))
    for number, boxes in enumerate(sheets, start=1):
        yield SheetPage("Sections" if number == 1 else f"Sections, {number}", boxes)

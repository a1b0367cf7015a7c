# SPDX-License-Identifier: Apache-2.0
"""Sheets that are drawings first: existing ground, plan, profiles, sections."""

from collections.abc import Iterator

from tilewater.chain.stake_record import StakePoint
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    GAP,
    Box,
    Columns,
    Lines,
    Picture,
    SheetPage,
    Title,
    body_of,
)
from tilewater.documents.words import NOT_KNOWN

COLUMN = 104.0
"""Width of the column of tables beside a drawing. [mm]"""
LEGEND_HIGH = 70.0


def existing_sheet(material: SheetMaterial) -> SheetPage | None:
    """The site as it was found, with its benchmarks; nothing of the works."""
    width, height = body_of(material.paper)
    picture = material.picture("existing", width - COLUMN - GAP, height)
    if picture is None:
        return None
    return SheetPage(
        "Existing conditions",
        (
            Box(0.0, 0.0, width - COLUMN - GAP, height, (picture,)),
            Box(width - COLUMN, 0.0, COLUMN, height, tuple(_found(material))),
        ),
    )


def _found(material: SheetMaterial) -> Iterator[Title | Columns | Lines | Picture]:
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
    legend = material.picture("legend", COLUMN, LEGEND_HIGH)
    if legend is not None and legend.width_mm <= COLUMN:
        yield legend


def _borings(material: SheetMaterial) -> Iterator[Title | Columns]:
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


def plan_sheet(material: SheetMaterial) -> SheetPage | None:
    """The plan of the works with its distances and the legend."""
    width, height = body_of(material.paper)
    legend = material.picture("legend", COLUMN, height)
    wide = width if legend is None else width - legend.width_mm - GAP
    picture = material.picture("plan", wide, height)
    if picture is None:
        return None
    boxes = [Box(0.0, 0.0, wide, height, (picture,))]
    if legend is not None:
        boxes.append(Box(wide + GAP, 0.0, legend.width_mm, height, (legend,)))
    return SheetPage("Plan", tuple(boxes))


def setting_out_sheet(material: SheetMaterial) -> SheetPage | None:
    """Stake-out table: coordinates and grades of points and hubs, tape checks."""
    stakes = material.stakes
    if not stakes.points:
        return None
    width, height = body_of(material.paper)
    half = (width - GAP) / 2
    points = _points(material, stakes.points)
    hubs = _points(material, stakes.hubs)
    right: list[Title | Columns | Lines] = []
    if stakes.hubs:
        right += [
            Title("Hubs", "beyond the dig; shoot each top, cut = top less grade"),
            Columns((*HEADS, "top", "cut"), tuple((*row, "", "") for row in hubs), right=NUMBERS),
        ]
    if stakes.tapes:
        right += [
            Title("Tape checks", "sides and diagonals on the ground"),
            Columns(("outline", "lengths"), _tapes(material), wide=(1,)),
        ]
    right.append(
        Lines(
            (
                "Check in on a benchmark before the first stake and after the last. Set the rover "
                f"to the {material.text('inputs.site.foot')}.",
                "Stations run up the main from its outlet, offsets square to it, positive to the "
                "right looking up.",
            ),
            quiet=True,
        )
    )
    return SheetPage(
        "Setting out",
        (
            Box(
                0.0,
                0.0,
                half,
                height,
                (
                    Title("Points", "coordinates in the grid, grade of what is named"),
                    Columns((*HEADS, "what"), _with_what(points, stakes.points), right=NUMBERS),
                ),
            ),
            Box(half + GAP, 0.0, half, height, tuple(right)),
        ),
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
    """Profiles: along the water, along the main, along a line."""
    for name, title in (
        ("long-section", "Profile of the bed"),
        ("line-section", "Profile of the line"),
        ("main", "Profile of the main"),
    ):
        width, height = body_of(material.paper)
        picture = material.picture(name, width, height)
        if picture is not None:
            yield SheetPage(title, (Box(0.0, 0.0, width, height, (picture,)),))


def section_sheet(material: SheetMaterial) -> SheetPage | None:
    """Cross sections, with slopes of the dig by its soil."""
    width, height = body_of(material.paper)
    notes_high = 44.0
    pictures: list[Picture] = []
    room = height - notes_high - GAP
    for name in ("cross-section", "buffer-section", "trench", "structure"):
        picture = material.picture(name, width, room)
        if picture is not None and picture.height_mm <= room:
            pictures.append(picture)
            room -= picture.height_mm + GAP
    if not pictures:
        return None
    boxes, y = [], 0.0
    for picture in pictures:
        boxes.append(Box(0.0, y, width, picture.height_mm, (picture,)))
        y += picture.height_mm + GAP
    boxes.append(Box(0.0, height - notes_high, width, notes_high, tuple(_slopes(material))))
    return SheetPage("Sections", tuple(boxes))


def _slopes(material: SheetMaterial) -> Iterator[Title | Lines]:
    soil = material.text("inputs.site.soil_type")
    deep = material.say("quantities.cut_depth_m", "length")
    slope = material.say("quantities.cut_slope", "side_slope")
    told = []
    if deep != NOT_KNOWN:
        told.append(
            f"Dig {deep} deep with sides drawn at {slope}; soil type as stated: {soil}. The slope "
            "that the ground asks for is decided on site by the competent person, and local codes "
            "govern: as is remembered, 3/4:1 in type A, 1:1 in type B, 1.5:1 in type C, and "
            "protection from 5 ft of depth; check your edition."
        )
    told.append(
        "Spoil and machines stand at least 2 ft from the edge. A way out lies within 25 ft of "
        "anyone in a trench 4 ft deep or more (from memory; check your edition). Nobody works "
        "below a wall that water comes through."
    )
    yield Title("The dig")
    yield Lines(tuple(told))

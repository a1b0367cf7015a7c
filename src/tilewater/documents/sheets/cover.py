# SPDX-License-Identifier: Apache-2.0
"""The cover: what and where it is, which sheets there are, how much of what, what to ask first."""

import re
from collections.abc import Iterator
from dataclasses import replace

from tilewater.documents.sheets.flow import columns_of, flowed, largest_in, set_in
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.measure import AFTER, foot_of, height_of
from tilewater.documents.sheets.record import (
    GAP,
    LEAST_PT,
    Blank,
    Block,
    Box,
    Columns,
    Lines,
    Picture,
    SheetPage,
    Title,
    body_of,
)

COVER, QUANTITIES, LOCATION = "Cover", "Quantities", "Quantities and location"
SIDE = 122.0
"""Width of the column of quantities. [mm]"""
WIDE = 300.0
"""Width of a sheet from which on the cover has that column. [mm]"""
HEAD_PT, WORDS_PT = 16.0, 10.0
LEAST_PICTURE = 55.0
"""Least height of the plan on the cover. [mm]"""
COUNTED = re.compile(r", \d+$|: words(, \d+)?$")
"""What tells sheets of one title apart."""
FRAME = 4.0
"""What a frame takes of the room inside it. [mm]"""
PRACTICES = {
    "bed": "Woodchip bed (denitrifying bioreactor)",
    "buffer": "Saturated buffer",
    "raised": "Outlet raised in season",
}


def has_side(material: SheetMaterial) -> bool:
    """Whether the quantities stand on the cover; else they have a sheet of their own."""
    width, height = body_of(material.paper)
    if width < WIDE:
        return False
    room = (0.0, 0.0, SIDE, height - _locate_height(material, SIDE) - GAP)
    return bool(largest_in(room, _quantities(material), 1))


def cover_sheet(material: SheetMaterial, titles: tuple[str, ...]) -> SheetPage:
    """The first sheet.

    Parameters
    ----------
    material : SheetMaterial
    titles : tuple of str
        Titles of all sheets, this one first.

    Returns
    -------
    SheetPage
    """
    width, height = body_of(material.paper)
    side = has_side(material)
    main = width - SIDE - GAP if side else width
    boxes = list(_beside(material, width, height)) if side else []
    head = (Title(material.title),)
    head_high = height_of(head[0], main, HEAD_PT)
    about = (Lines(_about(material)),)
    about_high = height_of(about[0], main, WORDS_PT + 1.0)
    boxes.append(Box(0.0, 0.0, main, head_high, head, size_pt=HEAD_PT))
    boxes.append(Box(0.0, head_high, main, about_high, about, size_pt=WORDS_PT + 1.0))
    foot = _foot(material, titles, main, height - head_high - about_high, locate=not side)
    foot_high = max(box.height_mm for box in foot)
    boxes += [
        Box(b.x_mm, height - foot_high, b.width_mm, b.height_mm, b.blocks, b.framed, b.size_pt)
        for b in foot
    ]
    top = head_high + about_high
    room = height - top - foot_high - 2 * GAP
    picture = _picture(material, main, room) if room >= LEAST_PICTURE else None
    if picture is not None:
        low = top + GAP + max(0.0, (room - picture.height_mm) / 2)
        boxes.append(Box(0.0, low, main, picture.height_mm, (picture,)))
    return SheetPage(COVER, tuple(boxes))


def _picture(material: SheetMaterial, width: float, height: float) -> Picture | None:
    picture = material.picture("main-plan", width, height)
    if picture is None or picture.height_mm > height:
        picture = material.picture("plan", width, height)
    return picture if picture is not None and picture.height_mm <= height else None


def quantity_sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    """Sheets of quantities where the cover has no room for them."""
    if has_side(material):
        return
    width, height = body_of(material.paper)
    room, columns = (0.0, 0.0, width, height), columns_of((0.0, 0.0, width, height))
    text = set_in(room, _quantities(material), columns, LEAST_PT)
    top = foot_of(text) + GAP if text else height
    text = tuple(replace(box, height_mm=min(box.height_mm, top - GAP)) for box in text)
    picture = _picture(material, width, height - top) if top < height else None
    if picture is None:
        yield from flowed(QUANTITIES, _quantities(material), (width, height))
        return
    yield SheetPage(LOCATION, (*text, Box(0.0, top, width, picture.height_mm, (picture,))))


def _beside(material: SheetMaterial, width: float, height: float) -> Iterator[Box]:
    """The column of quantities, and below it the locate request."""
    low = _locate_height(material, SIDE)
    left = width - SIDE
    yield from largest_in((left, 0.0, SIDE, height - low - GAP), _quantities(material), 1)
    yield Box(left, height - low, SIDE, low, _locate(material), True, WORDS_PT)


def _foot(
    material: SheetMaterial,
    titles: tuple[str, ...],
    width: float,
    most: float,
    *,
    locate: bool,
) -> list[Box]:
    """The index, what is open, and the locate request where it has no other place."""
    for size in (WORDS_PT, LEAST_PT):
        for index_wide in (88.0, 66.0):
            rest = width - index_wide - GAP
            index: tuple[Block, ...] = (Title("Sheets"), _index(titles))
            first: tuple[Block, ...] = (
                Title(_open_title(material), _open_words(material)),
                Lines(_first(material)),
            )
            boxes = [
                Box(0.0, 0.0, index_wide, _high(index, index_wide, size), index, size_pt=size),
                Box(index_wide + GAP, 0.0, rest, _high(first, rest, size), first, size_pt=size),
            ]
            if locate:
                words = _locate(material)
                low = _high(words, rest - FRAME, size) + FRAME
                under = Box(index_wide + GAP, 0.0, rest, low, words, True, size)
                boxes = _under(boxes, under)
            if max(box.height_mm for box in boxes) <= most:
                return boxes
    return boxes


def _under(boxes: list[Box], under: Box) -> list[Box]:
    """The framed box over what is open, as one column."""
    index, first = boxes
    high = under.height_mm + GAP + first.height_mm
    blocks = (*under.blocks, *first.blocks)
    return [index, Box(first.x_mm, 0.0, first.width_mm, high, blocks, size_pt=first.size_pt)]


def _high(blocks: tuple[Block, ...], width: float, size: float) -> float:
    return sum(height_of(block, width, size) for block in blocks) - AFTER + 0.1


def _about(material: SheetMaterial) -> tuple[str, ...]:
    kind = PRACTICES.get(material.practice, material.practice)
    area = material.say("inputs.drainage.area_m2", "area")
    corners = material.stakes.locate
    near = ""
    if corners:
        north, east = (sum(each) / len(corners) for each in zip(*corners, strict=True))
        near = f" Latitude {north:.5f}, longitude {east:.5f}."
    return (
        f"{kind} on {material.text('inputs.job.outlet')}, which drains {area}.",
        f"{material.text('inputs.job.county')}, {material.text('inputs.job.state')}. Status: "
        f"{material.strip.status_words}.{near}",
    )


def _index(titles: tuple[str, ...]) -> Columns:
    found: dict[str, list[int]] = {}
    for number, title in enumerate(titles, start=1):
        found.setdefault(COUNTED.sub("", title), []).append(number)
    rows = tuple(
        (f"{numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else f"{numbers[0]}", title)
        for title, numbers in found.items()
    )
    return Columns(("sheet", "what it shows"), rows, right=(0,), wide=(1,))


def _open_title(material: SheetMaterial) -> str:
    """What stands over open items: what comes first, or what the finished work leaves open."""
    if material.built is not None:
        return "Open at the design that was built"
    return "Before anything is built from this set"


def _open_words(material: SheetMaterial) -> str:
    """What open items mean for what the set is for."""
    if not material.open_items:
        return ""
    if material.strip.status in ("construction", "as-built"):
        return "signed with these items open: the engineer named answers for each"
    return "what is open is closed before this set is issued for construction"


def _first(material: SheetMaterial) -> tuple[str, ...]:
    """What is open, and the changes since the last issue; the first few of each."""
    told = [f"Open: {item}." for item in material.open_items[:4]]
    more = len(material.open_items) - len(told)
    if more > 0:
        told.append(f"And {more} more open items; they stand with the notes.")
    if material.changes:
        named = ", ".join(what for what, _, _ in material.changes[:3])
        told.append(f"Changed since the last issue: {named}; listed with the notes.")
    return tuple(told) or ("Nothing is open.",)


def _quantities(material: SheetMaterial) -> tuple[Block, ...]:
    return (
        Title("Quantities", "of the design; what is paid is measured in place"),
        Columns(("item", "quantity"), tuple(quantity_rows(material)), right=(1,), wide=(0,)),
    )


def quantity_rows(material: SheetMaterial) -> list[tuple[str, str]]:
    """Every item of the design with its quantity as it is bid."""
    from tilewater.documents.pages.summary_money import quantity_words

    trace, rows = material.trace, []
    for item in trace.names("quantities"):
        key = f"quantities.{item}.quantity"
        if key in trace:
            step = trace.steps[key]
            rows.append((step.title, quantity_words(trace, item, material.words)))
    return rows


def _locate_height(material: SheetMaterial, width: float) -> float:
    return _high(_locate(material), width - FRAME, WORDS_PT) + FRAME


def _locate(material: SheetMaterial) -> tuple[Block, ...]:
    ticket = material.ticket
    number = ticket.number if ticket else ""
    earliest = ticket.earliest if ticket else ""
    ground = ""
    if material.stakes.locate_grid:
        (low, left), _, (high, right), _ = material.stakes.locate_grid
        say = material.words.say
        ground = (
            f"Ground to be marked: {say(low, 'station')} to {say(high, 'station')}, "
            f"{say(left, 'length')} to {say(right, 'length')} from the main, right positive."
        )
    words = (
        material.located,
        ground,
        "Call before digging: 811, or the number of the place. The dig waits for the answer, "
        "whatever this set says. Private lines are the owner's to show.",
    )
    return (
        Title("Locate request"),
        Lines(tuple(word for word in words if word)),
        *(() if number else (Blank("ticket number"),)),
        *(() if earliest else (Blank("clear to dig from"),)),
    )

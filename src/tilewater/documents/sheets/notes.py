# SPDX-License-Identifier: Apache-2.0
"""Notes and cautions, the page for who looks after it, and the changes since the last issue."""

from collections.abc import Iterator

from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    GAP,
    Block,
    Box,
    Columns,
    Lines,
    SheetPage,
    Title,
    body_of,
)
from tilewater.documents.sheets.schedules import board_schedule

GENERAL = (
    "Local codes and licensed practice govern. Where this set and the code of the place differ, "
    "the code holds: ask the engineer.",
    "Figures written on the drawings hold before what is measured from them.",
    "No digging before the locate ticket is answered and the marks stand. Expose every crossing "
    "by hand first.",
    "Expose the main at both ends of the work and shoot its invert before the structures are set. "
    "Where it differs by more than 0.05 ft from the profile, stop and call the engineer.",
    "The tile flows while the work goes on: keep it flowing around the dig, and connect every line "
    "that is cut before the day ends.",
    "The engineer sees, before it is covered: floor and slopes, lining, headers and pipes, fabric. "
    "These are hold points.",
)
SAFETY = (
    "Trench: sides sloped or shored as the competent person on site decides for the soil and the "
    "water of the day; a way out for everyone below.",
    "Structures hold gas and too little air. Nobody enters one; boards are moved from above.",
    "Water in the hole can lift an empty lined bed: keep it filled or the groundwater down.",
    "Open water and a steep bank: nobody works alone at the ditch, and no machine stands on the "
    "bank's edge.",
    "No traffic over the bed, the structures or a line.",
)
"""Usual cautions; common practice, local codes govern."""
CHIPS = (
    "Clean hardwood chips without soil, leaves, treated wood or metal, screened of fines; a truck "
    "that smells of rot, steams or holds soil goes back.",
    "Each truck is looked at and its ticket kept; gradation is tested from a mixed sample as the "
    "specification says.",
    "Chips are placed in lifts without driving on the lining, and are not compacted more than "
    "placing them does.",
)
LINE = (
    "The line is laid level within the stated fall, its invert shot every 50 ft before it is "
    "covered.",
    "Past trees it is laid solid for the stated length. Ends are capped and marked.",
)


def notes_sheet(material: SheetMaterial) -> SheetPage:
    """General notes, safety, and notes of the practice; what changed since the last issue."""
    width, height = body_of(material.paper)
    half = (width - GAP) / 2
    own = {"bed": ("Chips", CHIPS), "buffer": ("The line", LINE)}.get(material.practice)
    left: list[Block] = [Title("Notes"), Lines(GENERAL, numbered=True)]
    if own is not None:
        left += [Title(own[0]), Lines(own[1], numbered=True)]
    right: list[Block] = [
        Title("Cautions", "usual ones; local codes govern"),
        Lines(SAFETY, numbered=True),
    ]
    right += _changed(material)
    right += _open(material)
    return SheetPage(
        "Notes",
        (
            Box(0.0, 0.0, half, height, tuple(left)),
            Box(half + GAP, 0.0, half, height, tuple(right)),
        ),
    )


MOST_CHANGES, MOST_OPEN = 12, 10


def _changed(material: SheetMaterial) -> Iterator[Title | Columns | Lines]:
    if not material.changes:
        return
    yield Title("Changed since the last issue")
    yield Columns(("what", "then", "now"), material.changes[:MOST_CHANGES], wide=(0,))
    more = len(material.changes) - MOST_CHANGES
    if more > 0:
        yield Lines((f"And {more} more; they stand in the issued copy.",), quiet=True)


def _open(material: SheetMaterial) -> Iterator[Title | Lines]:
    if not material.open_items:
        return
    yield Title("Open items of the design")
    yield Lines(material.open_items[:MOST_OPEN], numbered=True)
    more = len(material.open_items) - MOST_OPEN
    if more > 0:
        yield Lines((f"And {more} more; they stand in the report.",), quiet=True)


def operation_sheet(material: SheetMaterial) -> SheetPage:
    """For who looks after it: boards by season, when to empty, what to look at."""
    width, height = body_of(material.paper)
    half = (width - GAP) / 2
    left = tuple(board_schedule(material))
    looked_at = (
        "After each large rain, and at least in spring and autumn: boards in their place, water "
        "over them clear, outlet and guard free, no sinking ground over bed, pipes or line.",
        "Rotten eggs or black water: pull one outlet board, and call the engineer if it stays.",
        "Move at most one board in 12 hours in spring, so that the bank is not drawn down fast.",
        "Nobody climbs into a structure. Lids are heavy: two people, or a hook. Nobody is alone at "
        "the ditch when there is ice or high water.",
        "Keep a record: day, which boards, measure down from the rim, what was seen.",
    )
    return SheetPage(
        "Looking after it",
        (
            Box(0.0, 0.0, half, height, left),
            Box(
                half + GAP,
                0.0,
                half,
                height,
                (
                    Title("What to look at"),
                    Lines(looked_at, numbered=True),
                    Title("Record"),
                    Columns(
                        ("day", "boards", "down from rim", "seen"),
                        tuple(("", "", "", "") for _ in range(14)),
                        wide=(3,),
                        tall=True,
                    ),
                ),
            ),
        ),
    )

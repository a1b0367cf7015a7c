# SPDX-License-Identifier: Apache-2.0
"""Notes and cautions, the page for who looks after it, and the changes since the last issue."""

from collections.abc import Iterator
from dataclasses import replace

from tilewater.documents.sheets.cover import WORDS_PT
from tilewater.documents.sheets.flow import columns_of, flowed, set_in
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import Block, Columns, Lines, SheetPage, Title, body_of
from tilewater.documents.sheets.schedules import board_schedule
from tilewater.documents.words import NOT_KNOWN

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
INSPECTION = Columns(
    ("what", "how often", "kept"),
    (
        ("Main and every crossing, exposed and shot", "before the dig", "shot, photo"),
        ("Floor and slopes of the dig", "before anything is laid", "shot every 25 ft"),
        ("Inverts of pipes, grade", "each fitting and every 25 ft, uncovered", "shot, print line"),
        ("Sill and floor of each structure", "set, before backfill", "shot, photo"),
        ("Lining, fabric: laps, holes", "before it is covered", "photo, label of the roll"),
        ("Chips: fines, smell, soil", "each truck", "ticket"),
        ("Boards: height, leaks", "full, one day", "measure down from the rim"),
    ),
    wide=(0, 1, 2),
)
"""What is looked at while it is built; for a practice without chips or lining those rows fall."""
LINE = (
    "The line is laid level within the stated fall, its invert shot every 50 ft before it is "
    "covered.",
    "Past trees it is laid solid for the stated length. Ends are capped and marked.",
)


def notes_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """General notes, safety, and notes of the practice; what changed since the last issue."""
    own = {"bed": ("Chips", CHIPS), "buffer": ("The line", LINE)}.get(material.practice)
    blocks: list[Block] = [*_changed(material), Title("Notes"), Lines(GENERAL, numbered=True)]
    if own is not None:
        blocks += [Title(own[0]), Lines(own[1], numbered=True)]
    blocks += [Title("Cautions", "usual ones; local codes govern"), Lines(SAFETY, numbered=True)]
    blocks += [Title("Looked at, and how often", "common practice"), _inspection(material)]
    blocks += _dig(material)
    blocks += _open(material)
    yield from flowed("Notes", blocks, body_of(material.paper))


def _inspection(material: SheetMaterial) -> Columns:
    """What is looked at, without what the practice has not."""
    if material.practice == "bed":
        return INSPECTION
    rows = tuple(row for row in INSPECTION.rows if not row[0].startswith(("Chips", "Lining")))
    return replace(INSPECTION, rows=rows)


def _dig(material: SheetMaterial) -> Iterator[Block]:
    """How deep the dig is and what its sides are drawn at."""
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
    yield Lines(tuple(told), numbered=True)


def _changed(material: SheetMaterial) -> Iterator[Block]:
    if not material.changes:
        return
    yield Title("Changed since the last issue", "marked on the drawings where it has a place")
    yield Columns(("what", "then", "now"), material.changes, wide=(0, 1, 2))


def _open(material: SheetMaterial) -> Iterator[Block]:
    if not material.open_items:
        return
    yield Title("Open items of the design")
    yield Lines(material.open_items, numbered=True)


LOOKED_AT = (
    "After each large rain, and at least in spring and autumn: boards in their place, water "
    "over them clear, outlet and guard free, no sinking ground over bed, pipes or line.",
    "Rotten eggs or black water: pull one outlet board, and call the engineer if it stays.",
    "Move at most one board in 12 hours in spring, so that the bank is not drawn down fast.",
    "Nobody climbs into a structure. Lids are heavy: two people, or a hook. Nobody is alone at "
    "the ditch when there is ice or high water.",
    "Keep a record: day, which boards, measure down from the rim, what was seen.",
)
RECORD = ("day", "boards", "down from rim", "seen")
LEAST_RECORD = 8
MOST_RECORD = 60
"""Rows to write in: at least, and fewer than."""


def operation_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """For who looks after it: boards by season, when to empty, what to look at."""
    body = body_of(material.paper)

    def blocks(rows: int) -> tuple[Block, ...]:
        return (
            *board_schedule(material),
            Title("What to look at"),
            Lines(LOOKED_AT, numbered=True),
            Title("Record"),
            Columns(RECORD, (("", "", "", ""),) * rows, wide=(3,), tall=True),
        )

    room = (0.0, 0.0, *body)
    columns, most, over = columns_of(room), LEAST_RECORD, MOST_RECORD
    while over - most > 1:
        middle = (most + over) // 2
        if set_in(room, blocks(middle), columns, WORDS_PT):
            most = middle
        else:
            over = middle
    if boxes := set_in(room, blocks(most), columns, WORDS_PT):
        yield SheetPage("Looking after it", boxes)
    else:
        yield from flowed("Looking after it", blocks(most), body)

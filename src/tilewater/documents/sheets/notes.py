# SPDX-License-Identifier: Apache-2.0
"""Notes and cautions, the page for who looks after it, and the changes since the last issue."""

from collections.abc import Iterator
from dataclasses import replace

from tilewater.documents.sheets.cover import WORDS_PT
from tilewater.documents.sheets.flow import columns_of, flowed, set_in
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import Block, Columns, Lines, SheetPage, Title, body_of
from tilewater.documents.sheets.schedules import board_schedule
from tilewater.documents.words import LID_CARD, NOT_KNOWN

ORDER = {
    "bed": (
        "Locate ticket answered, private lines shown, crossings exposed by hand. Benchmarks "
        "checked, points and hubs set, tape checks made.",
        "Main exposed at both ends of the work, its inverts shot and told to the engineer.",
        "Structures, gate and boards, chips, lining and fabric on site and looked at before the "
        "tile is opened.",
        "Tile flow led around the work. Outlet structure and return from the ditch up, then the "
        "inlet structure and the pipe past the bed.",
        "Topsoil stripped and kept apart; the bed dug from the outlet end up, floor and slopes "
        "shot.",
        "Lining, headers with their ends capped, pipes to the structures. Hold point.",
        "Chips in lifts, top shot, fabric over them. Hold point. Soil back in layers, crowned.",
        "Boards set to the season, bed filled, leaks looked for over one day. Topsoil, seed, posts "
        "and markers.",
        "As-built levels shot and written on the last sheet before machines leave.",
    ),
    "buffer": (
        "Locate ticket answered, private lines shown, crossings exposed by hand. Benchmarks "
        "checked, stakes of the line and hubs set.",
        "Main exposed at the structure and at the outlet, its inverts shot and told to the "
        "engineer.",
        "Structure, boards and pipe on site and looked at before the tile is opened.",
        "Tile flow led around the work. Structure set on firm ground, the main replaced by solid "
        "pipe above it and past it.",
        "Line laid level from the structure to both ends, solid where the schedule says so, shot "
        "before it is covered. Hold point.",
        "Ends capped and marked. Soil back in layers; no gravel where the schedule asks for none.",
        "Boards set to the season, water over them watched for one day. Seed; posts and markers.",
        "As-built levels shot and written on the last sheet before machines leave.",
    ),
}
"""The order of the work; common practice."""


def _tolerances(material: SheetMaterial) -> tuple[tuple[str, str], ...]:
    say = material.words.say

    def within(feet: float) -> str:
        return f"within {say(feet * 0.3048, 'length')}"

    rows = [
        ("inverts of pipes, floors of structures", within(0.05)),
        ("fall of a pipe", "as drawn; nowhere against the flow"),
        ("crest of a stack of boards", within(0.02)),
        ("rims", within(0.10)),
    ]
    if material.practice == "bed":
        rows += [
            ("floor of the bed", f"each shot {within(0.10)}, the mean {within(0.05)}"),
            ("length of the floor", within(1.0)),
            ("width of the floor", f"not less, and {within(1.0)} over"),
            ("top of the chips", within(0.10)),
        ]
    if "inputs.buffer.line_fall_m" in material.trace:
        fall = material.say("inputs.buffer.line_fall_m", "size")
        rows.append(("line of the buffer", f"level: {fall} over its length at most"))
    return tuple(rows)


GENERAL = (
    "Local codes and licensed practice govern. Where this set and the code of the place differ, "
    "the code holds: ask the engineer.",
    "Figures written on the drawings hold before what is measured from them.",
    "No digging before the locate ticket is answered and the marks stand. Expose every crossing "
    "by hand first.",
    "Expose the main at both ends of the work and shoot its invert before the structures are set. "
    "Where it differs by more than {invert} from the profile, stop and call the engineer.",
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
        ("Floor and slopes of the dig", "before anything is laid", "shot every {grid}"),
        ("Inverts of pipes, grade", "each fitting and every {grid}, uncovered", "shot, print line"),
        ("Sill and floor of each structure", "set, before backfill", "shot, photo"),
        ("Lining, fabric: laps, holes", "before it is covered", "photo, label of the roll"),
        ("Chips: fines, smell, soil", "each truck", "ticket"),
        ("Boards: height, leaks", "full, one day", "measure down from the rim"),
    ),
    wide=(0, 1, 2),
)
"""What is looked at while it is built; for a practice without chips or lining those rows fall."""
LINE = (
    "The line is laid level within the stated fall, its invert shot every {line} before it is "
    "covered.",
    "Past trees it is laid solid for the stated length. Ends are capped and marked.",
)


def notes_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """General notes, safety, and notes of the practice; what changed since the last issue."""
    own = {"bed": ("Chips", CHIPS), "buffer": ("The line", LINE)}.get(material.practice)
    general = _filled(material, GENERAL)
    blocks: list[Block] = [*_changed(material), Title("Notes"), Lines(general, numbered=True)]
    if material.practice in ORDER:
        order = Lines(ORDER[material.practice], numbered=True)
        blocks += [Title("Order of the work", "common practice"), order]
    if own is not None:
        blocks += [Title(own[0]), Lines(_filled(material, own[1]), numbered=True)]
    blocks += [
        Title("Tolerances", "common practice; those of the specification"),
        Columns(("what", "built"), _tolerances(material), wide=(0, 1)),
    ]
    blocks += [Title("Cautions", "usual ones; local codes govern"), Lines(SAFETY, numbered=True)]
    blocks += [Title("Looked at, and how often", "common practice"), _inspection(material)]
    blocks += _dig(material)
    blocks += _open(material)
    yield from flowed("Notes", blocks, body_of(material.paper))


def _inspection(material: SheetMaterial) -> Columns:
    """What is looked at, without what the practice has not."""
    rows = tuple(_filled(material, row) for row in INSPECTION.rows)
    if material.practice != "bed":
        rows = tuple(row for row in rows if not row[0].startswith(("Chips", "Lining")))
    return replace(INSPECTION, rows=rows)


def _filled(material: SheetMaterial, words: tuple[str, ...]) -> tuple[str, ...]:
    """Words with their distances of common practice in the units of the reader."""
    places = {
        "invert": material.words.say(0.05 * 0.3048, "length"),
        "grid": material.far(25.0, 8.0),
        "line": material.far(50.0, 15.0),
        "edge": material.far(2.0, 0.6),
        "deep": material.far(4.0, 1.2),
        "shored": material.far(5.0, 1.5),
    }
    return tuple(each.format_map(places) for each in words)


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
            "protection from {shored} of depth; check your edition."
        )
    told.append(
        "Spoil and machines stand at least {edge} from the edge. A way out lies within {grid} of "
        "anyone in a trench {deep} deep or more (from memory; check your edition). Nobody works "
        "below a wall that water comes through."
    )
    yield Title("The dig")
    yield Lines(_filled(material, tuple(told)), numbered=True)


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
    schedule = tuple(board_schedule(material))

    def blocks(rows: int) -> tuple[Block, ...]:
        return (
            *schedule,
            *((Lines((LID_CARD,)),) if schedule else ()),
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

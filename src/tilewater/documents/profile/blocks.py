# SPDX-License-Identifier: Apache-2.0
"""Small tables over the section, hung on what they are about: the boxes and the bed."""

from dataclasses import dataclass, replace

from tilewater.chain.scene import Level, LongSection, MediaPart, StructurePart
from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import BODY, SMALL, Part
from tilewater.documents.profile.binding import binding_words
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import spread_between
from tilewater.documents.scales import Figures

ROW = 3.6
"""From line to line of a block. [mm]"""
TITLE = 4.4
GAP, BETWEEN, HANG = 1.6, 8.0, 4.0
"""White between its columns, between blocks, and between a block and what it hangs on. [mm]"""


@dataclass(frozen=True)
class Row:
    """What a level is, the level, and a note beside it."""

    words: str
    level: Level
    note: str = ""


@dataclass(frozen=True)
class Block:
    """A small table about a part of the section.

    Attributes
    ----------
    about : tuple of float
        Where it hangs on its part. [m]
    title : str
    rows : tuple of Row
    binds : str
        What binds here, in words; "" where nothing does.
    station : str
        Where along the main it is; "" where that is not told.
    """

    about: Point
    title: str
    rows: tuple[Row, ...]
    binds: str = ""
    station: str = ""

    def columns(self, figures: Figures) -> tuple[float, float, float]:
        """Widths of words, numbers and notes. [mm]"""
        words = max((text_width(row.words, SMALL, "light") for row in self.rows), default=0.0)
        numbers = max(
            (text_width(figures.elevation(row.level.elevation), SMALL) for row in self.rows),
            default=0.0,
        )
        notes = max((text_width(row.note, SMALL, "light") for row in self.rows), default=0.0)
        return words, numbers, notes

    def width(self, figures: Figures) -> float:
        """Room that it takes beside others. [mm]"""
        words, numbers, notes = self.columns(figures)
        inside = words + GAP + numbers + (GAP + notes if notes else 0.0)
        title = text_width(self.title, BODY, "semibold")
        if self.station:
            title += GAP + text_width(self.station, SMALL, "light")
        return max(inside, title, text_width(self.binds, SMALL))

    @property
    def height(self) -> float:
        """Room that it takes. [mm]"""
        return TITLE + ROW * (len(self.rows) + bool(self.binds))


def blocks_of(scene: LongSection, figures: Figures) -> tuple[Block, ...]:
    """Blocks of the outlet structure, the bed and the diversion, in their order."""
    found = [
        _of_box(scene, scene.outlet, "outlet structure", figures),
        _of_bed(scene, figures),
        _of_box(scene, scene.inlet, "diversion", figures),
    ]
    stations = dict(scene.stations)
    known = [block for block in found if block is not None]
    return tuple(replace(block, station=stations.get(block.title, "")) for block in known)


def _of_box(scene: LongSection, box: StructurePart, title: str, figures: Figures) -> Block | None:
    boards = box.setting("design")
    rows = [Row("rim", box.rim)] if box.rim is not None else []
    if box.ground is not None:
        rows.append(Row("ground", box.ground))
    if boards is not None:
        note = f"boards {figures.size(sum(boards.stack))}"
        if box.rim is not None:
            down = box.rim.elevation - boards.crest.elevation
            note += f", {figures.size(down)} down"
        rows.append(Row("crest", boards.crest, note))
    if box.sill is not None:
        rows.append(Row("sill", box.sill))
    if box.floor is not None and (
        box.sill is None
        or figures.elevation(box.floor.elevation) != figures.elevation(box.sill.elevation)
    ):
        rows.append(Row("floor", box.floor))
    if not rows:
        return None
    top = box.rim or rows[0].level
    binds = binding_words(scene, in_place=True) if scene.binds_at == f"{box.name} structure" else ""
    return Block((box.middle, top.elevation), title, tuple(rows), binds)


def _of_bed(scene: LongSection, figures: Figures) -> Block | None:
    media = scene.media
    if media is None:
        return None
    top = media.top.elevation
    rows = []
    if media.ground is not None:
        note = f"cover {figures.length(media.ground.elevation - top)}"
        if media.crown:
            note += f", crown {figures.length(media.crown)}"
        rows.append(Row("ground", media.ground, note))
    mean = (media.floor_low.elevation + media.floor_high.elevation) / 2
    rows.append(Row("top of chips", media.top, f"chips {figures.length(top - mean)}"))
    rows += _floors(media, figures)
    title = f"bed, cell {media.cell}" if media.cell else "bed"
    binds = binding_words(scene, in_place=True) if scene.binds_at == "bed" else ""
    highest = top if media.ground is None else media.ground.elevation + (media.crown or 0.0)
    return Block(((media.low + media.high) / 2, highest), title, tuple(rows), binds)


def _floors(media: MediaPart, figures: Figures) -> list[Row]:
    low, high = (figures.elevation(z.elevation) for z in (media.floor_low, media.floor_high))
    if low == high:
        return [Row("floor", media.floor_low)]
    return [Row("floor, outlet", media.floor_low), Row("floor, inlet", media.floor_high)]


def in_room(blocks: tuple[Block, ...], figures: Figures, room: float) -> tuple[Block, ...]:
    """Blocks that stand beside each other in a room; what binds is left out where it is narrow."""
    wide = sum(block.width(figures) + BETWEEN for block in blocks) - BETWEEN
    return blocks if wide <= room else tuple(replace(block, binds="") for block in blocks)


def blocks_height(blocks: tuple[Block, ...]) -> float:
    """Room of the highest block, with what it hangs by. [mm]"""
    return max((block.height for block in blocks), default=0.0) + HANG


def hang_blocks(
    plot: Plot, figures: Figures, blocks: tuple[Block, ...], ends: tuple[float, float], base: float
) -> None:
    """Write blocks side by side between two sides, their last rows at a height of the paper."""
    widths = [block.width(figures) for block in blocks]
    wanted = [plot.frame.paper(block.about)[0] for block in blocks]
    rooms = [width + BETWEEN for width in widths]
    low, high = ends[0] - BETWEEN / 2, ends[1] + BETWEEN / 2
    middles = spread_between(wanted, rooms, low, high)
    for block, width, middle in zip(blocks, widths, middles, strict=True):
        at = plot.frame.paper(block.about)
        layer = "binds-label" if block.binds else "dimension"
        foot = base - 1.0
        plot.rule(((min(max(at[0], middle - width / 2), middle + width / 2), foot), at), layer)
        _write_block(plot, figures, block, middle - width / 2, base + block.height)


def _write_block(plot: Plot, figures: Figures, block: Block, left: float, top: float) -> None:
    words, numbers, _ = block.columns(figures)
    y = top - TITLE + 1.0
    plot.write((left, y), block.title, size_mm=BODY, weight="semibold")
    if block.station:
        after = left + text_width(block.title, BODY, "semibold") + GAP
        plot.write((after, y), block.station, weight="light")
    for row in block.rows:
        y -= ROW
        plot.write((left, y), row.words, weight="light")
        number = (Part(figures.elevation(row.level.elevation), row.level.key),)
        right = left + words + GAP + numbers
        plot.write((right, y), number, across="right")
        if row.note:
            plot.write((right + GAP, y), row.note, weight="light")
    if block.binds:
        plot.write((left, y - ROW), block.binds, layer="binds-label")

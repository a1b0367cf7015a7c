# SPDX-License-Identifier: Apache-2.0
"""What stands beside the sections: the title of a sheet, the legend, remarks, what is not known."""

from collections.abc import Iterable

from tilewater.chain.scene import LongSection
from tilewater.documents.drawing.frame import paper_frame
from tilewater.documents.drawing.furniture import units_note
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import LARGE, SMALL, TITLE, Drawing
from tilewater.documents.profile.binding import binding_words
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

ROW = 4.0
TOLD = 3
"""Reasons that are told one by one."""
SAMPLE = 12.0
LINES = (
    ("ground", "ground, between what was shot"),
    ("ground-unknown", "ground where nothing was shot"),
    ("ground-finished", "crown over the bed"),
    ("excavation", "edge of the pit"),
    ("water", "ditch, ordinary water"),
    ("grade-line", "ditch, high water; storm line of the main"),
    ("groundwater", "groundwater that the design counts with"),
    ("hidden", "main past the bed, beside it; drawn broken"),
)
MATTERS = (
    ("soil", "soil"),
    ("cover", "cover over the chips"),
    ("chips", "chips"),
    ("wet-chips", "chips under water"),
)


def title_drawing(scene: LongSection, figures: Figures, width_mm: float) -> Drawing:
    """Title of the job, in what it is measured, and what binds."""
    frame = paper_frame(width_mm, 13.0)
    plot = Plot(frame, 0.0)
    plot.write((0.0, 7.6), scene.title or "Long section", size_mm=TITLE, weight="semibold")
    datum = f" Elevations above {scene.datum}." if scene.datum else ""
    note = units_note(figures.units, figures.foot)
    plot.write((0.0, 2.0), f"Long section with standing water. {note}{datum}", layer="label-muted")
    if scene.binds:
        style = {"layer": "binds-label", "across": "right", "weight": "semibold"}
        plot.write((width_mm, 2.0), binding_words(scene), **style)
    return plot.drawing("Title", figures)


def legend_drawing(figures: Figures, width_mm: float) -> Drawing:
    """What lines and patterns stand for."""
    rows = len(LINES) + len(MATTERS)
    plot = Plot(paper_frame(width_mm, 6.0 + ROW * rows), 0.0)
    y = _head(plot, "Lines and matter")
    for layer, words in LINES:
        plot.rule(((0.0, y + 0.8), (SAMPLE, y + 0.8)), layer)
        plot.write((SAMPLE + 3.0, y), words)
        y -= ROW
    for matter, words in MATTERS:
        box = (0.0, y - 0.8, SAMPLE, y + 2.4)
        plot.patch(box, matter)
        if matter == "wet-chips":
            plot.patch(box, "drowned-chips")
        plot.write((SAMPLE + 3.0, y), words)
        y -= ROW
    return plot.drawing("Lines and matter", figures)


def missing_drawing(scene: LongSection, figures: Figures, width_mm: float) -> Drawing:
    """What is not drawn since it is not known, and why."""
    lines = [line for each in scene.missing for line in _missing(each.what, each.why, width_mm)]
    plot = Plot(paper_frame(width_mm, 6.0 + ROW * max(1, len(lines))), 0.0)
    y = _head(plot, "Not drawn, not known")
    for line in lines or ["nothing"]:
        plot.write((0.0, y), line)
        y -= ROW
    return plot.drawing("Not drawn, not known", figures)


def _missing(what: str, why: tuple[str, ...], width_mm: float) -> list[str]:
    more = len(why) - TOLD
    rest = f"; and {more} more" if more > 0 else ""
    return wrapped(f"{what}: {'; '.join(why[:TOLD])}{rest}", width_mm)


def remarks_drawing(scene: LongSection, figures: Figures, width_mm: float) -> Drawing:
    """What a reader must know of the drawing."""
    lines = [line for each in remarks_of(scene) for line in wrapped(each, width_mm)]
    frame = paper_frame(width_mm, ROW * len(lines) + 1.0)
    plot = Plot(frame, 0.0)
    for index, line in enumerate(lines):
        y = frame.height_mm - ROW * (index + 1) + 1.0
        plot.write((0.0, y), line, layer="label-muted")
    return plot.drawing("Remarks", figures)


def unknown_drawing(title: str, scene: LongSection, figures: Figures, width_mm: float) -> Drawing:
    """A drawing that says that its subject is not known."""
    plot = Plot(paper_frame(width_mm, 6.0 + ROW), 0.0)
    y = _head(plot, title)
    plot.write((0.0, y), "not known: see what is not drawn", layer="label-muted")
    about = "; ".join(each.what for each in scene.missing)
    return plot.drawing(title, figures, f"not known: {about}")


def _head(plot: Plot, words: str) -> float:
    y = plot.frame.height_mm - 4.0
    plot.write((0.0, y), words, size_mm=LARGE, weight="semibold")
    return y - 5.0


def wrapped(words: str, room_mm: float) -> list[str]:
    """Words in lines that fit a room of paper; a longer word is broken."""
    lines: list[str] = []
    for word in _broken(words.split(), room_mm):
        if lines and text_width(f"{lines[-1]} {word}", SMALL) <= room_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _broken(words: Iterable[str], room_mm: float) -> Iterable[str]:
    for word in words:
        rest = word
        while text_width(rest, SMALL) > room_mm and len(rest) > 1:
            count = len(rest)
            while count > 1 and text_width(rest[:count], SMALL) > room_mm:
                count -= 1
            yield rest[:count]
            rest = rest[count:]
        yield rest


def remarks_of(scene: LongSection) -> list[str]:
    """What a reader must know of the drawing, sentence by sentence."""
    found = [
        "Distances run along the way of the water from the end of the return; the feed is drawn "
        "straight on, wherever it turns. The feed leaves the diversion before its boards, which "
        "are seen from upstream."
    ]
    media = scene.media
    if media is None:
        return found
    if media.cell:
        found.append(
            f"Of the cells side by side the first is drawn, {media.cell}; the others have the same "
            "floor, depth and levels in the boxes."
        )
    above = [
        line.name
        for line in (*scene.lines, *scene.seasons)
        if (level := line.level("inlet_end")) is not None
        and level.elevation > media.top.elevation + 0.003
    ]
    if above:
        names = ", ".join(dict.fromkeys(above))
        found.append(
            f"Where a line stands over the chips ({names}) it is the pressure under the cover, "
            "not a free surface."
        )
    return found

# SPDX-License-Identifier: Apache-2.0
"""Reading a living section back from its markup: levels in metres, boards, words with room."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

from tests.held import EXAMPLES
from tilewater.chain.design import Design
from tilewater.desk.bound import binds_of
from tilewater.desk.rings import handles_at, rings_of
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.living.labels import ASCENT, DESCENT
from tilewater.documents.living.section import Living, living_section
from tilewater.documents.living.stage import Binds
from tilewater.documents.words import Words
from tilewater.job.edits import Edit
from tilewater.tasks.held import Answer, HeldJob
from tilewater.tasks.held_water import LookedAt, scene_at

SVG = "{http://www.w3.org/2000/svg}"
WORDS = Words("us", "international foot")
Box = tuple[float, float, float, float]


@cache
def held(farm: str) -> HeldJob:
    """An example held open for all tests; nothing is written to it."""
    return HeldJob(EXAMPLES / farm)


def answered(farm: str, edits: Mapping[str, Edit] | None = None) -> Answer:
    """The first answer to edits."""
    return held(farm).first(edits or {})


def designed(farm: str, edits: Mapping[str, Edit] | None = None) -> Design:
    """The design of a first answer, which has no faults."""
    answer = answered(farm, edits)
    assert answer.design is not None, answer.faults
    return answer.design


def drawn(
    answer: Answer,
    width: float = 840.0,
    looked_at: LookedAt | None = None,
    words: Words = WORDS,
    binds: Binds | None = None,
) -> Living:
    """The living section of an answer as the desk draws it; what binds may be said otherwise."""
    design = answer.design
    assert design is not None, answer.faults
    return living_section(
        design,
        words,
        width=width,
        looked=None if looked_at is None else scene_at(answer, looked_at),
        rings=rings_of(handles_at(design, looked_at), design, words, "design"),
        binds=binds or binds_of(design, words),
    )


@dataclass(frozen=True)
class Text:
    """Words on the page, and their room."""

    words: str
    box: Box


class Sketch:
    """A living section as read."""

    def __init__(self, living: Living) -> None:
        self.root = ElementTree.fromstring(living.svg)
        self.living = living

    def panel(self, name: str) -> ElementTree.Element:
        """The group of a panel."""
        return next(g for g in self.root.iter(f"{SVG}g") if g.get("data-panel") == name)

    def elevation(self, y: float, panel: str = "practice") -> float:
        """Elevation of a pixel. [m]"""
        group = self.panel(panel)
        top, high, up = (float(group.attrib[f"data-{key}"]) for key in ("top", "high", "up"))
        return high - (y - top) / up

    def parts(self, name: str) -> list[ElementTree.Element]:
        """Shapes of a name."""
        return [each for each in self.root.iter() if each.get("data-part") == name]

    def names(self) -> list[str]:
        """Names of all shapes."""
        return [str(each.get("data-part")) for each in self.root.iter() if each.get("data-part")]

    def levels(self, name: str, panel: str = "practice") -> list[float]:
        """Elevations along a line of a name. [m]"""
        (line,) = self.parts(name)
        return [self.elevation(y, panel) for _, y in points_of(line)]

    def boards(self, structure: str) -> list[tuple[float, float]]:
        """Foot and top of each board, from the sill up. [m]"""
        found = []
        for board in self.parts(f"{structure}-board"):
            top = float(board.attrib["y"])
            foot = top + float(board.attrib["height"])
            found.append((self.elevation(foot), self.elevation(top)))
        return found

    def texts(self) -> list[Text]:
        """All words but those beside a ring, which show only while it is held."""
        hidden = {t for g in self.root.iter() if g.get("class") == "says" for t in g.iter()}
        return [_text(each) for each in self.root.iter(f"{SVG}text") if each not in hidden]

    def collisions(self) -> list[tuple[str, str]]:
        """Words that lie on others."""
        return [
            (a.words, b.words)
            for a, b in combinations(self.texts(), 2)
            if _share_room(a.box, b.box)
        ]

    def outside(self) -> list[str]:
        """Words that leave the page."""
        wide, tall = self.living.width, self.living.height
        return [
            text.words
            for text in self.texts()
            if text.box[0] < 0 or text.box[1] < 0 or text.box[2] > wide or text.box[3] > tall
        ]


def points_of(shape: ElementTree.Element) -> list[tuple[float, float]]:
    """Corners of a path, or the middle of a circle."""
    if "cx" in shape.attrib:
        return [(float(shape.attrib["cx"]), float(shape.attrib["cy"]))]
    if "d" not in shape.attrib:
        return [(float(shape.attrib["x"]), float(shape.attrib["y"]))]
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", shape.attrib["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _text(element: ElementTree.Element) -> Text:
    size, x, y = (float(element.attrib[key]) for key in ("font-size", "x", "y"))
    wide = sum(_width(piece, bold, size) for piece, bold in _pieces(element, is_bold=False))
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.attrib["text-anchor"]] * wide
    words = "".join(element.itertext())
    return Text(words, (left, y - ASCENT * size, left + wide, y + DESCENT * size))


def _pieces(element: ElementTree.Element, *, is_bold: bool) -> list[tuple[str, bool]]:
    bold = is_bold or "s" in (element.get("class") or "").split()
    found = [(element.text or "", bold)]
    for inner in element:
        found += _pieces(inner, is_bold=bold)
        found.append((inner.tail or "", bold))
    return found


def _width(words: str, bold: bool, size: float) -> float:
    return text_width(words, size, "semibold" if bold else "regular")


def _share_room(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]

# SPDX-License-Identifier: Apache-2.0
"""What the sheets of a design are made from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.stake_record import StakeList
from tilewater.documents.drawing.model import Drawing
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.inks import PAPER
from tilewater.documents.scales import printed_larger
from tilewater.documents.sheets.record import Picture, SheetPaper, Strip
from tilewater.documents.words import NOT_KNOWN, Words, step_value

Draw = Callable[[float, float], Drawing]
"""Draws for so much width and height of paper. [mm]"""
TEXT_TIMES = 1.25
"""Drawings of a report have capitals 1.65 mm high; on a sheet no text is under 0.08 in, 2.03 mm."""
WHITE = "#ffffff"
"""Ground of a sheet; it is printed on paper."""


@dataclass(frozen=True)
class SheetMaterial:
    """A design and all that its sheets show.

    Attributes
    ----------
    title, practice : str
    trace : Trace
    stakes : StakeList
    words : Words
    draw : mapping of str to callable
        Drawings by name; one that the practice has not is absent.
    paper : SheetPaper
    strip : Strip
    open_items : tuple of str
        What is open, one sentence each.
    changes : tuple of tuple of str
        What changed since the last issued copy: what, then, now.
    """

    title: str
    practice: str
    trace: Trace
    stakes: StakeList
    words: Words
    draw: Mapping[str, Draw]
    paper: SheetPaper
    strip: Strip
    open_items: tuple[str, ...] = ()
    changes: tuple[tuple[str, str, str], ...] = ()

    def say(self, key: str, kind: str = "", *, unit: bool = True) -> str:
        """A number of the trace as the reader sees it."""
        if key not in self.trace:
            return NOT_KNOWN
        if not kind:
            return self.words.of_step(self.trace.steps[key])
        return self.words.say(step_value(self.trace, key), kind, unit=unit)

    def text(self, key: str) -> str:
        """A text of the job; "not known" where it is not."""
        return str(self.trace.value(key)) if self.trace.known(key) else NOT_KNOWN

    def picture(self, name: str, width_mm: float, height_mm: float) -> Picture | None:
        """A drawing in so much room; None where the practice has none or it cannot be drawn."""
        if name not in self.draw:
            return None
        times = TEXT_TIMES
        try:
            with printed_larger(times * self.paper.times):
                drawing = self.draw[name](width_mm / times, height_mm / times)
        except OutOfDomain:
            return None
        frame = drawing.frame
        svg = to_svg(drawing).replace(f'fill="{PAPER}"/>', f'fill="{WHITE}"/>', 1)
        alt = ": ".join(words for words in (drawing.title, drawing.about) if words)
        return Picture(svg, frame.width_mm * times, frame.height_mm * times, alt)

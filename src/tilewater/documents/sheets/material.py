# SPDX-License-Identifier: Apache-2.0
"""What the sheets of a design are made from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.locate import Ticket
from tilewater.chain.stake_record import StakeList
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import SMALL, Drawing, Text
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.inks import PAPER
from tilewater.documents.scales import printed_larger
from tilewater.documents.sheets.built_levels import BuiltLevels
from tilewater.documents.sheets.matched import MARGIN, SEEK, headed, strips
from tilewater.documents.sheets.record import Picture, SheetPaper, Strip
from tilewater.documents.sheets.revised import Marks, marked
from tilewater.documents.words import NOT_KNOWN, Words, step_value

Draw = Callable[[float, float], Drawing]
"""Draws for so much width and height of paper. [mm]"""
Drawn = tuple[Drawing, float]
"""A drawing, and how many times larger it is set than it is drawn."""
LEAST_EM = 3.1
"""Least size of type on a sheet; capitals are two thirds as high: 0.08 in. [mm]"""
TEXT_TIMES = 1.25
"""Drawings of a report have capitals 1.65 mm high; on a sheet no text is under 0.08 in, 2.03 mm."""
JOIN = 3.0 * (MARGIN + SEEK)
"""What match lines take of the width of a strip. [mm]"""
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
    marks : Marks
        What of it is marked on the drawings.
    without : tuple of str
        Details that are not drawn, each with the sizes that are missing.
    ticket : Ticket or None
        The locate ticket; None where nobody looked for one.
    built : BuiltLevels or None
        Finished work, of a set as built.
    drawn : dict
        Drawings that were made already, by name and room.
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
    marks: Marks = field(default_factory=Marks)
    without: tuple[str, ...] = ()
    ticket: Ticket | None = None
    built: BuiltLevels | None = None
    drawn: dict[tuple[str, float, float], Drawn | None] = field(
        default_factory=dict, compare=False, repr=False
    )

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

    @property
    def located(self) -> str:
        """How the locate ticket stands, in a sentence."""
        return "No locate ticket is given." if self.ticket is None else self.ticket.words

    @property
    def foot(self) -> str:
        """The foot of the grid, as the trade writes it."""
        return self.text("inputs.site.foot").replace("us survey", "US survey")

    def far(self, feet: float, metres: float) -> str:
        """A distance of common practice, round in the units of the reader."""
        return f"{feet:g} ft" if self.words.system == "us" else f"{metres:g} m"

    def drawing(self, name: str, width_mm: float, height_mm: float) -> Drawn | None:
        """A drawing for so much room; None where the practice has none or it cannot be drawn."""
        if name not in self.draw:
            return None
        key = name, round(width_mm, 3), round(height_mm, 3)
        if key not in self.drawn:
            made = self._from_higher_room(*key)
            self.drawn[key] = made or self._drawn(name, width_mm, height_mm)
        return self.drawn[key]

    def _from_higher_room(self, name: str, width: float, height: float) -> Drawn | None:
        """A drawing of a higher room that has room here too: it takes no more than it needs."""
        for (other, wide, high), made in self.drawn.items():
            if (other, wide) == (name, width) and high > height and made is not None:
                drawing, times = made
                if drawing.frame.height_mm * times <= height:
                    return made
        return None

    def _drawn(self, name: str, width_mm: float, height_mm: float) -> Drawn | None:
        """Drawn so that its smallest words are large enough on the sheet."""
        times = TEXT_TIMES
        for _ in range(2):
            try:
                with printed_larger(times * self.paper.times):
                    made = self.draw[name](width_mm / times, height_mm / times)
            except OutOfDomain:
                return None
            least = min((e.size_mm for e in made.entities if isinstance(e, Text)), default=SMALL)
            if least * times >= LEAST_EM:
                break
            times = LEAST_EM / least
        return marked(headed(made), self.marks), times

    def picture(self, name: str, width_mm: float, height_mm: float) -> Picture | None:
        """A drawing as it is set on a sheet; None where there is none."""
        drawn = self.drawing(name, width_mm, height_mm)
        return None if drawn is None else self.shown(name, *drawn)

    def strip_of(
        self, name: str, width_mm: float, height_mm: float, number: int, count: int
    ) -> Picture | None:
        """One of so many strips of a drawing that is as wide as all sheets together."""
        room = width_mm if count == 1 else count * (width_mm - JOIN)
        drawn = self.drawing(name, room, height_mm)
        if drawn is None:
            return None
        drawing, times = drawn
        named = name if count == 1 else f"{name}-{number + 1}"
        with printed_larger(times * self.paper.times):
            cut = strips(drawing, count, most_mm=width_mm / times)
            return self.shown(named, cut[number], times)

    def shown(self, name: str, drawing: Drawing, times: float) -> Picture:
        """A drawing as a picture of the size that it is printed in."""
        frame = drawing.frame
        svg = to_svg(drawing).replace(f'fill="{PAPER}"/>', f'fill="{WHITE}"/>', 1)
        alt = ": ".join(words for words in (drawing.title, drawing.about) if words)
        size = frame.width_mm * times, frame.height_mm * times
        ratio = frame.scale_x / times / self.paper.times
        return Picture(svg, *size, alt, ratio, name, drawing)


def is_sound(picture: Picture) -> bool:
    """Whether no words of a drawing lie on others or leave its frame."""
    drawing = picture.drawing
    return drawing is None or not (collisions(drawing) or outside_frame(drawing))

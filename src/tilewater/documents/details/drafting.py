# SPDX-License-Identifier: Apache-2.0
"""What all details share: a frame, a head that says whether it is to scale, labels with places."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from tilewater.basis.trace import Trace
from tilewater.documents.drawing.frame import MM, Point, Sides, fitted_frame, paper_frame
from tilewater.documents.drawing.furniture import scale_words
from tilewater.documents.drawing.model import SMALL, Along, Circle, Dimension, Drawing, Part
from tilewater.documents.drawing.placing import Label, Side, place_labels
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

TYPICAL = "Not to scale, typical, common practice"
FREE = Sides(left=34.0, bottom=7.0, right=44.0, top=13.0)
"""Room for words around what is drawn. [mm]"""


@dataclass
class Detail:
    """A detail in the making.

    Attributes
    ----------
    title : str
    figures : Figures
    plot : Plot
    labels : list of Label
    """

    title: str
    figures: Figures
    plot: Plot
    labels: list[Label] = field(default_factory=list)

    @classmethod
    def to_scale(
        cls,
        title: str,
        figures: Figures,
        box: tuple[Point, Point],
        room: tuple[float, float],
        free: Sides = FREE,
    ) -> "Detail":
        """A detail at one usual scale across and up, in ground metres."""
        width, height = room
        low, high = box
        units = figures.units
        frame = fitted_frame(low, high, width_mm=width, height_mm=height, units=units, free=free)
        need = free.top + free.bottom + (high[1] - low[1]) * MM / frame.scale_y + 0.01
        if need < height:
            frame = fitted_frame(low, high, width_mm=width, height_mm=need, units=units, free=free)
        made = cls(title, figures, Plot(frame, low[1]))
        made._head(scale_words(frame, units))
        return made

    @classmethod
    def typical(
        cls, title: str, figures: Figures, room: tuple[float, float], high_mm: float = 70.0
    ) -> "Detail":
        """A detail without a scale, in millimetres of its paper."""
        made = cls(title, figures, Plot(paper_frame(room[0], min(room[1], high_mm)), 0.0))
        made._head(TYPICAL)
        return made

    def _head(self, words: str) -> None:
        top = self.plot.frame.height_mm - 3.0
        self.plot.write((0.0, top), self.title, weight="semibold")
        self.plot.write((0.0, top - 3.8), words, layer="label-muted")

    def box(self, low: Point, high: Point, layer: str, matter: str = "", name: str = "") -> None:
        """A rectangle of the ground."""
        corners = (low, (high[0], low[1]), high, (low[0], high[1]))
        if matter:
            self.plot.fill(corners, matter)
        self.plot.shape(corners, layer, closed=True, name=name)

    def ring(self, centre: Point, radius: float, layer: str, matter: str = "paper") -> None:
        """A pipe that is cut across."""
        self.plot.entities.append(Circle(centre, radius, layer, matter))

    def line(self, *points: Point, layer: str, name: str = "") -> None:
        """A line through points of the ground."""
        self.plot.shape(points, layer, name=name)

    def say(
        self, at: Point, *rows: str | tuple[Part, ...], side: Side = "right", layer: str = "label"
    ) -> None:
        """Words about a point, with a leader."""
        self.labels.append(Label(at, rows, layer, SMALL, side, always_led=True))

    def measure(
        self,
        start: Point,
        end: Point,
        key: str,
        away_mm: float,
        along: Along = "y",
        words: str = "",
    ) -> None:
        """A dimension so far to the right of its points, or above them."""
        long = abs(end[1] - start[1]) if along == "y" else abs(end[0] - start[0])
        moves = (away_mm, 0.0) if along == "y" else (0.0, away_mm)
        through = self.plot.frame.moved(start, *moves)
        said = words or self.figures.fall(long)
        self.plot.entities.append(
            Dimension(start, end, through, said, along, size_mm=SMALL, key=key)
        )

    def done(self, about: str = "") -> Drawing:
        """The detail with all its labels.

        Raises
        ------
        OutOfDomain
            If one of them has no room.
        """
        placed = place_labels(self.labels, self.plot.frame, self.plot.entities).all_placed()
        self.plot.entities += placed
        return self.plot.drawing(self.title, self.figures, about)


def level_of(trace: Trace, key: str) -> float | None:
    """A number of the trace; None where it is not known."""
    if key not in trace or not trace.known(key):
        return None
    value = trace.value(key)
    return float(value) if isinstance(value, int | float) else None


def levels_of(trace: Trace, keys: Sequence[str]) -> tuple[float, ...] | None:
    """Numbers of the trace; None where one is not known."""
    found = [level_of(trace, key) for key in keys]
    return tuple(v for v in found if v is not None) if None not in found else None


def at_level(figures: Figures, words: str, value: float, key: str) -> tuple[Part, ...]:
    """Words and an elevation with its key."""
    return Part(f"{words} "), Part(figures.elevation(value), key)

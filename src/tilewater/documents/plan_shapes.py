# SPDX-License-Identifier: Apache-2.0
"""Shapes of the plan: ditch, lines of the site, bed, pipes, structures, shots and the grid."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import hypot

from tilewater.chain.scene_plan_records import Line, PlanScene, Point
from tilewater.documents.drawing.frame import Frame
from tilewater.documents.drawing.model import Area, Mark, MarkKind, Polyline
from tilewater.documents.profile.plot import Plot
from tilewater.ground.outlines import nearest_on_line

LAYER_OF_LINE = {
    "bank top": "ditch",
    "far bank top": "ditch",
    "toe of bank": "soil-line",
    "far toe of bank": "soil-line",
    "property line": "boundary",
    "field edge": "soil-line",
    "fence": "soil-line",
    "tile line": "drain",
    "buried utility": "setback",
    "distribution line": "pipe-hidden",
}
SIGN_OF_MARK: dict[str, MarkKind] = {
    "bore hole": "boring",
    "benchmark": "benchmark",
    "low spot": "ring",
    "junction": "ring",
    "property line": "tick",
}
CROSSED_OUT = 45.0
"""Turn of the sign of a shot that is not used. [deg]"""
IN_PLACE_OF_MAIN = ("bypass", "solid replacement")


class Window:
    """The part of the ground that the plan shows: lines are cut at its edge. [m]"""

    def __init__(self, low: Point, high: Point) -> None:
        self.low, self.high = low, high

    def holds(self, point: Point) -> bool:
        """Whether a point is shown."""
        return all(
            low <= x <= high for low, x, high in zip(self.low, point, self.high, strict=True)
        )

    def pieces(self, line: Iterable[Point]) -> Iterator[Line]:
        """The pieces of a line that are shown."""
        run: list[Point] = []
        for a, b in pairwise(line):
            piece = self._inside(a, b)
            if piece is None:
                continue
            if run and run[-1] != piece[0]:
                yield tuple(run)
                run = []
            run = [*(run or [piece[0]]), piece[1]]
        if run:
            yield tuple(run)

    def _inside(self, a: Point, b: Point) -> tuple[Point, Point] | None:
        start, end = 0.0, 1.0
        for axis in (0, 1):
            way = b[axis] - a[axis]
            for edge, sign in ((self.low[axis], -1.0), (self.high[axis], 1.0)):
                room, speed = sign * (edge - a[axis]), sign * way
                if speed == 0.0:
                    if room < 0.0:
                        return None
                elif speed > 0.0:
                    end = min(end, room / speed)
                else:
                    start = max(start, room / speed)
        if start >= end:
            return None
        first = a if start == 0.0 else (a[0] + start * (b[0] - a[0]), a[1] + start * (b[1] - a[1]))
        last = b if end == 1.0 else (a[0] + end * (b[0] - a[0]), a[1] + end * (b[1] - a[1]))
        return first, last


def draw_line(plot: Plot, window: Window, line: Line, layer: str, name: str) -> None:
    """Draw what is shown of a line."""
    for piece in window.pieces(line):
        plot.shape(piece, layer, name=name)


def draw_site(plot: Plot, window: Window, scene: PlanScene) -> None:
    """Draw the ditch, the lines of the site, the right of way and the ground that may be used."""
    by_kind = {line.kind: line.line for line in scene.lines}
    if "toe of bank" in by_kind and "far toe of bank" in by_kind:
        near, far = by_kind["toe of bank"], by_kind["far toe of bank"]
        shown = [p for p in (*near, *reversed(far)) if window.holds(p)]
        if len(shown) == len(near) + len(far):
            plot.fill(shown, "water", name="ditch bottom")
    for line in scene.lines:
        draw_line(plot, window, line.line, LAYER_OF_LINE[line.kind], line.name)
    draw_line(plot, window, scene.right_of_way, "setback", "right of way")
    for outline in scene.outline("footprint"):
        if all(map(window.holds, outline.corners)):
            plot.shape(outline.corners, "setback", closed=True, name="footprint")
        else:
            around = (*outline.corners, outline.corners[0])
            draw_line(plot, window, around, "setback", "footprint")


def draw_bed(plot: Plot, scene: PlanScene) -> None:
    """Draw the bed: media, floor, top of the cut, and the edges between them."""
    for outline in scene.outline("chips"):
        plot.fill(outline.corners, "chips", name=f"{outline.name} media")
        plot.shape(outline.corners, "chips-edge", closed=True, name=f"{outline.name} media")
    floors = {outline.name: outline.corners for outline in scene.outline("floor")}
    for outline in scene.outline("cut"):
        plot.shape(outline.corners, "excavation", closed=True, name=f"{outline.name} cut")
        for a, b in zip(outline.corners, floors.get(outline.name, ()), strict=False):
            plot.shape((a, b), "soil-line")
    for name, corners in floors.items():
        plot.shape(corners, "hidden", closed=True, name=f"{name} floor")


def draw_pipes(plot: Plot, window: Window, scene: PlanScene) -> None:
    """Draw the main where it stays, the pipes that are laid, and the structures."""
    for _, piece in remaining_main(scene):
        draw_line(plot, window, piece, "drain", "main")
    for pipe in scene.pipes:
        layer = "pipe" if pipe.is_solid else "pipe-hidden"
        draw_line(plot, window, pipe.line, layer, f"pipe {pipe.name}")
    for outline in scene.outline("structure"):
        name = f"{outline.name} structure"
        plot.entities.append(Area(outline.corners, "paper", name=name))
        plot.entities.append(Polyline(outline.corners, "structure-cut", closed=True, name=name))


def remaining_main(scene: PlanScene) -> Iterator[tuple[str, Line]]:
    """The main where no new pipe lies in its place, each piece as it was found."""
    laid = [pipe.line for pipe in scene.pipes if pipe.use in IN_PLACE_OF_MAIN]
    for found, line in scene.main:
        for piece in _without(line, laid):
            yield found, piece


def _without(line: Line, laid: list[Line]) -> Iterator[Line]:
    """A line less the pieces that lie under others, told by the ends of those."""
    gone = sorted(sorted((_along(line, pipe[0]), _along(line, pipe[-1]))) for pipe in laid)
    at, end = 0.0, _length(line)
    for low, high in gone:
        if low > at:
            yield tuple(_between(line, at, min(low, end)))
        at = max(at, high)
    if at < end:
        yield tuple(_between(line, at, end))


def _length(line: Line) -> float:
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))


def _along(line: Line, point: Point) -> float:
    """Way along a line to where it is nearest to a point."""
    foot, run = nearest_on_line(point, line), 0.0
    for a, b in pairwise(line):
        long = hypot(b[0] - a[0], b[1] - a[1])
        here = hypot(foot[0] - a[0], foot[1] - a[1])
        if abs(here + hypot(foot[0] - b[0], foot[1] - b[1]) - long) < 1e-6:
            return run + here
        run += long
    return run


def _between(line: Line, low: float, high: float) -> Iterator[Point]:
    run = 0.0
    for a, b in pairwise(line):
        long = hypot(b[0] - a[0], b[1] - a[1])
        start, end = max(low, run), min(high, run + long)
        if start < end:
            for at in (start, end):
                share = (at - run) / long
                yield a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        run += long


def draw_marks(plot: Plot, window: Window, scene: PlanScene) -> None:
    """Draw shots small, then what else is marked on them."""
    for shot in scene.shots:
        if window.holds(shot.at):
            kind: MarkKind = "dot" if shot.is_used else "point"
            turned = 0.0 if shot.is_used else CROSSED_OUT
            plot.entities.append(Mark(shot.at, kind, "survey", turned, f"shot {shot.point}"))
    draw_spots(plot, window, scene)


def draw_spots(plot: Plot, window: Window, scene: PlanScene) -> None:
    """Draw bore holes, benchmarks, low spots, junctions and where the property line crosses."""
    for mark in scene.marks:
        if window.holds(mark.at):
            sign = SIGN_OF_MARK[mark.kind]
            plot.entities.append(Mark(mark.at, sign, "survey", name=mark.name))


def grid_step(frame: Frame, unit: float) -> float:
    """Distance of grid crosses: a round number of feet or metres, about 40 mm apart. [m]"""
    wanted = 0.040 * frame.scale_x / unit
    steps = [m * 10.0**e for e in range(4) for m in (1, 2, 5)]
    return min(steps, key=lambda step: abs(step - wanted)) * unit


def rounds(low: float, high: float, step: float) -> Iterator[float]:
    """Multiples of a step between two values."""
    number = int(-(-low // step))
    while number * step <= high:
        yield number * step
        number += 1

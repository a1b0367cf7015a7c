# SPDX-License-Identifier: Apache-2.0
"""Words of the plan: dimensions, setbacks, and what each thing is."""

from dataclasses import replace
from itertools import pairwise
from math import degrees, hypot

from tilewater.basis.units import from_si
from tilewater.chain.scene_plan_records import (
    Line,
    Measured,
    PlanOutline,
    PlanPipe,
    PlanScene,
    Point,
)
from tilewater.documents.drawing.dimensions import words_of
from tilewater.documents.drawing.frame import MM
from tilewater.documents.drawing.measured import (
    Box,
    box_of,
    overlapping,
    struck,
    text_boxes,
)
from tilewater.documents.drawing.model import SMALL, Dimension, Part
from tilewater.documents.drawing.placing import Label, Side, place_labels
from tilewater.documents.plan_along import sign_box, write_along
from tilewater.documents.plan_shapes import Window, remaining_main
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

AZIMUTH = "plan.azimuth_rad"
BESIDE = 2.2
"""From a pipe to the middle of its words. [mm]"""
ON_THE_MAIN = ("low spot", "junction", "property line")
OF_THE_FIELD = ("property line", "tile line", "buried utility")
"""Lines that are named on the plan of the main too."""
UNNAMED = ("toe of bank", "far toe of bank")
"""Lines that the name of the ditch between them tells."""
SHORT = 14.0
"""From the frame to the words on where the main goes on to. [mm]"""
CLEAR = 0.8
"""Half of the room that the end of a leader takes. [mm]"""
SIGN = 1.4
"""Half of the room that a sign takes. [mm]"""
MOVES = ((0.0, 0.0), (-6.0, 0.0), (6.0, 0.0), (0.0, -3.9), (0.0, 3.2), (-12.0, 0.0), (12.0, 0.0))
"""How words of a dimension may be moved along it and away from it. [mm]"""
AWAY = 7.0
"""From an outline to the dimension beside it. [mm]"""


def write_dimensions(plot: Plot, figures: Figures, scene: PlanScene) -> None:
    """Write length and width of floor and cut, and what keeps its distance."""
    last = len(scene.outline("cut")) - 1
    for index, outline in enumerate(scene.outline("cut")):
        _sides(plot, figures, outline, AWAY, lengthwise=index == last)
    for outline in scene.outline("floor"):
        _sides(plot, figures, outline, -0.30, inside=True)
    measured = _least_of_each(scene)
    if scene.right_of_way_width is not None:
        measured.append(scene.right_of_way_width)
    for each in measured:
        words = setback(figures, each)
        dimension = Dimension(each.start, each.end, each.start, words, size_mm=SMALL, key=each.key)
        _add_free(plot, dimension)


def _least_of_each(scene: PlanScene) -> list[Measured]:
    """The distances, of several cells only the least of a kind."""
    least: dict[str, Measured] = {}
    for each in scene.distances:
        if each.words not in least or each.value < least[each.words].value:
            least[each.words] = each
    return list(least.values())


def _add_free(plot: Plot, dimension: Dimension) -> None:
    """Add a dimension with its words moved, where need be, to where they touch no other."""
    taken = text_boxes(plot.drawing("", Figures("us")))
    for moved in MOVES:
        tried = replace(dimension, moved_mm=moved)
        box = box_of(words_of(tried, plot.frame), plot.frame)
        if not overlapping([box], taken).any():
            plot.entities.append(tried)
            return
    plot.entities.append(dimension)


def setback(figures: Figures, each: Measured) -> str:
    """A distance on the ground to a tenth of a foot: a bank is no sharper than that."""
    if figures.units == "us":
        return f"{from_si(each.value, 'ft'):.1f}"
    return f"{each.value:.2f}"


def _sides(
    plot: Plot,
    figures: Figures,
    outline: PlanOutline,
    away: float,
    *,
    inside: bool = False,
    lengthwise: bool = True,
) -> None:
    """Length and width of an outline: outside of it on the far and upper side, or inside."""
    lower_near, lower_far, upper_far, upper_near = outline.corners
    sides = [(lower_far, upper_far, lower_near)] if lengthwise else []
    for a, b, opposite in (*sides, (upper_near, upper_far, lower_near)):
        long = hypot(b[0] - a[0], b[1] - a[1])
        ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
        nx, ny = uy, -ux
        across = (opposite[0] - a[0]) * nx + (opposite[1] - a[1]) * ny
        if across > 0.0:
            nx, ny, across = -nx, -ny, -across
        if inside:
            through = a[0] + nx * across * -away, a[1] + ny * across * -away
        else:
            through = plot.frame.moved(a, nx * away, ny * away)
        dimension = Dimension(a, b, through, figures.fall(long), size_mm=SMALL, key=outline.key)
        _add_free(plot, dimension)


def write_labels(plot: Plot, figures: Figures, scene: PlanScene, window: Window) -> tuple[str, ...]:
    """Write along the lines what they are, then beside everything else what it is.

    Returns
    -------
    tuple of str
        Words that found no room; none of them lies on another.
    """
    led = _write_pipes(plot, figures, scene)
    _write_along(plot, scene, window)
    pipes = [replace(label, about=_clear_of_texts(plot, line)) for label, line in led]
    labels = [
        *_structures(figures, scene),
        *pipes,
        *_marks(figures, scene, window),
        *_beds(plot, figures, scene),
        *_stations(figures, scene, window, SHORT * plot.frame.scale_x / MM),
    ]
    placed = place_labels(labels, plot.frame, plot.entities)
    plot.entities += placed.entities
    return tuple(label.plain for label in placed.unplaced)


def on_the_main(scene: PlanScene) -> PlanScene:
    """The scene with those marks alone that lie on the main: spots and the property line."""
    marks = (mark for mark in scene.marks if mark.kind in ON_THE_MAIN)
    return replace(scene, marks=tuple(marks))


def write_main_labels(
    plot: Plot, figures: Figures, scene: PlanScene, window: Window
) -> tuple[str, ...]:
    """Write what the main is, its stations, its spots, and where the bed lies.

    Returns
    -------
    tuple of str
        Words that found no room.
    """
    far = [line for line in scene.lines if line.kind in OF_THE_FIELD]
    named = replace(on_the_main(scene), lines=tuple(far), right_of_way=(), outlines=())
    _write_along(plot, named, window)
    labels = [
        *_stations(figures, scene, window, 0.0),
        *_marks(figures, on_the_main(scene), window),
        *_beds(plot, figures, scene),
    ]
    placed = place_labels(labels, plot.frame, plot.entities)
    plot.entities += placed.entities
    return tuple(label.plain for label in placed.unplaced)


def _write_along(plot: Plot, scene: PlanScene, window: Window) -> None:
    """Names of lines, along them, where they have room."""
    named: list[tuple[str, Line]] = []
    for each in scene.lines:
        if each.kind in UNNAMED:
            continue
        found = f", {each.found}" if each.found else ""
        named.append((f"{each.kind}{found}", each.line))
    named.append(("edge of the right of way", scene.right_of_way))
    for outline in scene.outline("footprint"):
        around = (*outline.corners, outline.corners[0])
        named.append(("ground that may be used", around))
    for found, line in remaining_main(scene):
        named.append((f"main, {found}" if found else "main", line))
    named += _ditch(scene)
    written: set[str] = set()
    signs = _signs(plot, scene)
    for words, line in named:
        if words not in written and write_along(plot, window, words, line, signs):
            written.add(words)


def _signs(plot: Plot, scene: PlanScene) -> list[Box]:
    """Room of what is marked and labelled later: its sign, and where its leader ends."""
    places = (*(mark.at for mark in scene.marks), *(at for _, at in scene.stations))
    return [sign_box(plot, at, SIGN) for at in places]


def _ditch(scene: PlanScene) -> list[tuple[str, Line]]:
    """The middle of the ditch, between its two toes."""
    by_kind = {line.kind: line.line for line in scene.lines}
    near, far = by_kind.get("toe of bank", ()), by_kind.get("far toe of bank", ())
    if len(near) != len(far) or len(near) < 2:
        return []
    pairs = zip(near, far, strict=True)
    return [("ditch", tuple(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairs))]


def _long(a: Point, b: Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def _write_pipes(plot: Plot, figures: Figures, scene: PlanScene) -> list[tuple[Label, Line]]:
    """Write each pipe beside itself where that has room; labels of the others, and their lines."""
    everywhere = Window(plot.frame.low, plot.frame.high)
    left, signs = [], _signs(plot, scene)
    for pipe in scene.pipes:
        label = _pipe(figures, pipe)
        words = label.lines[0]
        if not write_along(plot, everywhere, words, pipe.line, signs, away=BESIDE, layer="label"):
            left.append((label, pipe.line))
    return left


def _clear_of_texts(plot: Plot, line: Line) -> Point:
    """A point of a line that no text covers, the middle of its longest piece where it may be."""
    taken = text_boxes(plot.drawing("", Figures("us")))
    a, b = max(pairwise(line), key=lambda piece: _long(*piece))
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
        at = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        x, y = plot.frame.paper(at)
        near = ((x - CLEAR, y - CLEAR), (x + CLEAR, y + CLEAR))
        if not struck(taken, [near]).any():
            return at
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _structures(figures: Figures, scene: PlanScene) -> list[Label]:
    found = []
    names = {"inlet": "diversion structure", "outlet": "outlet structure"}
    for outline in scene.outline("structure"):
        at = _middle(outline.corners)
        lines: list[str | tuple[Part, ...]] = [(Part(names[outline.name], weight="semibold"),)]
        if scene.is_grid:
            lines.append(_grid_words(figures, at, f"plan.points.{outline.name}-structure"))
        side: Side = "above left" if outline.name == "inlet" else "below left"
        found.append(Label(at, tuple(lines), size_mm=SMALL, side=side, always_led=True))
    return found


def _grid_words(figures: Figures, at: Point, key: str) -> tuple[Part, ...]:
    unit = figures.metre_per_unit
    digits = 2 if figures.units == "us" else 3
    east, north = (f"{value / unit:,.{digits}f}" for value in at)
    return (
        Part("N ", weight="light"),
        Part(north, f"{key}.north_m"),
        Part("  E ", weight="light"),
        Part(east, f"{key}.east_m"),
    )


def _pipe(figures: Figures, pipe: PlanPipe) -> Label:
    size: tuple[Part, ...] = ()
    if pipe.diameter is not None:
        size = Part(" "), Part(figures.size(pipe.diameter), pipe.diameter_key)
    wall = "" if pipe.is_solid else "perforated, "
    words = (
        Part(pipe.use, weight="light"),
        *size,
        Part(f", {wall}"),
        Part(figures.length(pipe.length), pipe.length_key),
    )
    return Label(pipe.line[0], (words,), size_mm=SMALL, always_led=True)


def _marks(figures: Figures, scene: PlanScene, window: Window) -> list[Label]:
    found = []
    for mark in scene.marks:
        if not window.holds(mark.at):
            continue
        words = [Part(mark.name)]
        if mark.level is not None:
            words += [Part("  "), Part(figures.elevation(mark.level.elevation), mark.level.key)]
        found.append(Label(mark.at, (tuple(words),), size_mm=SMALL, side="right"))
    return found


def _beds(plot: Plot, figures: Figures, scene: PlanScene) -> list[Label]:
    """Name of the bed or of each cell, with the levels of its floor and of its media."""
    levels: list[Part] = []
    for words, level in (("floor", scene.floor), ("media to", scene.top)):
        if level is not None:
            gap = ", " if levels else ""
            levels += [Part(f"{gap}{words} ", weight="light")]
            levels += [Part(figures.elevation(level.elevation), level.key, "regular")]
    found = []
    for outline in scene.outline("chips"):
        words = "woodchip bed" if outline.name == "bed" else outline.name.replace("-", " ")
        lines = (words, tuple(levels)) if levels else (words,)
        a, b, c, d = outline.corners
        at = _clear_of_texts(plot, (_middle((a, b)), _middle((c, d))))
        found.append(Label(at, lines, size_mm=SMALL, side="right", weight="semibold"))
    return found


def _stations(figures: Figures, scene: PlanScene, window: Window, short: float) -> list[Label]:
    """Stations of the ends of the main and of the diversion; where the main goes on to."""
    found = []
    for index, (station, at) in enumerate(scene.stations):
        words = [Part(figures.station(station))]
        if not window.holds(at):
            continue
        if index == 0 and scene.azimuth is not None:
            words += [Part(", azimuth "), Part(f"{degrees(scene.azimuth):.2f}°", AZIMUTH)]
        found.append(Label(at, (tuple(words),), "label-muted", SMALL, "below right"))
    shown = [p for _, line in scene.main for piece in window.pieces(line) for p in piece]
    if shown and scene.stations and not window.holds(scene.stations[-1][1]):
        words = [Part(f"up the main to {figures.station(scene.stations[-1][0])}")]
        at = _short_of(shown[-2], shown[-1], short)
        found.append(Label(at, (tuple(words),), "label-muted", SMALL, "below left"))
    return found


def _short_of(a: Point, b: Point, short: float) -> Point:
    """A point on the way to b, short of it, no further back than half way. [m]"""
    share = max(0.5, 1.0 - short / _long(a, b))
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _middle(corners: Line) -> Point:
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)

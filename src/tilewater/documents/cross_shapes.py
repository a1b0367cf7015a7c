# SPDX-License-Identifier: Apache-2.0
"""Shapes of the cross section: ground, cut, media, liner, water and ground water."""

from dataclasses import dataclass

from tilewater.chain.scene_cross import CellCut, CrossSection, Length
from tilewater.documents.drawing.frame import Point
from tilewater.documents.profile.plot import Plot

LINER = 0.55
"""Room drawn between media and liner, which lie on each other. [mm]"""
CROWN_POINTS = 24
NEAR = 1e-9


@dataclass(frozen=True)
class Profile:
    """Levels and slopes that every cell shares; the cut has no slope where it is not known. [m]"""

    floor: float
    top: float
    ground: float
    crown: float
    margin: float
    side_slope: Length | None
    cut_slope: Length | None

    @classmethod
    def of(cls, scene: CrossSection) -> "Profile | None":
        """Levels of a scene; None where too little is known to draw it."""
        if scene.floor is None or scene.top is None or not scene.cells:
            return None
        if scene.side_slope is None:
            return None
        known = scene.ground is not None and scene.cut_slope is not None
        ground = scene.ground.elevation if scene.ground is not None else scene.top.elevation
        rise = ground - scene.floor.elevation
        slope = scene.cut_slope.value if scene.cut_slope is not None else 0.0
        return cls(
            scene.floor.elevation,
            scene.top.elevation,
            ground,
            scene.crown.value if scene.crown is not None else 0.0,
            slope * rise if known else scene.side_slope.value * rise,
            scene.side_slope,
            scene.cut_slope if known else None,
        )


def cut_line(cells: tuple[CellCut, ...], profile: Profile) -> tuple[Point, ...]:
    """The bottom of the cut from the ground on the left to that on the right.

    Between two cells it rises to where their slopes meet, or to the ground.
    """
    ordered = sorted(cells, key=lambda cell: cell.left)
    rise, margin = profile.ground - profile.floor, profile.margin
    points = [(ordered[0].left - margin, profile.ground)]
    for index, cell in enumerate(ordered):
        points += [(cell.left, profile.floor), (cell.right, profile.floor)]
        if index + 1 == len(ordered):
            points.append((cell.right + margin, profile.ground))
            continue
        gap = ordered[index + 1].left - cell.right
        if gap < 2 * margin - NEAR:
            height = rise * gap / (2 * margin)
            points.append((cell.right + gap / 2, profile.floor + height))
        else:
            points += [
                (cell.right + margin, profile.ground),
                (ordered[index + 1].left - margin, profile.ground),
            ]
    return tuple(points)


def crown_line(left: float, right: float, profile: Profile) -> tuple[Point, ...]:
    """A parabola over the cut whose mean height is that of the crown."""
    points = []
    for step in range(CROWN_POINTS + 1):
        share = step / CROWN_POINTS
        up = 1.5 * profile.crown * 4.0 * share * (1.0 - share)
        points.append((left + share * (right - left), profile.ground + up))
    return tuple(points)


def media_outline(cell: CellCut, profile: Profile, level: float) -> tuple[Point, ...]:
    """The media up to a level: lower left, lower right, upper right, upper left."""
    slope = profile.side_slope.value if profile.side_slope is not None else 0.0
    out = slope * (level - profile.floor)
    return (
        (cell.left, profile.floor),
        (cell.right, profile.floor),
        (cell.right + out, level),
        (cell.left - out, level),
    )


def draw_soil(plot: Plot, scene: CrossSection, profile: Profile, ends: tuple[float, float]) -> None:
    """Draw ground, cut, cover and ground water; without its cut only the ground, where known."""
    if profile.cut_slope is None:
        if scene.ground is not None:
            plot.shape([(x, profile.ground) for x in ends], "ground", name="ground")
        return
    cut = cut_line(scene.cells, profile)
    left, right = ends
    around = ((left, profile.ground), *cut, (right, profile.ground))
    plot.fill((*around, (right, plot.base), (left, plot.base)), "soil", name="soil")
    crown = crown_line(cut[0][0], cut[-1][0], profile)
    plot.fill((*crown, *reversed(cut)), "cover", name="cover")
    _draw_groundwater(plot, scene, cut, ends)
    plot.shape(cut, "excavation", name="cut")
    for a, b in ((left, cut[0][0]), (cut[-1][0], right)):
        plot.shape(((a, profile.ground), (b, profile.ground)), "ground", name="ground")
    if profile.crown > 0.0:
        plot.shape(crown, "ground-finished", name="crown")


def _draw_groundwater(
    plot: Plot, scene: CrossSection, cut: tuple[Point, ...], ends: tuple[float, float]
) -> None:
    """Draw each water table in the ground beside the cut, or across below its floor."""
    floor = min(z for _, z in cut)
    for words, level in scene.groundwater:
        z = level.elevation
        if z <= plot.base or z >= cut[0][1]:
            continue
        pieces = [ends]
        if z > floor:
            share = (cut[0][1] - z) / (cut[0][1] - floor)
            a = cut[0][0] + share * (cut[1][0] - cut[0][0])
            b = cut[-1][0] + share * (cut[-2][0] - cut[-1][0])
            pieces = [(ends[0], a), (b, ends[1])]
        for a, b in pieces:
            plot.shape(((a, z), (b, z)), "groundwater", name=f"groundwater {words}")


def draw_cell(plot: Plot, scene: CrossSection, profile: Profile, cell: CellCut) -> None:
    """Draw the media of a cell with its water, liner and the fabric over it."""
    outline = media_outline(cell, profile, profile.top)
    plot.fill(outline, "chips", name="chips")
    criterion = dict(scene.water).get("criterion line")
    if criterion is not None and profile.floor < criterion.elevation:
        level = min(criterion.elevation, profile.top)
        wet = media_outline(cell, profile, level)
        plot.fill(wet, "wet-chips", name="water")
        plot.fill(wet, "drowned-chips")
        plot.shape((wet[3], wet[2]), "water", name="water criterion")
    plot.shape(outline, "chips-edge", closed=True, name="chips")
    _draw_liner(plot, scene, profile, outline)


def _draw_liner(
    plot: Plot, scene: CrossSection, profile: Profile, outline: tuple[Point, ...]
) -> None:
    """Draw the liner under and beside the media, and the fabric over it past both edges."""
    a, b, c, d = outline
    slope = profile.side_slope.value if profile.side_slope is not None else 0.0
    run = (slope**2 + 1.0) ** 0.5
    # square to the sides by the room, so that bottom and sides keep the same distance
    out = LINER * (run - slope)
    low = [plot.frame.moved(p, dx, -LINER) for p, dx in ((a, -out), (b, out))]
    high = [
        plot.frame.moved(p, dx, dy)
        for p, dx, dy in (
            (c, LINER / run, -LINER * slope / run),
            (d, -LINER / run, -LINER * slope / run),
        )
    ]
    if scene.lining:
        plot.shape((high[1], low[0], low[1], high[0]), "liner", name="liner")
    lap = 0.0 if scene.lap is None else scene.lap.value / 2
    lefts, rights = [cell.left for cell in scene.cells], [cell.right for cell in scene.cells]
    # past an edge it lies up the slope of the cut; between cells there is no room for it
    over_d = lap if a[0] <= min(lefts) else 0.0
    over_c = lap if b[0] >= max(rights) else 0.0
    ends = (
        (d[0] - over_d * slope / run, d[1] + over_d / run),
        (c[0] + over_c * slope / run, c[1] + over_c / run),
    )
    middle = [plot.frame.moved(p, 0.0, LINER) for p in (d, c)]
    points = (plot.frame.moved(ends[0], 0.0, LINER), *middle, plot.frame.moved(ends[1], 0.0, LINER))
    plot.shape(points, "liner", name="fabric")

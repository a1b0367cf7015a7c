# SPDX-License-Identifier: Apache-2.0
"""A buffer with its water across the strip: the ditch at the left, the line and its box behind.

Distances run from the water's edge (0) toward the field, so that the ditch stands where it stands
for every practice.
"""

from math import inf

from tilewater.chain.scene_looked_at import LookedScene
from tilewater.chain.scene_records import DitchPart, Level, MainPart, Setting, StructurePart
from tilewater.documents.buffer_shapes import Ground
from tilewater.documents.living.earth import draw_soil, elevation_at
from tilewater.documents.living.labels import Label, Run, Spot
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.parts import (
    OFF,
    draw_beside,
    draw_boards,
    draw_box,
    draw_ditch,
    draw_pipe,
    say_binds,
)
from tilewater.documents.living.stage import Stage
from tilewater.practices.buffer.scene import BufferSection, SeasonWater

BEHIND = 1.5
"""Of the main behind the structure. [m]"""
NEXT = 1.0
"""From the line to a structure that is not known to stand farther away. [m]"""
BELOW = 0.3
ABOVE_GROUND = 16.0
"""From the ground to the width of the strip that is written over it. [px]"""
LEAST_PX = 3.0
"""Half the width of the line at least, so that it can be seen. [px]"""


class BufferView:
    """A buffer as a living section shows it.

    Parameters
    ----------
    section : BufferSection
        The section across its strip, the line at 0.
    main : MainPart or None
    box : StructurePart
        Its structure, beginning at 0.
    head : tuple of Setting
        Head boards by setting.
    ditch : DitchPart
    looked : LookedScene or None
    """

    def __init__(
        self,
        section: BufferSection,
        main: MainPart | None,
        box: StructurePart,
        head: tuple[Setting, ...],
        ditch: DitchPart,
        looked: LookedScene | None,
    ) -> None:
        self.section, self.main, self.ditch = section, main, ditch
        self.looked, self.head = looked, head
        self.ground = Ground.of(section)
        self.width = section.width or 0.0
        away = 0.0 if main is None else main.diversion - main.outlet
        near = max(away, self.width + NEXT)
        length = box.high - box.low
        self.box = StructurePart(
            box.name, near, near + length, box.floor, box.sill, box.rim, box.ground, box.settings
        )
        self.boxes = ((self.box.low, self.box.high),)
        self.start = -2.0 if self.ground is None else self.width - self.ground.right
        self.end = self.box.high + BEHIND

    @property
    def missing(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What is not drawn, and what is not known for it."""
        names = tuple(
            key.rpartition(".")[2].removesuffix("_m").replace("_", " ")
            for key in self.section.missing
        )
        return (("the section across the strip", names),) if names else ()

    @property
    def water(self) -> SeasonWater | None:
        """Water that is drawn solid: as looked at, else of the season that is judged."""
        if self.looked is not None and self.looked.water is not None:
            return self.looked.water
        first = self.section.criterion_season
        return next((w for w in self.section.waters if w.season == first), None)

    @property
    def second(self) -> SeasonWater | None:
        """Water that is drawn dashed: the season with the largest flow, or that of the design."""
        drawn = self.water
        if self.looked is not None:
            first = self.section.criterion_season
            return next((w for w in self.section.waters if w.season == first), None)
        others = [w for w in self.section.waters if drawn is None or w.season != drawn.season]
        return max(others, key=lambda w: w.flow, default=None)

    def heights(self) -> tuple[float, float] | None:
        """Lowest and highest elevation that is drawn; None where none is known. [m]"""
        found = [each.elevation for each in (self.box.floor, self.box.rim) if each is not None]
        if self.ground is not None:
            found += [self.ground.low + BELOW, self.ground.high]
        for which in ("ordinary", "high"):
            water = self.ditch.highest(which)
            found += [] if water is None else [water[1].elevation]
        return (min(found) - BELOW, max(found)) if found else None

    def surface(self) -> list[Point]:
        """The ground from the ditch to behind the structure. [m]"""
        if self.ground is None:
            return []
        points = [(self.width - x, z) for x, z in reversed(self.ground.surface[1:])]
        if self.box.ground is not None:
            points.append((self.box.middle, self.box.ground.elevation))
        return [*points, (self.end, points[-1][1])]

    def anchor(self, name: str) -> float | None:
        """Distance where a handle that moves up stands. [m]"""
        share = {"bypass": 0.3, "head": 0.7}.get(name)
        if share is not None:
            return self.box.low + share * (self.box.high - self.box.low)
        return 0.86 * self.start if name == "ditch" else None

    def level_of(self, name: str) -> float | None:
        """Elevation where a handle that moves along stands. [m]"""
        line = self.section.line_invert
        return None if name != "width" or line is None else line.elevation

    def draw(self, stage: Stage, panel: Panel) -> None:
        """Draw ground, strip, line, structure and water."""
        surface = self.surface()
        draw_soil(stage, panel, surface)
        self._draw_layer(stage, panel)
        self._draw_soil_water(stage, panel, surface)
        outline = [point for point in surface if point[0] <= self.width][::-1]
        looked = self.looked.looked_at.ditch_stage_m if self.looked is not None else None
        level = None if looked is None else Level(looked, "looked_at.stage_m")
        water = self.water
        if level is None and water is not None:
            level = Level(water.ditch.elevation, water.ditch.key)
        self._draw_ditch(stage, panel, outline, level)
        self._draw_pipes(stage, panel)
        self._draw_box(stage, panel)
        self._say_strip(stage, panel, surface)
        self._mark(stage, panel, surface)

    def _draw_ditch(
        self, stage: Stage, panel: Panel, outline: list[Point], level: Level | None
    ) -> None:
        draw_ditch(stage, panel, outline, self.ditch, level, when=self._when(), is_fed=True)

    def _when(self) -> str:
        water = self.water
        if self.looked is not None:
            return "looked at"
        return "" if water is None else water.season

    def _draw_layer(self, stage: Stage, panel: Panel) -> None:
        barrier = self.section.barrier
        if barrier is None:
            return
        ends = (self.start, barrier.elevation), (self.end, barrier.elevation)
        stage.canvas.line(panel, ends, "l-layer", name="restrictive-layer")
        line = (Run("restrictive layer "),
                Run(stage.figures.elevation(barrier.elevation), barrier.key))  # fmt: skip
        x, y = panel.x(0.55 * self.width), panel.y(barrier.elevation)
        stage.labels.say(Label((line,), (Spot(x, y - 5.0, "middle"), Spot(x, y + 14.0, "middle")),
                               rank=3))  # fmt: skip

    def _draw_soil_water(self, stage: Stage, panel: Panel, surface: list[Point]) -> None:
        second, water = self.second, self.water
        if water is not None:
            table = self._table(water, surface)
            barrier = self.section.barrier
            if barrier is not None and table:
                bank = [(x, z) for x, z in surface if x < table[0][0] and z <= table[0][1]]
                z = barrier.elevation
                foot = (table[-1][0], z), (self.start, z)
                stage.canvas.fill(panel, (*bank, *table, *foot), "l-wash", name="wet-soil")
        for one, look, name in ((second, "l-second", "second"), (water, "l-surface", "line")):
            if one is not None:
                stage.canvas.line(panel, self._table(one, surface), look, name=f"water-{name}")
                stage.show(look, *self._words_of(stage, one))

    def _table(self, water: SeasonWater, surface: list[Point]) -> list[Point]:
        """The water table from the bank to the line, inside the soil. [m]"""
        points = [(self.width - x, z) for x, z in reversed(water.table)]
        return [(x, z) for x, z in points if z <= elevation_at(surface, x) + 1e-6]

    def _words_of(self, stage: Stage, water: SeasonWater) -> tuple[str, str, str]:
        judged = water.season == self.section.criterion_season
        words = f"water table, {water.season}" + (", by which it is judged" if judged else "")
        if self.looked is not None and water is self.looked.water:
            words = "water table as looked at"
        return words, stage.figures.flow(water.flow), water.flow_key

    def _held(self) -> float | None:
        """Water in the chamber of the line. [m]"""
        return None if self.water is None else self.water.structure.elevation

    def _draw_pipes(self, stage: Stage, panel: Panel) -> None:
        invert, bore, held = self.section.line_invert, self.section.line_diameter, self._held()
        if invert is not None and bore is not None:
            z = invert.elevation
            self._draw_trench(stage, panel, z)
            low, high = (self.width, z), (self.box.low, z)
            draw_pipe(stage, panel, low, high, bore, level=held, name="line-to-box")
            x, y = panel.at((self.width, z + bore / 2))
            tall = max(LEAST_PX, bore / 2 * panel.up)
            stage.canvas.oval(x, y, max(LEAST_PX, tall * 0.7), tall, "l-full", name="line")
            words = (Run("line ", "", ""), Run(stage.figures.elevation(z), invert.key))
            stage.labels.say(
                Label(
                    (words,),
                    (Spot(x - 12.0, y + 4.0, "end"), Spot(x, y + 20.0, "middle"),
                     Spot(x - 12.0, y + 18.0, "end"), Spot(x - 12.0, y - 9.0, "end")),
                    needed=not stage.is_narrow,
                    lead=(x, y),
                    rank=1,
                )
            )  # fmt: skip
            stage.labels.keep(x - 7.0, y - 7.0, x + 7.0, y + 7.0)
        main = self.main
        if main is None:
            return
        start, bore_of_main = main.invert_diversion.elevation, main.diameter
        ends = (0.0, main.invert_outlet.elevation), (self.box.low, start)
        draw_beside(stage, panel, *ends, bore_of_main, "main-to-ditch")
        stage.show("l-beside", "main to the ditch, past the line")
        behind = next((s for s in main.segments if s.low <= main.diversion < s.high), None)
        grade = 0.0
        if behind is not None:
            fall = behind.invert_high.elevation - behind.invert_low.elevation
            grade = fall / (behind.high - behind.low)
        far = start + grade * (self.end - self.box.high)
        draw_pipe(
            stage, panel, (self.box.high, start), (self.end, far), bore_of_main, level=inf,
            name="main",
        )  # fmt: skip

    def _draw_trench(self, stage: Stage, panel: Panel, invert: float) -> None:
        over, wide = self.section.ground_at_line, self.section.trench_width
        if over is None or wide is None:
            return
        half = max(wide / 2, 4.0 / _across(panel))
        sides = (
            (self.width - half, over.elevation),
            (self.width - half, invert - 0.1),
            (self.width + half, invert - 0.1),
            (self.width + half, over.elevation),
        )
        stage.canvas.line(panel, sides, "l-cut", name="trench")

    def _draw_box(self, stage: Stage, panel: Panel) -> None:
        held = self._held()
        tail = None if self.water is None else self.water.ditch.elevation
        before = held
        if self.looked is not None:
            before = self.looked.number("level_m") or held
        draw_box(stage, panel, self.box, title="bypass", level=before, below=tail, boards_at=0.3)
        if self.box.sill is None:
            return
        boards = _setting(self.head, stage.setting)
        if boards is not None and boards.stack:
            x = panel.x(self.box.low + 0.7 * (self.box.high - self.box.low))
            draw_boards(stage, panel, "head", boards, self.box.sill.elevation, x)

    def _say_strip(self, stage: Stage, panel: Panel, surface: list[Point]) -> None:
        if self.section.width is None:
            return
        left, right = panel.x(0.0), panel.x(self.width)
        y = min(panel.y(z) for _, z in surface if z is not None) - ABOVE_GROUND
        binds = stage.binds.is_at("buffer") and not self._is_bank(stage)
        look = "l-binds-fine" if binds else "l-lead"
        stage.canvas.stroke(((left, y), (right, y)), look, name="binds" if binds else "strip")
        for x in (left, right):
            stage.canvas.stroke(((x, y - 4.0), (x, y + 4.0)), look)
        words = (
            Run("strip ", "", "s"),
            stage.run("inputs.buffer.width_m", "length", "s"),
            Run(" from line to water", "", "m"),
        )
        middle = (left + right) / 2
        places = (
            Spot(middle, y - 6.0, "middle"),
            Spot(left, y - 6.0),
            Spot(middle, y + 14.0, "middle"),
        )
        stage.labels.say(Label((words,), places, needed=True, rank=1, short=(words[:2],)))
        if binds:
            say_binds(stage, middle, y - 6.0 - 1.3 * stage.labels.size)

    def _is_bank(self, stage: Stage) -> bool:
        return stage.binds.is_at("bank") or stage.binds.key == "criteria.604-bank"

    def _mark(self, stage: Stage, panel: Panel, surface: list[Point]) -> None:
        binds = stage.binds
        if self._is_bank(stage) and self.ground is not None:
            bank = [(self.width - x, z) for x, z in self.ground.surface[-3:-1]]
            moved = [(panel.x(x) + OFF, panel.y(z) + OFF) for x, z in bank]
            stage.canvas.stroke(moved, "l-binds", name="binds")
            x, y = moved[0]
            say_binds(stage, x + 10.0, (y + moved[-1][1]) / 2, anchor="start")
        invert = self.section.line_invert
        if binds.is_at("line") and invert is not None:
            x, y = panel.at((self.width, invert.elevation))
            stage.canvas.circle(x, y, 11.0, "l-binds", name="binds")
            say_binds(stage, x - 14.0, y + 20.0, anchor="end")
        edge, held = self.section.ground_at_field_edge, self._held()
        if binds.is_at("field edge") and edge is not None and held is not None:
            x = panel.x((self.width + self.box.low) / 2)
            ends = (x, panel.y(edge.elevation)), (x, panel.y(held))
            stage.canvas.stroke(ends, "l-binds", name="binds")
            say_binds(stage, x, panel.y(edge.elevation) - 8.0)
        if binds.is_at("inlet structure", "structure") and self.box.rim is not None:
            x = panel.x(self.box.low)
            say_binds(stage, x - 10.0, panel.y(self.box.rim.elevation) + 16.0, anchor="end")
        if binds.is_at("bypass") and self.main is not None:
            ends_of = (
                (0.0, self.main.invert_outlet.elevation),
                (self.box.low, self.main.invert_diversion.elevation),
            )
            moved = [(panel.x(x), panel.y(z) + OFF) for x, z in ends_of]
            stage.canvas.stroke(moved, "l-binds", name="binds")
            say_binds(stage, (moved[0][0] + moved[1][0]) / 2, moved[0][1] + 16.0)


def _setting(settings: tuple[Setting, ...], name: str) -> Setting | None:
    found = {each.name: each for each in settings}
    return found.get(name, found.get("design"))


def _across(panel: Panel) -> float:
    """Pixels to a metre along the strip."""
    (xa, pa), (xb, pb) = panel.knots[0], panel.knots[1]
    return (pb - pa) / (xb - xa)

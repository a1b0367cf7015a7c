# SPDX-License-Identifier: Apache-2.0
"""An outlet raised in season: the main from the ditch to its boards, and the water they hold."""

from math import inf

from tilewater.chain.scene_looked_at import LookedScene
from tilewater.chain.scene_raised import RaisedScene
from tilewater.chain.scene_records import DitchPart, Level, MainPart, StructurePart
from tilewater.documents.living.earth import draw_soil
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.parts import draw_box, draw_ditch, draw_pipe, mark_line, say_binds
from tilewater.documents.living.stage import Stage

BEHIND = 2.0
"""Of the main behind the structure. [m]"""
FAR_BANK = 1.4
BELOW = 0.25


class RaisedView:
    """An outlet raised in season as a living section shows it.

    Parameters
    ----------
    scene : RaisedScene
    main : MainPart or None
    ditch : DitchPart
        Laid where the main ends.
    looked : LookedScene or None
    """

    def __init__(
        self,
        scene: RaisedScene,
        main: MainPart | None,
        ditch: DitchPart,
        looked: LookedScene | None,
    ) -> None:
        self.scene, self.main, self.ditch, self.looked = scene, main, ditch, looked
        box = scene.structure
        near = 12.0 if main is None else max(main.diversion - main.outlet, 2.0)
        self.box = StructurePart(
            box.name, near, near + box.high - box.low, box.floor, box.sill, box.rim, box.ground,
            box.settings,
        )  # fmt: skip
        self.boxes = ((self.box.low, self.box.high),)
        toe = min((x for x, _ in ditch.outline[1:-1]), default=-1.5)
        self.start = toe - FAR_BANK
        self.end = self.box.high + BEHIND

    @property
    def missing(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What is not drawn, and what is not known for it."""
        return tuple((each.what, each.why) for each in self.scene.missing)

    def heights(self) -> tuple[float, float] | None:
        """Lowest and highest elevation that is drawn; None where none is known. [m]"""
        box, ditch = self.box, self.ditch
        levels = (box.floor, box.rim, box.ground, ditch.bottom, ditch.bank_top, self.scene.storm)
        found = [each.elevation for each in levels if each is not None]
        if self.main is not None:
            found.append(self.main.invert_outlet.elevation)
        high = ditch.highest("high")
        found += [] if high is None else [high[1].elevation]
        return (min(found) - BELOW, max(found)) if found else None

    def surface(self) -> list[Point]:
        """The ground from the far bank of the ditch to behind the structure. [m]"""
        found = list(reversed(self.ditch.outline))
        ground = self.box.ground
        if ground is None:
            return found
        if not found:
            found = [(self.start, ground.elevation)]
        return [*found, (self.box.middle, ground.elevation), (self.end, ground.elevation)]

    def anchor(self, name: str) -> float | None:
        """Distance where a handle that moves up stands. [m]"""
        return {"raised": self.box.middle, "ditch": self.start + 1.2}.get(name)

    def level_of(self, name: str) -> float | None:
        """Nothing of it moves along."""
        return None

    def draw(self, stage: Stage, panel: Panel) -> None:
        """Draw ground, ditch, main, structure and water."""
        draw_soil(stage, panel, self.surface())
        looked = None
        if self.looked is not None and self.looked.looked_at.ditch_stage_m is not None:
            looked = Level(self.looked.looked_at.ditch_stage_m, "looked_at.stage_m")
        draw_ditch(stage, panel, self.ditch.outline, self.ditch, looked)
        if self.main is not None:
            low, high = self.main.invert_outlet.elevation, self.main.invert_diversion.elevation
            bore = self.main.diameter
            draw_pipe(stage, panel, (0.0, low), (self.box.low, high), bore, level=None, name="out")
            ends = (self.box.high, high), (self.end, high)
            draw_pipe(stage, panel, *ends, bore, level=inf, name="main")
        self._draw_water(stage, panel)
        if stage.binds.is_at("inlet structure", "structure") and self.box.rim is not None:
            x, y = panel.x(self.box.low), panel.y(self.box.rim.elevation)
            say_binds(stage, x - 10.0, y + 16.0, anchor="end")
        if stage.binds.is_at("raised", "bypass") and self.main is not None:
            invert = self.main.invert_outlet.elevation, self.main.invert_diversion.elevation
            line = (0.0, invert[0]), (self.box.low, invert[1])
            mark_line(stage, panel, line)
            say_binds(stage, panel.x(self.box.low / 2), panel.y(invert[0]) + 22.0)

    def _draw_water(self, stage: Stage, panel: Panel) -> None:
        boards = self.box.setting(stage.setting) or self.box.setting("design")
        level = None if boards is None else boards.crest.elevation
        if self.looked is not None:
            level = self.looked.number("level_m") or level
        draw_box(stage, panel, self.box, title="boards", level=level)
        if level is not None:
            ends = (self.box.middle, level), (self.end, level)
            stage.canvas.line(panel, ends, "l-surface", name="water-line")
        if boards is not None:
            said = stage.figures.elevation(boards.crest.elevation)
            words = "water as looked at" if self.looked is not None else "water at the crest"
            stage.show("l-surface", words, said, boards.crest.key)
        storm = self.scene.storm
        if storm is not None and self.looked is None:
            ends = (self.box.middle, storm.elevation), (self.end, storm.elevation)
            stage.canvas.line(panel, ends, "l-second", name="water-storm")
            stage.show("l-second", "at the largest physical flow",
                       stage.figures.elevation(storm.elevation), storm.key)  # fmt: skip

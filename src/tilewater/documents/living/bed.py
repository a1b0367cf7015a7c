# SPDX-License-Identifier: Apache-2.0
"""A bed with its water along the way of the water, from the ditch up to the diversion."""

from math import inf

from tilewater.chain.scene_looked_at import LookedScene
from tilewater.chain.scene_records import Level, LongSection, MediaPart, PipePart, WaterLine
from tilewater.documents.living.earth import draw_soil
from tilewater.documents.living.labels import Anchor, Label, Run, Spot
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.parts import (
    draw_beside,
    draw_box,
    draw_ditch,
    draw_pipe,
    mark_line,
    say_binds,
)
from tilewater.documents.living.stage import Binds, Stage
from tilewater.documents.profile.extent import ground_of

LOOKED_AT = "looked_at"
"""Name of the line that is looked at."""
BEHIND = 1.2
"""Of the main behind the diversion. [m]"""
FAR_BANK = 1.4
"""Of the far bank of the ditch, from its toe. [m]"""
BEFORE = 3.0
"""Before the end of the return, where the ditch has no shape. [m]"""
BELOW = 0.25
"""Soil under the lowest part. [m]"""
SIZES = ("bed.length_bottom_m", "bed.width_bottom_m", "bed.media_depth_m")
OF_CELL = (
    "bed.cells.{}.length_bottom_m",
    "bed.cells.{}.width_bottom_m",
    "bed.media_depth_m",
)
"""Floor and depth that are written in the media: of the bed, or of the cell shown."""


class BedView:
    """A bed as a living section shows it.

    Parameters
    ----------
    scene : LongSection
        The designed bed.
    looked : LookedScene or None
        Its water at a flow and a ditch that are looked at.
    """

    def __init__(self, scene: LongSection, looked: LookedScene | None) -> None:
        self.scene = scene
        self.looked = looked
        self.main = scene.main
        toe = min((x for x, _ in scene.ditch.outline[1:-1]), default=-BEFORE + FAR_BANK)
        self.start = toe - FAR_BANK
        self.end = scene.length + BEHIND
        self.boxes = tuple((box.low, box.high) for box in (scene.outlet, scene.inlet))

    @property
    def missing(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What is not drawn, and what is not known for it."""
        return tuple((each.what, each.why) for each in self.scene.missing)

    @property
    def line(self) -> WaterLine | None:
        """The line whose water is drawn: as looked at, else the first of the design."""
        if self.looked is not None:
            return self.looked.line
        return self.scene.lines[0] if self.scene.lines else None

    @property
    def second(self) -> WaterLine | None:
        """The line that is drawn dashed: main full in spring, or what the design is judged by."""
        lines = self.scene.lines
        if self.looked is not None:
            return lines[0] if lines else None
        return next((line for line in lines if line.name == "spring"), None)

    def heights(self) -> tuple[float, float] | None:
        """Lowest and highest elevation that is drawn; None where none is known. [m]"""
        scene, found = self.scene, [z for _, z in ground_of(self.scene)]
        for box in (scene.inlet, scene.outlet):
            found += [each.elevation for each in (box.floor, box.rim) if each is not None]
        for pipe in self._pipes():
            found += [pipe.invert_low.elevation, pipe.invert_high.elevation]
        if scene.media is not None:
            found += [z for _, z in scene.media.outline]
        if scene.ditch.bottom is not None:
            found.append(scene.ditch.bottom.elevation)
        for which in ("ordinary", "high"):
            water = scene.ditch.highest(which)
            found += [] if water is None else [water[1].elevation]
        for line in (self.line, self.second):
            found += [] if line is None else [level.elevation for _, level in line.nodes]
        return (min(found) - BELOW, max(found)) if found else None

    def surface(self) -> list[Point]:
        """The ground from the far bank of the ditch to behind the diversion. [m]"""
        ground, outline = ground_of(self.scene), list(reversed(self.scene.ditch.outline))
        if not ground:
            return []
        known = [*outline[:-1], *ground] if outline else [(self.start, ground[0][1]), *ground]
        return [*known, (self.end, known[-1][1])]

    def anchor(self, name: str) -> float | None:
        """Distance where a handle that moves up stands. [m]"""
        scene, media = self.scene, self.scene.media
        places = {
            "inlet": scene.inlet.middle,
            "outlet": scene.outlet.middle,
            "media": None if media is None else media.low + 0.22 * (media.high - media.low),
            "ditch": self.start + 1.2,
        }
        return places.get(name)

    def level_of(self, name: str) -> float | None:
        """Elevation where a handle that moves along stands. [m]"""
        media = self.scene.media
        if name != "length" or media is None:
            return None
        return media.floor_high.elevation + 0.24 * (
            media.top.elevation - media.floor_high.elevation
        )

    def draw(self, stage: Stage, panel: Panel) -> None:
        """Draw ground, bed, pipes, structures and water, the lowest first."""
        scene = self.scene
        draw_soil(stage, panel, self.surface())
        looked = self._looked_ditch()
        if scene.media is not None:
            self._draw_media(stage, panel, scene.media)
        self._draw_bypass(stage, panel)
        for pipe in self._pipes():
            low, high = pipe.invert_low.elevation, pipe.invert_high.elevation
            draw_pipe(
                stage, panel, (pipe.low, low), (pipe.high, high), pipe.diameter,
                level=self._level_in(pipe), name=pipe.name,
            )  # fmt: skip
        draw_ditch(stage, panel, scene.ditch.outline, scene.ditch, looked)
        self._draw_main(stage, panel)
        self._draw_boxes(stage, panel)
        self._draw_lines(stage, panel)
        self._mark(stage, panel)

    def _looked_ditch(self) -> Level | None:
        stage = None if self.looked is None else self.looked.looked_at.ditch_stage_m
        return None if stage is None else Level(stage, "looked_at.stage_m")

    def _pipes(self) -> tuple[PipePart, ...]:
        scene = self.scene
        return tuple(p for p in (scene.outflow, scene.drain, scene.feed) if p is not None)

    def _level_in(self, pipe: PipePart) -> float | None:
        """Water in a pipe; that of the return runs out of it. [m]"""
        if self.line is None or pipe.name == "return":
            return None
        level = self.line.level("inlet_header" if pipe.name == "feed" else "outlet_box")
        return None if level is None else level.elevation

    def _draw_media(self, stage: Stage, panel: Panel, media: MediaPart) -> None:
        canvas = stage.canvas
        if media.ground is not None and media.cut_margin is not None:
            z, margin = media.ground.elevation, media.cut_margin
            toes = (media.low, media.floor_low.elevation), (media.high, media.floor_high.elevation)
            sides = ((media.low - margin, z), toes[0]), (toes[1], (media.high + margin, z))
            for side in sides:
                canvas.line(panel, side, "l-cut", name="cut")
            if media.crown:
                crown = (
                    sides[0][0],
                    (media.low, z + media.crown),
                    (media.high, z + media.crown),
                    sides[1][1],
                )
                canvas.line(panel, crown, "l-crown", name="crown")
        canvas.fill(panel, media.outline, "l-chips", name="chips")
        line = self.line
        if line is not None and line.surface:
            canvas.fill(panel, wet_of(media, line), "l-wash", name="wet")
            canvas.line(panel, media.outline, "l-edge", closed=True)
            self._say_depths(stage, panel, media, line)
        else:
            canvas.line(panel, media.outline, "l-edge", closed=True)
        self._say_media(stage, panel, media)

    def _say_media(self, stage: Stage, panel: Panel, media: MediaPart) -> None:
        keys = [key.format(media.cell) for key in OF_CELL] if media.cell else SIZES
        sized: list[Run] = []
        for key in keys:
            is_last = key == keys[-1]
            sized.append(stage.run(key, "length", "s", unit=is_last))
            sized += [] if is_last else [Run(" × ", "", "s")]
        x = (panel.x(media.low) + panel.x(media.high)) / 2
        top, size = panel.y(media.top.elevation), stage.labels.size
        ground = top - 30.0 if media.ground is None else panel.y(media.ground.elevation)
        spots = (
            Spot(x, (top - 8.0 + ground) / 2 + 0.36 * size, "middle"),
            Spot(x, top + size + 6.0, "middle"),
            Spot(x, ground - 8.0, "middle"),
        )
        words = f"cell {media.cell}, floor " if media.cell else "woodchip bed, floor "
        head = (Run(words, "", "s"), *sized)
        stage.labels.say(Label((head,), spots, needed=True, rank=1, short=(tuple(sized),)))

    def _say_depths(self, stage: Stage, panel: Panel, media: MediaPart, line: WaterLine) -> None:
        name = "looked_at" if self.looked is not None else f"capacity.{line.name}"
        size = stage.labels.size
        for key, at, way in (
            ("depth_upstream_m", line.surface[0], -1.0),
            ("depth_downstream_m", line.surface[-1], 1.0),
        ):
            if f"{name}.{key}" not in stage.trace:
                continue
            x, y = panel.x(at[0]) + way * 12.0, panel.y(at[1])
            anchor: Anchor = "end" if way < 0 else "start"
            run = stage.run(f"{name}.{key}", "length", "w")
            places = (Spot(x, y + size + 5.0, anchor), Spot(x, y - 6.0, anchor))
            stage.labels.say(Label(((run, Run(" of water", "", "w")),), places, rank=2,
                                   short=((run,),)))  # fmt: skip

    def _draw_bypass(self, stage: Stage, panel: Panel) -> None:
        bypass = self.scene.bypass
        if bypass is None:
            return
        low = (bypass.low, bypass.invert_low.elevation)
        high = (self.scene.inlet.middle, bypass.invert_high.elevation)
        draw_beside(stage, panel, low, high, bypass.diameter, "bypass")
        stage.show("l-beside", "main past the bed, beside it")

    def _draw_main(self, stage: Stage, panel: Panel) -> None:
        """Draw the main that comes in from the field, full."""
        main = self.scene.main
        behind = () if main is None else main.segments
        found = next((s for s in behind if main and s.low <= main.diversion < s.high), None)
        if main is None or found is None:
            return
        grade = (found.invert_high.elevation - found.invert_low.elevation) / (
            found.high - found.low
        )
        start, near = main.invert_diversion.elevation, self.scene.inlet.high
        far = start + grade * (self.end - near)
        draw_pipe(
            stage, panel, (near, start), (self.end, far), found.diameter, level=inf, name="main"
        )

    def _draw_boxes(self, stage: Stage, panel: Panel) -> None:
        scene, line = self.scene, self.line
        levels = {} if line is None else {node: level.elevation for node, level in line.nodes}
        tail = None if line is None or line.tailwater is None else line.tailwater.elevation
        draw_box(
            stage, panel, scene.outlet, title="outlet", level=levels.get("outlet_box"), below=tail
        )
        draw_box(stage, panel, scene.inlet, title="inlet", level=levels.get("diversion"))
        if scene.feed is not None and scene.inlet.floor is not None:
            invert, bore = scene.feed.invert_high.elevation, scene.feed.diameter
            low, high = (scene.inlet.low, invert), (scene.inlet.middle, invert)
            draw_beside(stage, panel, low, high, bore, "feed-beside")

    def _draw_lines(self, stage: Stage, panel: Panel) -> None:
        line, second = self.line, self.second
        if second is not None:
            stage.canvas.line(panel, self._points(second), "l-second", name=f"water-{second.name}")
            stage.show("l-second", *_words_of(stage, second))
        if line is not None:
            stage.canvas.line(panel, self._points(line), "l-surface", name="water-line")
            stage.show("l-surface", *_words_of(stage, line))

    def _points(self, line: WaterLine) -> list[Point]:
        scene, levels = self.scene, {node: level.elevation for node, level in line.nodes}
        points = [(self.end, levels["diversion"]), (scene.inlet.middle, levels["diversion"])]
        if line.surface:
            points = [points[0], (scene.inlet.low, levels["diversion"])]
            points.append((line.surface[0][0], levels["inlet_header"]))
            points += line.surface
            points.append((line.surface[-1][0], levels["outlet_header"]))
        points += [(scene.outlet.high, levels["outlet_box"])]
        points.append((scene.outlet.middle, levels["outlet_box"]))
        return points

    def _mark(self, stage: Stage, panel: Panel) -> None:
        """Draw and say what binds, where it binds in the section."""
        scene, binds = self.scene, stage.binds
        for name, box in (("inlet structure", scene.inlet), ("outlet structure", scene.outlet)):
            if binds.is_at(name) and box.rim is not None:
                x, size = panel.x(box.low), stage.labels.size
                say_binds(stage, x - 10.0, panel.y(box.rim.elevation) + size + 4.0, anchor="end")
        if binds.where.startswith("header"):
            name = f"{binds.where.removeprefix('header ')} header"
            for header in scene.headers:
                if header.name == name:
                    z = header.floor.elevation + header.diameter / 2
                    x, y = panel.at((header.at, z))
                    stage.canvas.circle(x, y, 9.0, "l-binds", name="binds")
                    say_binds(stage, x, y + 22.0)
        line = self._line_that_binds(binds)
        if line:
            mark_line(stage, panel, line)
            x = sum(panel.x(point[0]) for point in line) / len(line)
            y = max(panel.y(point[1]) for point in line)
            say_binds(stage, x, y + 4.0 + 4.0 + stage.labels.size)

    def _line_that_binds(self, binds: Binds) -> tuple[Point, ...]:
        scene, where = self.scene, binds.where
        pipes = {"feed": scene.feed, "bed-to-outlet": scene.drain, "return": scene.outflow}
        pipe = pipes.get(where)
        if pipe is not None:
            return (pipe.low, pipe.invert_low.elevation), (pipe.high, pipe.invert_high.elevation)
        if where == "bed" and scene.media is not None:
            media = scene.media
            if binds.key == "elevations.media_top":
                return media.outline[0], media.outline[-1]
            return (media.low, media.floor_low.elevation), (media.high, media.floor_high.elevation)
        if where == "bypass" and scene.bypass is not None:
            low, high = scene.bypass.invert_low.elevation, scene.bypass.invert_high.elevation
            return (scene.bypass.low, low), (scene.inlet.low, high)
        return ()


def wet_of(media: MediaPart, line: WaterLine) -> list[Point]:
    """The media under the surface of a line, level water beside the ends of the flow length."""
    (_, top), low, high, _ = media.outline
    slope = media.side_slope

    def shore(toe: Point, level: float, way: float) -> Point:
        z = min(max(level, toe[1]), top)
        return toe[0] + way * slope * (z - toe[1]), z

    first, last = line.surface[0], line.surface[-1]
    left, right = shore(low, last[1], -1.0), shore(high, first[1], 1.0)
    inside = [
        (x, min(z, top))
        for x, z in line.surface
        if shore(low, z, -1.0)[0] <= x <= shore(high, z, 1.0)[0]
    ]
    return [high, right, *inside, left, low]


def _words_of(stage: Stage, line: WaterLine) -> tuple[str, str, str]:
    """A line of water in words, its flow, and its key."""
    flow = "" if line.flow is None else stage.figures.flow(line.flow)
    words = "water as looked at" if line.name == LOOKED_AT else line.words
    return words, flow, line.flow_key if flow else ""

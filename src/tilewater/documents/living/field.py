# SPDX-License-Identifier: Apache-2.0
"""The field behind the boards along its main: water held, clear soil against its limits."""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.scene_records import MainPart, SpotPart
from tilewater.documents.living.earth import elevation_at
from tilewater.documents.living.labels import Label, Run, Spot
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.parts import DESIGN, mark_line, say_binds
from tilewater.documents.living.stage import Stage

KINDS = ("standing", "storm", "midway")
WORDS = {"standing": "standing water", "storm": "in the storm", "midway": "midway, in the storm"}
TALLER = 1.35
"""How much taller than the practice alone the drawing may grow for spots that are not wet. [-]"""
PAST = 0.06
"""Shown past the last spot, as a share of the reach."""
HEAD = 3.5
"""Half an arrow head. [px]"""


@dataclass(frozen=True)
class Wet:
    """A spot, and which of its limits has the least in reserve."""

    spot: SpotPart
    kind: str
    slack: float

    @property
    def key(self) -> str:
        """Key of that clear soil, without its unit."""
        return f"field.{self.spot.name}.{self.kind}"


@dataclass(frozen=True)
class FieldView:
    """The reach of the main that is shown, from the diversion up.

    Attributes
    ----------
    main : MainPart
    spots : tuple of Wet
        By station.
    left_out : int
        Spots that are judged, and lie beyond what is shown.
    start, end : float
        [m]
    """

    main: MainPart
    spots: tuple[Wet, ...]
    left_out: int
    start: float
    end: float

    def heights(self) -> tuple[float, float]:
        """Lowest and highest elevation that is drawn. [m]"""
        found = [self.main.invert_diversion.elevation, *_levels(self.main, self.spots)]
        return min(found), max(found)

    @classmethod
    def of(
        cls, trace: Trace, main: MainPart | None, practice: tuple[float, float], binds_at: str
    ) -> "FieldView | None":
        """The wettest spots behind a practice, and others as long as the drawing stays low.

        Parameters
        ----------
        trace : Trace
        main : MainPart or None
        practice : tuple of float
            Lowest and highest elevation of the practice itself. [m]
        binds_at : str
            Place that binds, which is shown in any case.

        Returns
        -------
        FieldView or None
            None where nothing is known of the main.
        """
        if main is None:
            return None
        wet = [w for spot in main.spots if (w := _wet(trace, spot)) is not None]
        wet.sort(key=lambda w: (w.spot.name != binds_at, w.slack))
        shown: list[Wet] = []
        for one in wet:
            heights = [*practice, *_levels(main, (*shown, one))]
            if not shown or max(heights) - min(heights) <= TALLER * (practice[1] - practice[0]):
                shown.append(one)
        shown.sort(key=lambda w: w.spot.station)
        far = [w.spot.station for w in shown]
        if not far and main.pool_end is not None:
            far = [main.pool_end]
        if not far:
            return None
        end = main.diversion + (1.0 + PAST) * (max(far) - main.diversion) + 1.0
        return cls(main, tuple(shown), len(wet) - len(shown), main.diversion, end)

    def ground(self) -> list[Point]:
        """Ground between what was shot. [m]"""
        main, found = self.main, [(w.spot.station, w.spot.ground.elevation) for w in self.spots]
        if main.ground_at_diversion is not None:
            found.insert(0, (main.diversion, main.ground_at_diversion.elevation))
        if not found:
            return []
        return [*found, (self.end, found[-1][1])]

    def draw(self, stage: Stage, panel: Panel, looked_level: float | None) -> None:
        """Draw soil, main, water held and storm, then the clear soil of each spot."""
        self._draw_earth(stage, panel)
        self._draw_pipe(stage, panel)
        self._draw_water(stage, panel, looked_level)
        for wet in self.spots:
            _draw_clear(stage, panel, wet)
        if stage.binds.is_at("main", "above"):
            line = self._invert()
            mark_line(stage, panel, line)
            x = (panel.x(line[0][0]) + panel.x(line[-1][0])) / 2
            say_binds(stage, x, panel.y(line[0][1]) + 22.0)

    def _draw_earth(self, stage: Stage, panel: Panel) -> None:
        ground = self.ground()
        if len(ground) < 2:
            return
        base = panel.low
        around = (*ground, (ground[-1][0], base), (ground[0][0], base))
        stage.canvas.fill(panel, around, "l-soil", name="field-soil")
        stage.canvas.line(panel, ground, "l-between", name="field-ground")

    def _invert(self) -> list[Point]:
        points = []
        for part in self.main.segments:
            if part.high > self.start and part.low < self.end:
                points += [
                    (part.low, part.invert_low.elevation),
                    (part.high, part.invert_high.elevation),
                ]
        inside = [(x, z) for x, z in points if self.start <= x <= self.end]
        return [
            (self.start, elevation_at(points, self.start)),
            *inside,
            (self.end, elevation_at(points, self.end)),
        ] if points else []  # fmt: skip

    def _draw_pipe(self, stage: Stage, panel: Panel) -> None:
        bottom = self._invert()
        if not bottom:
            return
        bore = self.main.diameter
        top = [(x, z + bore) for x, z in reversed(bottom)]
        stage.canvas.line(panel, [*bottom, *top], "l-full", name="field-main", closed=True)

    def _draw_water(self, stage: Stage, panel: Panel, looked_level: float | None) -> None:
        main = self.main
        if main.crest is not None:
            z = main.crest.elevation
            reach = self.end if main.pool_end is None else min(self.end, main.pool_end)
            stage.canvas.line(panel, ((self.start, z), (reach, z)), "l-level", name="pool")
            said = stage.figures.elevation(z)
            stage.show("l-level", "water held in the field's main", said, main.crest.key)
            words = "held " if stage.setting == DESIGN else "held as designed "
            held = (Run(words, "", "w"), Run(said, main.crest.key, "w"))
            _say_line(stage, panel, held, z, is_over=True)
        storm = [(w.spot.station, w.spot.storm.elevation) for w in self.spots if w.spot.storm]
        if main.storm_at_diversion is not None and storm:
            points = [(main.diversion, main.storm_at_diversion), *storm]
            stage.canvas.line(panel, points, "l-grade", name="storm")
            _say_line(stage, panel, (Run("storm", "", "w"),), points[-1][1])
            stage.show("l-grade", "grade line of the storm, main full and all over the boards")
        if looked_level is not None:
            ends = (
                (self.start, looked_level),
                (self.start + 0.12 * (self.end - self.start), looked_level),
            )
            stage.canvas.line(panel, ends, "l-surface", name="field-looked")


def _say_line(
    stage: Stage, panel: Panel, line: tuple[Run, ...], z: float, *, is_over: bool = False
) -> None:
    """Name a line of water at the right edge, over it or under it first."""
    x, y, size = panel.right - 8.0, panel.y(z), stage.labels.size
    under, over = Spot(x, y + size + 4.0, "end"), Spot(x, y - 6.0, "end")
    places = (over, under) if is_over else (under, over)
    stage.labels.say(Label((line,), places, rank=4))


def _levels(main: MainPart, spots: tuple[Wet, ...]) -> list[float]:
    found = [w.spot.ground.elevation for w in spots]
    found += [w.spot.storm.elevation for w in spots if w.spot.storm is not None]
    if main.ground_at_diversion is not None:
        found.append(main.ground_at_diversion.elevation)
    return found


def _wet(trace: Trace, spot: SpotPart) -> Wet | None:
    """A spot by its tightest limit; None where it is not judged."""
    judged = [
        (float(trace.value(f"field.{spot.name}.{kind}.slack")), kind)
        for kind in KINDS
        if trace.known(f"field.{spot.name}.{kind}.slack")
    ]
    if not judged:
        return None
    slack, kind = min(judged)
    return Wet(spot, kind, slack)


def _draw_clear(stage: Stage, panel: Panel, wet: Wet) -> None:
    """Draw the clear soil of a spot as an arrow down to its water, and the limit as a bar."""
    trace, spot = stage.trace, wet.spot
    binds = stage.binds.is_at(spot.name)
    clear = float(trace.value(f"{wet.key}_m"))
    ground = spot.ground.elevation
    x, top = panel.at((spot.station, ground))
    foot = panel.y(ground - clear)
    look = "l-binds-fine" if binds else "l-clear"
    name = "binds" if binds else f"clear-{spot.name}"
    stage.canvas.stroke(((x, top + 1.0), (x, foot - 1.0)), look, name=name)
    for y, way in ((top + 1.0, 1.0), (foot - 1.0, -1.0)):
        head = ((x - HEAD, y + way * 1.6 * HEAD), (x, y), (x + HEAD, y + way * 1.6 * HEAD))
        stage.canvas.stroke(head, look)
    limit_key = f"inputs.limits.{wet.kind}_m"
    if trace.known(limit_key):
        y = panel.y(ground - float(trace.value(limit_key)))
        stage.canvas.stroke(((x - 8.0, y), (x + 8.0, y)), look, name=f"limit-{spot.name}")
    _say_spot(stage, panel, wet, limit_key, binds=binds)
    stage.labels.keep(x - HEAD, top, x + HEAD, foot)


def _say_spot(stage: Stage, panel: Panel, wet: Wet, limit_key: str, *, binds: bool) -> None:
    spot, size = wet.spot, stage.labels.size
    x, y = panel.at((spot.station, spot.ground.elevation))
    strong, plain, quiet = ("b s", "b", "b") if binds else ("s", "", "m")
    station = stage.run(f"inputs.spot.{spot.name}.station_m", "station", strong)
    is_clear = stage.run(f"{wet.key}_m", "length", plain)
    least = stage.run(limit_key, "length", quiet, unit=False)
    full: tuple[tuple[Run, ...], ...] = (
        (station,),
        (is_clear, Run(", least ", "", quiet), least),
    )
    if binds:
        head = (station, Run(f" {spot.kind}", "", quiet))
        numbers = (is_clear, Run(" clear, least ", "", quiet), least)
        full = (head, numbers, (Run(WORDS[wet.kind], "", quiet),))
    foot = y - 7.0 - size * 1.2 * (len(full) - 1)
    rows = [foot - step * 4.0 for step in range(30)]
    spots = tuple(Spot(x - 5.0, row, "end") for row in rows)
    stage.labels.say(
        Label(
            full,
            (*spots, *(Spot(x + 5.0, row, "start") for row in rows)),
            needed=binds,
            lead=(x, y - 2.0),
            rank=2,
            short=((station,), (is_clear,)),
            on_staff=True,
        )
    )

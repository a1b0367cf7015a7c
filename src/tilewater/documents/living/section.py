# SPDX-License-Identifier: Apache-2.0
"""The living section put together: panels, labels and legend of one answer, for a page's width."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol
from xml.sax.saxutils import quoteattr

from tilewater.basis.trace import Trace
from tilewater.chain.design import Design
from tilewater.chain.scene_looked_at import LookedScene
from tilewater.chain.scene_records import MainPart
from tilewater.documents.living.canvas import PATTERNS, STYLE, Canvas, number, path_of
from tilewater.documents.living.earth import draw_elevations, draw_stations
from tilewater.documents.living.field import FieldView
from tilewater.documents.living.handles import Ring, ring_markup
from tilewater.documents.living.labels import Labels
from tilewater.documents.living.layout import Extent, Layout, Scale, lay_out
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.stage import Binds, Shown, Stage
from tilewater.documents.living.views import view_of
from tilewater.documents.scales import Figures
from tilewater.documents.words import Words

TYPE, NARROW_TYPE = 13.0, 12.5
"""Size of the type. [px]"""
PARTS, NARROW_PARTS = 7.0, 4.0
"""About how many stations are written."""
NEXT_TO = 15.0
"""Kept free around a ring. [px]"""


class View(Protocol):
    """What a practice offers to be drawn."""

    start: float
    end: float
    main: MainPart | None

    @property
    def boxes(self) -> tuple[tuple[float, float], ...]: ...
    @property
    def missing(self) -> tuple[tuple[str, tuple[str, ...]], ...]: ...
    def heights(self) -> tuple[float, float] | None: ...
    def surface(self) -> list[Point]: ...
    def anchor(self, name: str) -> float | None: ...
    def level_of(self, name: str) -> float | None: ...
    def draw(self, stage: Stage, panel: Panel) -> None: ...


@dataclass(frozen=True)
class Living:
    """A living section.

    Attributes
    ----------
    drawn : str
        Markup of all that is drawn, without the rings.
    rings : tuple of Ring
    rings_drawn : str
        Markup of the rings.
    width, height : float
        Of the page. [px]
    title, about : str
        What it shows, and how: its scales and its datum.
    legend : tuple of Shown
        Lines of water and what else is dashed, in words.
    missing : tuple of str
        What is not drawn, and what is not known for it, in words.
    dropped : tuple of str
        Labels that found no room.
    scale : Scale or None
        None where nothing could be drawn.
    """

    drawn: str
    rings: tuple[Ring, ...]
    rings_drawn: str
    width: float
    height: float
    title: str
    about: str
    legend: tuple[Shown, ...]
    missing: tuple[str, ...]
    dropped: tuple[str, ...] = ()
    scale: Scale | None = None

    @property
    def svg(self) -> str:
        """The whole drawing as one SVG element."""
        box = f"0 0 {number(self.width)} {number(self.height)}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="living" viewBox="{box}" '
            f'width="{number(self.width)}" height="{number(self.height)}" role="group" '
            f"aria-label={quoteattr(self.title)}><style>{STYLE}</style><defs>{PATTERNS}</defs>"
            f'<g class="drawn">{self.drawn}</g><g class="rings">{self.rings_drawn}</g></svg>'
        )


Rings = Callable[[View, Layout], Sequence[Ring]]


def living_section(
    design: Design,
    words: Words,
    *,
    width: float,
    looked: LookedScene | None = None,
    rings: Rings | None = None,
    binds: Binds | None = None,
    link: str = "",
    held: Scale | None = None,
) -> Living:
    """Draw a designed practice with its water as it stands.

    Parameters
    ----------
    design : Design
        First or refined.
    words : Words
        Units of the reader.
    width : float
        Of the page. [px]
    looked : LookedScene or None
        Water at a flow and a ditch that are looked at.
    rings : callable or None
        Gives what can be moved, once it is known where all stands.
    binds : Binds or None
        What binds, in short words.
    link : str
        Address of the numbers; the key of a number is put behind it.
    held : Scale or None
        Scale to keep while something is dragged.

    Returns
    -------
    Living
        Words alone where nothing is known that could be drawn.
    """
    trace = design.trace
    view = view_of(design, looked)
    title = f"Long section of the {design.practice.words}"
    heights = view.heights()
    missing = tuple(_missing_words(what, why) for what, why in view.missing)
    if heights is None or view.end - view.start < 1.0:
        return Living("", (), "", width, 0.0, title, "", (), missing)
    field = FieldView.of(trace, view.main, heights, design.governs.where if design.governs else "")
    extent = Extent(view.start, view.end, *heights, view.boxes)
    behind = None if field is None else Extent(field.start, field.end, *field.heights())
    layout = lay_out(extent, behind, width, held)
    size = NARROW_TYPE if layout.is_narrow else TYPE
    labels = Labels(size, 2.0, 2.0, width - 2.0, layout.height - 1.0)
    setting = "design" if looked is None else looked.looked_at.setting
    stage = Stage(
        trace if looked is None else looked.trace, words, Figures(words.system, words.foot),
        Canvas(), labels, layout.is_narrow, setting, binds or Binds(),
    )  # fmt: skip
    found = () if rings is None else tuple(rings(view, layout))
    for ring in found:
        x, y = ring.at
        labels.keep(x - NEXT_TO * 0.7, y - NEXT_TO * 0.7, x + NEXT_TO * 0.7, y + NEXT_TO * 0.7)
    _draw(stage, layout, view, field, looked, link)
    return Living(
        drawn="".join(stage.canvas.parts),
        rings=found,
        rings_drawn="".join(ring_markup(ring, size) for ring in found),
        width=width,
        height=layout.height,
        title=title,
        about=_about(trace, words, layout, field),
        legend=_legend(stage),
        missing=missing,
        dropped=tuple("".join(r.words for r in label.lines[0]) for label in labels.dropped),
        scale=layout.scale,
    )


def _draw(
    stage: Stage,
    layout: Layout,
    view: View,
    field: FieldView | None,
    looked: LookedScene | None,
    link: str,
) -> None:
    """Draw panels inside their edges, then axes, then labels over all."""
    canvas, practice = stage.canvas, layout.practice
    _open(canvas, practice, "practice")
    view.draw(stage, practice)
    canvas.parts.append("</g>")
    if field is not None and layout.field is not None:
        _open(canvas, layout.field, "field")
        level = None if looked is None else looked.number("level_m")
        field.draw(stage, layout.field, level)
        canvas.parts.append("</g>")
        if not layout.is_narrow:
            _draw_break(canvas, practice, layout.field)
        else:
            draw_elevations(stage, layout.field, layout.field.left - 6.0)
        draw_stations(stage, layout.field, NARROW_PARTS)
    draw_elevations(stage, practice, practice.left - 6.0)
    draw_stations(stage, practice, NARROW_PARTS if layout.is_narrow else PARTS)
    stage.labels.write(canvas, link)


def _open(canvas: Canvas, panel: Panel, name: str) -> None:
    """Open the group of a panel, cut off at its edges."""
    edge = f"edge-{name}"
    left, right, top, base = (number(v) for v in (panel.left, panel.right, 0.0, panel.base))
    wide, tall = number(panel.right - panel.left), number(panel.base)
    canvas.parts.append(
        f'<clipPath id="{edge}"><rect x="{left}" y="{top}" width="{wide}" height="{tall}"/>'
        f'</clipPath><g data-panel="{name}" data-top="{number(panel.top)}" '
        f'data-high="{panel.high:.6f}" data-up="{panel.up:.6f}" data-right="{right}" '
        f'data-base="{base}" clip-path="url(#{edge})">'
    )


def _draw_break(canvas: Canvas, practice: Panel, field: Panel) -> None:
    """Draw that the field is not as near as it stands: two zigzags between the panels."""
    middle = (practice.right + field.left) / 2
    y = practice.y((practice.low + practice.high) / 2)
    for x in (middle - 3.0, middle + 3.0):
        points = ((x, y - 26.0), (x, y - 7.0), (x - 4.0, y - 2.5), (x + 4.0, y + 2.5), (x, y + 7.0))
        canvas.parts.append(f'<path class="l-lead" d="{path_of((*points, (x, y + 26.0)))}"/>')


def _about(trace: Trace, words: Words, layout: Layout, field: FieldView | None) -> str:
    unit = "feet" if words.system == "us" else "metres"
    datum = ""
    if trace.known("inputs.site.vertical_datum"):
        datum = f", {trace.value('inputs.site.vertical_datum')}"
    said = [f"Elevations in {unit}{datum}; heights drawn {_times(layout.practice)}"]
    if layout.field is not None:
        said[0] += f" here and {_times(layout.field)} up the field"
    said.append("structures wider than they are")
    text = ", ".join(said) + "."
    if field is not None:
        text += " Ground between the spots that were shot is not known."
        if field.left_out:
            have = "spot has" if field.left_out == 1 else "spots have"
            text += f" {field.left_out} more {have} more soil over the water, not drawn here."
    return text


ORDER = ("l-surface", "l-second", "l-grade", "l-beside", "l-level", "l-high")
"""Lines of the legend: water that is judged first, what is named in the drawing last."""
NAMED = ("l-level", "l-high")
"""Lines that a wide drawing names in their places."""


def _legend(stage: Stage) -> tuple[Shown, ...]:
    shown = [one for one in stage.legend if stage.is_narrow or one.look not in NAMED]
    return tuple(sorted(shown, key=lambda one: ORDER.index(one.look)))


def _times(panel: Panel) -> str:
    times = panel.exaggeration
    return f"{times:.0f} times" if abs(times - round(times)) < 0.02 else f"{times:.1f} times"


def _missing_words(what: str, why: tuple[str, ...]) -> str:
    reasons = ", ".join(why)
    return f"{what}: {reasons}" if reasons else what

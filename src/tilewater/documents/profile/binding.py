# SPDX-License-Identifier: Apache-2.0
"""Where a design binds: the place in the section, and the words. Plum is for this alone."""

from tilewater.chain.scene import LongSection
from tilewater.documents.drawing.frame import Point
from tilewater.documents.profile.plot import Plot

_OFF = 0.8
"""From an invert or a wall to the bar that marks it. [mm]"""


def binding_words(scene: LongSection, *, in_place: bool = False) -> str:
    """What binds, with its place unless they stand there; "" where nothing could be judged."""
    if not scene.binds:
        return ""
    words = scene.binds[:1].lower() + scene.binds[1:]
    place = "" if in_place else scene.binds_at
    return f"binds: {words}" if not place or place in words else f"binds: {words} ({place})"


def mark_in_section(plot: Plot, scene: LongSection) -> None:
    """Draw a bar at the part of the way that binds."""
    place = scene.binds_at
    boxes = {"inlet structure": scene.inlet, "outlet structure": scene.outlet}
    if place in boxes:
        box = boxes[place]
        if box.floor is not None and box.rim is not None:
            side = -_OFF * 1.4
            ends = (box.low, box.floor.elevation), (box.low, box.rim.elevation)
            _bar(plot, tuple(plot.frame.moved(end, side, 0.0) for end in ends))
        return
    if place.startswith("header"):
        for header in scene.headers:
            if header.name == f"{place.removeprefix('header ')} header":
                centre = header.at, header.floor.elevation + header.diameter / 2
                plot.mark(centre, "ring", "binds")
        return
    line = _invert_of(scene)
    if line:
        _bar(plot, tuple(plot.frame.moved(point, 0.0, -_OFF) for point in line))


def _invert_of(scene: LongSection) -> tuple[Point, ...]:
    """The floor or invert of what binds; none where it lies elsewhere or is not known."""
    media, ditch = scene.media, scene.ditch
    pipes = {"feed": scene.feed, "bed-to-outlet": scene.drain, "return": scene.outflow}
    pipe = pipes.get(scene.binds_at)
    if pipe is not None:
        return (pipe.low, pipe.invert_low.elevation), (pipe.high, pipe.invert_high.elevation)
    if scene.binds_at == "bed" and media is not None:
        return (media.low, media.floor_low.elevation), (media.high, media.floor_high.elevation)
    if scene.binds_at == "bypass" and scene.bypass is not None:
        low, high = scene.bypass.invert_low.elevation, scene.bypass.invert_high.elevation
        return (scene.bypass.low, low), (scene.inlet.low, high)
    if scene.binds_at == "ditch":
        return tuple(ditch.outline[1:-1])
    return ()


def _bar(plot: Plot, points: tuple[Point, ...]) -> None:
    plot.shape(points, "binds", name="binds")


def mark_in_reach(plot: Plot, scene: LongSection) -> None:
    """Draw a bar under the stretch of the main that binds."""
    main = scene.main
    if main is None or scene.binds_at not in ("main", "above", "bypass"):
        return
    for part in main.segments:
        above = part.low >= main.diversion - 1e-6
        if scene.binds_at == "main" or above == (scene.binds_at == "above"):
            ends = (part.low, part.invert_low.elevation), (part.high, part.invert_high.elevation)
            _bar(plot, tuple(plot.frame.moved(end, 0.0, -_OFF) for end in ends))


def is_in_reach(scene: LongSection) -> bool:
    """Whether what binds is drawn up the main."""
    spots = () if scene.main is None else scene.main.spots
    return scene.binds_at in ("main", "above", "bypass", *(spot.name for spot in spots))

# SPDX-License-Identifier: Apache-2.0
"""How far a long section reaches: its ends along the way, its heights, its ground."""

from tilewater.chain.scene import LongSection
from tilewater.documents.drawing.frame import Point

BEFORE, BEHIND = 3.0, 3.0
"""Drawn in front of the return, and of the main behind the diversion. [m]"""
BELOW = 0.12
"""Drawn under the lowest part. [m]"""


def ends_of(scene: LongSection, behind: float = BEHIND) -> tuple[float, float]:
    """Where the section begins and ends along the way. [m]"""
    return min((-BEFORE, *(x for x, _ in scene.ditch.outline))), scene.length + behind


def heights_of(scene: LongSection) -> tuple[float, float] | None:
    """Lowest and highest elevation to be drawn, None where none is known. [m]"""
    found = [z for _, z in ground_of(scene)]
    for box in (scene.inlet, scene.outlet):
        found += [each.elevation for each in (box.floor, box.sill, box.rim) if each is not None]
    for pipe in (scene.outflow, scene.drain, scene.feed):
        if pipe is not None:
            found += [pipe.invert_low.elevation, pipe.invert_high.elevation]
    media = scene.media
    if media is not None:
        found += [z for _, z in media.outline]
        if media.ground is not None:
            found.append(media.ground.elevation + (media.crown or 0.0))
    if scene.ditch.bottom is not None:
        found.append(scene.ditch.bottom.elevation)
    for which in ("ordinary", "high"):
        water = scene.ditch.highest(which)
        if water is not None:
            found.append(water[1].elevation)
    found += [level.elevation for _, level in scene.groundwater]
    found += [level.elevation for line in scene.lines for _, level in line.nodes]
    if scene.bypass is not None:
        found += [scene.bypass.invert_low.elevation, scene.bypass.invert_high.elevation]
    return (min(found) - BELOW, max(found)) if found else None


def ground_of(scene: LongSection) -> list[Point]:
    """Ground from the bank top up, between what was shot."""
    ditch, media, found = scene.ditch, scene.media, []
    if ditch.bank_at is not None and ditch.bank_top is not None:
        found.append((ditch.bank_at, ditch.bank_top.elevation))
    if scene.outlet.ground is not None:
        found.append((scene.outlet.middle, scene.outlet.ground.elevation))
    if media is not None and media.ground is not None:
        margin = media.cut_margin or 0.0
        found += [
            (media.low - margin, media.ground.elevation),
            (media.high + margin, media.ground.elevation),
        ]
    if scene.inlet.ground is not None:
        found.append((scene.inlet.middle, scene.inlet.ground.elevation))
    return sorted(found)

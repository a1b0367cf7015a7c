# SPDX-License-Identifier: Apache-2.0
"""Heights of the shots of a survey on a plan, each beside its shot where that has room."""

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

import numpy as np

from tilewater.chain.scene_plan_records import PlanScene, Point
from tilewater.documents.drawing.measured import (
    box_of,
    overlapping,
    segments_of,
    struck,
    text_boxes,
    within,
)
from tilewater.documents.drawing.model import SMALL, Across, Text, Up
from tilewater.documents.plan_along import sign_box
from tilewater.documents.plan_labels import SIGN
from tilewater.documents.plan_shapes import Window
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

BESIDE_SHOT = 1.4
"""From a shot to its height. [mm]"""
DOT = 0.6
"""Half of the room that a shot takes. [mm]"""


def write_shot_heights(
    plot: Plot, figures: Figures, scene: PlanScene, window: Window
) -> tuple[str, ...]:
    """Write the height of each shot beside it where no words stand and few lines run.

    Returns
    -------
    tuple of str
        How many had no room, in words.
    """
    benchmarks = [mark.at for mark in scene.marks if mark.kind == "benchmark"]
    shots = [
        shot
        for shot in scene.shots
        if shot.is_used and window.holds(shot.at) and not _is_near(plot, shot.at, benchmarks)
    ]
    signs = [sign_box(plot, mark.at, SIGN) for mark in scene.marks]
    signs += [sign_box(plot, at, SIGN) for _, at in scene.stations]
    signs += [sign_box(plot, shot.at, DOT) for shot in shots]
    lines = [each for entity in plot.entities for each in segments_of(entity, plot.frame)]
    left = 0
    for shot in shots:
        tried = list(_beside(plot, shot.at, figures.elevation(shot.height)))
        boxes = [box_of(text, plot.frame) for text in tried]
        taken = (*text_boxes(plot.drawing("", figures)), *signs)
        touched = np.logical_or.reduce(overlapping(boxes, taken), axis=1)
        runs = np.add.reduce(struck(boxes, lines), axis=1)
        free = [
            index
            for index, box in enumerate(boxes)
            if not touched[index] and within(box.corners, plot.frame)
        ]
        if not free:
            left += 1
            continue
        best = min(free, key=lambda index: int(runs[index]))
        plot.entities.append(replace(tried[best], clear=bool(runs[best])))
    return (f"heights of {left} of {len(shots)} shots",) if left else ()


def _is_near(plot: Plot, at: Point, others: list[Point]) -> bool:
    """Whether a point lies under a sign that tells its height already."""
    x, y = plot.frame.paper(at)
    return any(hypot(x - a, y - b) < SIGN for a, b in map(plot.frame.paper, others))


def _beside(plot: Plot, at: Point, words: str) -> Iterator[Text]:
    """A height on all sides of its shot, the right first."""
    x, y = plot.frame.paper(at)
    near = BESIDE_SHOT * 0.7
    places: tuple[tuple[Across, Up, float, float], ...] = (
        ("left", "middle", BESIDE_SHOT, 0.0),
        ("right", "middle", -BESIDE_SHOT, 0.0),
        ("left", "base", near, near),
        ("right", "base", -near, near),
        ("left", "top", near, -near),
        ("right", "top", -near, -near),
        ("middle", "base", 0.0, BESIDE_SHOT),
        ("middle", "top", 0.0, -BESIDE_SHOT),
    )
    for across, up, dx, dy in places:
        where = plot.frame.ground((x + dx, y + dy))
        yield Text(where, words, "label-muted", SMALL, across, up)

# SPDX-License-Identifier: Apache-2.0
"""Rings at what can be moved: where each of its steps stands on the page, and what it is called.

A ring is a slider for the keyboard and for those who do not see it. What a step does is written
beside it, for the page to send back; the page itself computes nothing.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal
from xml.sax.saxutils import escape, quoteattr

from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.living.canvas import number

RADIUS, REACH = 7.5, 20.0
"""Of a ring, and of what takes a finger. [px]"""


@dataclass(frozen=True)
class Step:
    """A step of a handle.

    Attributes
    ----------
    at : float
        Where it stands along its way. [px]
    says : str
        What the step is called: "36 in, 5 boards".
    does : mapping
        What it sends back: edits of the job, or what is looked at.
    """

    at: float
    says: str
    does: Mapping[str, Any]


@dataclass(frozen=True)
class Ring:
    """Something that can be moved, on the page.

    Attributes
    ----------
    name, words : str
        Its short name, and what it is.
    way : "x" or "y"
        Which way it moves.
    across : float
        Where it stands the other way. [px]
    steps : tuple of Step
        Rising.
    index : int
        Step on which it stands.
    is_saved : bool
        Whether a move of it is kept in the job.
    is_left : bool
        Whether its name stands to the left of it.
    """

    name: str
    words: str
    way: Literal["x", "y"]
    across: float
    steps: tuple[Step, ...]
    index: int
    is_saved: bool
    is_left: bool = False

    @property
    def at(self) -> tuple[float, float]:
        """Where it stands. [px]"""
        along = self.steps[self.index].at
        return (along, self.across) if self.way == "x" else (self.across, along)


def ring_markup(ring: Ring, size: float) -> str:
    """A ring as markup: its circle, the ways it moves, the name of its step, its steps as data.

    Parameters
    ----------
    ring : Ring
    size : float
        Of the type. [px]

    Returns
    -------
    str
    """
    x, y = ring.at
    steps = [[round(step.at, 2), step.says, step.does] for step in ring.steps]
    says = ring.steps[ring.index].says
    upright = "vertical" if ring.way == "y" else "horizontal"
    look = "handle" if ring.is_saved else "handle is-looked"
    head = (
        f'<g class="{look}" data-handle={quoteattr(ring.name)} data-way="{ring.way}" '
        f"data-steps={quoteattr(json.dumps(steps, separators=(',', ':')))} "
        f'data-across="{number(ring.across)}" '
        f'data-saved="{1 if ring.is_saved else 0}" tabindex="0" role="slider" '
        f'aria-orientation="{upright}" aria-label={quoteattr(ring.words)} aria-valuemin="0" '
        f'aria-valuemax="{len(steps) - 1}" aria-valuenow="{ring.index}" '
        f'aria-valuetext={quoteattr(says)} transform="translate({number(x)} {number(y)})">'
    )
    way = "M0-4V4M-2.600-1.800L0-4.400 2.600-1.800M-2.600 1.800L0 4.400 2.600 1.800"
    turn = ' transform="rotate(90)"' if ring.way == "x" else ""
    side, anchor = (-14.0, "end") if ring.is_left else (14.0, "start")
    longest = max(text_width(step.says, size, "semibold") for step in ring.steps)
    left = side - 4.0 if anchor == "start" else side - longest - 4.0
    return (
        f"{head}<title>{escape(ring.words)}</title>"
        f'<circle class="reach" r="{number(REACH)}"/><circle class="focus" r="11"/>'
        f'<circle class="ring" r="{number(RADIUS)}"/><path class="way" d="{way}"{turn}/>'
        f'<g class="says"><rect class="paper" x="{number(left)}" y="-11" '
        f'width="{number(longest + 8.0)}" height="22" rx="3"/>'
        f'<text class="s" x="{number(side)}" y="4.500" text-anchor="{anchor}" '
        f'font-size="{number(size)}">{escape(says)}</text></g></g>'
    )

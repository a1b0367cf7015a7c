# SPDX-License-Identifier: Apache-2.0
"""What would stop a practice, and the shots that tell: chosen from what the call did not settle.

Each candidate has a weight between 0 and 1: 1 where the numbers of the call say so, the share of
the draws where it is a matter of chance, and a fixed lesser weight for what no call can tell.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.trace import Trace

FREEBOARD_M = 0.3 * 0.3048
"""End of the main over ordinary ditch water, common practice. [m]"""
FLAT = 0.0005
"""Grade below which boards drown the field a long way up, judgement. [m/m]"""
USUAL_ACRES_M2 = (10 * 4046.86, 100 * 4046.86)
"""Acres of one bed as published advice has them. [m2]"""
LOW_NITRATE = 5.0
"""Below this a practice has little to take out, judgement. [mg/L]"""


@dataclass(frozen=True)
class Stop:
    """One thing that would stop it.

    Attributes
    ----------
    name : str
        Name for good.
    weight : float
        How likely it is to, between 0 and 1.
    text : str
        In words; `{...}` is a length [m] by its key, for the page to say in the reader's units.
    keys : tuple of str
        Keys of those lengths.
    """

    name: str
    weight: float
    text: str
    keys: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shot:
    """One shot to take on the first visit: where, and what it settles."""

    where: str
    why: str
    keys: tuple[str, ...] = ()


def three_stops(trace: Trace) -> tuple[Stop, ...]:
    """The three likeliest things to stop a practice, worst first."""
    found = (*_of_the_call(trace), *_of_the_draws(trace), *ALWAYS)
    return tuple(sorted(found, key=lambda stop: -stop.weight)[:3])


def five_shots(trace: Trace) -> tuple[Shot, ...]:
    """Five shots that settle most, for the first visit."""
    return (
        Shot(
            "invert of the main at its end, and inside the bank where the pipe may change size",
            "the size seen in the bank may be a short stub of larger pipe",
        ),
        Shot(
            "invert in a pit where the boards would stand, at least 100 ft up the main",
            "two inverts give the grade, and the grade the main full",
        ),
        Shot(
            "water and bottom of the ditch at the outlet, with the date, and the last flood mark",
            "decides whether the outlet stands free in spring",
        ),
        Shot(
            "lowest ground over the main within {0} of the ditch",
            "as far as raised water may reach; it sets the highest crest",
            ("rough.pool_reach_m.p90",),
        ),
        Shot(
            "ground along the strip at both ends and the middle, with the bank top",
            "depth of cut, cover, and length and width that there really are",
        ),
    )


def _of_the_call(trace: Trace) -> Iterator[Stop]:
    below = "inputs.call.ditch_below_m"
    if trace.known(below) and trace.value(below) < FREEBOARD_M:
        yield Stop(
            "drowned-outlet",
            1.0,
            "Ordinary ditch water stands within 0.3 ft of the end of the main, or over it: the "
            "outlet drowns, and a bed could not be emptied.",
        )
    if not trace.known(below):
        yield Stop("ditch-water", 0.5, "Nobody has said where the water of the ditch stands.")
    slope = "inputs.call.slope"
    if trace.known(slope) and trace.value(slope) < FLAT:
        yield Stop(
            "flat-main",
            0.9,
            "The main is so flat that boards raise the water {0} up and more: low ground there "
            "gets wet.",
            ("rough.pool_reach_m.p50",),
        )
    nitrate = "inputs.call.nitrate_mg_per_l"
    if trace.known(nitrate) and trace.value(nitrate) < LOW_NITRATE:
        yield Stop(
            "low-nitrate",
            0.95,
            "There is little nitrate to take out; sample again in May before anything else.",
        )
    low, high = USUAL_ACRES_M2
    area = float(trace.value("inputs.call.area_m2"))
    if not low <= area <= high:
        words = "more than one bed is built for" if area > high else "little water for the money"
        yield Stop("acres", 0.6, f"The acres are {words}; ask what else could treat it.")


def _of_the_draws(trace: Trace) -> Iterator[Stop]:
    fits = "rough.bed.fits_strip"
    if trace.known(fits):
        yield Stop(
            "strip",
            0.9 * (1.0 - float(trace.value(fits))),
            "The strip is short of ground for a bed of this size; a narrower cut or another "
            "place would have to be found.",
        )
    else:
        yield Stop("strip-unknown", 0.45, "Nobody has said how much ground there is.")
    meets = "rough.buffer.meets_share"
    if trace.known(meets):
        yield Stop(
            "tight-soil",
            0.5 * (1.0 - float(trace.value(meets))),
            "The soil of the strip may be too tight for a buffer; three auger holes tell.",
        )


ALWAYS = (
    Stop(
        "wet-field",
        0.42,
        "Low ground along the main within {0} of the ditch may get too wet behind the boards.",
        ("rough.pool_reach_m.p50",),
    ),
    Stop(
        "rights",
        0.38,
        "Rights: who owns the main and the ditch, who must consent, what program holds the strip.",
    ),
    Stop(
        "utilities",
        0.30,
        "Utilities, private lines too: nothing is dug before they are located.",
    ),
    Stop("sand", 0.25, "A sand seam in the bank, or ground water over the floor of a bed."),
)
"""What no call can tell, weights by judgement."""

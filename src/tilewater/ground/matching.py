# SPDX-License-Identifier: Apache-2.0
"""What a shot is of: by the code that the crew wrote, the name behind it, and where it lies.

A shot that fits nothing keeps the reason why; none is dropped here.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf

from tilewater.ground.outlines import closed, nearest_on_line, side_of

Place = tuple[float, float]

WORDS: Mapping[str, tuple[str, ...]] = {
    "invert": ("invert", "inv"),
    "flowline": ("flowline", "flow line"),
    "pipe_top": ("top of pipe", "pipe top"),
    "pipe_bottom": ("bottom of pipe", "pipe bottom", "bedding"),
    "sill": ("sill",),
    "box_floor": ("box floor",),
    "rim": ("rim",),
    "crest": ("crest", "top board", "boards"),
    "floor": ("floor", "bed floor"),
    "corner": ("corner", "floor corner"),
    "chips": ("chips", "top of chips"),
    "ground": ("ground", "finished ground"),
    "benchmark": ("benchmark", "bm"),
}
"""Words of each code that hold in every job."""


@dataclass(frozen=True)
class BuiltShot:
    """A shot of finished work.

    Attributes
    ----------
    point : str
    key : str
        Its name in keys; none is used twice.
    place : tuple of float
        North and east, or station and offset. [m]
    height : float
        [m]
    note : str
        Code, and behind it a name where one was written.
    noise : float or None
        One standard deviation as the instrument states it. [m]
    line : int
        In its file.
    """

    point: str
    key: str
    place: Place
    height: float
    note: str
    noise: float | None
    line: int


@dataclass(frozen=True)
class Element:
    """A part of the design that can be shot.

    Attributes
    ----------
    name : str
        As the job has it: `feed`, `inlet structure`, `bed`.
    takes : frozenset of str
        Codes that belong to it.
    line : tuple of place
        Where it lies: a point, a line or an outline. [m]
    is_outline : bool
        Whether the line encloses it.
    """

    name: str
    takes: frozenset[str]
    line: tuple[Place, ...] = ()
    is_outline: bool = False

    @property
    def words(self) -> tuple[str, ...]:
        """Words that a note may call it by."""
        plain = plain_words(self.name)
        short = plain.removesuffix(" structure")
        return tuple(dict.fromkeys((plain, short)))


@dataclass(frozen=True)
class Match:
    """What a shot is of, or why it is of nothing.

    Attributes
    ----------
    element : str
        Name of the element; "" for none.
    code : str
        The code read from the note; "" for none.
    away : float
        Distance from the element, or from the nearest one. [m]
    why : str
        Why it is of nothing.
    """

    element: str
    code: str
    away: float
    why: str = ""


def plain_words(text: str) -> str:
    """Words in small letters with one space between them, signs left out."""
    return " ".join(re.findall(r"[a-z0-9]+", text.casefold()))


def code_of_note(note: str, words: Mapping[str, Sequence[str]]) -> tuple[str, str]:
    """The code that a note begins with, and what stands behind it.

    Parameters
    ----------
    note : str
        What the crew wrote. [-]
    words : mapping of str to words
        Words of each code; the longest that fits is taken. [-]

    Returns
    -------
    tuple of str
        Code and rest; both "" where the note begins with none. [-]
    """
    plain = plain_words(note)
    found = ("", "")
    longest = 0
    for code, known in words.items():
        for word in map(plain_words, known):
            fits = plain == word or plain.startswith(f"{word} ")
            if word and fits and len(word) > longest:
                longest, found = len(word), (code, plain[len(word) :].strip())
    return found


def distance_of(where: Place, element: Element) -> float:
    """Distance of a place from an element.

    Parameters
    ----------
    where : tuple of float
        The place. [m]
    element : Element
        What it may be of. [-]

    Returns
    -------
    float
        0 inside an outline; infinite where the element has no place. [m]

    Notes
    -----
    d = |p - p_nearest|    (derived)

    References
    ----------
    derived, the nearest point of a line
    """
    line = element.line
    if not line:
        return inf
    if len(line) == 1:
        return hypot(where[0] - line[0][0], where[1] - line[0][1])
    if element.is_outline and _is_inside(where, line):
        return 0.0
    around = closed(line) if element.is_outline else line
    near = nearest_on_line(where, around)
    return hypot(where[0] - near[0], where[1] - near[1])


def match_shot(
    note: str,
    where: Place | None,
    elements: Iterable[Element],
    *,
    words: Mapping[str, Sequence[str]],
    reach: float,
) -> Match:
    """What a shot is of.

    Parameters
    ----------
    note : str
        What the crew wrote: a code, then a name where one was written. [-]
    where : tuple of float or None
        Where it lies; None where nothing tells. [m]
    elements : iterable of Element
        Parts of the design. [-]
    words : mapping of str to words
        Words of each code. [-]
    reach : float
        How far a shot may lie from what it is of. [m]

    Returns
    -------
    Match
        The element that its note names, else the nearest within reach; where nothing tells where it
        lies, the only one that it may be of. [-]
    """
    code, rest = code_of_note(note, words)
    if not code:
        why = f"its code '{note}' is none that is known" if note.strip() else "it has no code"
        return Match("", "", 0.0, why)
    able = [element for element in elements if code in element.takes]
    if not able:
        return Match("", code, 0.0, f"the design has nothing that takes a shot of {_said(code)}")
    named = [element for element in able if _names(rest, element)]
    if named:
        element = max(named, key=lambda each: len(each.name))
        away = 0.0 if where is None or not element.line else distance_of(where, element)
        if away > reach:
            why = f"it lies too far from {element.name}, which its note names"
            return Match("", code, away, why)
        return Match(element.name, code, away)
    if len(able) == 1 and (where is None or not able[0].line):
        return Match(able[0].name, code, 0.0)
    if where is None:
        return Match("", code, 0.0, "its note names no part, and nothing tells where it lies")
    near = min(able, key=lambda each: distance_of(where, each))
    away = distance_of(where, near)
    if away > reach:
        if away == inf:
            return Match("", code, 0.0, "its note names no part, and no part has a place")
        return Match("", code, away, f"it lies too far from {near.name}, the nearest it may be of")
    return Match(near.name, code, away)


def _said(code: str) -> str:
    return WORDS[code][0] if code in WORDS else code


def _names(rest: str, element: Element) -> bool:
    """Whether the words behind a code begin with the name of an element."""
    return any(rest == word or rest.startswith(f"{word} ") for word in element.words)


def _is_inside(place: Place, outline: tuple[Place, ...]) -> bool:
    """Whether a place lies on one side of every edge of an outline that bulges outward."""
    sides = [
        side_of(place, (a, b)) for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)
    ]
    return all(side >= 0.0 for side in sides) or all(side <= 0.0 for side in sides)


def distance_along(line: tuple[Place, ...], station: float, offset: float) -> float:
    """Distance along a line to the point of it that lies nearest to a place.

    Parameters
    ----------
    line : tuple of place
        Points of the line, in their order. [m]
    station, offset : float
        The place. [m]

    Returns
    -------
    float
        From the beginning of the line. [m]

    Notes
    -----
    x = sum of the legs before the nearest point, and the way to it    (derived)

    References
    ----------
    derived, lengths of a broken line
    """
    best, along, walked = inf, 0.0, 0.0
    for a, b in pairwise(line):
        near = nearest_on_line((station, offset), (a, b))
        away = hypot(near[0] - station, near[1] - offset)
        if away < best:
            best, along = away, walked + hypot(near[0] - a[0], near[1] - a[1])
        walked += hypot(b[0] - a[0], b[1] - a[1])
    return along

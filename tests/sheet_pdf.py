# SPDX-License-Identifier: Apache-2.0
"""What stands on a finished page, read from its content alone: sizes of words, ends of lines."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pypdf import PageObject
from pypdf.generic import ContentStream

Matrix = tuple[float, float, float, float, float, float]
ONE: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
MM = 25.4 / 72.0


@dataclass
class Found:
    """Of one page, in millimetres from its lower left.

    Attributes
    ----------
    texts : list of tuple
        Where a piece of words begins, and its em: x, y, size. [mm]
    lines : list of tuple
        Straight pieces of paths: x0, y0, x1, y1. [mm]
    """

    texts: list[tuple[float, float, float]] = field(default_factory=list)
    lines: list[tuple[float, float, float, float]] = field(default_factory=list)


def times(a: Matrix, b: Matrix) -> Matrix:
    """First `a`, then `b`."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def read_page(page: PageObject) -> Found:
    """Words and lines of a page, those of its drawings with it."""
    found = Found()
    _read(page.get_contents(), page["/Resources"], page.pdf, ONE, found)
    return found


def _read(content: Any, resources: Any, pdf: Any, ctm: Matrix, found: Found) -> None:
    stack: list[Matrix] = []
    tm = line = ONE
    size, at, first = 0.0, (0.0, 0.0), (0.0, 0.0)
    for values, operator in ContentStream(content, pdf).operations:
        numbers = [float(v) for v in values if isinstance(v, int | float)]
        match operator:
            case b"q":
                stack.append(ctm)
            case b"Q":
                ctm = stack.pop()
            case b"cm":
                ctm = times(tuple(numbers), ctm)  # type: ignore[arg-type]
            case b"BT":
                tm = line = ONE
            case b"Tf":
                size = numbers[-1]
            case b"Tm":
                tm = line = tuple(numbers)  # type: ignore[assignment]
            case b"Td" | b"TD":
                tm = line = times((1, 0, 0, 1, *numbers), line)  # type: ignore[arg-type]
            case b"Tj" | b"TJ" | b"'":
                whole = times(tm, ctm)
                em = size * (whole[2] ** 2 + whole[3] ** 2) ** 0.5
                found.texts.append((whole[4] * MM, whole[5] * MM, em * MM))
            case b"m":
                at = first = _placed(numbers, ctm)
            case b"h":
                found.lines.append((*at, *first))
                at = first
            case b"l":
                end = _placed(numbers, ctm)
                found.lines.append((*at, *end))
                at = end
            case b"c":
                at = _placed(numbers[4:], ctm)
            case b"Do":
                form = resources["/XObject"][values[0]]
                if form["/Subtype"] == "/Form":
                    own = tuple(float(v) for v in form.get("/Matrix", ONE))
                    inner = times(own, ctm)  # type: ignore[arg-type]
                    _read(form, form.get("/Resources", resources), pdf, inner, found)


def _placed(numbers: list[float], m: Matrix) -> tuple[float, float]:
    x, y = numbers[:2]
    return (m[0] * x + m[2] * y + m[4]) * MM, (m[1] * x + m[3] * y + m[5]) * MM


def has_line(found: Found, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """Whether a line of the page joins two places, to a twentieth of a millimetre."""
    return any(_is(line, (*start, *end)) or _is(line, (*end, *start)) for line in found.lines)


def _is(line: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(abs(a - b) < 0.05 for a, b in zip(line, other, strict=True))


def texts_in(found: Found) -> Iterator[float]:
    """Sizes of all words. [mm]"""
    return (size for _, _, size in found.texts)

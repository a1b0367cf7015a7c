# SPDX-License-Identifier: Apache-2.0
"""Read a finished PDF as a person does: its words, where they stand, its fonts and its outline."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from typing import Any

from pypdf import PdfReader


@dataclass(frozen=True)
class Placed:
    """Words in one piece, and where they begin on their page, from its lower left. [pt]"""

    page: int
    x: float
    y: float
    size: float
    words: str


class Paper:
    """A PDF as read."""

    def __init__(self, pdf: bytes) -> None:
        self.reader = PdfReader(BytesIO(pdf))

    @property
    def length(self) -> int:
        """Number of pages."""
        return len(self.reader.pages)

    def page(self, number: int) -> str:
        """Words of one page, counted from 1, in the order in which they are read."""
        return str(self.reader.pages[number - 1].extract_text())

    @cached_property
    def pages(self) -> list[str]:
        """Words of each page, in the order in which they are read."""
        return [words for words, _ in self._read]

    @cached_property
    def placed(self) -> list[Placed]:
        """Every piece of words with its place."""
        return [piece for _, pieces in self._read for piece in pieces]

    @cached_property
    def _read(self) -> list[tuple[str, list[Placed]]]:
        return [_read(number, page) for number, page in enumerate(self.reader.pages, 1)]

    @cached_property
    def text(self) -> str:
        """Words of all pages, blanks made one."""
        return " ".join(" ".join(self.pages).split())

    @cached_property
    def letters(self) -> str:
        """Words of all pages without any blank, so that a broken line breaks no word."""
        return "".join(self.text.split()).replace("\u200b", "")

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the first page. [pt]"""
        box = self.reader.pages[0].mediabox
        return float(box.width), float(box.height)

    @cached_property
    def outline(self) -> list[str]:
        """Titles of the outline, all levels."""
        return list(_titles(self.reader.outline))

    @property
    def root(self) -> Any:
        """The catalogue of the file."""
        return self.reader.trailer["/Root"]

    def fonts(self) -> Iterator[tuple[str, bool]]:
        """Name of each font, and whether it is in the file."""
        for page in self.reader.pages:
            for font in page["/Resources"].get("/Font", {}).values():  # type: ignore[attr-defined]
                inner = font.get_object()["/DescendantFonts"][0].get_object()
                descriptor = inner["/FontDescriptor"].get_object()
                has = any(f"/FontFile{kind}" in descriptor for kind in ("", "2", "3"))
                yield str(inner["/BaseFont"]), has


def _read(number: int, page: Any) -> tuple[str, list[Placed]]:
    found: list[Placed] = []

    def visit(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
        y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip():
            found.append(Placed(number, x, y, size * abs(tm[0] * cm[0]), text.strip()))

    words = page.extract_text(visitor_text=visit)
    return words, found


def _titles(entries: Any) -> Iterator[str]:
    for entry in entries:
        if isinstance(entry, list):
            yield from _titles(entry)
        else:
            yield str(entry.title)

# SPDX-License-Identifier: Apache-2.0
"""Room that a text takes in the typeface that the program brings along.

Widths are the advances of the letters; the typeface's kerning, which mostly draws letters
together, is left out. All digits have one width.
"""

from csv import reader
from functools import cache
from importlib.resources import files

from tilewater.documents.drawing.model import Text, Weight

FAMILY = "Source Sans 3"
FONT_WEIGHTS: dict[Weight, int] = {"light": 300, "regular": 400, "semibold": 600}
CAP, ASCENT, DESCENT = 0.656, 0.735, 0.232
"""Height of `H`, reach of the highest and of the lowest letter of any weight. [em]"""
UNKNOWN_LETTER = 1.0
"""Width of a letter that the typeface has not. [em]"""


@cache
def advances(weight: Weight) -> dict[str, float]:
    """Width of each letter of a weight. [em]"""
    text = files("tilewater.documents").joinpath("fonts", "advances.csv").read_text("utf-8")
    rows = reader(line for line in text.splitlines() if not line.startswith("#"))
    column = next(rows).index(weight)
    return {chr(int(row[0], 16)): int(row[column]) / 1000 for row in rows}


def text_width(words: str, size_mm: float, weight: Weight = "regular") -> float:
    """Width of words on paper. [mm]"""
    known = advances(weight)
    return size_mm * sum(known.get(letter, UNKNOWN_LETTER) for letter in words)


def width_of(text: Text) -> float:
    """Width of a text with the weights of its parts. [mm]"""
    return sum(
        text_width(part.words, text.size_mm, part.weight or text.weight) for part in text.parts
    )

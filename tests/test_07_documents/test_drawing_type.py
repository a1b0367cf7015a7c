# SPDX-License-Identifier: Apache-2.0
"""The typeface is the one that was vendored, and its table of widths says what it says."""

from hashlib import sha256
from string import ascii_letters, digits

import pytest
from fontTools.ttLib import TTFont

from tilewater.documents.drawing.metrics import (
    ASCENT,
    CAP,
    DESCENT,
    UNKNOWN_LETTER,
    advances,
    text_width,
    width_of,
)
from tilewater.documents.drawing.model import Part, Text, Weight
from tools.letter_widths import FONTS, WEIGHTS, checksums, table

ALL: tuple[Weight, ...] = ("light", "regular", "semibold")
WRITTEN = ascii_letters + digits + ".,:;+-/()='%&"
NOTICEABLE = 0.02
"""Part of the em by which capitals of the weights may differ."""


def font(weight: Weight) -> TTFont:
    """Open a font file."""
    return TTFont(FONTS / f"SourceSans3-{WEIGHTS[weight]}.ttf")


@pytest.mark.works(of=(checksums,))
def test_font_files_are_unchanged() -> None:
    listed = (FONTS / "SHA256SUMS").read_text(encoding="utf-8")
    assert listed == checksums()
    assert 4 == len(listed.splitlines())
    assert sha256((FONTS / "OFL.txt").read_bytes()).hexdigest() in listed


@pytest.mark.works(of=(checksums,))
def test_font_files_may_be_given_on() -> None:
    assert "SIL Open Font License, Version 1.1" in (FONTS / "OFL.txt").read_text(encoding="utf-8")
    assert [0, 0, 0] == [font(weight)["OS/2"].fsType for weight in ALL]
    assert 1.5e6 > sum(file.stat().st_size for file in FONTS.iterdir())


@pytest.mark.oracle("fonttools 4.64", of=(advances, table))
def test_widths_are_those_of_the_font() -> None:
    assert (FONTS / "advances.csv").read_text(encoding="utf-8") == table()
    for weight in ALL:
        names, widths = font(weight).getBestCmap(), font(weight)["hmtx"]
        for letter in ("A", "g", "7", "½", "−", "ł"):
            assert widths[names[ord(letter)]][0] / 1000 == advances(weight)[letter]


@pytest.mark.works(of=(advances,))
def test_all_digits_have_one_width() -> None:
    for weight in ALL:
        assert 1 == len({advances(weight)[digit] for digit in digits})


@pytest.mark.oracle("fonttools 4.64", of=(text_width,))
def test_no_letter_reaches_beyond_the_box() -> None:
    for weight in ALL:
        opened = font(weight)
        glyphs, names = opened["glyf"], opened.getBestCmap()
        plain = [glyphs[names[ord(letter)]] for letter in WRITTEN]
        assert ASCENT * 1000 >= max(glyph.yMax for glyph in plain if glyph.numberOfContours)
        assert -DESCENT * 1000 <= min(glyph.yMin for glyph in plain if glyph.numberOfContours)
        assert pytest.approx(glyphs["H"].yMax / 1000, abs=NOTICEABLE) == CAP


@pytest.mark.by_hand(of=(text_width, width_of))
def test_a_width_is_the_sum_of_its_letters() -> None:
    assert pytest.approx(10 * (0.497 + 0.497 + 0.249)) == text_width("12.", 10.0)
    mixed = Text((0.0, 0.0), (Part("1", weight="semibold"), Part("1")), size_mm=10.0)
    assert pytest.approx(10 * (0.513 + 0.497)) == width_of(mixed)


@pytest.mark.works(of=(text_width,))
def test_a_letter_that_the_font_has_not_takes_a_wide_one() -> None:
    assert 2.0 * UNKNOWN_LETTER == text_width("水", 2.0)
    assert UNKNOWN_LETTER >= max(advances("semibold")[letter] for letter in "WM@")
